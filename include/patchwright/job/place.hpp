#pragma once
#include <optional>

#include "patchwright/units/parse.hpp"

/// Where a job lies and when somebody lets the crew in; how the yard's crews drive. Used by the week alone.
namespace patchwright::job {

/// A place on the globe: north and east are positive.
struct Coordinates {
    Angle latitude{}, longitude{};
    constexpr bool operator==(const Coordinates&) const = default;
};

/// From one time of day to a later one.
struct Hours {
    ClockTime from{}, to{};
    constexpr bool operator==(const Hours&) const = default;
};

/// From the straight line between two places to the minutes of a drive.
struct Drive {
    std::optional<Coordinates> from;  ///< the yard itself
    Length in_an_hour{};              ///< of road
    double detour = 1.0;              ///< road over straight line
};

}  // namespace patchwright::job
