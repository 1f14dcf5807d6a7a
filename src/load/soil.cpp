#include "patchwright/load/soil.hpp"

#include <array>
#include <cmath>

#include <fmt/core.h>

#include "patchwright/units/error.hpp"

namespace patchwright::load {
namespace {

constexpr std::array<std::string_view, 5> soil_words{"fine plastic", "fine sandy", "coarse with fines", "coarse clean",
                                                     "crushed rock"};
constexpr std::array<std::string_view, 4> compaction_words{"dumped", "slight", "moderate", "high"};

/// psi; rows in the order of SoilClass, columns in that of Compaction.
/// Howard, USBR REC-ERC-77-01 (1977), table 1. "No data, use zero" in the first row is the report's own advice.
constexpr std::array<std::array<double, 4>, 5> howard_psi{{
    {0.0, 0.0, 0.0, 0.0},
    {50.0, 200.0, 400.0, 1000.0},
    {100.0, 400.0, 1000.0, 2000.0},
    {200.0, 1000.0, 2000.0, 3000.0},
    {1000.0, 3000.0, 3000.0, 3000.0},
}};

}  // namespace

std::string_view word(SoilClass v) { return soil_words.at(static_cast<std::size_t>(v)); }
std::string_view word(Compaction v) { return compaction_words.at(static_cast<std::size_t>(v)); }

std::optional<SoilClass> soil_class(std::string_view text) {
    for (std::size_t i = 0; i < soil_words.size(); ++i)
        if (soil_words[i] == text) return static_cast<SoilClass>(i);
    return std::nullopt;
}
std::optional<Compaction> compaction(std::string_view text) {
    for (std::size_t i = 0; i < compaction_words.size(); ++i)
        if (compaction_words[i] == text) return static_cast<Compaction>(i);
    return std::nullopt;
}

Pressure soil_modulus(SoilClass soil, Compaction compaction) {
    return howard_psi.at(static_cast<std::size_t>(soil)).at(static_cast<std::size_t>(compaction)) * unit::psi;
}

Pressure prism_load(UnitWeight w, Length cover) {
    if (!(w.si() >= 0.0) || !(cover.si() >= 0.0) || !is_finite(w) || !is_finite(cover))
        throw RangeError(fmt::format("soil load: weight and cover must be zero or more, got {} kN/m3 and {} m",
                                     w.in(unit::kN_m3), cover.in(unit::m)));
    return w * cover;
}

double marston_ditch_coefficient(double cover_over_width, double k_mu) {
    if (!(cover_over_width >= 0.0) || !std::isfinite(cover_over_width) || !(k_mu >= 0.0) || !std::isfinite(k_mu))
        throw RangeError(
            fmt::format("ditch coefficient: H/B and K mu must be zero or more, got {} and {}", cover_over_width, k_mu));
    if (k_mu == 0.0) return cover_over_width;
    return -std::expm1(-2.0 * k_mu * cover_over_width) / (2.0 * k_mu);
}

LineLoad marston_ditch_load(UnitWeight w, Length cover, Length ditch_width, double k_mu) {
    if (!(ditch_width.si() > 0.0) || !is_finite(ditch_width))
        throw RangeError(fmt::format("ditch load: the ditch needs a width, got {} m", ditch_width.in(unit::m)));
    if (!(w.si() >= 0.0) || !is_finite(w))
        throw RangeError(fmt::format("ditch load: soil weight must be zero or more, got {} kN/m3", w.in(unit::kN_m3)));
    return marston_ditch_coefficient(cover / ditch_width, k_mu) * (w * (ditch_width * ditch_width));
}

}  // namespace patchwright::load
