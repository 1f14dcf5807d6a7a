// What must come before what in a day's model, and what its sleeves take turns at.
#include <map>
#include <numeric>
#include <utility>

#include "model.hpp"

namespace patchwright::schedule {

void Model::link(int first, int then, Minute lag) {
    if (first >= 0 && then >= 0) pairs_.push_back({first, then, lag});
}

/// Each job's own links, in the order in which they were made.
void Model::list_links() {
    const auto sort_by = [&](int Pair::*own, int Pair::*other, std::vector<Link>& list,
                             std::span<const Link> Job::*of) {
        std::vector<std::size_t> next(jobs.size() + 1);
        for (const Pair& pair : pairs_) ++next[at(pair.*own) + 1];
        std::partial_sum(next.begin(), next.end(), next.begin());
        list.resize(pairs_.size());
        for (std::size_t j = 0; j < jobs.size(); ++j)
            jobs[j].*of = std::span{list}.subspan(next[j], next[j + 1] - next[j]);
        for (const Pair& pair : pairs_) list[next[at(pair.*own)]++] = {pair.*other, pair.lag};
    };
    sort_by(&Pair::then, &Pair::first, before_, &Job::before);
    sort_by(&Pair::first, &Pair::then, after_, &Job::after);
}

bool Model::leads_to(int from, int to) const {
    std::bitset<max_jobs> reached;
    reached.set(at(from));
    for (std::size_t before = 0; before != reached.count() && !reached.test(at(to));) {
        before = reached.count();
        for (const Pair& pair : pairs_)
            if (reached.test(at(pair.first))) reached.set(at(pair.then));
    }
    return reached.test(at(to));
}

void Model::link_patches() {
    const std::size_t n = patches.size();
    for (std::size_t i = 0; i < n; ++i)
        for (std::size_t k = 0; k < n; ++k)
            if (i != k && must_pass(work->patches[i], work->patches[k]))
                patches[i].keeps_out.push_back(static_cast<int>(k));
    for (std::size_t i = 0; i < n; ++i)
        for (const int first : work->patches[i].after) {
            const int let_down = patches[at(first)].let_down, mix = patches[i].mix;
            if (let_down < 0 || mix < 0 || leads_to(mix, let_down)) {
                verdict = {Hindrance::order, -1, 0};
                continue;
            }
            link(let_down, mix, jobs[at(let_down)].minutes);
        }
    // Far first, near last from one mouth, unless `after` wants it otherwise: no wet packer is dragged past a fresh
    // sleeve without need.
    for (std::size_t i = 0; i < n; ++i)
        for (std::size_t k = 0; k < n; ++k) {
            const PatchWork &far = work->patches[i], &near = work->patches[k];
            const bool deeper = far.from_far_end ? far.at_start < near.at_start : far.at_start > near.at_start;
            if (far.run != near.run || far.from_far_end != near.from_far_end || !deeper) continue;
            if (far.from_any_end || near.from_any_end) continue;
            const int first = patches[i].mix, then = patches[k].mix;
            if (first < 0 || then < 0 || first == then || far.overnight || leads_to(then, first)) continue;
            link(first, then, 0);
        }
}

void Model::find_chains() {
    std::map<std::pair<int, int>, std::vector<int>> ways;  // by run and end
    std::vector<std::vector<int>> kinds(work->packers.size()), heaters(work->heaters.size()), runs(work->runs.size());
    std::vector<int> all;
    for (std::size_t i = 0; i < patches.size(); ++i) {
        if (patches[i].mix < 0 || patches[i].let_down < 0) continue;
        const int patch = static_cast<int>(i);
        if (!work->patches[i].from_any_end)
            ways[{patches[i].run, work->patches[i].from_far_end ? 1 : 0}].push_back(patch);
        if (ways_in[at(patches[i].run)] > 0) runs[at(patches[i].run)].push_back(patch);
        kinds[at(work->patches[i].packer)].push_back(patch);
        if (const int heater = work->patches[i].heater; heater >= 0) heaters[at(heater)].push_back(patch);
        all.push_back(patch);
    }
    const auto note = [&](std::vector<int> list, int servers) {
        if (servers > 0 && static_cast<int>(list.size()) > servers) chains.push_back({std::move(list), servers});
    };
    for (auto& [way, list] : ways) note(std::move(list), 1);
    for (std::size_t r = 0; r < runs.size(); ++r) note(std::move(runs[r]), ways_in[r]);
    for (std::size_t k = 0; k < kinds.size(); ++k) note(std::move(kinds[k]), work->packers[k].count);
    for (std::size_t k = 0; k < heaters.size(); ++k) note(std::move(heaters[k]), work->heaters[k].count);
    note(std::move(all), work->air_lines);
}

/// A kind is left out when there are enough of it for all jobs, or never hands enough to use one more than there are.
void Model::find_turns() {
    for (std::size_t k = 0; k < machine_kinds; ++k) {
        MachineTurns kind{static_cast<Machine>(k), {}, work->machines[k]};
        std::vector<int> hands;
        for (std::size_t j = 0; j < jobs.size(); ++j) {
            if (jobs[j].machine[k] == 0) continue;
            kind.jobs.push_back(static_cast<int>(j));
            hands.push_back(jobs[j].accesses == 0 ? jobs[j].persons
                                                  : std::min(jobs[j].persons, jobs[j].opening_persons));
        }
        if (hands.size() <= at(kind.count)) continue;
        std::sort(hands.begin(), hands.end());
        const auto one_more = hands.begin() + kind.count + 1;
        if (std::accumulate(hands.begin(), one_more, 0) <= persons) turns.push_back(std::move(kind));
    }
}

/// What the sleeves of a mix need at the same time and do not get.
void Model::check_mix(int m) {
    if (verdict.hindrance != Hindrance::none) return;
    const Mix& mix = work->mixes[at(m)];
    const auto say = [&](Hindrance hindrance, Minute minutes = 0) { verdict = {hindrance, m, minutes}; };
    if (orders[at(m)].too_slow > 0) return say(Hindrance::slow_hands, orders[at(m)].too_slow);
    if (static_cast<int>(mix.patches.size()) > work->air_lines) return say(Hindrance::air_lines);
    for (const int i : mix.patches) {
        const int kind = work->patches[at(i)].packer;
        const auto wanted = std::count_if(mix.patches.begin(), mix.patches.end(),
                                          [&](int k) { return work->patches[at(k)].packer == kind; });
        if (wanted > work->packers[at(kind)].count) return say(Hindrance::packers);
        const int heater = work->patches[at(i)].heater;
        const auto heated = std::count_if(mix.patches.begin(), mix.patches.end(),
                                          [&](int k) { return work->patches[at(k)].heater == heater; });
        if (heater >= 0 && heated > work->heaters[at(heater)].count) return say(Hindrance::heaters);
        for (const int k : patches[at(i)].keeps_out)
            if (patches[at(k)].mix == patches[at(i)].mix) return say(Hindrance::pipe);
    }
}

void Model::finish_jobs() {
    list_links();
    if (!sort_jobs()) {
        if (verdict.hindrance == Hindrance::none) verdict = {Hindrance::order, -1, 0};
        return;
    }
    for (auto j = sorted.rbegin(); j != sorted.rend(); ++j) {
        Job& job = jobs[at(*j)];
        job.tail = job.minutes;
        for (const Link& link : job.after) job.tail = std::max(job.tail, link.lag + jobs[at(link.job)].tail);
        job.tail += job.min_opening;
    }
}

bool Model::sort_jobs() {
    std::vector<std::size_t> waits(jobs.size());
    for (std::size_t j = 0; j < jobs.size(); ++j) {
        waits[j] = jobs[j].before.size();
        if (waits[j] == 0) sorted.push_back(static_cast<int>(j));
    }
    for (std::size_t k = 0; k < sorted.size(); ++k)
        for (const Link& link : jobs[at(sorted[k])].after)
            if (--waits[at(link.job)] == 0) sorted.push_back(link.job);
    return sorted.size() == jobs.size();
}

}  // namespace patchwright::schedule
