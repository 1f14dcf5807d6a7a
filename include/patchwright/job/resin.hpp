#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "patchwright/units/money.hpp"
#include "patchwright/units/quantity.hpp"
#include "patchwright/units/temperature.hpp"

/// Resins with the times of their data sheets.
namespace patchwright::job {

enum class ResinKind : std::uint8_t { epoxy, polyester, vinyl_ester, silicate_isocyanate };
std::string_view word(ResinKind v);

/// A time from a resin's data sheet, with what it was measured on.
enum class DataPointKind : std::uint8_t { pot_life, gel, strip };
struct DataPoint {
    DataPointKind kind = DataPointKind::pot_life;
    Temperature temperature{};  ///< of resin and surroundings at the start
    Duration time{};
    std::optional<Mass> mass;         ///< pot life: mixed mass in the cup
    std::optional<Length> thickness;  ///< gel, strip: thickness of the layer; none: thin film
};

struct Kit {
    Mass mass{};  ///< A + B
    Money price{};
    bool splittable = true;  ///< may be split by weighing
    int stock = 0;
};

struct Resin {
    std::string id;
    ResinKind kind = ResinKind::epoxy;
    double parts_a = 1.0, parts_b = 1.0;  ///< mix ratio by mass
    Density density_a{}, density_b{};
    Temperature application_min{}, application_max{};  ///< of pipe and resin
    std::vector<DataPoint> data;
    SpecificEnergy heat_of_reaction{};  ///< of the mixed resin
    SpecificHeat specific_heat{};
    Conductivity conductivity{};
    double shrinkage = 0.0;        ///< share of volume
    Pressure modulus{};            ///< cured, short-term flexural
    double long_term_share = 0.5;  ///< EL / E
    Pressure flexural_strength{};  ///< cured, long-term sL is this times long_term_share
    double gel_conversion = 0.577;
    Temperature glass_start{}, glass_end{};  ///< Tg at conversion 0 and 1
    double glass_lambda = 0.45;
    Temperature highest_safe{};  ///< exotherm limit in the sleeve
    Mass safe_pot_mass{};        ///< most that may stand mixed in one container
    bool tolerates_damp = false;
    std::vector<Kit> kits;
    std::string source;  ///< "invented for the demonstration yard"
};

}  // namespace patchwright::job
