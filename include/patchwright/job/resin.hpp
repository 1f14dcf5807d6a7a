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
/// working: open time, as long as the wet layer can be shaped.
enum class DataPointKind : std::uint8_t { pot_life, gel, strip, working };
struct DataPoint {
    DataPointKind kind = DataPointKind::pot_life;
    Temperature temperature{};  ///< of resin and surroundings at the start
    Duration time{};
    std::optional<Mass> mass;         ///< pot life: mixed mass in the cup
    std::optional<Length> thickness;  ///< gel, strip, working: thickness of the layer; none: thin film
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
    double rate = 1.0;  ///< in the firm's pipes, against the data sheet's: 1.1 is hard in 1/1.1 of the time
    std::optional<double>
        rate_spread;  ///< one sleeve in ten is quicker than that rate by more, one slower; none: the fit's
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

/// A fault of a resin's data that more than reading finds.
struct ResinFault {
    std::string message;
    std::string key{};  ///< of the resin, such as "heat_of_reaction"; empty: the resin as a whole
    int data = -1;      ///< which of its data-sheet times; -1: none
};

/// Cool box and heated van: between which temperatures resin can be brought before it is mixed. `to` not above `from`:
/// it is used as warm as it is.
struct Conditioning {
    Temperature from{}, to{};
    Money cost_per_patch{};
    bool possible() const { return to > from; }
};

/// What fills the bladder of a heated cure.
enum class HeatMedium : std::uint8_t { air, water };
std::string_view word(HeatMedium v);
/// A unit that keeps warm air or water moving through the bladder.
struct Heater {
    std::string id;
    HeatMedium medium = HeatMedium::air;
    Temperature temperature{};  ///< in the bladder, kept from `warm_up` after inflation on
    Duration warm_up{};         ///< from the pipe's temperature
    int count = 1;
    Money hire_per_day{};
};

}  // namespace patchwright::job
