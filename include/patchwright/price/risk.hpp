#pragma once
#include <array>
#include <cstdint>
#include <string>
#include <vector>

#include "patchwright/job/rates.hpp"
#include "patchwright/job/risks.hpp"
#include "patchwright/units/money.hpp"

/// Three-point values, discrete risks and the trials that put them together.
namespace patchwright::price {

/// Mean and variance of a three-point value with least a, likeliest m, greatest b.
struct Moments {
    double mean = 0.0, variance = 0.0;
};
/// Triangular: mean (a+m+b)/3, variance (a2+m2+b2-ab-am-bm)/18. Throws RangeError unless a <= m <= b, all finite.
Moments triangular(const job::Spread<double>& s);
/// PERT with the usual short form: mean (a+4m+b)/6, variance ((b-a)/6)^2. Same errors.
Moments pert(const job::Spread<double>& s);
/// PERT as the beta distribution it stands for: alpha = 1 + 4(m-a)/(b-a), beta = 1 + 4(b-m)/(b-a); the same mean,
/// variance (mean-a)(b-mean)/7. Same errors.
Moments beta_pert(const job::Spread<double>& s);
/// The value below which the triangular value falls with probability p:
/// p < F: a + sqrt(p (b-a)(m-a)), else b - sqrt((1-p)(b-a)(b-m)), F = (m-a)/(b-a). Throws RangeError unless 0<=p<=1.
double triangular_inverse(const job::Spread<double>& s, double p);
/// Expected cost of doing a thing again: once, p R; until it is good, p/(1-p) R.
double expected_one_redo(double p, double redo);
double expected_redo_until_good(double p, double redo);
/// p [remove + (1-q) redo + q dig].
double expected_failure(double p, double q, double remove, double redo, double dig);

/// What moves the spread, greatest first.
struct Driver {
    std::string words;
    Money low{}, high{};  ///< cost of this driver alone at its P10 and P90; of a discrete risk: without and with it
    double share = 0;     ///< of the variance of the method's cost; the shares of all drivers add up to 1
};
struct RiskRun {
    std::array<Money, 4> patch_quantiles, dig_quantiles;  ///< P10 P50 P80 P90 of cost, direct + risk
    Money patch_mean{}, dig_mean{};                       ///< of the trials
    Money patch_mean_exact{}, dig_mean_exact{};           ///< in closed form
    double patch_cheaper = 0.0;                           ///< share of trials in which patching has the lower price
    std::vector<Driver> patch_drivers, dig_drivers;
    int trials = 0;
};

/// A quantity that is not known exactly: triangular. Those with a shared cause are correlated.
using Cause = job::Risk::Cause;
struct Variable {
    std::string words;
    job::Spread<double> spread;
    Cause cause = Cause::own;
};
/// cents * X_first * X_second of one method's cost; `second` < 0: one factor only.
/// The two variables of a product must not share a cause, so that the mean of the product is the product of means.
struct Term {
    double cents = 0.0;
    int first = 0, second = -1;
};
/// A thing that happens or not, in cents.
struct Event {
    int driver = 0;  ///< place in Model::risks
    double probability = 0.0;
    Cause cause = Cause::own;
    job::Spread<double> cost;               ///< when it happens
    double then_first = 0.0;                ///< beside it: this with probability 1 - q ...
    double then_second = 0.0, q = 0.0;      ///< ... or this with probability q
    bool of_patch = false, of_dig = false;  ///< the sides that it strikes; both: one draw for both
    double mean() const;                    ///< probability times the mean cost when it happens
};
struct MethodModel {
    double fixed = 0.0;  ///< cents
    std::vector<Term> terms;
};
struct Model {
    std::vector<Variable> variables;
    std::vector<std::string> risks;  ///< words of the discrete risks
    std::vector<Event> events;
    MethodModel patch, dig;
    job::Spread<double> scope{1, 1, 1};  ///< factor on both methods: what the certainty class leaves open
    double correlation = 0.0;            ///< between values that share a cause
};
/// Mean cost in closed form, cents: sums of products of means.
struct Means {
    double patch = 0.0, dig = 0.0;
};
Means mean_cost(const Model& model);

/// Price of a cost in cents, for the comparison of the two methods trial by trial.
struct Compare {
    const job::Rates* rates = nullptr;
    double patch_days = 0.0, dig_days = 0.0;
};
/// Draws the trials. The same numbers on every machine and with any number of threads: each trial has a stream of its
/// own, only + - * / and sqrt are used, and sums are taken in the order of the trials.
///
/// Values that share a cause take, each with probability sqrt(correlation), the cause's common draw, else one of their
/// own: the margins stay exact, and the rank correlation between any two of them is `correlation`.
/// Quantile p of n trials: the ceil(p n)-th smallest. Its standard error is about sqrt(p (1-p)/n) / density.
/// Source: practice in cost estimating; derived here, docs/methods/risk.md.
/// Throws RangeError on fewer than 1 or more than 10 million trials, a probability or correlation outside 0..1.
RiskRun simulate(const Model& model, const Compare& compare, std::uint64_t seed, int trials, int threads = 1);

}  // namespace patchwright::price
