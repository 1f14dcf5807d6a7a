// From a day's work as given to jobs with what must come before them.
#include "model.hpp"

#include <bit>
#include <map>
#include <numeric>
#include <set>
#include <utility>

namespace patchwright::schedule {
namespace {

int run_of(const DayWork& work, job::RunPlace place) {
    const auto found =
        std::find_if(work.runs.begin(), work.runs.end(), [&](const RunWork& run) { return run.place == place; });
    return static_cast<int>(found - work.runs.begin());
}

}  // namespace

bool must_pass(const PatchWork& a, const PatchWork& b) {
    if (a.run != b.run || a.from_any_end || b.from_any_end) return false;
    if (a.from_far_end == b.from_far_end) return true;  // the deeper one's hose lies where the nearer one is to stick
    const PatchWork& near = a.from_far_end ? b : a;
    const PatchWork& far = a.from_far_end ? a : b;
    return near.at_end >= far.at_start;
}

Model::Model(const DayWork& day_work, const std::vector<int>& prepare_ahead) : work{&day_work} {
    persons = std::clamp(work->persons, 1, max_persons);
    on_site = work->start + work->travel_out.value_or(work->travel);
    home = work->pack_up.minutes + work->travel;
    patches.resize(work->patches.size());
    jobs.reserve(3 * work->runs.size() + 4 * work->patches.size() + work->mixes.size());
    segments.reserve(4 * work->runs.size() + 10 * work->patches.size());
    pairs_.reserve(4 * jobs.capacity());
    orders.reserve(work->mixes.size());
    for (std::size_t i = 0; i < patches.size(); ++i) patches[i].run = run_of(*work, work->patches[i].run);
    find_ways_in();
    for (const Mix& mix : work->mixes) orders.push_back(best_order(*work, mix));
    find_places();
    find_accesses(prepare_ahead);
    add_runs(prepare_ahead);
    add_patches();
    add_inspections();
    add_mixes();
    link_patches();
    find_chains();
    find_turns();
    for (std::size_t m = 0; m < work->mixes.size(); ++m) check_mix(static_cast<int>(m));
    finish_jobs();
    find_begun();
}

/// How many packers a run takes, where that does not follow from their ends.
void Model::find_ways_in() {
    ways_in.assign(work->runs.size(), 0);
    for (std::size_t i = 0; i < patches.size(); ++i) {
        if (!work->patches[i].from_any_end) continue;
        const RunWork& run = work->runs[at(patches[i].run)];
        ways_in[at(patches[i].run)] = run.access_from >= 0 && run.access_to >= 0 ? 2 : 1;
    }
}

bool Model::can_be_dropped(const Job& job) const {
    if (job.place < 0) return false;
    return job.piece == Piece::let_down || (job.persons == 1 && work->while_watching == WhileWatching::jobs_there);
}

void Model::begin_job(Piece piece, int index, int run) {
    Job job;
    job.piece = piece;
    job.index = index;
    job.run = run;
    job.release = on_site;
    job.first_segment = segments.size();
    jobs.push_back(job);
}

/// To the last job.
void Model::add_segment(Segment segment) {
    Job& job = jobs.back();
    const bool always = job.piece == Piece::mix || job.piece == Piece::let_down;  // the sheet names each step
    if (segment.minutes == 0 && !always) return;
    segment.offset = job.minutes;
    segment.persons = clip(segment.persons);
    job.minutes += segment.minutes;
    if (const auto machine = machine_for(segment.what); machine && segment.minutes > 0)
        job.machine[static_cast<std::size_t>(*machine)] = job.minutes;
    // Who is needed later in the job stays with it.
    for (std::size_t k = 0; k < at(segment.persons); ++k)
        if (segment.minutes > 0) job.bound[k] = job.minutes;
    while (job.persons < max_persons && job.bound[at(job.persons)] > 0) ++job.persons;
    ++job.segments;
    segments.push_back(segment);
}

int Model::add(Piece piece, int index, int run, std::initializer_list<Segment> tasks) {
    begin_job(piece, index, run);
    for (const Segment& task : tasks) add_segment(task);
    return static_cast<int>(jobs.size()) - 1;
}

/// Accesses within sight of each other are one place to watch from. Only places where something cures have a number.
void Model::find_places() {
    const std::size_t runs = work->runs.size();
    watch_place_.assign(runs, {-1, -1});
    if (work->alarm_gauge) return;
    std::vector<int> access;  // of the ends 2r and 2r + 1
    int fresh = -2;
    for (const RunWork& run : work->runs)
        for (const int id : {run.access_from, run.access_to}) access.push_back(id >= 0 ? id : fresh--);
    std::vector<int> group(2 * runs);
    std::iota(group.begin(), group.end(), 0);
    const auto join = [&](std::size_t a, std::size_t b) {
        const int from = group[b], to = group[a];
        std::replace(group.begin(), group.end(), from, to);
    };
    for (std::size_t a = 0; a < access.size(); ++a)
        for (std::size_t b = a + 1; b < access.size(); ++b)
            if (access[a] == access[b]) join(a, b);
    for (std::size_t r = 0; r < runs; ++r)
        if (work->runs[r].ends_in_sight || ways_in[r] > 0) join(2 * r, 2 * r + 1);
    std::map<int, int> number;
    for (std::size_t i = 0; i < patches.size(); ++i) {
        const PatchWork& p = work->patches[i];
        if (p.overnight || (p.lying && !p.watched)) continue;
        const int g = group[2 * at(patches[i].run) + (p.from_far_end ? 1 : 0)];
        patches[i].watch = number.try_emplace(g, static_cast<int>(number.size())).first->second;
    }
    watch_places = static_cast<int>(number.size());
    for (std::size_t r = 0; r < runs; ++r)
        for (std::size_t end = 0; end < 2; ++end)
            if (const auto known = number.find(group[2 * r + end]); known != number.end())
                watch_place_[r][end] = known->second;
}

void Model::find_accesses(const std::vector<int>& prepare_ahead) {
    std::map<int, int> bit_of;
    int fresh = -2;
    accesses_.assign(work->runs.size(), 0);
    for (std::size_t r = 0; r < work->runs.size(); ++r) {
        const RunWork& run = work->runs[r];
        std::array<bool, 2> used{};
        for (std::size_t i = 0; i < patches.size(); ++i)
            if (at(patches[i].run) == r && !work->patches[i].from_any_end)
                used[work->patches[i].from_far_end ? 1 : 0] = true;
        const bool ahead =
            std::find(prepare_ahead.begin(), prepare_ahead.end(), static_cast<int>(r)) != prepare_ahead.end();
        if ((ahead || ways_in[r] > 0) && !used[0] && !used[1])
            used[run.access_from >= 0 || run.access_to < 0 ? 0 : 1] = true;
        for (std::size_t end = 0; end < 2; ++end) {
            const int id = end == 0 ? run.access_from : run.access_to;
            const bool stands_open = end == 0 ? run.from_open : run.to_open;
            if (!used[end] && !stands_open) continue;
            const int bit = bit_of.try_emplace(id >= 0 ? id : fresh--, static_cast<int>(bit_of.size())).first->second;
            if (used[end]) accesses_[r] |= std::uint64_t{1} << bit;
            if (stands_open) open_accesses |= std::uint64_t{1} << bit;
        }
    }
}

void Model::add_runs(const std::vector<int>& prepare_ahead) {
    run_jobs_.resize(work->runs.size());
    for (std::size_t r = 0; r < work->runs.size(); ++r) {
        const int run = static_cast<int>(r);
        bool worked = false, lying = false;
        for (std::size_t i = 0; i < patches.size(); ++i) {
            if (patches[i].run != run) continue;
            (work->patches[i].lying ? lying : worked) = true;
        }
        const bool ahead = std::find(prepare_ahead.begin(), prepare_ahead.end(), run) != prepare_ahead.end();
        RunJobs& mine = run_jobs_[r];
        const bool ready = work->runs[r].ready.has_value();
        const std::uint64_t closed = accesses_[r] & ~open_accesses;
        const bool opens = lying || (ready && worked && closed != 0);
        if (opens) mine.open = add(Piece::open, run, -1, {});
        if ((worked || ahead) && !ready) add_run(run, worked);
        const int opener = opens ? mine.open : mine.prepare;
        if (opener >= 0) jobs[at(opener)].accesses = closed;
        if (opens) link(mine.open, mine.prepare, 0);
    }
    std::vector<Job*> openers;
    for (Job& job : jobs)
        if (job.accesses != 0) openers.push_back(&job);
    for (Job* job : openers) {
        const RunWork& run = work->runs[at(job->index)];
        std::uint64_t elsewhere = 0;
        for (const Job* other : openers)
            if (other != job) elsewhere |= other->accesses;
        const Minute first = opening(run, std::popcount(job->accesses), true);
        const Minute further = opening(run, std::popcount(job->accesses & ~elsewhere), false);
        job->opening_persons = clip(std::max(run.set_up.persons, run.open_access.persons));
        job->min_opening = open_accesses != 0 ? further : openers.size() == 1 ? first : std::min(first, further);
    }
}

void Model::add_run(int r, bool worked) {
    const RunWork& run = work->runs[at(r)];
    const auto segment = [](What what, Labour labour) { return Segment{what, -1, 0, labour.minutes, labour.persons}; };
    RunJobs& mine = run_jobs_[at(r)];
    mine.prepare = run.prepared
                       ? add(Piece::prepare, r, r, {segment(What::clean, run.flush)})
                       : add(Piece::prepare, r, r, {segment(What::clean, run.clean), segment(What::clean, run.roots)});
    if (run.prepared) {  // the look that goes with a flush
        auto& machine = jobs[at(mine.prepare)].machine;
        machine[static_cast<std::size_t>(Machine::camera)] = machine[static_cast<std::size_t>(Machine::jetter)];
    }
    mine.look = add(Piece::look, r, r, {});
    if (!run.prepared) add_segment(segment(What::survey, run.survey));
    if (worked) add_segment(segment(What::flow_control, run.flow_control));
    const auto& places = watch_place_[at(r)];
    jobs[at(mine.look)].place = places[0] >= 0 ? places[0] : places[1];
    link(mine.prepare, mine.look, jobs[at(mine.prepare)].minutes);
}

void Model::add_patches() {
    for (std::size_t i = 0; i < patches.size(); ++i) {
        const PatchWork& p = work->patches[i];
        const int patch = static_cast<int>(i), run = patches[i].run;
        const auto segment = [&](What what, Labour labour) {
            return Segment{what, patch, 0, labour.minutes, labour.persons};
        };
        const int place = watch_place_[at(run)][p.from_far_end ? 1 : 0];
        const bool in_hand = std::any_of(work->mixes.begin(), work->mixes.end(), [&](const Mix& mix) {
            return mix.in_hand && std::find(mix.patches.begin(), mix.patches.end(), patch) != mix.patches.end();
        });
        if ((!work->ready_in_yard || p.ready_on_site) && !p.lying && !in_hand) {
            patches[i].ready =
                add(Piece::ready, patch, -1, {segment(What::cut, p.cut), segment(What::bench_test, p.bench_test)});
            jobs.back().place = place;
        }
        if (p.overnight) continue;
        const int let_down = patches[i].let_down =
            add(Piece::let_down, patch, -1, {segment(What::let_down, p.let_down)});
        jobs.back().place = place;
        if (p.lying) {
            jobs.back().release = std::max(on_site, *p.lying);
            link(run_jobs_[at(run)].open, let_down, 0);
        }
    }
}

/// One look along the run at all its sleeves of the day, when the last of them is out; what is under way goes on.
void Model::add_inspections() {
    const auto under_way = [&](std::size_t patch) {
        return std::any_of(work->under_way.begin(), work->under_way.end(), [&](const DayWork::UnderWay& step) {
            return step.patch == static_cast<int>(patch) && step.what == What::re_survey;
        });
    };
    for (std::size_t r = 0; r < work->runs.size(); ++r) {
        for (const bool goes_on : {true, false}) {
            std::vector<std::size_t> list;
            Labour labour;
            for (std::size_t i = 0; i < patches.size(); ++i) {
                const Labour& mine = work->patches[i].re_survey;
                if (at(patches[i].run) != r || patches[i].let_down < 0 || mine.minutes == 0 || under_way(i) != goes_on)
                    continue;
                list.push_back(i);
                labour = {std::max(labour.minutes, mine.minutes), std::max(labour.persons, mine.persons)};
            }
            if (list.empty()) continue;
            const int run = static_cast<int>(r);
            const int job = add(Piece::inspect, run, run, {{What::re_survey, -1, 0, labour.minutes, labour.persons}});
            jobs.back().place = watch_place_[r][0] >= 0 ? watch_place_[r][0] : watch_place_[r][1];
            for (const std::size_t i : list) {
                patches[i].inspect = job;
                link(patches[i].let_down, job, jobs[at(patches[i].let_down)].minutes);
            }
        }
    }
    for (std::size_t i = 0; i < patches.size(); ++i) {
        const PatchWork& p = work->patches[i];
        if (patches[i].let_down < 0 || p.reopen.minutes == 0) continue;
        const int before = patches[i].inspect >= 0 ? patches[i].inspect : patches[i].let_down;
        const int patch = static_cast<int>(i);
        const int reopen =
            add(Piece::reopen, patch, patches[i].run, {{What::reopen, patch, 0, p.reopen.minutes, p.reopen.persons}});
        link(before, reopen, jobs[at(before)].minutes);
    }
}

void Model::add_mixes() {
    for (std::size_t m = 0; m < work->mixes.size(); ++m) {
        const MixOrder& order = orders[m];
        const int job = add(Piece::mix, static_cast<int>(m), -1, {});
        const auto segment = [&](int patch, What what, Labour labour) {
            add_segment({what, patch, 0, labour.minutes, labour.persons});
        };
        for (const auto& sleeve : order.sleeves)
            segment(sleeve.patch, What::wet_out, work->patches[at(sleeve.patch)].wet_out);
        for (const auto& sleeve : order.sleeves) {
            const PatchWork& p = work->patches[at(sleeve.patch)];
            segment(sleeve.patch, What::load, p.load);
            segment(sleeve.patch, What::position, p.position);
            segment(sleeve.patch, What::inflate, p.inflate);
            segment(sleeve.patch, What::crease, p.crease);
        }
        std::set<int> watched;
        for (const auto& sleeve : order.sleeves)
            if (const int place = patches[at(sleeve.patch)].watch; place >= 0) watched.insert(place);
        // Who is to watch stays until then.
        for (std::size_t k = 0; k < std::min(watched.size(), at(persons)); ++k)
            jobs[at(job)].bound[k] = jobs[at(job)].minutes;
        jobs[at(job)].persons = std::max(jobs[at(job)].persons, std::min(static_cast<int>(watched.size()), persons));
        std::map<int, Minute> first_position;  // by run
        for (const auto& sleeve : order.sleeves) {
            PatchJobs& patch = patches[at(sleeve.patch)];
            patch.mix = job;
            patch.out_after_mixing = std::max(work->patches[at(sleeve.patch)].mix_to_let_down, sleeve.creased);
            link(job, patch.let_down, patch.out_after_mixing);
            if (patch.ready >= 0) link(patch.ready, job, jobs[at(patch.ready)].minutes);
            first_position.try_emplace(patch.run, sleeve.position);
        }
        for (const auto& [run, position] : first_position) {
            const RunJobs& prepared = run_jobs_[at(run)];
            if (work->mixes[m].in_hand) continue;
            if (const auto& ready = work->runs[at(run)].ready) {
                jobs[at(job)].release = std::max(jobs[at(job)].release, *ready - position);
                link(prepared.open, job, 0);
                continue;
            }
            const Minute minutes = jobs[at(prepared.prepare)].minutes;
            link(prepared.prepare, job, std::max(minutes, minutes + work->runs[at(run)].dry - position));
            link(prepared.look, job, jobs[at(prepared.look)].minutes);
        }
    }
}

}  // namespace patchwright::schedule
