#pragma once
#include <string>
#include <vector>

#include "patchwright/intake/draft.hpp"

namespace patchwright::intake {

/// What is known when a customer calls. Quantities and words as typed; empty: not known, and an example stands in.
struct StarterOptions {
    std::string reference{}, title{};
    std::string bore{}, length{}, depth{}, material{};
    std::string units{};                 ///< "metric", "us", or empty: those of the values
    std::vector<std::string> defects{};  ///< "12 ft fissure", "3.9 m to 4.4 m fissure 3 mm 10-2"
};

struct Starter {
    Draft draft;                      ///< of use when there are no errors
    std::vector<std::string> errors;  ///< each names the option it is about
    std::vector<std::string> hints;   ///< words that were understood as others; values that are only examples
};

/// One run, "A", with its defects. Never throws for anything in the options.
Starter make_starter(const StarterOptions& options);

}  // namespace patchwright::intake
