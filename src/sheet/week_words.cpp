#include "week_words.hpp"

#include <algorithm>

#include <fmt/format.h>
#include <fmt/ranges.h>

namespace patchwright::sheet {

const week::Address& address_of(const WeekContext& c, const week::Visit& visit) {
    return c.week->jobs[static_cast<std::size_t>(visit.job)];
}

std::string date_with_weekday(Date date) { return fmt::format("{:.3} {}", weekday_name(weekday(date)), format(date)); }

std::string span_text(const WeekContext& c, schedule::Minute minutes) {
    return format(Show::span, static_cast<double>(minutes) * unit::minute, c.units);
}

std::string stop_name(const WeekContext& c, const week::Visit& visit) {
    const auto& address = address_of(c, visit);
    const auto days = address.plan.schedule.days.size();
    return days > 1 ? fmt::format("{} (day {} of {})", address.job.reference, visit.part + 1, days)
                    : address.job.reference;
}

std::string site_of(const job::Job& job) {
    const auto& customer = job.customer;
    return !customer.site_address.empty() ? customer.site_address
           : !customer.address.empty()    ? customer.address
                                          : job.title;
}

std::string patches_text(const WeekContext& c, const week::Visit& visit) {
    const auto& plan = address_of(c, visit).plan;
    std::vector<std::string> ids;
    for (std::size_t p = 0; p < plan.patches.size(); ++p)
        if (plan.schedule.patches[p].day == visit.part) ids.push_back(plan.patches[p].id);
    return fmt::format("{} patch{}: {}", ids.size(), ids.size() == 1 ? "" : "es", fmt::join(ids, ", "));
}

std::string proof_text(const WeekContext& c) {
    const auto days = c.week->days.size();
    if (c.week->proven_optimal)
        return "Proven: no other order leaves out fewer jobs, takes fewer crew-days or, with as many, less driving and "
               "overtime.";
    if (static_cast<int>(days) <= c.week->bound_crew_days)
        return "No order takes fewer crew-days for these jobs; driving and overtime are good, not proven the least.";
    return fmt::format("Good, not proven: {} crew-days, and no order takes fewer than {}.", days,
                       c.week->bound_crew_days);
}

Money shared_offer(const WeekContext& c, const week::Cost& cost) {
    const Money saving = cost.saving();
    return c.shared && saving > Money{} ? cost.offered - share_of(saving, *c.shared) : cost.offered;
}

}  // namespace patchwright::sheet
