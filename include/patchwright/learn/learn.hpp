#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "patchwright/job/record.hpp"
#include "patchwright/job/yard.hpp"
#include "patchwright/plan/plan.hpp"

/// What the yard's own figures should be, from records. Method, sources and limits: docs/methods/learn.md.
namespace patchwright::learn {

/// Figures of the yard count as so many records of their own: common practice in none, a stated choice.
inline constexpr double durations_count_as = 5.0;
inline constexpr double rates_count_as = 30.0;
/// Of the doubt of a data sheet's times one half (of the variance) is the resin's, the other of single sleeves.
inline constexpr double sheet_counts_as = 1.0;
/// Standard deviation of ln(resin used / planned) before anything is noted.
inline constexpr double consumption_sd = 0.08;

/// A duration of the yard, before and after.
struct LearnedDuration {
    std::string_view key;  ///< of the yard file: "clean_per_10_m"
    job::Spread<Duration> before, after;
    int noted = 0;             ///< tasks behind it
    Duration least{}, most{};  ///< the firm's own likely value lies between them in eight cases of ten
};
/// A rate of the yard a sleeve.
struct LearnedRate {
    std::string risk;  ///< id
    double before = 0.0, after = 0.0;
    int happened = 0, sleeves = 0;
    double least = 0.0, most = 0.0;  ///< the firm's own rate lies between them in eight cases of ten
};
/// The rate of a resin over its data sheet's, from gel times at the noted temperatures.
struct LearnedResin {
    std::string id;
    double before = 1.0, after = 1.0;
    double spread_before = 0.0, spread_after = 0.0;  ///< one sleeve in ten is quicker by more, as `Resin::rate_spread`
    int noted = 0;
    double least = 0.0, most = 0.0;  ///< the firm's own rate lies between them in eight cases of ten
};
/// What goes into felt, cracks and seams over what its voids want: `resin_excess`.
struct LearnedExcess {
    double before = 0.0, after = 0.0;
    int noted = 0;                   ///< mixes
    double least = 0.0, most = 0.0;  ///< the firm's own lies between them in eight cases of ten
    double nine_in_ten = 0.0;        ///< nine mixes in ten use no more
};
struct PackerUse {
    std::string id;
    int uses = 0, expected = 0;  ///< noted; in its life and that of its like, by the yard (0: not in the yard)
    int left() const { return expected - uses; }
};
struct Learned {
    int records = 0;
    std::vector<LearnedDuration> durations;  ///< those with something noted, in the yard's order
    std::vector<LearnedRate> rates;
    std::vector<LearnedResin> resins;  ///< those with a gel time noted, in the yard's order
    std::optional<LearnedExcess> excess;
    std::vector<PackerUse> packers;   ///< by id
    std::vector<std::string> unused;  ///< what was noted and says nothing, and why
};

/// `plans`: of the jobs that the records are of, found by reference, with the yard. What a resin should have done, and
/// how much of it the felt wants, only a plan knows: a record without one says nothing of either.
[[nodiscard]] Learned learn(const std::vector<job::Record>& records, const job::Yard& yard,
                            const std::vector<plan::Plan>& plans = {});

/// A mean of logarithms that is not known exactly, and how far single ones lie from it.
///
/// Normal with unknown mean and variance, normal-inverse-gamma prior: mean m, sigma^2 of it s^2 / k, v s^2 / sigma^2
/// chi-squared with v degrees of freedom. With n values of mean y and sum of squares q about it:
///   k' = k + n, m' = (k m + n y) / k', v' = v + n, v' s'^2 = v s^2 + q + k n (y - m)^2 / k'.
/// Source: Gelman et al., Bayesian Data Analysis, 3rd ed., 3.3, from memory.
struct LogNormal {
    double mean = 0.0, sd = 1.0, mean_counts = durations_count_as, sd_counts = durations_count_as;
    LogNormal with(const std::vector<double>& values) const;
    /// The mean lies below it with the chance p: m + t_v(p) s / sqrt(k).
    double mean_quantile(double p) const;
    /// Spread of one value more, s sqrt(1 + 1 / k).
    double of_next() const;
};

/// A rate of rare events: gamma prior of shape a and rate b, Poisson events: a' = a + events, b' = b + exposure.
/// Source: Gelman et al., as above, 2.6, from memory.
struct GammaRate {
    double shape = 1.0, exposure = 1.0;
    GammaRate with(int events, double more_exposure) const { return {shape + events, exposure + more_exposure}; }
    double mean() const { return shape / exposure; }
    double quantile(double p) const;
};

/// Quantile of Student's t, by bisection of the incomplete beta function. Throws RangeError unless 0 < p < 1, v > 0.
double student_quantile(double p, double degrees);
/// Quantile of the gamma distribution with rate 1, by bisection of the incomplete gamma function. Throws RangeError
/// unless 0 < p < 1, shape > 0.
double gamma_quantile(double p, double shape);

}  // namespace patchwright::learn
