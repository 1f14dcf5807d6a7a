// The distributions against printed tables, the updates against closed forms and simulated firms.
#include <catch2/catch.hpp>

#include <cmath>
#include <random>

#include "patchwright/learn/learn.hpp"
#include "patchwright/units/error.hpp"

using namespace patchwright;
using namespace patchwright::learn;

namespace {

/// Standard normal number; not by a distribution of the library, whose numbers are not the same everywhere.
class Draw {
public:
    explicit Draw(std::uint32_t seed) : engine_{seed} {}
    double uniform() { return (static_cast<double>(engine_()) + 0.5) / 4294967296.0; }
    double normal() {
        return std::sqrt(-2.0 * std::log(uniform())) * std::cos(2.0 * 3.14159265358979323846 * uniform());
    }
    /// Chi-squared with whole degrees of freedom, as the sum of squares that it is.
    double chi_squared(int degrees) {
        double sum = 0.0;
        for (int i = 0; i < degrees; ++i) {
            const double z = normal();
            sum += z * z;
        }
        return sum;
    }
    /// Gamma with whole shape and rate 1: the sum of waiting times.
    double gamma(int shape) {
        double sum = 0.0;
        for (int i = 0; i < shape; ++i) sum -= std::log(uniform());
        return sum;
    }
    int poisson(double mean) {
        int events = -1;
        for (double waited = 0.0; waited < mean; waited -= std::log(uniform())) ++events;
        return events;
    }

private:
    std::mt19937 engine_;
};

}  // namespace

TEST_CASE("Student's t has the quantiles of the printed table", "[learn][reference]") {
    // Source: Abramowitz & Stegun, Table 26.10, percentage points of the t distribution, from memory; 3 decimals.
    struct Row {
        double degrees, p90, p975, p995;
    };
    const auto row =
        GENERATE(Row{1, 3.078, 12.706, 63.657}, Row{2, 1.886, 4.303, 9.925}, Row{5, 1.476, 2.571, 4.032},
                 Row{10, 1.372, 2.228, 3.169}, Row{30, 1.310, 2.042, 2.750}, Row{120, 1.289, 1.980, 2.617});
    CAPTURE(row.degrees);
    CHECK(student_quantile(0.90, row.degrees) == Approx(row.p90).margin(6e-4).epsilon(0));
    CHECK(student_quantile(0.975, row.degrees) == Approx(row.p975).margin(6e-4).epsilon(0));
    CHECK(student_quantile(0.995, row.degrees) == Approx(row.p995).margin(6e-4).epsilon(0));
    CHECK(student_quantile(0.10, row.degrees) == Approx(-row.p90).margin(6e-4).epsilon(0));
    CHECK(student_quantile(0.5, row.degrees) == Approx(0.0).margin(1e-6));
}

TEST_CASE("the gamma distribution has the quantiles of chi-squared, and those of the exponential",
          "[learn][reference]") {
    // Source: Abramowitz & Stegun, Table 26.8, percentage points of chi-squared, from memory; x = chi^2 / 2.
    struct Row {
        double degrees, p10, p90, p99;
    };
    const auto row = GENERATE(Row{1, 0.01579, 2.70554, 6.63490}, Row{2, 0.21072, 4.60517, 9.21034},
                              Row{5, 1.61031, 9.23635, 15.0863}, Row{10, 4.86518, 15.9871, 23.2093},
                              Row{100, 82.3581, 118.498, 135.807});
    CAPTURE(row.degrees);
    CHECK(2.0 * gamma_quantile(0.10, 0.5 * row.degrees) == Approx(row.p10).epsilon(1e-4));
    CHECK(2.0 * gamma_quantile(0.90, 0.5 * row.degrees) == Approx(row.p90).epsilon(1e-4));
    CHECK(2.0 * gamma_quantile(0.99, 0.5 * row.degrees) == Approx(row.p99).epsilon(1e-4));
    for (const double p : {0.01, 0.3, 0.9}) CHECK(gamma_quantile(p, 1.0) == Approx(-std::log1p(-p)).epsilon(1e-9));
}

TEST_CASE("quantiles refuse what has none", "[learn][error]") {
    for (const double p : {0.0, 1.0, -0.1, std::nan("")}) {
        CHECK_THROWS_AS(student_quantile(p, 5.0), RangeError);
        CHECK_THROWS_AS(gamma_quantile(p, 5.0), RangeError);
    }
    CHECK_THROWS_AS(student_quantile(0.5, 0.0), RangeError);
    CHECK_THROWS_AS(gamma_quantile(0.5, -1.0), RangeError);
}

TEST_CASE("the update of a mean does not hang on the order, nor on taking all at once", "[learn]") {
    const LogNormal prior{0.0, 0.4};
    const std::vector<double> values{0.1, -0.3, 0.45, 0.2};
    const auto at_once = prior.with(values);
    const auto in_turn = prior.with({0.45}).with({-0.3, 0.1}).with({0.2});
    CHECK(in_turn.mean == Approx(at_once.mean));
    CHECK(in_turn.sd == Approx(at_once.sd));
    // By hand: k' = 9, m' = (4 x 0.1125) / 9 = 0.05.
    CHECK(at_once.mean == Approx(0.05));
    CHECK(at_once.mean_counts == Approx(9.0));
    CHECK(prior.with({}).sd == prior.sd);
}

TEST_CASE("of simulated firms the likely value lies in the band as often as the band says", "[learn][simulation]") {
    // Firms as the prior has them: sigma^2 = v s^2 / chi^2(v), mean from N(m, sigma^2 / k); each notes a few tasks.
    const auto noted = GENERATE(1, 5, 20);
    constexpr int firms = 4000;
    const LogNormal prior{0.0, 0.4};
    Draw draw{20260414};
    int inside = 0;
    for (int firm = 0; firm < firms; ++firm) {
        const double sd = prior.sd * std::sqrt(prior.sd_counts / draw.chi_squared(5));
        const double mean = sd / std::sqrt(prior.mean_counts) * draw.normal();
        std::vector<double> values;
        for (int i = 0; i < noted; ++i) values.push_back(mean + sd * draw.normal());
        const auto after = prior.with(values);
        inside += after.mean_quantile(0.1) <= mean && mean <= after.mean_quantile(0.9) ? 1 : 0;
    }
    CAPTURE(noted);
    // 80 %, within four standard errors of a simulation of that size: sqrt(0.8 x 0.2 / 4000) = 0.0063.
    CHECK(static_cast<double>(inside) / firms == Approx(0.8).margin(0.025).epsilon(0));
}

TEST_CASE("of simulated firms the rate lies in the band as often as the band says", "[learn][simulation]") {
    const auto sleeves = GENERATE(10, 100, 1000);
    constexpr int firms = 4000;
    const GammaRate prior{3.0, 30.0};
    Draw draw{412};
    int inside = 0;
    for (int firm = 0; firm < firms; ++firm) {
        const double rate = draw.gamma(3) / prior.exposure;
        const auto after = prior.with(draw.poisson(rate * sleeves), sleeves);
        inside += after.quantile(0.1) <= rate && rate <= after.quantile(0.9) ? 1 : 0;
    }
    CAPTURE(sleeves);
    CHECK(static_cast<double>(inside) / firms == Approx(0.8).margin(0.025).epsilon(0));
}
