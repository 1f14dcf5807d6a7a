#pragma once
#include <cstdint>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "patchwright/cure/ground.hpp"
#include "patchwright/cure/kinetics.hpp"
#include "patchwright/job/job.hpp"
#include "patchwright/job/limits.hpp"
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
    };
    std::vector<Point> points;  ///< in order of time; straight between, constant after the last
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
    Heating heating;
};

/// What the latest end of pouring hangs on besides how much is mixed in one pot.
struct Pour {
    Temperature resin{}, air{};  ///< warm side
    double rate_factor = 1.0;    ///< fast side
    Duration inflate_by{};
    Duration handling{};  ///< likely time to load, position and fill
};
/// Times from mixing. inflate_by < crease_by <= working_time < gel <= let_down.
struct Times {
    /// Share of the pot life of the mixed mass; no later than leaves the likely time to load, position and inflate.
    Duration pour_by{};
    Duration inflate_by{}, crease_by{}, working_time{}, gel{}, let_down{};
    Temperature hottest{};  ///< in the sleeve
    Pour pour;
};
/// One row of the site's tables.
struct LetDownRow {
    Temperature pipe{};
    Duration let_down{};
    Duration without_exotherm{};
    Duration inflate_by{};  ///< with the resin and air reckoned with; zero: the sleeve sets before it can be inflated
};
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
    Duration let_down{};   ///< from mixing, safe side
};

/// When a sleeve may be let down. Stated, and fitted so that the data sheet's own strip tests meet it.
struct ReleaseRule {
    double gel_conversion = 0.0;     ///< the coldest point must be past it, and ...
    TemperatureDifference margin{};  ///< ... its glass temperature this far above the wall's: fitted + the yard's
    double share = 1.0;              ///< ... or this share of the attainable conversion reached
    bool fitted = false;             ///< margin and share rest on strip times of the data sheet
};

struct Answer {
    Times sheet;                         ///< what the sheet prints: warm side for working times, cold side for release
    Times early, late;                   ///< band (fit and +/- temperature doubt), without the yard's margin
    double attainable = 1.0;             ///< conversion that this temperature allows
    bool stops_short = false;            ///< vitrifies below full cure: said on the sheet
    std::optional<std::string> refused;  ///< outside the resin's range, unsafe exotherm: what would make it possible
    std::vector<std::string> warnings;   ///< extrapolated, one temperature only, wide band
    bool extrapolated = false;
    ReleaseRule release;
    Duration hands_on{};     ///< likely time from mixing to inflation: mix at least this long before
    Duration coupon{};       ///< likely time at which the witness coupon (same wet felt, bagged, in the pipe) is
                             ///< hard: the sheet's let-down is never before it
    double band_fast = 1.0;  ///< factor on working times from the fit alone, below 1
    double band_slow = 1.0;  ///< factor on the release time from the fit alone, above 1
    double frank_kamenetskii = 0.0;  ///< of the sleeve at its greatest rate, warm side; critical 0.88
    Temperature host_hottest{};      ///< mean of the pipe's wall, warm side
};

struct Bounds {
    Duration inflate_by{};  ///< at most
    Duration let_down{};    ///< at least
};

/// A mixed bucket and how it may run away.
struct BucketAnswer {
    Duration pour_by{};   ///< share of the pot life, warm and fast side
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
    Duration working_left{};   ///< to the end of shaping, fast side; negative when over
    Duration gel_left{};       ///< slow side; negative when past
    Duration let_down_left{};  ///< slow side with the yard's margin; zero or negative: may be let down
    Duration let_down{};       ///< the same from mixing
};

struct CurvePoint {
    Duration time{};  ///< from mixing
    double least_conversion = 0.0;
    Temperature hottest{}, glass{};  ///< glass temperature at the least conversion
};
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

    /// Latest end of pouring for that mixed mass: warm and fast side.
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
    /// What the answer's sheet cannot better, at a tenth of its cost: it never inflates later than the wait on the
    /// packer allows, and never lets down before its coupon is hard.
    Bounds bounds(const Sleeve& sleeve, const Surroundings& host, const Conditions& conditions,
                  const job::Limits& limits) const;
    /// One side of the doubt alone, such as the likely times between both; the same errors.
    Times times(const Sleeve& sleeve, const Surroundings& host, const Conditions& conditions, const job::Limits& limits,
                Side side) const;
    /// Let-down against measured pipe temperature; no row below the resin's limit.
    std::vector<LetDownRow> let_down_table(const Sleeve& sleeve, const Surroundings& host, const Conditions& conditions,
                                           const job::Limits& limits, std::span<const Temperature> pipes) const;
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
