#pragma once
#include <vector>

#include "patchwright/job/yard.hpp"
#include "patchwright/price/price.hpp"

/// From the parts of an offer to the model that the trials draw from.
namespace patchwright::price {

/// The parts of an offer before risk is in it.
struct Parts {
    std::vector<Line> patch_lines;  ///< patching alone
    DigWorks all, unavoidable;
    DigShape all_shape, unavoidable_shape;
    std::vector<excavation::Place> places;  ///< every place dug on the dig side, the unavoidable ones first
};

Model make_model(const Input& input, const Parts& parts);
/// The patch side alone: nothing of the dig that it is compared with.
Model patch_model(const Input& input, const Parts& parts);

/// Expected cost of the discrete risks of one side, a line each, in the yard's order.
std::vector<Line> risk_lines(const Model& model, bool patch, Currency currency);

/// What digging instead costs where a patch fails for good: as the plan gave it, else the average of the places.
std::vector<Money> dig_costs(const Input& input);

}  // namespace patchwright::price
