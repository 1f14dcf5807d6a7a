#pragma once
#include <string_view>

#include "patchwright/units/quantity.hpp"

/// The unit of a rate as lines print it. A rate per something that has no short name is per "unit".
namespace patchwright::price {

inline std::string_view unit_word(Length per) {
    if (per == unit::m) return "m";
    if (per == unit::km) return "km";
    if (per == unit::ft) return "ft";
    return per == 5280.0 * unit::ft ? "mi" : "units";
}
inline std::string_view unit_word(Area per) {
    if (per == unit::m2) return "m2";
    if (per == unit::yd * unit::yd) return "yd2";
    return per == unit::ft2 ? "ft2" : "units";
}
inline std::string_view unit_word(Volume per) {
    if (per == unit::m3) return "m3";
    if (per == unit::yd * unit::yd * unit::yd) return "yd3";
    return per == unit::litre ? "l" : "units";
}
inline std::string_view unit_word(Mass per) {
    if (per == unit::tonne) return "t";
    if (per == 2000.0 * unit::lb) return "tons";
    if (per == unit::kg) return "kg";
    return per == unit::lb ? "lb" : "units";
}

}  // namespace patchwright::price
