#pragma once
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "patchwright/job/yard.hpp"
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
    Length thickness{};
    double resin_mass_fraction = 0.82;  ///< of the wet felt
    Density wet_density{};
    Mass resin_mass{};  ///< mixed for this sleeve
};

struct Conditions {
    Sourced<Temperature> pipe;   ///< wall of the pipe
    Sourced<Temperature> air;    ///< where wet-out and loading happen
    Sourced<Temperature> resin;  ///< when A meets B
    Sourced<Temperature> van;
    Duration wet_out{}, load{}, position{};  ///< likely hands-on times between mixing and inflation
};

/// Times from mixing. inflate_by < crease_by <= working_time < gel <= let_down.
struct Times {
    Duration pour_by{};  ///< bucket only: share of the pot life of the mixed mass
    Duration inflate_by{}, crease_by{}, working_time{}, gel{}, let_down{};
    Temperature hottest{};  ///< in the sleeve
};
/// One row of the site's tables.
struct LetDownRow {
    Temperature pipe{};
    Duration let_down{};
    Duration without_exotherm{};
};
struct InflateRow {
    Temperature resin{}, air{};
    Duration pour_by{}, inflate_by{}, crease_by{};
};

struct Answer {
    Times sheet;                         ///< what the sheet prints: warm side for working times, cold side for release
    Times likely, early, late;           ///< centre and band (fit and +/- temperature doubt)
    double attainable = 1.0;             ///< conversion that this temperature allows
    bool stops_short = false;            ///< vitrifies below full cure: said on the sheet
    std::optional<std::string> refused;  ///< outside the resin's range, unsafe exotherm: what would make it possible
    std::vector<std::string> warnings;   ///< extrapolated, one temperature only, wide band
    bool extrapolated = false;
};

/// A resin whose kinetics are fitted to its data sheet. Costly to make (milliseconds), cheap to ask.
class Model {
public:
    explicit Model(const job::Resin& resin);
    Model(Model&&) noexcept;
    Model& operator=(Model&&) noexcept;
    ~Model();

    /// Latest end of pouring for that mixed mass.
    Duration pour_by(Mass mixed, Temperature resin, Temperature air, const job::Limits& limits) const;
    /// Everything for one sleeve. Deterministic; throws RangeError only for impossible input (non-positive thickness).
    Answer answer(const Sleeve& sleeve, const Surroundings& host, const Conditions& conditions,
                  const job::Limits& limits, Working& working) const;
    /// Let-down against measured pipe temperature; no row below the resin's limit.
    std::vector<LetDownRow> let_down_table(const Sleeve& sleeve, const Surroundings& host, const Conditions& conditions,
                                           const job::Limits& limits, std::span<const Temperature> pipes) const;
    std::vector<InflateRow> inflate_table(const Sleeve& sleeve, const Surroundings& host, const Conditions& conditions,
                                          const job::Limits& limits, std::span<const Temperature> airs) const;

    struct FitPoint {
        job::DataPoint data;
        Duration computed{};
    };
    std::span<const FitPoint> fit() const;
    std::span<const std::string> fit_remarks() const;

private:
    struct Impl;
    std::unique_ptr<Impl> impl_;
};

/// Ground temperature at `depth`: Kusuda & Achenbach, ASHRAE Trans. 71(1) (1965).
struct Climate {
    Temperature mean{};
    TemperatureDifference amplitude{};
    int coldest_day = 35;
    Diffusivity diffusivity{};
};
Temperature ground_temperature(const Climate& climate, Length depth, int day_of_year, Working& working);

}  // namespace patchwright::cure
