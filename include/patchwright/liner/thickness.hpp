#pragma once
#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "patchwright/job/job.hpp"
#include "patchwright/load/load.hpp"
#include "patchwright/units/quantity.hpp"
#include "patchwright/working/working.hpp"

/// Thickness of the cured sleeve by ASTM F1216 Appendix X1, gravity pipe.
/// Edition: F1216-09, with C inside the root of X1.3 as since F1216-07b (June 2007); see docs/methods/liner.md.
namespace patchwright::liner {

/// What the cured resin brings to the wall.
struct CuredWall {
    Sourced<Pressure> modulus;             ///< short-term flexural E
    Sourced<double> long_term_share{0.5};  ///< EL / E, and sL / flexural strength
    Sourced<Pressure> flexural_strength;
    Sourced<double> poisson{0.3};
    /// `flexural_strength` is sL already, as the published examples have it; else sL is the long-term share of it.
    bool strength_is_long_term = false;
};

struct ThicknessInput {
    Sourced<Length> bore;              ///< mean inside diameter D of the host
    Sourced<double> ovality{0.02};     ///< q as a share: 0.02 is 2 %
    Sourced<Length> head_over_invert;  ///< outside water, zero if none
    job::Condition condition = job::Condition::partially_deteriorated;
    CuredWall wall;
    Sourced<double> enhancement{7.0};         ///< K
    Sourced<double> safety{2.0};              ///< N
    Sourced<Length> least;                    ///< the yard's least thickness
    std::optional<load::SoilLoadInput> soil;  ///< required when fully deteriorated
    bool wall_missing = false;              ///< wall is gone: designed as fully deteriorated whatever `condition` says
    std::optional<Length> depth_to_invert;  ///< ground to invert, where known: bounds the sensitivity to water

    bool fully_deteriorated() const { return wall_missing || condition == job::Condition::fully_deteriorated; }
};

enum class Check : std::uint8_t { water_buckling, ovality_bending, soil_buckling, stiffness, least_thickness };
std::string_view word(Check c);  ///< "water buckling", ...

/// Thickness that one check asks for; zero when the check does not apply, and why not.
struct CheckResult {
    Check check = Check::water_buckling;
    Length needed{};
    bool applies = false;
    std::string_view why_not;  ///< constant text, empty when it applies
};

struct ThicknessDesign {
    std::array<CheckResult, 5> checks;  ///< in the order of `Check`
    Length design{};                    ///< the greatest
    Check governing = Check::least_thickness;
    std::optional<std::string> outside_method;  ///< plain words and what to do; then `design` is not to be used
    std::vector<std::string_view> notes;        ///< constant texts: what the reader must know, without refusing
    Length glock{};                             ///< second opinion by the Glock form; printed beside, never mixed in
    std::optional<load::SoilLoad> soil;         ///< what the ground puts on the sleeve, when fully deteriorated
};

/// Bore, D/t and ovality for which a design is given.
namespace limit {
inline constexpr double max_ovality = 0.10;           ///< common practice, no source
inline constexpr double min_dimension_ratio = 10.0;   ///< D/t: the formulas are those of a thin ring
inline constexpr double max_dimension_ratio = 200.0;  ///< D/t
/// Nominal 4 in = DN100: the least of ASTM F1216-09 and F2599 ("4 in (102 mm)"). Nominal, so a bore of 100 mm is in.
inline constexpr Length published_bore = 100.0 * unit::mm;
}  // namespace limit

/// Greatest of the thicknesses that the checks ask for:
///   water buckling  X1.1 and ovality bending X1.2, when water stands outside (X1.2 only when the pipe is oval);
///   soil buckling   X1.3 and stiffness X1.4 besides, when the pipe is fully deteriorated;
///   least thickness of the yard, always.
/// Formulas: `liner/f1216.hpp`. Water is 62.4 lb/ft3, as in the standard.
/// Does not throw for pipes outside the method: it says so in `outside_method` (ovality above 10 %, D/t outside
/// 10 to 200, soil without stiffness, and all that `load::soil_load` names).
/// A bore below DN100 is below the published scope: designed all the same, with a note.
/// Throws RangeError for values that no pipe has (non-positive bore, modulus or safety; NaN), InputError when a
/// fully deteriorated pipe comes without soil.
ThicknessDesign design_thickness(const ThicknessInput& input, Working& working);

/// True when a wall of `installed` meets a design that is inside the method.
bool is_adequate(const ThicknessDesign& design, Length installed);

/// Load over what a wall of `installed` carries, for each check, as shares (0.62 is 62 %): the same equations solved
/// the other way, so that needed == installed gives 1. Zero where the check does not apply.
/// Least thickness is needed / installed. Errors as `design_thickness`; RangeError unless 0 < installed < bore / 2.
std::array<double, 5> utilisation(const ThicknessInput& input, Length installed);
std::array<double, 5> utilisation(const ThicknessInput& input, Length installed, Working& working);

/// What a wall of so many layers does.
struct LayerCheck {
    int layers = 1;
    Length installed{};
    std::array<double, 5> utilisation{};
    double greatest = 0.0;  ///< of the utilisations
    bool adequate = false;
};
/// One layer less and one layer more than chosen; nullopt where there is none (no layer, or above `most_layers`).
struct LayerChange {
    std::optional<LayerCheck> less, more;
};
LayerChange layer_change(const ThicknessInput& input, Length layer, int layers, int most_layers);

/// How far one input may be wrong before `installed` no longer does, by bisection on `design_thickness`.
struct Sensitivity {
    bool holds = true;  ///< `installed` does as things are; if not, the limits below lie short of what was given
    std::optional<Length> water_over_invert;     ///< highest head that still holds; nullopt: never governs up to ground
    std::optional<double> ovality;               ///< greatest share; nullopt: never governs inside the method
    std::optional<Length> min_cover, max_cover;  ///< fully deteriorated only; nullopt: holds as far as looked
};
/// Water is raised to the ground (`depth_to_invert`, else cover and bore, else 10 m over the invert), its part over the
/// crown with it. Cover is varied from 0 to 10 m more than given with the water table kept at its depth below ground;
/// under traffic not below 0.6 m, where the method ends. Each bound is found to 0.1 mm, or 0.001 % of ovality,
/// and errs to the side that still holds.
Sensitivity sensitivity(const ThicknessInput& input, Length installed);

}  // namespace patchwright::liner
