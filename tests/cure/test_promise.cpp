#include <catch2/catch.hpp>

#include <cmath>
#include <random>

#include "cases.hpp"
#include "patchwright/cure/promise.hpp"
#include "patchwright/io/read.hpp"
#include "patchwright/units/error.hpp"

using namespace patchwright;
using namespace patchwright::cure;

namespace {

using Task = job::Spread<Duration>;

Task task(double low, double likely, double high) {
    return {low * unit::minute, likely * unit::minute, high * unit::minute};
}

double inverse(const Task& t, double u) {
    const double low = t.low.si();
    const double likely = t.likely.si();
    const double high = t.high.si();
    if (high <= low) return low;
    const double below = (likely - low) / (high - low);
    return u < below ? low + std::sqrt(u * (high - low) * (likely - low))
                     : high - std::sqrt((1.0 - u) * (high - low) * (high - likely));
}

/// The definition in the header, drawn from: chance that hands are later than a lognormal limit.
double simulated(const std::vector<Task>& tasks, double shared, const UncertainTime& limit, int draws) {
    std::mt19937_64 engine{20260414};
    std::normal_distribution<double> normal;
    const auto cumulative = [](double z) { return 0.5 * std::erfc(-z / std::sqrt(2.0)); };
    int late = 0;
    for (int i = 0; i < draws; ++i) {
        const double common = normal(engine);
        double hands = 0.0;
        for (const Task& t : tasks)
            hands += inverse(t, cumulative(std::sqrt(shared) * common + std::sqrt(1.0 - shared) * normal(engine)));
        late += hands > limit.likely.si() * std::exp(limit.log_sd * normal(engine)) ? 1 : 0;
    }
    return static_cast<double>(late) / draws;
}

/// The integral of the chance to last longer, up to what no work lasts.
double mean_minutes(const Hands& hands, double longest) {
    constexpr int steps = 4000;
    double sum = 0.0;
    for (int i = 0; i < steps; ++i)
        sum += hands.chance_beyond((i + 0.5) * longest / steps * unit::minute) * longest / steps;
    return sum;
}

const std::vector<Task> usual_tasks{task(4.5, 7, 15), task(2, 3, 8), task(3, 5, 15), task(2, 4, 8), task(1, 2, 3)};

}  // namespace

TEST_CASE("quantiles of a lognormal time", "[cure][reference]") {
    // Normal quantiles: Abramowitz & Stegun, table 26.5: 1.64485 at 5 %, 2.05375 at 2 %.
    const UncertainTime t{60.0 * unit::minute, 0.25};
    CHECK(t.quantile(0.05).in(unit::minute) == Approx(60.0 * std::exp(-1.64485 * 0.25)).epsilon(1e-5));
    CHECK(t.quantile(0.98).in(unit::minute) == Approx(60.0 * std::exp(2.05375 * 0.25)).epsilon(1e-5));
    CHECK(t.quantile(0.5).in(unit::minute) == Approx(60.0).epsilon(1e-12));
    for (const double p : {1e-6, 0.001, 0.02, 0.3, 0.7, 0.95, 0.9999})
        CHECK(t.chance_before(t.quantile(p)) == Approx(p).epsilon(1e-9));
    CHECK(t.chance_before(Duration{}) == 0.0);
    CHECK_THROWS_AS(t.quantile(0.0), RangeError);
    CHECK_THROWS_AS(t.quantile(1.0), RangeError);
    CHECK(UncertainTime{60.0 * unit::minute, 0.0}.chance_before(59.0 * unit::minute) == 0.0);
}

TEST_CASE("the chance of being late agrees with simulation", "[cure]") {
    // 1,000,000 draws: standard error at 5 % 0.0002.
    constexpr int draws = 1000000;
    std::vector<Task> of_two = usual_tasks;  // of the second sleeve of a shared mix
    of_two.insert(of_two.end(), usual_tasks.begin(), usual_tasks.end());
    for (const double shared : {0.0, 0.5, 0.9})
        for (const auto& [tasks, likely, sd] : {std::tuple{usual_tasks, 36.0, 0.2}, std::tuple{usual_tasks, 45.0, 0.25},
                                                std::tuple{usual_tasks, 30.0, 0.0}, std::tuple{of_two, 80.0, 0.2}}) {
            const UncertainTime limit{likely * unit::minute, sd};
            CAPTURE(shared, likely, sd, tasks.size());
            CHECK(Hands(tasks, shared).chance_beyond(limit) ==
                  Approx(simulated(tasks, shared, limit, draws)).margin(0.0015));
        }
}

TEST_CASE("hands in closed form", "[cure]") {
    // One triangular time: F = 1 - (high - t)^2 / ((high - low)(high - likely)); mean (low + likely + high) / 3.
    const std::vector<Task> one{task(10, 20, 40)};
    for (const double shared : {0.0, 0.5, 1.0}) {
        const Hands hands{one, shared};
        CHECK(hands.chance_beyond(30.0 * unit::minute) == Approx(100.0 / 600.0).margin(0.003));
        CHECK(hands.chance_beyond(10.0 * unit::minute) == Approx(1.0).margin(1e-9));
        CHECK(hands.chance_beyond(40.0 * unit::minute) == Approx(0.0).margin(1e-9));
        CHECK(mean_minutes(hands, 45.0) == Approx(70.0 / 3.0).epsilon(1e-3));
    }
    // A cause in common widens the sum and leaves its mean.
    const Hands apart{usual_tasks, 0.0};
    const Hands together{usual_tasks, 0.8};
    CHECK(mean_minutes(apart, 60.0) == Approx(mean_minutes(together, 60.0)).epsilon(2e-3));
    CHECK(together.chance_beyond(35.0 * unit::minute) > 1.5 * apart.chance_beyond(35.0 * unit::minute));
    CHECK(apart.likely() == 21.0 * unit::minute);
    // Times that are certain are exact.
    const Hands certain{std::vector<Task>{task(5, 5, 5), task(7, 7, 7)}, 0.5};
    CHECK(certain.chance_beyond(11.9 * unit::minute) == 1.0);
    CHECK(certain.chance_beyond(12.6 * unit::minute) == 0.0);
    CHECK_THROWS_AS(Hands(std::vector<Task>{task(5, 4, 6)}, 0.5), RangeError);
    CHECK_THROWS_AS(Hands(usual_tasks, 1.5), RangeError);
}

TEST_CASE("a crew that creases at crease-by is late by the promised chance; a longer sleeve never less", "[cure]") {
    const Model model{test::fast()};
    const Answer a = test::ask(model, test::usual(3.0, 12.0, 12.0, 15.0));
    REQUIRE_FALSE(a.refused);
    const auto fixed = [](Duration t) { return Hands{std::vector<Task>{{t, t, t}}, 0.5}; };
    const double at_limit = late_probability(fixed(a.sheet.crease_by), a);
    CHECK(at_limit <= 0.05);
    CHECK(at_limit > 0.03);  // rounded down by less than a minute
    const job::Yard& yard = io::builtin_yard();
    double before = 0.0;
    for (double metres = 0.5; metres <= 3.0; metres += 0.25) {
        const Hands hands = hands_of(sleeve_tasks(yard.durations, metres * unit::m, yard.limits), yard.limits);
        const double late = late_probability(hands, a);
        CHECK(late >= before);
        before = late;
    }
    // The later in a mix, the later.
    const SleeveTasks sleeve = sleeve_tasks(yard.durations, 0.5 * unit::m, yard.limits);
    const std::vector<SleeveTasks> two{sleeve, sleeve};
    CHECK(late_probability(hands_in_mix(two, 0, yard.limits), a) > late_probability(hands_of(sleeve, yard.limits), a));
    CHECK(late_probability(hands_in_mix(two, 1, yard.limits), a) >
          late_probability(hands_in_mix(two, 0, yard.limits), a));
}

TEST_CASE("less doubt promises more", "[cure]") {
    const Model model{test::standard()};
    const test::Case c = test::usual(3.0, 10.0, 11.0);
    const Answer a = test::ask(model, c);
    job::Limits limits = test::usual_limits();
    limits.temperature_doubt = {};
    const Answer certain = test::ask(model, c, limits);
    CHECK(certain.temperature_sd == 0.0);
    CHECK(certain.hard.log_sd < a.hard.log_sd);
    CHECK(certain.hard.likely == a.hard.likely);
    CHECK(certain.sheet.let_down < a.sheet.let_down);
    CHECK(certain.sheet.inflate_by > a.sheet.inflate_by);
    limits.soft_at_most = 0.001;
    limits.late_at_most = 0.001;
    const Answer careful = test::ask(model, c, limits);
    CHECK(careful.sheet.let_down > certain.sheet.let_down);
    CHECK(careful.sheet.inflate_by < certain.sheet.inflate_by);
    // E / (R T^2) a kelvin, from memory: 6.8 to 11.3 % at 10 °C for 45 to 75 kJ/mol, usual of such resins.
    const double per_kelvin = a.temperature_sd / (3.0 / 1.2816);
    CHECK(per_kelvin > 0.068);
    CHECK(per_kelvin < 0.113);
}
