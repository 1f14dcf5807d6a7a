#include "checks.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace patchwright::record {

std::string_view word(Verdict v) {
    switch (v) {
        case Verdict::kept:
            return "kept";
        case Verdict::missed:
            return "missed";
        case Verdict::not_noted:
            break;
    }
    return "not noted";
}

Check& Checks::figure(std::string_view what, Show show, std::optional<double> planned, std::optional<double> done,
                      Limit limit) {
    Check& check = list_.emplace_back();
    check.what = what;
    check.show = show;
    check.planned = planned;
    check.done = done;
    check.least = limit.least;
    check.most = limit.most;
    if (!done) return check;
    // What was noted came through a text and its units: a part in a thousand million is no miss.
    const double slack = 1e-9 * std::max({1.0, std::abs(*done), std::abs(limit.most.value_or(0.0))});
    const double over = limit.most ? *done - *limit.most : 0.0, under = limit.least ? *limit.least - *done : 0.0;
    check.verdict = std::max(over, under) > slack ? Verdict::missed : Verdict::kept;
    if (check.verdict == Verdict::missed) check.missed_by = std::max(over, under);
    return check;
}

Check& Checks::words(std::string_view what, std::string planned, std::string done, bool kept) {
    Check& check = list_.emplace_back();
    check.what = what;
    check.planned_words = std::move(planned);
    check.done_words = std::move(done);
    if (!check.done_words.empty()) check.verdict = kept ? Verdict::kept : Verdict::missed;
    return check;
}

std::size_t Patch::count(Verdict verdict) const {
    return static_cast<std::size_t>(
        std::count_if(checks.begin(), checks.end(), [verdict](const Check& c) { return c.verdict == verdict; }));
}

bool Patch::good() const {
    return std::none_of(checks.begin(), checks.end(),
                        [](const Check& c) { return c.verdict == Verdict::missed && c.as != As::clock; });
}

bool AsBuilt::nothing_missed() const {
    const auto missed = [](const Check& c) { return c.verdict == Verdict::missed; };
    return std::none_of(left.begin(), left.end(), missed) && std::none_of(days.begin(), days.end(), missed) &&
           std::none_of(patches.begin(), patches.end(), [](const Patch& p) { return p.count(Verdict::missed) > 0; }) &&
           std::none_of(tests.begin(), tests.end(), [](const Test& t) { return t.verdict == Verdict::missed; });
}

}  // namespace patchwright::record
