#pragma once
#include <cstdint>
#include <string>

#include "patchwright/job/spread.hpp"
#include "patchwright/units/money.hpp"

namespace patchwright::job {

/// A discrete risk of a method.
struct Risk {
    std::string id, words;
    bool of_dig = false;
    Share probability;     ///< per patch, or per dig place
    Spread<Money> cost{};  ///< when it happens, beside the redo or dig, which the program works out
    enum class Consequence : std::uint8_t { cost, redo, dig } consequence = Consequence::cost;
    Share then_dig;  ///< redo: share of the cases in which it ends in a dig all the same
    enum class Cause : std::uint8_t { own, ground, access, water } cause = Cause::own;  ///< shared with other tasks
};

}  // namespace patchwright::job
