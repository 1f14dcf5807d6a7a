#pragma once
#include <map>
#include <string_view>
#include <utility>
#include <vector>

#include "day_book.hpp"

/// From a day's sleeves to the work that the scheduler sees.
namespace patchwright::plan {

/// The sleeves of the day as these patches, then those that lie.
DayOfPatches with_patches(const DayTask& day, const PatchList& patches);
/// Another run of the day meets that one there: its access may be open already.
bool meets_another(const job::Job& job, const DayTask& day, int run, std::string_view access);
/// The heater of a day and the sleeves that get it.
struct DayHeating {
    DayHeater heater;
    std::vector<bool> heated;  ///< by sleeve of the day; empty: none of them
    /// Place in Yard::heaters for a sleeve of the day; -1: not heated.
    int of(std::size_t sleeve) const { return sleeve < heated.size() && heated[sleeve] ? heater.heater : -1; }
};
/// Ways of a sleeve that may be of use on a day, with a heater (-1: none): packers of a dearer kind only when the
/// cheaper ones do not go round, another mouth only with company in its run or at that mouth, a dearer resin only when
/// it is let down earlier. Places in its options.
class UsefulWays {
public:
    /// Both must outlive it.
    UsefulWays(const job::Job& job, const DayTask& day) : job_{job}, day_{day} {}
    /// Of a sleeve by its place on the day; worked out when first asked for.
    const std::vector<int>& of(std::size_t sleeve, int heater);

private:
    std::vector<int> find(std::size_t sleeve, int heater) const;

    const job::Job& job_;
    const DayTask& day_;
    std::map<std::pair<std::size_t, int>, std::vector<int>> known_;
};
/// Some sleeve of the day has a heated way.
bool can_be_heated(const DayTask& day);
/// What bounds a day: not heated; and each sleeve with its quickest heater (nullptr), where one can be heated.
std::vector<const DayHeating*> heatings_to_bound(const DayTask& day, const DayHeating& none, bool heaters);
/// Every way to heat some sleeves of the day: one kind of heater, which sleeves, how many units go along. Of
/// more than four sleeves no more than two are heated.
std::vector<DayHeating> ways_to_heat(const PlanContext& context, const DayTask& day);
/// A day that is never longer than the one that comes of it: `chosen` are the ways of its first sleeves, the others
/// count with their quickest cure, any packer that one of them may take, and whichever mouth is free.
schedule::DayWork with_any(const PlanContext& context, const DayTask& day, const PatchList& chosen, int extra_persons,
                           const DayHeating* heating);

/// Helpers that may be hired for a day.
inline int max_helpers(const job::Yard& yard) { return yard.rates.helper_per_day.is_zero() ? 0 : yard.limits.helpers; }

}  // namespace patchwright::plan
