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

/// Thickness of the cured sleeve by ASTM F1216 Appendix X1.
namespace patchwright::liner {

/// What the cured resin brings to the wall.
struct CuredWall {
    Sourced<Pressure> modulus;             ///< short-term flexural E
    Sourced<double> long_term_share{0.5};  ///< EL / E, and sL / flexural strength
    Sourced<Pressure> flexural_strength;
    Sourced<double> poisson{0.3};
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
    Length glock{};                             ///< second opinion by the Glock form; printed beside, never mixed in
};

/// Does not throw for pipes outside the method: it says so in `outside_method`.
/// Throws RangeError for values that no pipe has (non-positive bore, modulus or safety; NaN).
ThicknessDesign design_thickness(const ThicknessInput& input, Working& working);

/// Needed / installed for each check, as shares (0.62 is 62 %), for a wall of `installed`.
/// Ratio of load to what the wall carries, by the same equations solved the other way.
std::array<double, 5> utilisation(const ThicknessInput& input, Length installed);

/// How far one input may be wrong before `installed` no longer does, by bisection on `design_thickness`.
struct Sensitivity {
    std::optional<Length> water_over_invert;  ///< highest head that still holds; nullopt: never governs up to ground
    std::optional<double> ovality;            ///< greatest share; nullopt: never governs inside the method
    std::optional<Length> least_cover, most_cover;  ///< fully deteriorated only
};
Sensitivity sensitivity(const ThicknessInput& input, Length installed);

}  // namespace patchwright::liner
