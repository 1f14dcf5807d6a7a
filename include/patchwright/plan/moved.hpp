#pragma once
#include <string>
#include <vector>

#include "patchwright/plan/plan.hpp"

/// A day of a plan among other addresses: the same work, at another time of another day.
namespace patchwright::plan {

/// When the crew is at the address, and how it comes and goes.
struct Visit {
    Date date{};
    schedule::Minute arrive = 0;  ///< work may begin
    schedule::Minute drive_in = 0, drive_out = 0;
    schedule::Minute leave_by = 0;  ///< with the rest of the crew's day behind it
};

/// Minutes of that day between arriving and leaving.
schedule::Minute on_site(const Plan& plan, int day);

/// Persons that the day takes.
int persons(const Plan& plan, int day);

/// Packers of a day that are in the pipe, or being loaded, at one time; those that are built count as their end
/// fittings. Heaters besides ("heater warm-air"), from mixing to deflating.
struct PackerUse {
    std::string kind;
    int at_once = 0;
    int count = 0;  ///< that the yard has
};
std::vector<PackerUse> packer_use(const Plan& plan, int day);

/// Moves a day. Everything in it keeps its distance from the arrival, so that every rule of the day and both promises
/// hold as they did: they speak of times from mixing. What is latest moves with `leave_by`. Only the travel is another.
/// For plans of one crew without a cure overnight.
void move_day(int day, const Visit& visit, Plan& plan);

}  // namespace patchwright::plan
