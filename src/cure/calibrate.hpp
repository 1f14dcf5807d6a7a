#pragma once
// Kinetics of a resin from its data sheet: the sheet's own tests are simulated and met in the least-squares sense.
#include <optional>
#include <string>
#include <vector>

#include "least_squares.hpp"
#include "lump.hpp"
#include "patchwright/job/resin.hpp"
#include "rate_law.hpp"

namespace patchwright::cure::detail {

/// Reference temperature of the rate: 20 °C.
inline constexpr double reference_kelvin = 293.15;

struct Fitted {
    Kinetics kinetics;
    Vector at{};                                    ///< ln k at 20 °C (1/s), E (J/mol), ln(k1 / k2), strip margin (K)
    Matrix covariance{};                            ///< of `at`, prior and misfit included
    double misfit = 0.0;                            ///< root mean square of ln(computed / given)
    std::vector<double> computed;                   ///< s, in the order of the resin's data
    double coldest_film = 0.0, warmest_film = 0.0;  ///< K, of gel and strip times; 0: none
    double coldest_any = 0.0, warmest_any = 0.0;
    bool strip_known = false;
    bool one_temperature = false;
    std::optional<double> working;  ///< least conversion at the sheet's own working times; none given: none
    double strip_share = 0.0;       ///< greatest share of the attainable conversion at the sheet's strip times
    std::vector<std::string> remarks;
};

/// Mean density of the mix, kg/m3: 1120 when the sheet gives none.
double mixed_density(const job::Resin& resin);

/// Where the sheet's own tests are met best, however long that takes to find.
Minimum fitted_minimum(const job::Resin& resin);

/// Throws InputError for data that no such resin can have. A resin of the built-in yard was fitted when the program was
/// built.
Fitted calibrate(const job::Resin& resin);

inline constexpr int film_panels = 2;  ///< 1.3e-4 of a time up to a conversion of 0.93, 2e-6 of a gel time
/// Conversion, at most `most`, of a film at `kelvin` after so many seconds; Newton's rule on its time.
double film_conversion(const RateLaw& law, double seconds, double most, double kelvin);

Kinetics kinetics_of(const job::Resin& resin, const Vector& at);

/// Time at which a film, always at `kelvin`, may be stripped: past gel with its glass temperature `margin` above.
/// Infinity when the conversion would have to exceed 0.999.
double film_strip_seconds(const RateLaw& law, const Kinetics& kinetics, double gel, double kelvin, double margin);

/// Standard deviation of ln(time) for gel (or strip) of a film at `kelvin`.
double log_time_deviation(const job::Resin& resin, const Fitted& fit, double kelvin, bool strip);

/// Bucket or cup: a cylinder as high as wide, losing heat by 8 W/(m2 K) at its side and top; the base stands on an
/// insulating bench unless `base_loses`. One cell.
Lumped cup_body(const job::Resin& resin, double kilograms, double film = 8.0, bool base_loses = false);

}  // namespace patchwright::cure::detail
