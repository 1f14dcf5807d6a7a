#pragma once
#include "patchwright/units/money.hpp"
#include "patchwright/working/working.hpp"

namespace patchwright::job {
struct Yard;
}  // namespace patchwright::job

namespace patchwright::price {

/// What one sleeve takes, for the layout.
struct Marginal {
    Area felt{};
    Money felt_money{};  ///< with its waste
    Money resin_money{}, conditioning{}, film_money{}, wear{};
    Duration crew_time{};
    Money reopening{};
    Length length{};
    Length bore{};
    Money dig_instead{};  ///< what digging that place would cost: weighs the failures that end in a dig
};

/// One sleeve once more, without risk: felt with its waste, resin and its conditioning, film, consumables, crew time,
/// wear, reopening. This is the redo of a failed sleeve (`PatchWorks::redo_cost`). Errors as `marginal_cost`.
Money sleeve_cost(const Marginal& m, const job::Yard& yard, Working& working);

/// Marginal cost of one sleeve: `sleeve_cost` R and the expected cost of failure: for each risk of patching
/// p (c + (1-q) R + q G) with G the dig, c the risk's own cost at its mean (low + likely + high)/3; q = 1 where the
/// consequence is a dig. At least one cent, so that a layout never gets a patch for nothing. Used to choose the layout
/// only: the whole job counts each risk once, in its `risk` layer. Common practice, no source. Throws RangeError on a
/// negative crew time or a productive share that is not above zero.
Money marginal_cost(const Marginal& m, const job::Yard& yard, Working& working);
/// The same where `sleeve_cost` is known.
Money marginal_cost(const Marginal& m, Money sleeve, const job::Yard& yard, Working& working);

}  // namespace patchwright::price
