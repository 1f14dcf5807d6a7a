#pragma once
// Fits that were made when the program was built: of the resins of the built-in yard, by compile_fits.cpp.
#include <optional>
#include <span>
#include <vector>

#include "least_squares.hpp"
#include "patchwright/job/resin.hpp"

namespace patchwright::cure::detail {

struct KnownFit {
    std::span<const double> sheet;  ///< `sheet_figures` of the resin
    Vector at{};
    std::span<const double> residuals;
    Matrix inverse_normal{};
};

std::span<const KnownFit> known_fits();

/// Every figure of a resin that its fit hangs on, in SI; what is not given is marked as such.
std::vector<double> sheet_figures(const job::Resin& resin);

/// The minimum of a resin with exactly the figures of a known one.
std::optional<Minimum> known_minimum(const job::Resin& resin);

}  // namespace patchwright::cure::detail
