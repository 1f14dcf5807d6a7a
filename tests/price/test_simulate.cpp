#include <catch2/catch.hpp>

#include <cmath>
#include <numeric>

#include "patchwright/units/error.hpp"
#include "scenario.hpp"
#include "support/working_off.hpp"

using namespace patchwright;
using namespace patchwright::price;

namespace {

constexpr int n = 10000;
double euros(Money m) { return static_cast<double>(m.in_cents()) / 100.0; }

/// Values in euros on the patch side, added up.
Model sum_of(const std::vector<job::Spread<double>>& spreads, Cause cause = Cause::own, double correlation = 0.0) {
    Model m;
    m.correlation = correlation;
    for (const job::Spread<double>& s : spreads) {
        m.patch.terms.push_back({100.0, static_cast<int>(m.variables.size()), -1});
        m.variables.push_back({"value", s, cause});
    }
    return m;
}
double standard_error(double variance) { return std::sqrt(variance / n); }

/// Variance of a method's cost, recovered from quantiles is not exact; from many small runs of means it is.
double variance_of_mean(const Model& m, int trials, int runs) {
    double sum = 0.0;
    double square = 0.0;
    for (int i = 0; i < runs; ++i) {
        const double mean = euros(simulate(m, {}, 1000 + static_cast<std::uint64_t>(i), trials).patch_mean);
        sum += mean;
        square += mean * mean;
    }
    return (square / runs - sum / runs * (sum / runs)) * trials;
}

/// P(X + Y <= x) for independent triangular X and Y, by the midpoint rule over X.
double sum_below(const job::Spread<double>& a, const job::Spread<double>& b, double x) {
    const auto below = [](const job::Spread<double>& s, double v) {
        if (v <= s.low) return 0.0;
        if (v >= s.high) return 1.0;
        const double range = s.high - s.low;
        return v < s.likely ? (v - s.low) * (v - s.low) / (range * (s.likely - s.low))
                            : 1.0 - (s.high - v) * (s.high - v) / (range * (s.high - s.likely));
    };
    constexpr int steps = 20000;
    double p = 0.0;
    for (int i = 0; i < steps; ++i) p += below(b, x - triangular_inverse(a, (i + 0.5) / steps)) / steps;
    return p;
}

}  // namespace

TEST_CASE("quantiles of one value agree with the triangular inverse", "[price][risk][reference]") {
    // Source: inverse distribution function in closed form. Standard error of a sample quantile: sqrt(p(1-p)/n) divided
    // by the density there, (2 (b-x))/((b-a)(b-m)) on the falling side; four of them are allowed.
    const job::Spread<double> s{200.0, 300.0, 700.0};
    const RiskRun run = simulate(sum_of({s}), {}, 7, n);
    const std::array<double, 4> p{0.1, 0.5, 0.8, 0.9};
    for (std::size_t k = 0; k < p.size(); ++k) {
        const double x = triangular_inverse(s, p[k]);
        const double density =
            x < s.likely ? 2.0 * (x - s.low) / (500.0 * 100.0) : 2.0 * (s.high - x) / (500.0 * 400.0);
        const double error = std::sqrt(p[k] * (1.0 - p[k]) / n) / density;
        CAPTURE(p[k]);
        CHECK(euros(run.patch_quantiles[k]) == Approx(x).margin(4.0 * error).epsilon(0));
    }
    CHECK(euros(run.patch_mean) == Approx(400.0).margin(4.0 * standard_error(triangular(s).variance)).epsilon(0));
    CHECK(run.patch_mean_exact == scenario::eur(400.0));
}

TEST_CASE("quantiles of a sum of two agree with numerical convolution", "[price][risk][reference]") {
    // Source: the distribution of a sum of independent values is a convolution; here by the midpoint rule with 20000
    // steps. The share of trials below a point errs by sqrt(p(1-p)/n); four of them are allowed.
    const job::Spread<double> a{200.0, 300.0, 700.0};
    const job::Spread<double> b{50.0, 400.0, 450.0};
    const RiskRun run = simulate(sum_of({a, b}), {}, 11, n);
    const std::array<double, 4> p{0.1, 0.5, 0.8, 0.9};
    for (std::size_t k = 0; k < p.size(); ++k) {
        CAPTURE(p[k]);
        CHECK(sum_below(a, b, euros(run.patch_quantiles[k])) ==
              Approx(p[k]).margin(4.0 * std::sqrt(p[k] * (1 - p[k]) / n)).epsilon(0));
    }
}

TEST_CASE("variances of a sum: apart they add, tied their deviations do", "[price][risk][reference]") {
    // Source: Var(X+Y) = Var X + Var Y + 2 rho sd sd. With the common draw taken with probability sqrt(rho) by each of
    // two values with the same distribution, both take it with probability rho, so Cov = rho Var exactly.
    // The estimate of a variance from r runs errs by about sqrt(2/r) of it: 400 runs, 7 %; three of them are allowed.
    const job::Spread<double> s{200.0, 300.0, 700.0};
    const double v = triangular(s).variance;
    CHECK(variance_of_mean(sum_of({s, s}), 100, 400) == Approx(2 * v).epsilon(0.21));
    CHECK(variance_of_mean(sum_of({s, s}, Cause::ground, 1.0), 100, 400) == Approx(4 * v).epsilon(0.21));
    CHECK(variance_of_mean(sum_of({s, s}, Cause::ground, 0.5), 100, 400) == Approx(3 * v).epsilon(0.21));
}

TEST_CASE("the mean of the trials is the closed form, for every shape of model", "[price][risk][reference]") {
    // Source: means add; the mean of a product of independent values is the product of means; a Bernoulli event adds
    // its probability times its mean cost. Standard error from the variances, four allowed.
    Model m = sum_of({{200.0, 300.0, 700.0}});
    m.variables.push_back({"access", {1.0, 1.0, 1.3}, Cause::access});
    m.variables.push_back({"days", {1.0, 1.5, 3.0}, Cause::ground});
    m.patch.terms.push_back({40000.0, 2, 1});
    m.patch.fixed = 12345.0;
    m.risks = {"fails"};
    Event e;
    e.probability = 0.05;
    e.cost = {10000.0, 25000.0, 40000.0};
    e.then_first = 18000.0;
    e.then_second = 240000.0;
    e.q = 0.1;
    e.of_patch = true;
    m.events = {e, e};
    m.correlation = 0.5;
    const double product = 400.0 * 1.1 * (5.5 / 3.0);
    const double event = 0.05 * (250.0 + 0.9 * 180.0 + 0.1 * 2400.0);
    const double expected = 400.0 + product + 123.45 + 2 * event;
    m.scope = {0.8, 1.0, 1.35};
    CHECK(mean_cost(m).patch / 100.0 == Approx(1.05 * expected));
    CHECK(mean_cost(m).dig == 0.0);
    const RiskRun run = simulate(m, {}, 3, n);
    CHECK(euros(run.patch_mean_exact) == Approx(1.05 * expected).margin(0.005));
    CHECK(euros(run.patch_mean) == Approx(1.05 * expected).margin(4 * std::sqrt(280.0 * 280.0 / n)).epsilon(0));
}

TEST_CASE("shares of variance add up and follow the variances", "[price][risk][reference]") {
    // Source: of independent values each has the share Var_i / sum Var. A covariance of n trials errs by about
    // 1/sqrt(n) of the product of deviations: 1 %, four allowed.
    const job::Spread<double> wide{0.0, 300.0, 900.0};
    const job::Spread<double> narrow{250.0, 300.0, 400.0};
    const RiskRun run = simulate(sum_of({narrow, wide}), {}, 5, n);
    REQUIRE(run.patch_drivers.size() == 2);
    const double share = triangular(wide).variance / (triangular(wide).variance + triangular(narrow).variance);
    CHECK(run.patch_drivers[0].share == Approx(share).margin(0.04));
    CHECK(run.patch_drivers[0].share + run.patch_drivers[1].share == Approx(1.0).epsilon(1e-9));
    CHECK(euros(run.patch_drivers[0].low) == Approx(triangular_inverse(wide, 0.1)).margin(0.005));
    CHECK(euros(run.patch_drivers[0].high) == Approx(triangular_inverse(wide, 0.9)).margin(0.005));
    CHECK(run.dig_drivers.empty());
}

TEST_CASE("an event strikes as often as it should, on the sides it should", "[price][risk]") {
    Model m;
    m.risks = {"common", "own"};
    Event common;
    common.probability = 0.3;
    common.cost = {10000.0, 10000.0, 10000.0};
    common.of_patch = common.of_dig = true;
    Event own = common;
    own.driver = 1;
    own.of_dig = false;
    m.events = {common, own};
    const RiskRun run = simulate(m, {}, 17, n);
    const double error = 4 * 100.0 * std::sqrt(0.3 * 0.7 / n);
    CHECK(euros(run.dig_mean) == Approx(30.0).margin(error).epsilon(0));
    CHECK(euros(run.patch_mean) == Approx(60.0).margin(std::sqrt(2.0) * error).epsilon(0));
    // 70 % of trials without the common event: the median of the dig is nothing, the 80 % quantile is the event.
    CHECK(run.dig_quantiles[1] == scenario::eur(0.0));
    CHECK(run.dig_quantiles[2] == scenario::eur(100.0));
}

TEST_CASE("the same cost on both sides is never cheaper", "[price][risk]") {
    job::Rates rates;
    rates.currency = Currency{"EUR"};
    Model m = sum_of({{200.0, 300.0, 700.0}});
    m.dig = m.patch;
    CHECK(simulate(m, {&rates, &rates, 1.0, 1.0}, 1, n).patch_cheaper == 0.0);
    m.dig.fixed = 1.0;  // one cent
    CHECK(simulate(m, {&rates, &rates, 1.0, 1.0}, 1, n).patch_cheaper == 1.0);
}

TEST_CASE("any number of threads gives the same numbers", "[price][risk]") {
    scenario::Scenario s({3.9, 9.1, 9.8, 15.0});
    s.must_dig_last();
    Input in = s.input();
    const Offer one = make_offer(in, off);
    for (const int threads : {2, 3, 8}) {
        in.threads = threads;
        const Offer many = make_offer(in, off);
        CHECK(many.risk.patch_quantiles == one.risk.patch_quantiles);
        CHECK(many.risk.dig_quantiles == one.risk.dig_quantiles);
        CHECK(many.risk.patch_mean == one.risk.patch_mean);
        CHECK(many.risk.patch_cheaper == one.risk.patch_cheaper);
        REQUIRE(many.risk.dig_drivers.size() == one.risk.dig_drivers.size());
        for (std::size_t i = 0; i < one.risk.dig_drivers.size(); ++i) {
            CHECK(many.risk.dig_drivers[i].share == one.risk.dig_drivers[i].share);
        }
    }
}

TEST_CASE("another seed moves the quantiles within their error", "[price][risk]") {
    const job::Spread<double> s{200.0, 300.0, 700.0};
    const RiskRun a = simulate(sum_of({s}), {}, 1, n);
    const RiskRun b = simulate(sum_of({s}), {}, 2, n);
    CHECK(a.patch_quantiles[1] != b.patch_quantiles[1]);
    CHECK(euros(a.patch_quantiles[1]) == Approx(euros(b.patch_quantiles[1])).margin(12.0));
}

TEST_CASE("trials refuse a model that makes no sense", "[price][risk][error]") {
    const Model good = sum_of({{1.0, 2.0, 3.0}, {1.0, 2.0, 3.0}}, Cause::ground);
    CHECK_THROWS_AS(simulate(good, {}, 1, 0), RangeError);
    CHECK_THROWS_AS(simulate(good, {}, 1, 10'000'001), RangeError);
    CHECK_THROWS_AS(simulate(good, {}, 1, 10, 0), RangeError);
    Model bad = good;
    bad.correlation = 1.5;
    CHECK_THROWS_AS(simulate(bad, {}, 1, 10), RangeError);
    bad = good;
    bad.patch.terms.push_back({1.0, 0, 1});  // two values of one cause in a product
    CHECK_THROWS_AS(simulate(bad, {}, 1, 10), RangeError);
    bad = good;
    bad.patch.terms.push_back({1.0, 2, -1});
    CHECK_THROWS_AS(simulate(bad, {}, 1, 10), RangeError);
    bad = good;
    bad.events.push_back({});
    CHECK_THROWS_AS(simulate(bad, {}, 1, 10), RangeError);
    bad = good;
    bad.variables[0].spread = {3.0, 2.0, 1.0};
    CHECK_THROWS_AS(simulate(bad, {}, 1, 10), RangeError);
    bad = good;
    bad.risks = {"x"};
    bad.events.push_back({});
    bad.events[0].probability = 1.2;
    CHECK_THROWS_AS(simulate(bad, {}, 1, 10), RangeError);
}
