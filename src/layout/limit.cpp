// Lower bounds on what covers the targets before, within and after a sleeve.
#include <algorithm>

#include "generate.hpp"

namespace patchwright::layout {

bool Generator::promising(int carrier, int first, int last) const {
    if (!limit_) return true;
    const auto f = static_cast<std::size_t>(first - limit_->begin);
    const auto l = static_cast<std::size_t>(last - limit_->begin);
    const std::size_t place = limit_->row[f] + (l - f) * problem_.carriers.size() + static_cast<std::size_t>(carrier);
    if (place >= limit_->row[f + 1]) return false;
    return limit_->before[f] + limit_->least[place] + limit_->after[l + 1] <= limit_->most;
}

bool Generator::make_limit(int begin, int end, Limit& limit) const {
    const auto& needs = needs_.essential;
    const Centimetre from = needs[static_cast<std::size_t>(begin)].start;
    const Centimetre to = needs[static_cast<std::size_t>(end) - 1].end;
    for (const auto& sleeve : anchored_) {
        if (sleeve.start <= to && sleeve.end >= from) return false;
    }
    const auto count = static_cast<std::size_t>(end - begin);
    limit.begin = begin;
    limit.row.assign(1, 0);
    limit.least.clear();
    limit.before.assign(count + 1, Limit::none);
    limit.after.assign(count + 1, Limit::none);
    limit.before[0] = limit.after[count] = 0;
    for (int f = begin; f < end; ++f) {
        const auto& first = needs[static_cast<std::size_t>(f)];
        for (int l = f; l < end; ++l) {
            const auto& last = needs[static_cast<std::size_t>(l)];
            bool reached = false;
            Cost cheapest = Limit::none;
            for (int c = 0; c < static_cast<int>(problem_.carriers.size()); ++c) {
                const auto& carrier = problem_.carriers[static_cast<std::size_t>(c)];
                Cost least = Limit::none;
                if (carrier.anchors.empty() && largest_end(c, first.last_start) >= last.first_end) {
                    reached = true;
                    // Prices rise: no sleeve around that one is cheaper. Where it is too short to have a price:
                    // nothing.
                    const Span covered = listed(first.last_start, last.first_end);
                    const auto cost = price_(first.last_start, last.first_end, c, covered.from, covered.to);
                    const bool too_short = last.first_end - first.last_start < carrier.length_min;
                    if (cost) least = *cost + reopening(first.last_start, last.first_end, carrier);
                    if (!cost && too_short) least = 0;
                }
                limit.least.push_back(least);
                cheapest = std::min(cheapest, least);
            }
            const auto i = static_cast<std::size_t>(f - begin);
            const auto j = static_cast<std::size_t>(l - begin) + 1;
            limit.before[j] = std::min({limit.before[j], limit.before[i] + cheapest, Limit::none});
            if (!reached) break;
        }
        limit.row.push_back(limit.least.size());
    }
    for (std::size_t f = count; f-- > 0;) {
        const std::size_t carriers = problem_.carriers.size();
        for (std::size_t place = limit.row[f]; place < limit.row[f + 1]; ++place) {
            const std::size_t l = f + (place - limit.row[f]) / carriers;
            limit.after[f] = std::min({limit.after[f], limit.least[place] + limit.after[l + 1], Limit::none});
        }
    }
    return true;
}

}  // namespace patchwright::layout
