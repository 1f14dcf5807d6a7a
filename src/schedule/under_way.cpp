// Jobs of a day under way that go on before anything new is begun.
#include "model.hpp"

namespace patchwright::schedule {
void Model::begin(int j) {
    if (j < 0 || std::find(begun.begin(), begun.end(), j) != begun.end()) return;
    for (const Link& link : jobs[at(j)].before) begin(link.job);
    begun.push_back(j);
}

void Model::find_begun() {
    if (work->under_way.empty()) return;
    // What is out already is in nobody's way.
    for (std::size_t j = 0; j < jobs.size(); ++j)
        if (jobs[j].piece == Piece::let_down && jobs[j].minutes == 0 && jobs[j].release <= on_site)
            begin(static_cast<int>(j));
    for (const auto& step : work->under_way) {
        for (std::size_t j = 0; j < jobs.size(); ++j) {
            const Job& job = jobs[j];
            bool same = false;
            if (job.piece == Piece::inspect)
                same = step.patch && patches[at(*step.patch)].inspect == static_cast<int>(j);
            else if (of_run(job.piece))
                same = !step.patch && work->runs[at(job.index)].place == step.run;
            else
                same = job.piece != Piece::mix && step.patch == job.index;
            const auto tasks = segments_of(job);
            const bool has_step =
                std::any_of(tasks.begin(), tasks.end(), [&](const Segment& s) { return s.what == step.what; });
            const bool opens = step.what == What::set_up && job.accesses != 0;
            if (same && (has_step || opens)) begin(static_cast<int>(j));
        }
    }
}

}  // namespace patchwright::schedule
