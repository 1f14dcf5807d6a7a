#pragma once
// What a fitted resin knows, and the three sides from which a question is answered.
#include <map>
#include <string>
#include <tuple>

#include "calibrate.hpp"
#include "history.hpp"
#include "patchwright/cure/cure.hpp"

namespace patchwright::cure::detail {

struct Knowledge {
    job::Resin resin;
    Fitted fit;
};

/// One chance in ten beyond it, on one side: the normal distribution's 90 % point.
inline constexpr double band_width = 1.2816;
/// What the model's form adds to the doubt of ln(time): common practice, no source.
inline constexpr double form_doubt = 0.08;

/// No gel or strip time within 5 K below or 8 K above: the fit reaches beyond its data.
bool extrapolates(const Knowledge& known, Temperature pipe);
/// Factor above 1 by which the rate may be greater at that temperature (fit alone).
double fast_factor(const Knowledge& known, double kelvin);
/// Factor above 1 by which the release may be later at that temperature (fit alone).
double slow_factor(const Knowledge& known, double kelvin);

/// The conditions, with hands-on times filled in when none are given.
Conditions completed(const Conditions& conditions);

/// What waiting in the warmest surroundings allows, seconds from mixing.
struct Waiting {
    double factor = 1.0;   ///< on the rate
    double working = 0.0;  ///< the sleeve on its packer is too stiff to crease out
};
/// The waits of one sleeve, each followed once: the rows of a table share most of theirs.
class Waits {
public:
    Waits(const Knowledge& known, const Site& site, const job::Limits& limits)
        : known_{known}, site_{site}, limits_{limits} {}
    Waiting of(const Course& course, double surroundings, Side side);

private:
    using Key = std::tuple<double, double, double, double, double, Side>;
    const Knowledge& known_;
    const Site& site_;
    const job::Limits& limits_;
    std::map<Key, Waiting> seen_;
};

/// What an answer and every table go by: hands-on times filled in, and shortened where the sleeve would be too stiff by
/// then. Nobody who keeps to the sheet inflates later than it says; that the work takes longer is a warning of its own.
Conditions planned(const Knowledge& known, const Conditions& given, const job::Limits& limits, Waits& waits);
Course course_of(const Knowledge& known, const Conditions& conditions, const job::Limits& limits, Side side);
Release release_of(const Knowledge& known, const job::Limits& limits);
/// Warmest surroundings that the sleeve meets while it waits on its packer, of one side.
double warmest_wait(const Conditions& conditions, const job::Limits& limits, Side side);

/// Likely time from mixing at which the witness coupon meets `release_of`: at the pipe's temperature, without own heat.
/// `course` and `lump` are the likely side's, before inflation.
double coupon_seconds(const Knowledge& known, const Course& course, const Lump& lump, const job::Limits& limits);

/// Bucket alone: seconds to gel.
double pot_seconds(const Knowledge& known, double kilograms, double resin, double air, double rate_factor,
                   double* alarm = nullptr, double* hottest = nullptr);

/// What pouring hangs on, from the conditions planned and the wait that they allow.
Pour pour_of(const Course& course, const Waiting& waiting, Duration inflate_by, const Conditions& c);

/// Greatest rate of conversion at that temperature, 1/s.
double greatest_rate(const RateLaw& law, double kelvin);

/// Throws RangeError for a sleeve or pipe that cannot be.
void check_input(const Sleeve& sleeve, const Surroundings& host, const Conditions& conditions);

/// "9 °C (48 °F)".
std::string both(Temperature t);

}  // namespace patchwright::cure::detail

namespace patchwright::cure {
struct Model::Impl : detail::Knowledge {
    std::vector<FitPoint> points;
};
}  // namespace patchwright::cure
