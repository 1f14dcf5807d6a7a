#pragma once
#include <optional>
#include <string>

#include "patchwright/packer/options.hpp"
#include "patchwright/units/quantity.hpp"
#include "patchwright/working/working.hpp"

/// The pressure window of a packer. Page: docs/methods/pressure.md.
namespace patchwright::packer {

/// What the window depends on. All pressures are gauge.
struct PressureInput {
    Sourced<Length> bore;
    Sourced<Length> inflated_length;         ///< of the bladder
    Sourced<Length> hose_bore, hose_length;  ///< of the air line
    Sourced<Length> head;                    ///< of ground water over the invert, zero if none
    Sourced<Pressure> fill;                  ///< brings the bladder to the bore in open air
    Sourced<Pressure> seating;               ///< presses the felt on the wall
    Sourced<Pressure> rated;                 ///< marked on the bladder
    std::optional<Pressure> host_limit;      ///< on a cracked host, from the yard
    Sourced<Temperature> pipe;               ///< to which the air cools
    job::AirSupply air = job::AirSupply::shut_in;
    TemperatureDifference air_excess{};  ///< of the compressor's air over the pipe when the valve is shut
    TemperatureDifference warming{};     ///< that the air may see later (curing resin, sun on the hose)
    Pressure relief_above_set{};         ///< least margins: relief over set ...
    Pressure limit_above_relief{};       ///< ... and limit over relief
};

/// Pressures in the bladder, gauge.
struct PressurePlan {
    Pressure outside{};        ///< of ground water at the invert
    Pressure minimum{};        ///< fill + outside + seating
    Pressure set{};            ///< kept by the regulator, or at which the valve is shut; on a gauge mark
    Pressure shut_in{};        ///< at which warm air is shut in so that the least is left when it has cooled
    Pressure after_cooling{};  ///< left of `set` when the supply is lost and the air takes the pipe's temperature
    Pressure maximum{};        ///< the lower of bladder rating and host limit
    Pressure relief{};         ///< opens here: the highest gauge mark that leaves the margin to the maximum
    Pressure warmed{};         ///< when the air warms from the pipe's temperature and none is let off
    Volume air_volume{};
    Energy stored{};     ///< ASME PCC-2 form, hose included
    Length distance{};   ///< ASME PCC-2 501-III, without the rule for test vessels
    Force on_fitting{};  ///< pull on an end fitting at `set`
    Force on_plug{};     ///< push of standing water on a stopper at the outside head
    bool host_limited = false;
    bool relief_opens = false;     ///< when warmed: the pressure must be watched afterwards
    bool shut_in_holds = false;    ///< `shut_in` leaves the relief its margin: the way out when the supply is lost
    bool holds = false;            ///< the set pressure leaves the relief its margin
    std::string why_not;           ///< one sentence without figures
    bool fails_when_cold = false;  ///< it does not hold, but would if the shut-in air did not cool
};

/// minimum = fill + gamma_w head + seating; shut_in = (minimum + pa)(T_pipe + excess) / T_pipe - pa; set = the minimum
/// of regulated air, `shut_in` of shut-in air, rounded up to 0.05 bar. maximum = min(rated, host limit), whatever the
/// water outside: the rating is a gauge reading and water outside may fall away. relief = maximum - limit_above_relief,
/// rounded down to 0.05 bar, and holds when set <= relief - relief_above_set. Margins: common practice, no source.
/// Atmosphere: ISO 2533.
/// Throws RangeError for non-finite, negative or zero input where that has no meaning.
PressurePlan pressure_plan(const PressureInput& input, Working& working);
PressureInput pressure_input(const job::Run& run, const job::Yard& yard, const Option& option, Length sleeve,
                             bool host_cracked);
PressurePlan pressure_plan(const job::Run& run, const job::Yard& yard, const Option& option, Length sleeve,
                           bool host_cracked, Working& working);

/// The packer lies on wall that is cracked, broken, holed, deformed or worn: the yard's host limit counts.
bool host_cracked(const job::Run& run, Length from, Length to);
bool weakens_the_wall(job::DefectKind kind);
/// Head of ground water over the invert: depth - water table, zero when the table is deeper or unknown.
Sourced<Length> head_over_invert(const job::Run& run);

/// Test of the packer inside a length of pipe on the bench, before the resin is mixed.
struct BenchTest {
    Pressure pressure{};  ///< yard's share of the rating; the set pressure when the yard names none
    Duration hold{};
    Pressure allowed_drop{};       ///< at constant temperature
    Pressure allowed_drop_warm{};  ///< with air straight from the compressor that cools to the bench's temperature
    Pressure drop_per_kelvin{};    ///< added for every kelvin that the air cools during the hold
};
BenchTest bench_test(const job::Yard& yard, const job::Packer& packer, const PressurePlan& pressure, Working& working);

}  // namespace patchwright::packer
