#include <catch2/catch.hpp>

#include <cmath>
#include <limits>

#include "patchwright/price/random.hpp"
#include "patchwright/price/risk.hpp"
#include "patchwright/units/error.hpp"

using namespace patchwright;
using namespace patchwright::price;

TEST_CASE("moments of three-point values", "[price][risk][reference]") {
    // Source: closed forms of the PERT short form, (a+4m+b)/6 and ((b-a)/6)^2, and of the triangular distribution,
    // (a+m+b)/3 and (a2+m2+b2-ab-am-bm)/18 (Evans, Hastings, Peacock, Statistical Distributions; from memory),
    // for 2, 3, 7 by hand.
    const job::Spread<double> s{2.0, 3.0, 7.0};
    CHECK(pert(s).mean == Approx(3.5));
    CHECK(pert(s).variance == Approx(0.6944).margin(5e-5));
    CHECK(std::sqrt(pert(s).variance) == Approx(0.8333).margin(5e-5));
    CHECK(triangular(s).mean == Approx(4.0));
    CHECK(triangular(s).variance == Approx(1.16667).margin(5e-6));
    CHECK(std::sqrt(triangular(s).variance) == Approx(1.08012).margin(5e-6));
}

TEST_CASE("PERT as a beta distribution", "[price][risk][reference]") {
    // Source: mean and variance of the beta distribution, alpha/(alpha+beta) and
    // alpha beta / ((alpha+beta)^2 (alpha+beta+1)), stretched to [a, b]; alpha = 1 + 4(m-a)/(b-a),
    // beta = 1 + 4(b-m)/(b-a). Not what the short form gives.
    const auto s = GENERATE(job::Spread<double>{2.0, 3.0, 7.0}, job::Spread<double>{0.0, 0.0, 1.0},
                            job::Spread<double>{-3.0, 4.0, 5.0});
    const double range = s.high - s.low;
    const double alpha = 1.0 + 4.0 * (s.likely - s.low) / range;
    const double beta = 1.0 + 4.0 * (s.high - s.likely) / range;
    const double sum = alpha + beta;
    CHECK(beta_pert(s).mean == Approx(s.low + range * alpha / sum));
    CHECK(beta_pert(s).variance == Approx(range * range * alpha * beta / (sum * sum * (sum + 1.0))));
    CHECK(beta_pert(s).variance != Approx(pert(s).variance).epsilon(0.02));
}

TEST_CASE("quantiles of the triangular distribution", "[price][risk][reference]") {
    // Source: inverse of the triangular distribution function, for 2, 3, 7 (F = 0.2) by hand.
    const job::Spread<double> s{2.0, 3.0, 7.0};
    CHECK(triangular_inverse(s, 0.10) == Approx(2.70711).margin(5e-6));
    CHECK(triangular_inverse(s, 0.20) == Approx(3.0));
    CHECK(triangular_inverse(s, 0.50) == Approx(3.83772).margin(5e-6));
    CHECK(triangular_inverse(s, 0.80) == Approx(5.00000).margin(5e-6));
    CHECK(triangular_inverse(s, 0.90) == Approx(5.58579).margin(5e-6));
    CHECK(triangular_inverse(s, 0.0) == 2.0);
    CHECK(triangular_inverse(s, 1.0) == 7.0);
    CHECK(triangular_inverse({4.0, 4.0, 4.0}, 0.3) == 4.0);
    // Against its own distribution function, both branches: (x-a)^2/((b-a)(m-a)), 1 - (b-x)^2/((b-a)(b-m)).
    for (double p = 0.01; p < 1.0; p += 0.01) {
        const double x = triangular_inverse(s, p);
        const double f = x < 3.0 ? (x - 2.0) * (x - 2.0) / 5.0 : 1.0 - (7.0 - x) * (7.0 - x) / 20.0;
        CHECK(f == Approx(p).epsilon(1e-12));
    }
}

TEST_CASE("expected cost of failing", "[price][risk][reference]") {
    // Source: by hand. 5 % of 900: 45.00 once; until it is good, p/(1-p) R: 47.37. Tree: 4 % [250 + 90 % 180 + 10 %
    // 2400].
    CHECK(expected_one_redo(0.05, 900.0) == Approx(45.00));
    CHECK(expected_redo_until_good(0.05, 900.0) == Approx(47.37).margin(0.005));
    CHECK(expected_failure(0.04, 0.10, 250.0, 180.0, 2400.0) == Approx(0.04 * (250 + 162 + 240)));
    CHECK_THROWS_AS(expected_redo_until_good(1.0, 900.0), RangeError);
    CHECK_THROWS_AS(expected_one_redo(1.1, 900.0), RangeError);
    CHECK_THROWS_AS(expected_failure(0.1, -0.1, 1, 1, 1), RangeError);
}

TEST_CASE("variances of independent sums add, deviations of tied ones do", "[price][risk][reference]") {
    // Source: by hand. Three tasks 10/20/40, 5/15/40, 30/40/70 with the short PERT form: sd 5.0, 5.8333, 6.6667.
    const double a = std::sqrt(pert({10, 20, 40}).variance);
    const double b = std::sqrt(pert({5, 15, 40}).variance);
    const double c = std::sqrt(pert({30, 40, 70}).variance);
    CHECK(a == Approx(5.0));
    CHECK(b == Approx(5.8333).margin(5e-5));
    CHECK(c == Approx(6.6667).margin(5e-5));
    CHECK(std::sqrt(a * a + b * b + c * c) == Approx(10.172).margin(5e-4));
    CHECK(a + b + c == Approx(17.5));
}

TEST_CASE("three-point values out of order are refused", "[price][risk][error]") {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    const auto s = GENERATE_COPY(job::Spread<double>{3, 2, 7}, job::Spread<double>{2, 8, 7},
                                 job::Spread<double>{nan, 3, 7}, job::Spread<double>{2, nan, 7},
                                 job::Spread<double>{2, 3, std::numeric_limits<double>::infinity()});
    CHECK_THROWS_AS(triangular(s), RangeError);
    CHECK_THROWS_AS(pert(s), RangeError);
    CHECK_THROWS_AS(beta_pert(s), RangeError);
    CHECK_THROWS_AS(triangular_inverse(s, 0.5), RangeError);
    CHECK_THROWS_AS(triangular_inverse({2, 3, 7}, nan), RangeError);
}

TEST_CASE("the generator gives the published numbers", "[price][risk][reference]") {
    // Source: SplitMix64 seeded with 1234567, first five outputs, as in the test values that go with the reference
    // program by Vigna (public domain), from memory.
    const Stream s{1234567};
    CHECK(s.at(0) == 6457827717110365317ULL);
    CHECK(s.at(1) == 3203168211198807973ULL);
    CHECK(s.at(2) == 9817491932198370423ULL);
    CHECK(s.at(3) == 4593380528125082431ULL);
    CHECK(s.at(4) == 16408922859458223821ULL);
}

TEST_CASE("halves of a word lie inside (0, 1)", "[price][risk]") {
    static_assert(upper_half(0) > 0.0 && lower_half(0) > 0.0);
    static_assert(upper_half(~0ULL) < 1.0 && lower_half(~0ULL) < 1.0);
    CHECK(upper_half(0x8000000000000000ULL) == Approx(0.5));
    CHECK(lower_half(0x0000000080000000ULL) == Approx(0.5));
    CHECK(upper_half(0x00000000FFFFFFFFULL) < 1e-9);
}

TEST_CASE("uniform draws are uniform and independent of their neighbours", "[price][risk]") {
    // Chi-square on 100 cells of 1e5 draws: 99 degrees of freedom, 99.9 % point 148.2 (tables). Serial correlation of
    // n draws has standard deviation 1/sqrt(n).
    constexpr int n = 100000;
    const Stream trials{42};
    for (const auto half : {upper_half, lower_half}) {
        std::array<int, 100> cells{};
        double product = 0.0;
        for (int i = 0; i < n; ++i) {
            const Stream own{trials.at(static_cast<std::uint64_t>(i))};
            const double u = half(own.at(3));
            ++cells[static_cast<std::size_t>(100 * u)];
            product += (u - 0.5) * (half(own.at(4)) - 0.5) * 12.0;
        }
        double chi_square = 0.0;
        for (const int count : cells) chi_square += (count - 1000.0) * (count - 1000.0) / 1000.0;
        CHECK(chi_square < 148.2);
        CHECK(std::abs(product / n) < 4.0 / std::sqrt(static_cast<double>(n)));
    }
}
