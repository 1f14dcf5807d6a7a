// How sure the times of a sleeve are: drawn and counted, heated and cold, and where its gel binds before its shaping.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <initializer_list>
#include <random>
#include <string>
#include <vector>

#include "cases.hpp"
#include "knowledge.hpp"
#include "support/expression.hpp"

using namespace patchwright;
using namespace patchwright::cure;
using test::Case;
using test::usual;

namespace {

Case heated(double pipe, double from, double to) {
    Case c = usual(3.0, pipe);
    c.conditions.heating.medium = Heating::Medium::water;
    c.conditions.heating.points = {{Duration{}, Temperature::celsius(from)},
                                   {20.0 * unit::minute, Temperature::celsius(to)}};
    return c;
}
/// Gels while the hands are still at it: warm water at once, and a data sheet that leaves long to shape.
Case gels_first() {
    Case c = usual(3.0, 15.0, 15.0, 15.0);
    c.conditions.heating.medium = Heating::Medium::water;
    c.conditions.heating.points = {{Duration{}, Temperature::celsius(70.0)}};
    return c;
}
job::Resin long_to_shape() {
    job::Resin r = test::standard();
    r.data.push_back({job::DataPointKind::working, Temperature::celsius(20.0), 115.0 * unit::minute, {}, {}});
    return r;
}

Case warmer(Case c, double kelvin) {
    for (auto* t : {&c.conditions.pipe, &c.conditions.air, &c.conditions.van, &c.conditions.resin})
        t->value = t->value + kelvin * unit::K;
    for (auto& point : c.conditions.heating.points) point.temperature = point.temperature + kelvin * unit::K;
    return c;
}

bool says(const std::vector<std::string>& list, const char* part) {
    return std::any_of(list.begin(), list.end(),
                       [&](const std::string& s) { return s.find(part) != std::string::npos; });
}

Hands exactly(Duration t) { return Hands{std::vector<job::Spread<Duration>>{{t, t, t}}, 0.5}; }

}  // namespace

TEST_CASE("of sleeves of random rate and warmth as many are soft at let-down as the sheet says", "[cure]") {
    const job::Resin resin = test::standard();
    const job::Limits limits = test::usual_limits();
    const detail::Knowledge known{resin, detail::calibrate(resin)};
    const Model model{resin};
    for (const Case& c : {usual(3.0, 10.0), usual(4.5, 18.0, 15.0, 15.0), heated(8.0, 15.0, 35.0)}) {
        const Answer a = test::ask(model, c);
        REQUIRE_FALSE(a.refused);
        std::mt19937_64 engine{20260414};
        std::normal_distribution<double> normal;
        constexpr int draws = 6000;
        int soft = 0;
        for (int i = 0; i < draws; ++i) {
            const double rate = std::exp(a.rate_sd * normal(engine));
            const Case drawn = warmer(c, 3.0 / 1.2815515655 * normal(engine));
            const detail::Site site = detail::make_site(resin, c.sleeve, c.host);
            const detail::Course course = detail::course_of(detail::completed(drawn.conditions, limits));
            const detail::RateLaw law{detail::faster(known.fit.kinetics, rate)};
            const double hard =
                detail::follow(site, law, course, detail::release_of(known, limits), detail::usual_grid(site)).release;
            soft += hard > a.sheet.let_down.si() ? 1 : 0;
        }
        CAPTURE(c.conditions.pipe->in_celsius(), c.sleeve.thickness.in(unit::mm), a.soft_probability);
        // Standard error of 2 % in 6 000 drawings 0.18 %; the rest is that ln t is not quite straight in the warmth.
        const double share = static_cast<double>(soft) / draws;
        CHECK(share <= limits.soft_at_most + 0.006);
        CHECK(share == Approx(a.soft_probability).margin(0.01));
    }
}

TEST_CASE("a heated sleeve is as doubtful as the fit is at its warmth, and as its heater", "[cure]") {
    const Model model{test::standard()};
    const Case c = heated(10.0, 20.0, 45.0);
    const Answer cold = test::ask(model, usual(3.0, 10.0));
    const Answer warm = test::ask(model, c);
    REQUIRE_FALSE(warm.refused);
    CHECK_FALSE(cold.extrapolated);
    CHECK(warm.extrapolated);  // the data end at 23 °C
    CHECK(says(warm.warnings, "extrapolated"));
    // Never less than of an unheated sleeve in pipes that are nearly as warm.
    CHECK(warm.rate_sd > cold.rate_sd);
    for (const double pipe : {24.0, 28.0, 30.0}) CHECK(warm.rate_sd >= test::ask(model, usual(3.0, pipe)).rate_sd);
    // Everything colder by one deviation, water included.
    const Answer colder = test::ask(model, warmer(c, -3.0 / 1.2815515655));
    CHECK(std::log(colder.hard.likely / warm.hard.likely) == Approx(warm.temperature_sd).epsilon(1e-3));
    // An unheated sleeve well inside the data is not touched by this.
    CHECK(cold.hottest < Temperature::celsius(28.0));
}

TEST_CASE("a heated sleeve is hard no later in a warmer pipe, wherever its warmth leaves the data", "[cure]") {
    // Arrhenius: no resin is slower when it is warmer, and the promised time may not say otherwise.
    const Model model{test::standard()};
    for (const auto medium : {Heating::Medium::air, Heating::Medium::water})
        for (const double to : {35.0, 40.0, 45.0}) {
            Duration before = 1.0e9 * unit::s;
            bool inside = false, beyond = false;
            for (double pipe = 5.0; pipe <= 20.0; pipe += 0.5) {
                Case c = heated(pipe, pipe, to);
                c.conditions.heating.medium = medium;
                const Answer a = test::ask(model, c);
                REQUIRE_FALSE(a.refused);
                const Duration hard = a.hard.quantile(0.98);
                CAPTURE(pipe, to, a.hottest.in_celsius());
                CHECK(hard <= before);
                before = hard;
                (a.extrapolated ? beyond : inside) = true;
            }
            if (medium == Heating::Medium::air && to == 40.0) CHECK((inside && beyond));
        }
}

TEST_CASE("where the sleeve gels first, gel is the hands' limit and their chance of being late", "[cure]") {
    const Model model{long_to_shape()};
    const Case c = gels_first();
    const job::Limits limits = test::usual_limits();
    const Answer a = test::ask(model, c);
    REQUIRE_FALSE(a.refused);
    REQUIRE(a.gel.quantile(limits.late_at_most) < a.shaping.quantile(limits.late_at_most));
    CHECK(a.sheet.crease_by == a.sheet.gel - 1.0 * unit::minute);
    CHECK(late_probability(exactly(a.sheet.crease_by), a) <= limits.late_at_most);
    CHECK(late_probability(exactly(a.sheet.gel + 1.0 * unit::minute), a) > limits.late_at_most);
    CHECK(late_probability(exactly(a.gel.likely), a) == Approx(0.5).epsilon(1e-9));
    // Hands that are doubtful themselves, against drawings of the cause that gel and shaping have in common.
    const std::vector<job::Spread<Duration>> tasks{{10.0 * unit::minute, a.sheet.gel, 2.0 * a.sheet.gel}};
    std::mt19937_64 engine{7};
    std::normal_distribution<double> normal;
    std::uniform_real_distribution<double> uniform;
    constexpr int draws = 200000;
    int late = 0;
    for (int i = 0; i < draws; ++i) {
        const double z = normal(engine), u = uniform(engine);
        const double low = 600.0, likely = a.sheet.gel.si(), high = 2.0 * likely;
        const double below = (likely - low) / (high - low);
        const double hands = u < below ? low + std::sqrt(u * (high - low) * (likely - low))
                                       : high - std::sqrt((1.0 - u) * (high - low) * (high - likely));
        const double limit = std::min(a.gel.likely.si() * std::exp(a.gel.log_sd * z),
                                      a.shaping.likely.si() * std::exp(a.shaping.log_sd * z));
        late += hands > limit ? 1 : 0;
    }
    CHECK(late_probability(Hands{tasks, 0.5}, a) == Approx(static_cast<double>(late) / draws).margin(0.005));
}

TEST_CASE("the formulas of the hands' limits give the figures, where shaping binds and where gel does", "[cure]") {
    const job::Limits limits = test::usual_limits();
    const Model models[] = {Model{test::standard()}, Model{long_to_shape()}};
    const Case cases[] = {usual(3.0, 10.0), gels_first()};
    for (int i = 0; i < 2; ++i) {
        Working working;
        const Answer a = models[i].answer(cases[i].sleeve, cases[i].host, cases[i].conditions, limits, working);
        REQUIRE_FALSE(a.refused);
        int read = 0;
        for (const Step& step : working.steps()) {
            const std::string id{step.formula->id};
            if (id != "cure.crease_by" && id != "cure.inflate_by") continue;
            test::Symbols symbols;
            for (std::size_t k = 0; k < step.inputs().size(); ++k)
                symbols[std::string{step.formula->inputs[k].symbol}] = step.inputs()[k].value;
            // "z(p)" is read as a product: z times p is the quantile, -1.64485 at 5 % (Abramowitz & Stegun,
            // table 26.5).
            symbols["z"] = -1.64485 / 0.05;
            CAPTURE(i, id, step.formula->text);
            const double minutes = test::evaluate_text(step.formula->text, symbols).value / 60.0;
            CHECK(std::floor(minutes + 1e-6) * 60.0 == Approx(step.result).margin(1e-6));
            ++read;
        }
        CHECK(read == 2);
        CHECK((a.sheet.crease_by == a.sheet.gel - 1.0 * unit::minute) == (i == 1));
    }
}

TEST_CASE("a sleeve that is lost before the hands are through is refused by what really ends them", "[cure][error]") {
    job::Limits long_crease = test::usual_limits();
    long_crease.crease_step = 30.0 * unit::minute;
    const Answer stiff = test::ask(Model{test::fast()}, usual(3.0, 29.0, 29.0, 29.0), long_crease);
    REQUIRE(stiff.refused);
    CHECK_THAT(*stiff.refused, Catch::Contains("can no longer be shaped after"));
    const int minute = std::stoi(stiff.refused->substr(stiff.refused->find("after ") + 6));
    CHECK(minute == static_cast<int>(stiff.shaping.quantile(0.05).in(unit::minute)));
}

TEST_CASE("the firm's own rate of a resin divides every time of its chemistry", "[cure]") {
    // da/dt = f k g(a), at one temperature and without heat of its own: t f is the same for every f.
    job::Resin resin = test::standard();
    resin.heat_of_reaction = 1e-3 * unit::J_g;
    const Case c = usual(3.0, 20.0);
    const Answer sheet = test::ask(Model{resin}, c);
    resin.rate = 1.3;
    const Answer firm = test::ask(Model{resin}, c);
    CHECK(sheet.likely.gel / firm.likely.gel == Approx(1.3).epsilon(1e-3));
    CHECK(sheet.hard.likely / firm.hard.likely == Approx(1.3).epsilon(1e-3));
    CHECK(sheet.shaping.likely / firm.shaping.likely == Approx(1.3).epsilon(1e-3));
    CHECK(firm.rate_sd == Approx(sheet.rate_sd));
    CHECK(firm.release.share == Approx(sheet.release.share));
}

TEST_CASE("the firm's own spread stands in place of the fit's doubt of gelling, inside the data", "[cure]") {
    job::Resin resin = test::standard();
    const Answer sheet = test::ask(Model{resin}, usual(3.0, 10.0));
    resin.rate_spread = 0.05;
    const Answer firm = test::ask(Model{resin}, usual(3.0, 10.0));
    CHECK(firm.gel_rate_sd == Approx(std::log(1.05) / 1.2815515655446004));
    // Gel times say nothing of release, whose doubt stays at the form's own 0.08 or more however sure the firm is.
    CHECK(firm.rate_sd >= 0.08);
    job::Resin surest = test::standard();
    surest.rate_spread = 0.01;
    CHECK(test::ask(Model{surest}, usual(3.0, 10.0)).rate_sd >= 0.08);
    CHECK(firm.rate_sd < sheet.rate_sd);
    CHECK(firm.sheet.inflate_by >= sheet.sheet.inflate_by);
    CHECK(firm.sheet.let_down < sheet.sheet.let_down);
    // Far from its data it is as much wider as the sheet's own.
    CHECK(test::ask(Model{resin}, usual(3.0, 30.0)).gel_rate_sd > firm.gel_rate_sd);
    resin.rate_spread = 0.60;
    CHECK(test::ask(Model{resin}, usual(3.0, 10.0)).sheet.let_down > sheet.sheet.let_down);
}
