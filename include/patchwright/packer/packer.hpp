#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "patchwright/job/job.hpp"
#include "patchwright/job/yard.hpp"
#include "patchwright/units/quantity.hpp"
#include "patchwright/working/working.hpp"

/// Which packer carries the sleeve, how it gets there, and the air in it.
namespace patchwright::packer {

/// A packer of the yard, or one that can be built from its chassis and bladders.
struct Option {
    job::Packer packer;  ///< as if it stood built
    bool to_build = false;
    int chassis = -1, bladder = -1;  ///< places in the yard, when to be built
};
/// Built packers first, in the yard's order, then every chassis with every bladder that fits it.
std::vector<Option> options(const job::Yard& yard);

/// Longest stiff cylinder of diameter `d` that turns through a bend of bore D, centre-line radius R >= D/2:
/// L = 2 sqrt((D - d)(2R + d)). Derived here (plane geometry; the end disc touches only for d <= D), see
/// docs/methods/packer.md. With `angle` below the arc 2 acos((R - D/2 + d)/(R + D/2)) the true limit is longer: the
/// exact short-bend length is given. Throws RangeError unless 0 < d <= D and R >= D/2.
Length longest_through_bend(Length bore, Length radius, Length diameter, std::optional<Angle> angle, Working& working);
/// Centre-line radius by material and bore where the survey gives none (from memory, flagged so).
Sourced<Length> bend_radius(const job::Fitting& fitting, const job::Run& run);

/// May this packer pass or cross that fitting, with `felt` of wet sleeve round it?
struct Passage {
    bool passes = false;          ///< may travel through
    bool may_lie_across = false;  ///< may be inflated with the sleeve across it
    std::string reason;           ///< empty when both hold
};
Passage passage(const job::Run& run, const job::Fitting& fitting, const job::Packer& packer, Length felt,
                Working& working);

enum class Method : std::uint8_t { push, pull };
std::string_view word(Method m);

/// How the packer gets to its place.
struct Rigging {
    Method method = Method::push;
    std::string from;                   ///< access node
    Length mark{};                      ///< from that access's mouth to the sleeve's middle
    std::optional<ClockRange> turn_to;  ///< T and Y pieces: where the branch looks
    Force pull{};                       ///< strap force by the capstan equation, pulls only
    std::vector<std::string> notes;
};
/// The ways in, shortest mark first; empty when there is none.
std::vector<Rigging> riggings(const job::Run& run, const job::Yard& yard, const Option& option, Length start,
                              Length end, Length felt, Working& working);

/// The span along the run in which the whole packer can travel and lie from each access.
struct Reach {
    Length from{}, to{};
    std::string access;
};
std::vector<Reach> reach(const job::Run& run, const job::Yard& yard, const Option& option, Length felt);

/// Pressures in the bladder, gauge.
struct PressurePlan {
    Pressure outside{};        ///< of ground water at the invert
    Pressure minimum{};        ///< fill + outside + seating
    Pressure set{};            ///< at which the valve is shut: minimum, plus what cooling takes, on a gauge mark
    Pressure after_cooling{};  ///< what is left when the air has the pipe's temperature
    Pressure maximum{};        ///< the lower of bladder rating and host limit
    Pressure relief{};         ///< opens here; at or below the rating
    Pressure warmed{};         ///< of the shut bladder when its air warms
    Volume air_volume{};
    Energy stored{};     ///< ASME PCC-2 form, hose included
    Force on_fitting{};  ///< pull on an end fitting at `set`
    Force on_plug{};     ///< push of standing water on a stopper at the outside head
    bool holds = false;  ///< minimum <= set <= maximum and after_cooling >= minimum
    std::string why_not;
};
PressurePlan pressure_plan(const job::Run& run, const job::Yard& yard, const job::Packer& packer, Length sleeve,
                           Working& working);

struct BenchTest {
    Pressure pressure{};
    Duration hold{};
    Pressure allowed_drop{};  ///< at constant temperature
    Pressure allowed_drop_warm{}, drop_per_kelvin{};
};
BenchTest bench_test(const job::Yard& yard, const job::Packer& packer, const PressurePlan& pressure, Working& working);

/// Reading of a shut gauge after a temperature change: (p + pa) / T constant.
Pressure shut_in_reading(Pressure gauge, Temperature before, Temperature after, Pressure atmosphere_before,
                         Pressure atmosphere_after, Working& working);

/// Energy of compressed air, ASME PCC-2 Article 501, Appendix 501-II; TNT equivalent and distance, 501-III.
struct StoredEnergy {
    Energy energy{};
    Mass tnt{};
    Length distance{};
};
StoredEnergy stored_energy(Volume volume, Pressure gauge, Working& working);

/// A packer built from parts: what to lay out and the steps.
struct BuildCard {
    std::vector<std::string> parts, steps;
    Length bladder_cut{};  ///< sleeve + projections + fold-over on both fittings
};
std::optional<BuildCard> build_card(const job::Yard& yard, const Option& option, Length sleeve, Working& working);

/// What may touch what: rubber under uncured epoxy needs an intact film, and so on.
enum class Contact : std::uint8_t { allowed, film_needed, forbidden };
Contact contact(job::BladderMaterial bladder, job::ResinKind resin);

}  // namespace patchwright::packer
