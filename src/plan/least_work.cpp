#include "least_work.hpp"

#include <algorithm>
#include <cmath>

namespace patchwright::plan {

void LeastWork::add(const Sleeve& sleeve) {
    const auto shortest = [&](auto time) {
        Duration least = time(sleeve.options.front());
        for (const auto& option : sleeve.options) least = std::min(least, time(option));
        return least;
    };
    cost += sleeve.options.front().cost;
    hands += shortest([](const SleeveOption& option) {
        const auto& c = option.patch->conditions;
        return c.wet_out + c.load + c.position;
    });
    if (!sleeve.overnight) cures += shortest([](const SleeveOption& option) { return option.cure * unit::minute; });
}

LeastWork& LeastWork::operator+=(const LeastWork& other) {
    cost += other.cost;
    hands += other.hands;
    cures += other.cures;
    return *this;
}

LeastWork least(const LeastWork& a, const LeastWork& b) {
    return {std::min(a.cost, b.cost), std::min(a.hands, b.hands), std::min(a.cures, b.cures)};
}

double least_cost(const PlanContext& context, const JobCost& cost, const LeastWork& work) {
    const auto& site = context.job.site;
    const auto& limits = context.yard.limits;
    const double travel = 2.0 * site.travel.value_or(context.yard.durations.travel.likely).in(unit::minute);
    const double most = site.finish.minutes - site.start.minutes + limits.overtime.in(unit::minute);
    const double busy = std::max(work.hands, work.cures / limits.air_lines).in(unit::minute);
    const double days = std::max(1.0, std::ceil(busy / std::max(1.0, most - travel)));
    const double a_minute = cost.day(1, 0, 0, false) - cost.day(0, 0, 0, false);
    return work.cost + days * cost.day(static_cast<schedule::Minute>(travel), 0, 0, false) + busy * a_minute;
}

}  // namespace patchwright::plan
