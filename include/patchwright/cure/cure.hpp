#pragma once
#include <cstdint>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "patchwright/cure/ground.hpp"
#include "patchwright/cure/kinetics.hpp"
#include "patchwright/cure/promise.hpp"
#include "patchwright/job/job.hpp"
#include "patchwright/job/limits.hpp"
#include "patchwright/job/packers.hpp"
#include "patchwright/job/resin.hpp"
#include "patchwright/units/quantity.hpp"
#include "patchwright/units/temperature.hpp"
#include "patchwright/working/working.hpp"

/// From the moment of mixing to the moment the packer may come out.
namespace patchwright::cure {

/// Host and ground round the sleeve.
struct Surroundings {
    Length bore{};
    Length wall{};  ///< host wall thickness
    job::Material host = job::Material::clay;
    bool wet_soil = true;
};

struct Sleeve {
    Length thickness{};                 ///< of all layers together, under packer pressure
    double resin_mass_fraction = 0.82;  ///< of the wet felt
    Density wet_density{};              ///< zero: from the mass fraction, with polyester fibre
    Mass resin_mass{};          ///< mixed for this sleeve: pour-by alone hangs on it; zero: 1 kg, with a warning
    double table_layers = 1.0;  ///< how often its thickness lies on the table: 2 for a sewn tube laid flat
};

/// Warm air or water in the bladder, from inflation on.
struct Heating {
    enum class Medium : std::uint8_t { none, air, water } medium = Medium::none;
    struct Point {
        Duration after_inflation{};
        Temperature temperature{};
        bool as_pipe = false;  ///< at the pipe's temperature, whatever that is
    };
    std::vector<Point> points;  ///< in order of time; straight between, constant after the last; as doubtful as the air
};

struct Conditions {
    Sourced<Temperature> pipe;   ///< wall of the pipe
    Sourced<Temperature> air;    ///< where wet-out and loading happen
    Sourced<Temperature> resin;  ///< when A meets B
    Sourced<Temperature> van;    ///< left as it is made: as the air
    /// Likely hands-on times between mixing and inflation; all 0: 10, 4 and 5 min. Where the sleeve would be too stiff
    /// by then, the cure is followed as if it were inflated in time, and a warning says that the work takes longer.
    Duration wet_out{}, load{}, position{};
    Duration inflate = 2.0 * unit::minute;  ///< to fill the bladder
    Duration crease{};                      ///< a little air out, then full again; at least the yard's crease step
    Heating heating;
    /// Measured on site, not calculated before the day: the smaller doubt counts.
    bool pipe_measured = false;
    bool others_measured = false;  ///< resin, air, van and what warms the bladder
};

/// What the latest end of pouring hangs on besides how much is mixed in one pot.
struct Pour {
    Temperature resin{}, air{};
    Duration inflate_by{};
    Duration handling{};  ///< likely time to load, position and fill
};
/// Times from mixing. inflate_by < crease_by <= working_time < gel <= let_down.
struct Times {
    /// Share of the likely pot life of the mixed mass; no later than leaves the likely time to load, position, inflate.
    Duration pour_by{};
    Duration inflate_by{}, crease_by{}, working_time{};
    Duration gel{};  ///< of the sleeve's coldest point
    Duration let_down{};
};
/// One row of the site's tables.
struct LetDownRow {
    Temperature pipe{};
    Duration let_down{};
    Duration without_exotherm{};
    Duration inflate_by{};  ///< zero: the sleeve sets before it can be inflated
    Duration gel{};         ///< of the sleeve's coldest point, fast side as on the card
};
/// With the pipe that was given, or any that is no warmer than the row's air.
struct InflateRow {
    Temperature resin{}, air{};
    Duration pour_by{}, inflate_by{}, crease_by{};
    Pour pour;
};
/// What remains if the sleeve is inflated later than the likely hands-on times say.
struct LateRow {
    Duration late{};
    bool in_time = false;  ///< inflated before inflate-by
    Duration spare{};      ///< to inflate-by; negative when it is missed
    Duration let_down{};   ///< from mixing, as promised
};

/// When a sleeve may be let down. Stated, and fitted so that the data sheet's own strip tests meet it.
struct ReleaseRule {
    double gel_conversion = 0.0;     ///< the coldest point must be past it, and ...
    TemperatureDifference margin{};  ///< ... its glass temperature this far above the wall's: fitted + the yard's
    double share = 1.0;              ///< ... or this share of the attainable conversion reached
};

/// What is known of one sleeve before it is mixed.
struct Answer {
    /// What the sheet prints: whole minutes, limits rounded down and waits up. A crew that keeps crease-by is too late
    /// with a chance of `late_at_most`; gel may come before the printed one with the same chance; at the printed
    /// let-down the sleeve is not hard with a chance of at most `soft_at_most`.
    Times sheet;
    Times likely;                   ///< the likely values behind them, not rounded
    UncertainTime shaping;          ///< end of shaping, wherever the sleeve waits until then: the limit for the hands
    UncertainTime gel;              ///< of the sleeve's coldest point
    UncertainTime hard;             ///< the coldest point meets the release rule
    double soft_probability = 0.0;  ///< not hard at the printed let-down
    double attainable = 1.0;        ///< conversion that this temperature allows
    bool stops_short = false;       ///< vitrifies below full cure: said on the sheet
    std::optional<std::string> refused;  ///< outside the resin's range, unsafe exotherm: what would make it possible
    std::vector<std::string> warnings;   ///< extrapolated, one temperature only, wide band
    bool extrapolated = false;
    ReleaseRule release;
    double shaping_conversion = 0.0;  ///< at which shaping ends
    Duration hands_on{};              ///< likely time from mixing to inflated
    Duration coupon{};                ///< likely time at which the witness coupon (same wet felt, bagged, in the pipe)
                                      ///< is hard: the sheet's let-down is never before it; heated: zero
    double rate_sd = 0.0;      ///< of ln t from the fit alone; heated: the worst from the pipe's to the sleeve's warmth
    double gel_rate_sd = 0.0;  ///< the same of gelling
    double temperature_sd = 0.0;     ///< of ln `hard`, from the temperatures alone
    double frank_kamenetskii = 0.0;  ///< of the sleeve at its greatest rate, fast side; critical 0.88
    Temperature hottest{};           ///< in the sleeve, fast side (at the chance `late_at_most`)
    Temperature host_hottest{};      ///< mean of the pipe's wall, fast side
    Pour pour;
};

/// The heater's profile in a pipe of that temperature: the pipe's own until it is switched on, so long after inflation,
/// then straight up to the heater's over its warm-up.
Heating heating_of(const job::Heater& heater, Temperature pipe, Duration on);
/// Why that heater may not be used on that bladder, in that pipe or on that resin; nothing: it may. Hot-hose cautions
/// are for the sheet. Bladders to 120 (silicone), 70 (rubber), 45 °C (PVC calibration hose), pipes as for the sleeve's
/// own heat: from memory, the maker's word wins.
std::optional<std::string> why_not_heated(const job::Heater& heater, job::BladderMaterial bladder, job::Material host,
                                          const job::Resin& resin);
/// Temperatures, coldest first, that a resin may be brought to before it is mixed, and as it is: steps of 2 K over what
/// the yard's conditioning and the resin's own range both allow.
std::vector<Temperature> mix_temperatures(const job::Conditioning& conditioning, const job::Resin& resin,
                                          Temperature as_it_is);

/// Every fault of a resin's data that a data sheet cannot have, those found by the fit included, for `io::read_yard`.
std::vector<job::ResinFault> resin_faults(const job::Resin& resin);

/// Chance that the sleeve is not in place and shaped in time: P(hands > min(end of shaping, gel)).
double late_probability(const Hands& hands, const Answer& answer);

struct Bounds {
    UncertainTime shaping;  ///< as the answer's
    Duration let_down{};    ///< at least
};

/// A mixed bucket and how it may run away.
struct BucketAnswer {
    Duration pour_by{};   ///< share of the likely pot life
    Duration alarm{};     ///< likely time until it is 10 K above its start
    Duration pot_life{};  ///< likely time to gel
    Temperature hottest{};
    double frank_kamenetskii = 0.0;  ///< sphere of the same volume at the greatest rate; critical 3.32
    double semenov = 0.0;            ///< critical 1/e = 0.368
    Mass never_runs_away{};          ///< below this mass the heat leaves as fast as it comes
    Mass most{};                     ///< the yard's limit for one container; zero: none given
    bool too_much = false;           ///< mixed mass above that limit
};

/// A temperature noted on site: of the witness coupon or the pipe's wall.
struct Note {
    Duration after_mixing{};
    Temperature temperature{};
};
struct Remaining {
    double conversion = 0.0;   ///< reached at `elapsed`, slow side of the fit
    Duration working_left{};   ///< to the end of shaping, over with the chance `late_at_most`; negative when over
    Duration gel_left{};       ///< slow side; negative when past
    Duration let_down_left{};  ///< soft with the chance `soft_at_most`; zero or negative: may be let down
    Duration let_down{};       ///< the same from mixing
};

struct CurvePoint {
    Duration time{};  ///< from mixing
    double least_conversion = 0.0;
    Temperature hottest{}, glass{};  ///< glass temperature at the least conversion
};
/// Likely; or the most likely way to be as fast (slow) as the promises allow for, rate and temperatures together.
enum class Side : std::uint8_t { likely, early, late };

/// A resin whose kinetics are fitted to its data sheet. Costly to make (about a millisecond), cheap to ask.
///
/// Method, sources and limits: docs/methods/cure.md.
class Model {
public:
    /// Throws InputError for data that no resin can have.
    explicit Model(const job::Resin& resin);
    Model(Model&&) noexcept;
    Model& operator=(Model&&) noexcept;
    ~Model();

    /// Latest end of pouring for that mixed mass: the yard's share of its likely pot life.
    Duration pour_by(Mass mixed, Temperature resin, Temperature air, const job::Limits& limits) const;
    /// The bucket in full.
    BucketAnswer bucket(Mass mixed, Temperature resin, Temperature air, const job::Limits& limits,
                        Working& working) const;
    /// Everything for one sleeve. Deterministic; throws RangeError only for impossible input (non-positive thickness).
    /// When `refused` is set the times say nothing and are zero.
    Answer answer(const Sleeve& sleeve, const Surroundings& host, const Conditions& conditions,
                  const job::Limits& limits, Working& working) const;
    /// The same but for all pour-by, which are left zero: sleeves that differ in their mass only share it.
    Answer answer_without_pot(const Sleeve& sleeve, const Surroundings& host, const Conditions& conditions,
                              const job::Limits& limits, Working& working) const;
    /// Latest end of pouring so much from one pot, min(s tp, max(ti - h, ti / 2)): share s of the pot life tp,
    /// inflate-by ti, handling h.
    Duration pour_by(const Pour& of, Mass mixed, const job::Limits& limits, Working& working) const;
    /// What the answer's sheet cannot better, at a fraction of its cost: when shaping ends, and that it never lets down
    /// before its coupon is hard.
    Bounds bounds(const Sleeve& sleeve, const Surroundings& host, const Conditions& conditions,
                  const job::Limits& limits) const;
    /// Let-down and inflate-by against the pipe as measured: each row is what an answer for it prints, with resin and
    /// air as calculated. None below the resin's limit, where it may not be used or where it heats itself too far.
    /// Inflate-by in a pipe warmer than both the given pipe and the given air holds for any resin that may be mixed and
    /// any air up to the pipe's warmth: so the shorter of this and `inflate_table`, of airs no colder than the given,
    /// is safe whatever of the three is warmer than was calculated (without heating).
    std::vector<LetDownRow> let_down_table(const Sleeve& sleeve, const Surroundings& host, const Conditions& conditions,
                                           const job::Limits& limits, std::span<const Temperature> pipes) const;
    /// The same against resin and air as measured, with the pipe as calculated.
    std::vector<InflateRow> inflate_table(const Sleeve& sleeve, const Surroundings& host, const Conditions& conditions,
                                          const job::Limits& limits, std::span<const Temperature> airs) const;
    /// If inflated that much later than the likely hands-on times say.
    std::vector<LateRow> late_table(const Sleeve& sleeve, const Surroundings& host, const Conditions& conditions,
                                    const job::Limits& limits, std::span<const Duration> lateness) const;
    /// From what really happened: the conversion along the noted temperatures (straight between notes, the last one
    /// kept), and what is left at `elapsed`. Throws InputError for notes out of order or none at all.
    Remaining time_left(std::span<const Note> notes, Duration elapsed, const job::Limits& limits,
                        Working& working) const;
    /// Points of the cure curve from mixing to a quarter past the sheet's let-down.
    std::vector<CurvePoint> curve(const Sleeve& sleeve, const Surroundings& host, const Conditions& conditions,
                                  const job::Limits& limits, Side side) const;

    struct FitPoint {
        job::DataPoint data;
        Duration computed{};
    };
    std::span<const FitPoint> fit() const;
    std::span<const std::string> fit_remarks() const;
    /// The fitted kinetics (centre).
    const Kinetics& kinetics() const;

private:
    struct Impl;
    std::unique_ptr<Impl> impl_;
};

}  // namespace patchwright::cure
