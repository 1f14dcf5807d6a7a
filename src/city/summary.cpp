#include "patchwright/city/summary.hpp"

#include <algorithm>

namespace patchwright::city {
namespace {

/// Greater is worse; nothing at all is not bad.
double badness(WorstBy by, const Planned& plan) {
    switch (by) {
        case WorstBy::dig:
            return plan.at(Verdict::dig);
        case WorstBy::look_again:
            return plan.at(Verdict::look_again);
        case WorstBy::price:
            return static_cast<double>(price_of(plan).in_cents());
        case WorstBy::days:
            return plan.days > 1 ? plan.days : 0;  // a day is what a visit takes
        case WorstBy::late:
            return plan.late;
    }
    return 0.0;
}

}  // namespace

Fate fate_of(const Planned& plan) {
    if (plan.at(Verdict::look_again) > 0) return Fate::look_again;
    if (plan.at(Verdict::dig) > 0) return Fate::dig;
    if (plan.too_long > 0) return Fate::too_long;
    return plan.patches > 0 ? Fate::patch : Fate::sound;
}

Money price_of(const Planned& plan) { return plan.letter == Letter::advice ? plan.ceiling : plan.offered; }

void Summary::add(const Line& line) {
    ++jobs;
    if (line.plan) return add_plan(*line.plan);
    ++by_fate[static_cast<std::size_t>(Fate::unread)];
    if (unread.size() < worst_most_) unread.push_back(line);
}

void Summary::add_plan(const Planned& plan) {
    ++by_fate[static_cast<std::size_t>(fate_of(plan))];
    for (std::size_t r = 0; r < verdicts; ++r) by_verdict[r] += plan.places[r];
    patches += plan.patches;
    too_long += plan.too_long;
    days += plan.days;
    if (plan.days > 0) ++by_days[plan.days];
    auto& total = money[std::string{plan.currency.code()}][static_cast<std::size_t>(plan.letter)];
    ++total.jobs;
    total.floor += plan.floor;
    total.own += plan.own;
    total.offered += plan.offered;
    total.ceiling += plan.ceiling;
    yards.insert(plan.yard);
    demonstration = demonstration || plan.demonstration;
    late += plan.late;
    soft += plan.soft;
    if (!seen_.insert(plan.reference).second && ++repeated == 1) first_repeated = plan.reference;
    for (std::size_t by = 0; by < ways_worst; ++by) rank(static_cast<WorstBy>(by), plan);
}

void Summary::rank(WorstBy by, const Planned& plan) {
    auto& list = worst[static_cast<std::size_t>(by)];
    const double bad = badness(by, plan);
    if (!(bad > 0.0)) return;
    if (list.size() == worst_most_) {
        if (list.empty() || badness(by, list.back()) >= bad) return;
        list.pop_back();
    }
    const auto place = std::find_if(list.begin(), list.end(), [&](const Planned& p) { return badness(by, p) < bad; });
    list.insert(place, plan);
}

}  // namespace patchwright::city
