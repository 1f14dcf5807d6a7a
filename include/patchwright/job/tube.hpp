#pragma once
#include <cstdint>
#include <numbers>

#include "patchwright/units/quantity.hpp"

/// Which bores a sewn tube of felt lies smooth in; the checks of the yard file and the choice of a felt ask the same.
namespace patchwright::job {

/// A tube is sewn to 85 to 97 % of the bore's circumference and stretches to it (common practice, no source); below
/// this share it would have to stretch by a quarter and thin out.
inline constexpr double min_tube_share = 0.80;

enum class TubeFit : std::uint8_t { lies_smooth, too_wide, too_narrow };

/// `flat_width`: of the tube laid flat, half of what it measures round.
inline TubeFit tube_fit(Length flat_width, Length bore) {
    const Length circumference = std::numbers::pi * bore;
    if (2.0 * flat_width > circumference) return TubeFit::too_wide;
    return 2.0 * flat_width < min_tube_share * circumference ? TubeFit::too_narrow : TubeFit::lies_smooth;
}

}  // namespace patchwright::job
