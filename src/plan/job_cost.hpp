#pragma once
#include "patchwright/job/yard.hpp"
#include "patchwright/plan/plan.hpp"
#include "patchwright/schedule/schedule.hpp"
#include "patchwright/units/money.hpp"

namespace patchwright::plan {

/// The heater that a crew takes along for a day: of one kind, so many of them.
struct DayHeater {
    int heater = -1;  ///< place in Yard::heaters; -1: none
    int units = 0;
};

/// What a whole job costs, as a sum over its sleeves and its days, in cents: direct cost, risk and overhead by the day.
///
/// The price is a rising function of this sum (overhead and profit in shares, minimum charge, rounding), so that the
/// cheapest sum is the cheapest offer. Each kind of cost counts with the mean of its spread, as the price's allowance
/// for spread does. Not in the sum: what is the same in every whole job (digs that cannot be avoided).
class JobCost {
public:
    explicit JobCost(const job::Yard& yard);

    /// A sleeve: felt and resin by what is cut and weighed, film, consumables, wear, work in the yard, expected
    /// failures.
    double sleeve(const Patch& patch) const;
    /// Resin that sharing a mix saves: the fixed loss of one pot.
    double mix_loss(int resin) const;
    /// A day of the crew, from leaving the yard to being back; `over` of its minutes are paid as overtime.
    double day(schedule::Minute minutes, schedule::Minute over, int helpers, bool overnight) const;
    /// Hire of the heaters that go along for a day.
    double heaters(const DayHeater& heater) const;
    double cheapest_heater() const;  ///< 0 where the yard has none

private:
    const job::Yard& yard_;
    double labour_ = 1.0, material_ = 1.0, plant_ = 1.0, bought_ = 1.0;  ///< mean factors
    double team_minute_ = 0.0;                                           ///< cents
};

/// Felt of the sleeve at its list price, waste included; offcuts save the firm's own purse, not the customer's.
Money felt_money(const job::Yard& yard, const Patch& patch);
/// Resin by weight, at the price a mass of the kit that is cheapest by mass; what an opened kit has left goes back on
/// the shelf. A kit that may not be split is charged whole.
Money resin_money(const job::Resin& resin, Mass mass);
/// To cool or warm its resin before mixing, where the sleeve needs it.
Money conditioning_money(const job::Yard& yard, const Patch& patch);
Money film_money(const job::Yard& yard, const Patch& patch);
/// Team time spent in the yard on a sleeve before leaving: cutting, building and testing the packer, each by one
/// person.
Duration yard_time(const job::Yard& yard, const Patch& patch);

}  // namespace patchwright::plan
