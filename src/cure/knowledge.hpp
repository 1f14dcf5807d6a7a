#pragma once
// What a fitted resin knows, and what its times are for one sleeve: likely values and their doubt.
#include <string>

#include "calibrate.hpp"
#include "history.hpp"
#include "patchwright/cure/cure.hpp"

namespace patchwright::cure::detail {

struct Knowledge {
    job::Resin resin;
    Fitted fit;
};

/// What the model's form adds to the doubt of ln(time): common practice, no source.
inline constexpr double form_doubt = 0.08;
/// The normal distribution's 90 % point: the yard's doubt of a temperature is exceeded in one case of ten to each side.
inline constexpr double one_in_ten = 1.2815515655446004;

/// No gel or strip time within 5 K below or 8 K above: the fit reaches beyond its data.
bool extrapolates(const Knowledge& known, double kelvin);
/// Standard deviation of ln(time) from the fit alone, of gel or of release.
double rate_sd(const Knowledge& known, double kelvin, bool release);

/// Differences of temperature, K: of the pipe, and of resin, air, van and heater.
struct Kelvins {
    double pipe = 0.0, others = 0.0;
    friend Kelvins operator*(double k, Kelvins of) { return {k * of.pipe, k * of.others}; }
};
/// Standard deviations of the temperatures.
Kelvins temperature_sd(const Conditions& conditions, const job::Limits& limits);
/// Standard deviation of a temperature that is exceeded by its doubt in one case of ten.
double deviation(TemperatureDifference doubt);

/// How far a case lies from the likely one: all temperatures together, and the resin's rate.
struct Shift {
    Kelvins kelvin;
    double rate = 1.0;
};

/// The conditions, with hands-on times filled in when none are given.
Conditions completed(const Conditions& conditions, const job::Limits& limits);
/// Conversion at which the sleeve can no longer be shaped: that of the data sheet's own working times, else the lesser
/// of the yard's limit and what a film has reached at the yard's share of its gel time.
double shaping_conversion(const Knowledge& known, const job::Limits& limits);
/// End of shaping of a sleeve that waits in the warmest of air, van and pipe.
UncertainTime shaping_end(const Knowledge& known, const Site& site, const Conditions& conditions,
                          const job::Limits& limits);
/// What an answer and every table go by: hands-on times filled in, and shortened where the sleeve would be too stiff by
/// then. Nobody who keeps to the sheet inflates later than it says; that the work takes longer is a warning of its own.
Conditions planned(const Conditions& completed, const UncertainTime& shaping, const job::Limits& limits);
Course course_of(const Conditions& conditions, const Shift& shift = {});
Kinetics kinetics_at(const Knowledge& known, const Shift& shift);
Release release_of(const Knowledge& known, const job::Limits& limits);

/// One sleeve followed as is likely and with all temperatures colder, and what that says about its times.
struct Cured {
    Course course;
    Lump before;  ///< inflation, likely
    Outcome likely;
    UncertainTime gel, hard;
    double rate_sd = 0.0, warmth_sd = 0.0;  ///< parts of hard.log_sd, which may be less than both together
    double gel_rate_sd = 0.0;               ///< part of gel.log_sd
    double warmest = 0.0;                   ///< K, of the pipe or of a heated sleeve: the fit must reach that far
    /// The most likely way to be as fast (slow) as `chance` says: both causes in proportion to their shares.
    Shift shift(Side side, const Conditions& conditions, const job::Limits& limits) const;
};
Cured cured(const Knowledge& known, const Site& site, const Conditions& conditions, const job::Limits& limits);

/// Everything for one sleeve but for pour-by; what was followed for it goes into `cure`.
Answer answer_of(const Knowledge& known, const Sleeve& sleeve, const Surroundings& host, const Conditions& conditions,
                 const job::Limits& limits, Working& working, Cured& cure);

/// Likely time from mixing at which the witness coupon meets `release_of`: at the pipe's temperature, without own heat.
/// Zero for a heated sleeve, which has none.
Duration coupon_of(const Knowledge& known, const Cured& cure, const job::Limits& limits);
/// Earliest let-down, not rounded: hard but for the promised chance, and not before the coupon.
Duration let_down_of(const UncertainTime& hard, Duration coupon, const job::Limits& limits);

/// Whole minutes: a limit down, a wait up. A hair over a whole minute counts as that minute.
Duration limit_minutes(Duration time);
Duration wait_minutes(Duration time);

/// Bucket alone: seconds to gel.
double pot_seconds(const Knowledge& known, double kilograms, double resin, double air, double* alarm = nullptr,
                   double* hottest = nullptr);

/// What pouring hangs on.
Pour pour_of(const Conditions& conditions, Duration inflate_by);

/// Greatest rate of conversion at that temperature, 1/s.
double greatest_rate(const RateLaw& law, double kelvin);

/// Throws RangeError for a sleeve or pipe that cannot be.
void check_input(const Sleeve& sleeve, const Surroundings& host, const Conditions& conditions);

/// Above this the wall gives way under the packer: softening of PVC-U from 75 to 80 °C, of bitumen from 50 °C on;
/// from memory.
std::optional<Temperature> host_limit(job::Material host);

/// "9 °C (48 °F)".
std::string both(Temperature t);

}  // namespace patchwright::cure::detail

namespace patchwright::cure {
struct Model::Impl : detail::Knowledge {
    std::vector<FitPoint> points;
};
}  // namespace patchwright::cure
