#pragma once
#include <algorithm>
#include <map>
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

protected:
    const DayWork& work_;
};

}  // namespace gecode_day
