// How late each job may start, with the order kept.
#include "write_day.hpp"

namespace patchwright::schedule {
namespace {

class Waits {
public:
    Waits(const Model& model, const std::vector<Partial::Start>& starts, const Crew& crew)
        : model_{model}, starts_{starts}, place_(model.jobs.size(), -1), after_(model.jobs.size()) {
        for (std::size_t k = 0; k < starts.size(); ++k) place_[at(starts[k].job)] = static_cast<int>(k);
        for (const Partial::Start& start : starts)
            for (const Link& link : model.jobs[at(start.job)].after) add(start.job, link.job, start.opening + link.lag);
        for (const auto& handover : crew.handovers) add(handover.first, handover.then, handover.lag);
        pipes();
        gear();
        machines();
    }

    std::vector<Minute> latest(Minute end) const {
        std::vector<Minute> list(model_.jobs.size(), end);
        for (auto start = starts_.rbegin(); start != starts_.rend(); ++start) {
            Minute& mine = list[at(start->job)];
            mine = end - length(start->job);
            for (const Link& link : after_[at(start->job)]) mine = std::min(mine, list[at(link.job)] - link.lag);
        }
        return list;
    }

    /// Of each job that starts at its latest: how far into it somebody or something waits for it. 0: it has slack.
    std::vector<Minute> tight_until(const std::vector<Minute>& latest, Minute end) const {
        std::vector<Minute> list(model_.jobs.size(), 0);
        for (const Partial::Start& start : starts_) {
            if (latest[at(start.job)] != start.at) continue;
            Minute& until = list[at(start.job)];
            if (start.at + length(start.job) == end) until = length(start.job);
            for (const Link& link : after_[at(start.job)])
                if (start.at + link.lag == latest[at(link.job)]) until = std::max(until, link.lag);
        }
        return list;
    }

private:
    void add(int first, int then, Minute lag) { after_[at(first)].push_back({then, lag}); }
    Minute started(int job) const { return starts_[at(place_[at(job)])].at; }
    Minute length(int job) const { return starts_[at(place_[at(job)])].opening + model_.jobs[at(job)].minutes; }
    bool before(int first, int then) const { return place_[at(first)] < place_[at(then)]; }

    /// Nothing is done in a run while a packer lies there; two packers that cannot lie side by side take turns.
    void pipes() {
        for (std::size_t i = 0; i < model_.patches.size(); ++i) {
            const PatchJobs& patch = model_.patches[i];
            for (std::size_t j = 0; j < model_.jobs.size(); ++j) {
                const int job = static_cast<int>(j);
                if (model_.jobs[j].run != patch.run) continue;
                if (patch.let_down >= 0 && before(patch.let_down, job))
                    add(patch.let_down, job, length(patch.let_down));
                if (patch.mix >= 0 && before(job, patch.mix)) add(job, patch.mix, length(job));
            }
            for (const int other : patch.keeps_out)
                if (const int mix = model_.patches[at(other)].mix;
                    mix >= 0 && patch.let_down >= 0 && before(patch.let_down, mix))
                    add(patch.let_down, mix, length(patch.let_down));
        }
    }

    /// Packers and air lines go from one sleeve to the next, the one that was free first.
    void gear() {
        std::vector<std::vector<int>> packers;  // by kind and unit; -1: not used yet
        for (const Packers& kind : model_.work->packers) packers.emplace_back(at(std::max(0, kind.count)), -1);
        std::vector<std::vector<int>> heaters;
        for (const Heaters& kind : model_.work->heaters) heaters.emplace_back(at(std::max(0, kind.count)), -1);
        std::vector<int> lines(at(model_.work->air_lines), -1);
        for (std::size_t i = 0; i < model_.patches.size(); ++i) {
            if (!model_.work->patches[i].lying) continue;
            hold(lines, static_cast<int>(i));
            hold(packers[at(model_.work->patches[i].packer)], static_cast<int>(i));
        }
        for (const Partial::Start& start : starts_) {
            const Job& job = model_.jobs[at(start.job)];
            if (job.piece == Piece::ready)
                take(packers[at(model_.work->patches[at(job.index)].packer)], job.index, start.job);
            if (job.piece != Piece::mix) continue;
            for (const auto& sleeve : model_.orders[at(job.index)].sleeves) {
                take(lines, sleeve.patch, start.job);
                if (const int heater = model_.work->patches[at(sleeve.patch)].heater; heater >= 0)
                    take(heaters[at(heater)], sleeve.patch, start.job);
                if (model_.patches[at(sleeve.patch)].ready < 0)
                    take(packers[at(model_.work->patches[at(sleeve.patch)].packer)], sleeve.patch, start.job);
            }
        }
    }
    /// A machine goes to the next job, the one that was free first.
    void machines() {
        for (const auto& turns : model_.turns) {
            const auto kind = static_cast<std::size_t>(turns.kind);
            const auto with_it = [&](const Partial::Start& start) {
                return start.opening + model_.jobs[at(start.job)].machine[kind];
            };
            std::vector<const Partial::Start*> last(at(turns.count), nullptr);  // job of each machine
            for (const Partial::Start& start : starts_) {
                if (model_.jobs[at(start.job)].machine[kind] == 0) continue;
                const auto unit = std::min_element(last.begin(), last.end(), [&](const auto* a, const auto* b) {
                    return (a == nullptr ? -1 : a->at + with_it(*a)) < (b == nullptr ? -1 : b->at + with_it(*b));
                });
                if (*unit != nullptr) add((*unit)->job, start.job, with_it(**unit));
                *unit = &start;
            }
        }
    }
    static void hold(std::vector<int>& units, int patch) {
        if (const auto unit = std::find(units.begin(), units.end(), -1); unit != units.end()) *unit = patch;
    }
    /// `units`: the patch that each holds or held last. One that lies overnight never comes back.
    void take(std::vector<int>& units, int patch, int job) {
        int* best = nullptr;
        Minute free = never;
        for (int& unit : units) {
            const int let_down = unit < 0 ? -1 : model_.patches[at(unit)].let_down;
            const Minute since = unit < 0                                 ? -1
                                 : let_down < 0 || !before(let_down, job) ? never
                                                                          : started(let_down) + length(let_down);
            if (since >= free) continue;
            free = since;
            best = &unit;
        }
        if (best == nullptr) return;
        if (*best >= 0) add(model_.patches[at(*best)].let_down, job, length(model_.patches[at(*best)].let_down));
        *best = patch;
    }

    const Model& model_;
    const std::vector<Partial::Start>& starts_;
    std::vector<int> place_;
    std::vector<std::vector<Link>> after_;
};

}  // namespace

Latest latest_starts(const Model& model, const std::vector<Partial::Start>& starts, const Crew& crew, Minute finish) {
    const Waits waits{model, starts, crew};
    const Minute closing = std::max(finish, model.work->finish);
    auto same_finish = waits.latest(finish - model.home);
    auto tight_until = waits.tight_until(same_finish, finish - model.home);
    return {std::move(same_finish), waits.latest(closing - model.home), std::move(tight_until)};
}

}  // namespace patchwright::schedule
