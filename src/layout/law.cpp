#include "law.hpp"

#include <algorithm>
#include <limits>
#include <map>

namespace patchwright::layout {
namespace {

constexpr Cost no_design = std::numeric_limits<Cost>::max();

/// Prices by length from `shortest` on, for one carrier and one range of essential targets.
struct Row {
    Centimetre shortest = 0;
    std::vector<Cost> costs;
};

class Check {
public:
    Check(const Problem& problem, const Needs& needs, const Pricer& price)
        : problem_{problem}, needs_{needs.essential}, all_{needs}, price_{price} {}

    bool carrier(int index) const {
        const auto& carrier = problem_.carriers[static_cast<std::size_t>(index)];
        std::map<std::size_t, Row> after;  // rows of the ranges that start one target later, by last target
        for (std::size_t first = needs_.size(); first-- > 0;) {
            std::map<std::size_t, Row> rows;
            for (std::size_t last = first; last < needs_.size(); ++last) {
                if (needs_[last].end - needs_[first].start > carrier.length_max) break;
                Row row = ask(carrier, index, first, last);
                const bool rises = std::is_sorted(row.costs.begin(), row.costs.end()) &&
                                   (last == first || (above(row, rows[last - 1]) && above(row, after[last])));
                if (!rises) return false;
                rows[last] = std::move(row);
            }
            after = std::move(rows);
        }
        return true;
    }

private:
    Row ask(const Carrier& carrier, int index, std::size_t first, std::size_t last) const {
        const Centimetre earliest = first == 0 ? 0 : needs_[first - 1].start + 1;
        const Centimetre latest = last + 1 == needs_.size() ? problem_.run_length : needs_[last + 1].end - 1;
        Row row;
        row.shortest = std::max({1, carrier.length_min, needs_[last].end - needs_[first].start});
        const auto listed = std::lower_bound(all_.start.begin(), all_.start.end(), needs_[first].start);
        const int first_target = all_.listed[static_cast<std::size_t>(listed - all_.start.begin())];
        const int last_target = all_.listed[static_cast<std::size_t>(needs_[last].listed)];
        for (Centimetre length = row.shortest; length <= std::min(carrier.length_max, latest - earliest); ++length) {
            const Centimetre start = std::max(earliest, std::min(needs_[first].start, latest - length));
            row.costs.push_back(price_(start, start + length, index, first_target, last_target).value_or(no_design));
        }
        return row;
    }

    /// A sleeve of `outer` costs no less than any shorter one of `inner`.
    static bool above(const Row& outer, const Row& inner) {
        if (inner.costs.empty()) return true;
        for (std::size_t i = 0; i < outer.costs.size(); ++i) {
            const auto place = outer.shortest + static_cast<Centimetre>(i) - inner.shortest;
            if (place < 0) continue;
            if (inner.costs[std::min(static_cast<std::size_t>(place), inner.costs.size() - 1)] > outer.costs[i])
                return false;
        }
        return true;
    }

    const Problem& problem_;
    const std::vector<Needs::Essential>& needs_;
    const Needs& all_;
    const Pricer& price_;
};

}  // namespace

bool prices_rise(const Problem& problem, const Needs& needs, const Pricer& price) {
    const Check check{problem, needs, price};
    for (int c = 0; c < static_cast<int>(problem.carriers.size()); ++c) {
        // Anchored sleeves are priced one by one whatever the law.
        if (problem.carriers[static_cast<std::size_t>(c)].anchors.empty() && !check.carrier(c)) return false;
    }
    return true;
}

}  // namespace patchwright::layout
