#pragma once
#include <algorithm>
#include <map>
#include <utility>
#include <vector>

#include "patchwright/schedule/day.hpp"

/// What a day's work says, read anew for the oracle: which accesses, which places to watch from, which order in a mix.
namespace gecode_day {

using namespace patchwright;
using namespace patchwright::schedule;

class Facts {
public:
    explicit Facts(const DayWork& work) : work_{work} {}

    int clip(int persons) const { return std::min(persons, work_.persons); }
    const PatchWork& patch(int i) const { return work_.patches[static_cast<std::size_t>(i)]; }

    const RunWork& run_of(job::RunPlace place) const {
        return *std::find_if(work_.runs.begin(), work_.runs.end(), [&](auto& run) { return run.place == place; });
    }

    std::vector<int> ends_of(const RunWork& run) const {
        std::vector<int> used;
        for (int end = 0; end < 2; ++end)
            for (const PatchWork& p : work_.patches)
                if (p.run == run.place && p.from_far_end == (end == 1)) {
                    const int id = end == 0 ? run.access_from : run.access_to;
                    used.push_back(id >= 0 ? id : 1000 + 2 * static_cast<int>(run.place) + end);
                    break;
                }
        return used;
    }

    /// The order of a mix that keeps its limits and waits least, as the day itself gives it: the first of equals by
    /// place.
    std::vector<int> order_of(const Mix& mix) const {
        std::vector<int> order = mix.patches, best;
        std::sort(order.begin(), order.end());
        int least = 1 << 30;
        do {
            int t = 0, waiting = 0;
            for (const int i : order) t += patch(i).wet_out.minutes;
            for (const int i : order) {
                const PatchWork& p = patch(i);
                t += p.load.minutes + p.position.minutes + p.inflate.minutes;
                waiting += t - p.wet_out.minutes - p.load.minutes - p.position.minutes - p.inflate.minutes;
                t += p.crease.minutes;
            }
            if (waiting < least) {
                least = waiting;
                best = order;
            }
        } while (std::next_permutation(order.begin(), order.end()));
        return best;
    }

    /// Places by the lowest access that is in sight, over any number of runs.
    int place_of_end(job::RunPlace run, bool far_end) const {
        std::map<int, int> place;
        const auto name = [&](const RunWork& r, bool far) {
            const int id = far ? r.access_to : r.access_from;
            return id >= 0 ? id : 1000 + 2 * static_cast<int>(r.place) + (far ? 1 : 0);
        };
        for (const RunWork& r : work_.runs)
            for (const bool far : {false, true}) place[name(r, far)] = name(r, far);
        for (std::size_t round = 0; round <= work_.runs.size(); ++round)
            for (const RunWork& r : work_.runs)
                if (r.ends_in_sight)
                    place[name(r, false)] = place[name(r, true)] =
                        std::min(place[name(r, false)], place[name(r, true)]);
        return place.at(name(run_of(run), far_end));
    }
    int place_of(int i) const { return place_of_end(patch(i).run, patch(i).from_far_end); }
    bool is_watched(int place) const {
        for (int i = 0; i < static_cast<int>(work_.patches.size()); ++i)
            if (!patch(i).overnight && !patch(i).lying && place_of(i) == place) return true;
        return false;
    }

    /// Sleeves of different mixes that come from one mouth, far before near, where nothing speaks against it.
    std::vector<std::pair<int, int>> far_first() const {
        const std::size_t n = work_.patches.size();
        std::vector<std::pair<int, int>> pairs;
        std::vector<int> mix(n, -1);
        for (std::size_t m = 0; m < work_.mixes.size(); ++m)
            for (const int i : work_.mixes[m].patches) mix[static_cast<std::size_t>(i)] = static_cast<int>(m);
        std::vector<std::vector<char>> leads(work_.mixes.size(), std::vector<char>(work_.mixes.size(), 0));
        const auto link = [&](int a, int b) {
            for (std::size_t x = 0; x < leads.size(); ++x)
                for (std::size_t y = 0; y < leads.size(); ++y)
                    if ((static_cast<int>(x) == a || leads[x][static_cast<std::size_t>(a)]) &&
                        (static_cast<int>(y) == b || leads[static_cast<std::size_t>(b)][y]))
                        leads[x][y] = 1;
        };
        for (std::size_t i = 0; i < n; ++i)
            for (const int first : work_.patches[i].after)
                if (mix[i] >= 0 && mix[static_cast<std::size_t>(first)] >= 0)
                    link(mix[static_cast<std::size_t>(first)], mix[i]);
        for (std::size_t i = 0; i < n; ++i)
            for (std::size_t k = 0; k < n; ++k) {
                const PatchWork &far = work_.patches[i], &near = work_.patches[k];
                const bool deeper = far.from_far_end ? far.at_start < near.at_start : far.at_start > near.at_start;
                if (far.run != near.run || far.from_far_end != near.from_far_end || !deeper || far.overnight) continue;
                if (mix[i] < 0 || mix[k] < 0 || mix[i] == mix[k]) continue;
                if (leads[static_cast<std::size_t>(mix[k])][static_cast<std::size_t>(mix[i])]) continue;
                link(mix[i], mix[k]);
                pairs.emplace_back(static_cast<int>(i), static_cast<int>(k));
            }
        return pairs;
    }

protected:
    const DayWork& work_;
};

}  // namespace gecode_day
