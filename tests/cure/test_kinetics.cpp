#include <catch2/catch.hpp>

#include <cmath>
#include <limits>

#include "exponential.hpp"
#include "patchwright/cure/kinetics.hpp"
#include "patchwright/units/error.hpp"

using namespace patchwright;
using namespace patchwright::cure;

namespace {

constexpr Frequency per_second = Frequency::from_si(1.0);

Kinetics at_constant_rate(double k_1, double k_2, double m, double n) {
    Kinetics k;
    k.rate_1 = k_1 * per_second;
    k.rate_2 = k_2 * per_second;
    k.order_m = m;
    k.order_n = n;
    return k;
}

/// Demonstration resin: invented, inside literature bounds.
Kinetics demonstration(bool with_diffusion) {
    Kinetics k;
    k.rate_1 = 2.343e5 * per_second;
    k.energy_1 = 57.0 * unit::kJ_mol;
    k.rate_2 = 3.012e5 * per_second;
    k.energy_2 = 52.0 * unit::kJ_mol;
    if (with_diffusion) {
        k.limit = DiffusionLimit::conversion;
        k.conversion_sharpness = 30.0;
        k.conversion_limit_at_0_k = -1.198;
        k.conversion_limit_per_k = 6.8e-3;
    }
    return k;
}

const Glass demonstration_glass{Temperature::celsius(-40.0), Temperature::celsius(70.0), 0.45};

}  // namespace

TEST_CASE("constant rates give the closed forms of the conversion", "[cure][reference]") {
    // Source: integrated rate laws of first, second and autocatalytic order (Kamal form, partial fractions), values
    // computed with an independent quadrature (scipy); s. n-th order: da/dt = k (1-a)^n has m = 0 and k1 = 0.
    struct Row {
        double k_1, k_2, m, n, a, seconds;
    };
    const auto row = GENERATE(Row{0, 1e-4, 0, 1, 0.2, 2231.4355}, Row{0, 1e-4, 0, 1, 0.5, 6931.4718},
                              Row{0, 1e-4, 0, 1, 0.577, 8603.8310}, Row{0, 1e-4, 0, 1, 0.9, 23025.8509},
                              Row{0, 1e-4, 0, 2, 0.2, 2500}, Row{0, 1e-4, 0, 2, 0.5, 10000},
                              Row{0, 1e-4, 0, 2, 0.577, 13640.6619}, Row{0, 1e-4, 0, 2, 0.9, 90000},
                              Row{1e-5, 1e-4, 1, 1, 0.2, 12015.9622}, Row{1e-5, 1e-4, 1, 1, 0.5, 22590.0605},
                              Row{1e-5, 1e-4, 1, 1, 0.577, 25208.0381}, Row{1e-5, 1e-4, 1, 1, 0.9, 41865.1835},
                              Row{1e-5, 1e-4, 1, 2, 0.2, 13196.3293}, Row{1e-5, 1e-4, 1, 2, 0.5, 29627.3277},
                              Row{1e-5, 1e-4, 1, 2, 0.577, 35317.0000}, Row{1e-5, 1e-4, 1, 2, 0.9, 119877.4396});
    CAPTURE(row.m, row.n, row.a);
    const Kinetics k = at_constant_rate(row.k_1, row.k_2, row.m, row.n);
    const Temperature any = Temperature::celsius(20.0);
    CHECK(isothermal_time(k, 0.0, row.a, any).si() == Approx(row.seconds).margin(6e-5).epsilon(1e-8));
    CHECK(isothermal_conversion(k, 0.0, row.seconds * unit::s, any) == Approx(row.a).margin(1e-7).epsilon(0));
}

TEST_CASE("the demonstration resin's rate constants", "[cure][reference]") {
    // Arrhenius, R = 8.314462618 J/(mol K); values computed with scipy.
    struct Row {
        double celsius, k_1, k_2;
    };
    const auto row = GENERATE(Row{20, 1.634867e-5, 1.634812e-4}, Row{10, 7.158024e-6, 7.695599e-5});
    const Kinetics k = demonstration(false);
    const Temperature t = Temperature::celsius(row.celsius);
    CHECK(conversion_rate(k, 0.0, t).si() == Approx(row.k_1).epsilon(1e-6));
    CHECK(conversion_rate(k, 0.5, t).si() == Approx((row.k_1 + 0.5 * row.k_2) * 0.25).epsilon(1e-6));
}

TEST_CASE("isothermal times of the demonstration resin without diffusion", "[cure][reference]") {
    // Minutes, computed with scipy's quadrature, printed to 0.001 min.
    struct Row {
        double a;
        double minutes[5];
    };
    const auto row = GENERATE(Row{0.10, {264.964, 173.454, 115.203, 77.574, 52.923}},
                              Row{0.30, {622.520, 410.821, 274.992, 186.571, 128.213}},
                              Row{0.577, {1181.572, 784.202, 527.834, 360.047, 248.728}},
                              Row{0.70, {1607.350, 1069.097, 721.109, 492.894, 341.182}},
                              Row{0.80, {2242.523, 1494.369, 1009.798, 691.447, 479.449}});
    for (int i = 0; i < 5; ++i) {
        const Temperature t = Temperature::celsius(5.0 + 5.0 * i);
        CAPTURE(row.a, t.in_celsius());
        CHECK(isothermal_time(demonstration(false), 0.0, row.a, t).in(unit::minute) ==
              Approx(row.minutes[i]).margin(6e-4).epsilon(0));
    }
}

TEST_CASE("isothermal times of the demonstration resin with its diffusion limit", "[cure][reference]") {
    // Chern & Poehlein factor, C = 30, ac = -1.198 + 6.8e-3 T; hours, computed with scipy, printed to 0.001 h.
    struct Row {
        double a;
        double hours[5];
    };
    const auto row =
        GENERATE(Row{0.577, {19.735, 13.080, 8.800, 6.001, 4.146}}, Row{0.65, {23.925, 15.698, 10.530, 7.179, 4.962}},
                 Row{0.70, {29.434, 18.457, 12.175, 8.254, 5.696}}, Row{0.75, {46.687, 24.500, 14.928, 9.813, 6.698}},
                 Row{0.80, {135.175, 48.520, 22.611, 12.958, 8.351}});
    for (int i = 0; i < 5; ++i) {
        const Temperature t = Temperature::celsius(5.0 + 5.0 * i);
        CAPTURE(row.a, t.in_celsius());
        CHECK(isothermal_time(demonstration(true), 0.0, row.a, t).in(unit::h) ==
              Approx(row.hours[i]).margin(6e-4).epsilon(0));
    }
}

TEST_CASE("conversion of the demonstration resin against time at 20 °C", "[cure][reference]") {
    // Without diffusion; computed with scipy, printed to six places.
    struct Row {
        double seconds, a;
    };
    const auto row = GENERATE(Row{3600, 0.073196}, Row{7200, 0.172987}, Row{14400, 0.399247}, Row{21600, 0.576944},
                              Row{36000, 0.762398});
    CHECK(isothermal_conversion(demonstration(false), 0.0, row.seconds * unit::s, Temperature::celsius(20.0)) ==
          Approx(row.a).margin(6e-7).epsilon(0));
}

TEST_CASE("orders that are not whole numbers: an invented polyester after its induction", "[cure][reference]") {
    // k1, k2 = 4.9e5, 7.35e7 1/s, both 60 kJ/mol, m 0.8, n 1.2; minutes, computed with scipy, printed to 0.001 min.
    Kinetics k;
    k.rate_1 = 4.9e5 * per_second;
    k.rate_2 = 7.35e7 * per_second;
    k.energy_1 = k.energy_2 = 60.0 * unit::kJ_mol;
    k.order_m = 0.8;
    k.order_n = 1.2;
    struct Row {
        double celsius, gel, half, most;
    };
    const auto row =
        GENERATE(Row{5, 52.413, 143.263, 209.690}, Row{10, 33.149, 90.609, 132.621}, Row{15, 21.302, 58.225, 85.222},
                 Row{20, 13.897, 37.984, 55.596}, Row{25, 9.196, 25.137, 36.793});
    const Temperature t = Temperature::celsius(row.celsius);
    CAPTURE(row.celsius);
    CHECK(isothermal_time(k, 0.0, 0.05, t).in(unit::minute) == Approx(row.gel).margin(1e-3).epsilon(0));
    CHECK(isothermal_time(k, 0.0, 0.50, t).in(unit::minute) == Approx(row.half).margin(1e-3).epsilon(0));
    CHECK(isothermal_time(k, 0.0, 0.80, t).in(unit::minute) == Approx(row.most).margin(1e-3).epsilon(0));
}

TEST_CASE("published hot-cure kinetic sets", "[cure][reference]") {
    // Both sets from memory; they check the code at the temperatures that they were made for, nothing at ambient.
    SECTION("180 °C epoxy, Hubert, Johnston et al. 2001") {
        // K a^m (1-a)^n / (1 + exp(C (a - (ac0 + acT T)))), A 1.528e5 1/s, E 66.5 kJ/mol, m 0.8129, n 2.736,
        // C 43.09, ac0 -1.684, acT 5.475e-3 1/K.
        Kinetics k;
        k.rate_2 = 1.528e5 * per_second;
        k.energy_1 = k.energy_2 = 66.5 * unit::kJ_mol;
        k.order_m = 0.8129;
        k.order_n = 2.736;
        k.limit = DiffusionLimit::conversion;
        k.conversion_sharpness = 43.09;
        k.conversion_limit_at_0_k = -1.684;
        k.conversion_limit_per_k = 5.475e-3;
        const double kelvin = 453.15;
        for (const double a : {0.05, 0.2, 0.5, 0.75, 0.82}) {
            const double expected = 1.528e5 * std::exp(-66500.0 / (8.314462618 * kelvin)) * std::pow(a, 0.8129) *
                                    std::pow(1.0 - a, 2.736) /
                                    (1.0 + std::exp(43.09 * (a - (-1.684 + 5.475e-3 * kelvin))));
            CHECK(conversion_rate(k, a, Temperature::kelvin(kelvin)).si() == Approx(expected).epsilon(1e-9));
        }
        // The limit ac0 + acT T is 0.797 at 180 °C and falls below zero at 20 °C: meaningless there.
        CHECK(-1.684 + 5.475e-3 * 293.15 < 0.0);
    }
    SECTION("glass/polyester moulding laminate, Bogetti & Gillespie 1991") {
        // K a^m (1-a)^n, A 3.7e22 1/min, E 167.4 kJ/mol, m 0.524, n 1.476.
        Kinetics k;
        k.rate_2 = (3.7e22 / 60.0) * per_second;
        k.energy_1 = k.energy_2 = 167.4 * unit::kJ_mol;
        k.order_m = 0.524;
        k.order_n = 1.476;
        for (const double celsius : {100.0, 140.0})
            for (const double a : {0.01, 0.3, 0.9}) {
                const double expected = 3.7e22 / 60.0 * std::exp(-167400.0 / (8.314462618 * (celsius + 273.15))) *
                                        std::pow(a, 0.524) * std::pow(1.0 - a, 1.476);
                CHECK(conversion_rate(k, a, Temperature::celsius(celsius)).si() == Approx(expected).epsilon(1e-9));
            }
    }
}

TEST_CASE("glass temperature against conversion", "[cure][reference]") {
    // DiBenedetto's equation, Tg0 -40, Tg1 70 °C, lambda 0.45; computed with scipy.
    struct Row {
        double a, celsius;
    };
    const auto row = GENERATE(Row{0.0, -40.0}, Row{0.3, -22.216}, Row{0.577, 1.839}, Row{0.7, 16.341}, Row{0.8, 30.714},
                              Row{0.9, 48.218}, Row{1.0, 70.0});
    CHECK(glass_temperature(demonstration_glass, row.a).in_celsius() == Approx(row.celsius).margin(6e-4).epsilon(0));
    CHECK(conversion_at_glass(demonstration_glass, Temperature::celsius(row.celsius)) ==
          Approx(row.a).margin(1e-5).epsilon(0));
}

TEST_CASE("conversion attainable when the glass temperature is 10 K above the cure's", "[cure][reference]") {
    // Computed with scipy, printed to three places, the last of them up to 0.7 too high (0.79545 stands as 0.796).
    struct Row {
        double full;
        double a[6];
    };
    const auto row = GENERATE(Row{70, {0.690, 0.727, 0.763, 0.796, 0.826, 0.909}},
                              Row{90, {0.620, 0.656, 0.690, 0.722, 0.752, 0.833}},
                              Row{120, {0.538, 0.571, 0.603, 0.634, 0.662, 0.741}});
    const double celsius[6] = {5, 10, 15, 20, 25, 40};
    const Glass glass{Temperature::celsius(-40.0), Temperature::celsius(row.full), 0.45};
    for (int i = 0; i < 6; ++i)
        CHECK(attainable_conversion(glass, Temperature::celsius(celsius[i])) ==
              Approx(row.a[i]).margin(8e-4).epsilon(0));
}

TEST_CASE("rates slow down as the glass temperature passes the cure's", "[cure]") {
    Kinetics k = demonstration(false);
    Kinetics limited = k;
    limited.limit = DiffusionLimit::glass;
    limited.glass = demonstration_glass;
    const Temperature t = Temperature::celsius(10.0);
    const auto share = [&](double a) { return conversion_rate(limited, a, t).si() / conversion_rate(k, a, t).si(); };
    CHECK(share(0.3) > 0.99);
    CHECK(share(attainable_conversion(demonstration_glass, t)) == Approx(0.5).epsilon(1e-9));
    CHECK(share(0.85) < 0.05);
    CHECK(share(0.9) < 0.01);
}

TEST_CASE("exponential agrees with the library's in long double", "[cure]") {
    double worst = 0.0;
    for (double x = -690.0; x < 690.0; x += 0.0371) {
        const long double exact = std::exp(static_cast<long double>(x));
        worst = std::max(worst, static_cast<double>(std::abs(detail::exponential(x) / exact - 1.0L)));
    }
    CHECK(worst < 2e-15);
}

TEST_CASE("kinetics refuse what has no meaning", "[cure][error]") {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    const Kinetics k = demonstration(false);
    const Temperature t = Temperature::celsius(20.0);
    for (const double a : {-0.1, 1.1, nan}) {
        CHECK_THROWS_AS(conversion_rate(k, a, t), RangeError);
        CHECK_THROWS_AS(isothermal_time(k, a, 0.9, t), RangeError);
        CHECK_THROWS_AS(glass_temperature(demonstration_glass, a), RangeError);
    }
    CHECK_THROWS_AS(isothermal_time(k, 0.5, 0.4, t), RangeError);
    CHECK_THROWS_AS(isothermal_time(k, 0.5, 1.0, t), RangeError);
    CHECK_THROWS_AS(conversion_rate(k, 0.5, Temperature::kelvin(nan)), RangeError);
    CHECK_THROWS_AS(conversion_rate(k, 0.5, Temperature::celsius(400.0)), RangeError);
    CHECK_THROWS_AS(isothermal_conversion(k, 0.0, -1.0 * unit::s, t), RangeError);
}
