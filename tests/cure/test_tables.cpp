#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <initializer_list>
#include <utility>

#include "cases.hpp"
#include "patchwright/units/error.hpp"

using namespace patchwright;
using namespace patchwright::cure;
using test::Case;
using test::usual;

namespace {
std::vector<Temperature> from_2_to_25() {
    std::vector<Temperature> t;
    for (int c = 2; c <= 25; ++c) t.push_back(Temperature::celsius(c));
    return t;
}

std::vector<Temperature> celsius(std::initializer_list<double> list) {
    std::vector<Temperature> t;
    for (const double c : list) t.push_back(Temperature::celsius(c));
    return t;
}

/// Its own working time lets it be shaped until shortly before it gels.
job::Resin quick_to_gel() {
    job::Resin r = test::fast();
    r.id = "quick to gel";
    r.data.push_back({job::DataPointKind::working, Temperature::celsius(20.0), 70.0 * unit::minute, {}, {}});
    return r;
}

/// The promise itself: what may be over or gelled by then with that chance. Work that takes longer is no reason for the
/// tables to be silent, a sleeve that may not be used is.
Duration last_inflation(const Answer& a, const job::Limits& limits) {
    if (a.refused && a.refused->find("before the sleeve is inflated") == std::string::npos) return {};
    return std::min(a.shaping.quantile(limits.late_at_most), a.gel.quantile(limits.late_at_most)) - limits.crease_step;
}

/// As the crew reads them: between two rows the warmer one; where there is none, do not inflate.
Duration shorter_of_both(const std::vector<LetDownRow>& by_pipe, const std::vector<InflateRow>& by_air,
                         const Conditions& measured) {
    const auto pipe =
        std::find_if(by_pipe.begin(), by_pipe.end(), [&](const LetDownRow& row) { return row.pipe >= *measured.pipe; });
    const auto air = std::find_if(by_air.begin(), by_air.end(), [&](const InflateRow& row) {
        return row.resin >= *measured.resin && row.air >= *measured.air;
    });
    if (pipe == by_pipe.end() || air == by_air.end()) return {};
    return std::min(pipe->inflate_by, air->inflate_by);
}
}  // namespace

TEST_CASE("let-down against the measured pipe temperature", "[cure]") {
    const job::Limits limits = test::usual_limits();
    for (const job::Resin& resin : {test::fast(), test::standard(), test::slow()}) {
        const Model model{resin};
        const Case c = usual(3.0, 10.0);
        const auto rows = model.let_down_table(c.sleeve, c.host, c.conditions, limits, from_2_to_25());
        CAPTURE(resin.id);
        REQUIRE(rows.size() == 21);  // none below the resin's 5 °C
        CHECK(rows.front().pipe == Temperature::celsius(5.0));
        for (std::size_t i = 0; i < rows.size(); ++i) {
            CHECK(rows[i].without_exotherm >= rows[i].let_down);
            if (i > 0) {
                CHECK(rows[i].let_down < rows[i - 1].let_down);
                CHECK(rows[i].without_exotherm < rows[i - 1].without_exotherm);
                CHECK(rows[i].inflate_by <= rows[i - 1].inflate_by);
                CHECK(rows[i].gel < rows[i - 1].gel);
            }
        }
        // A row is what the sheet would print had that temperature been measured, and nothing else, to the minute.
        Case measured = c;
        measured.conditions.pipe_measured = true;
        const Answer expected = test::ask(model, measured);
        CHECK(rows[5].let_down == expected.sheet.let_down);
        CHECK(rows[5].inflate_by == expected.sheet.inflate_by);
        CHECK(rows[5].gel == expected.sheet.gel);
        // What is measured is better known than what was calculated before the day: no longer a wait than the card's.
        CHECK(rows[5].let_down < test::ask(model, c).sheet.let_down);
        // Nobody has measured resin and air yet: the hands get no more time than the card gives them.
        CHECK(rows[5].inflate_by == test::ask(model, c).sheet.inflate_by);
        // Own heat is worth something, more in the warm: common practice, no source, 10-25 % at 3 mm.
        CHECK(rows[5].let_down < 0.99 * rows[5].without_exotherm);
    }
}

TEST_CASE("inflate-by against air temperature", "[cure]") {
    const Model model{test::standard()};
    const Case c = usual(3.0, 10.0, 20.0, 18.0);
    std::vector<Temperature> airs;
    for (int t = 0; t <= 30; t += 5) airs.push_back(Temperature::celsius(t));
    const auto rows = model.inflate_table(c.sleeve, c.host, c.conditions, test::usual_limits(), airs);
    REQUIRE(rows.size() == airs.size());
    for (std::size_t i = 0; i < rows.size(); ++i) {
        CHECK(rows[i].resin == Temperature::celsius(18.0));
        CHECK(rows[i].inflate_by < rows[i].crease_by);
        if (i > 0) CHECK(rows[i].inflate_by < rows[i - 1].inflate_by);
        if (i > 0) CHECK(rows[i].pour_by < rows[i - 1].pour_by);
    }
    Case measured = c;
    measured.conditions.others_measured = true;
    const Answer a = test::ask(model, measured);
    CHECK(rows[4].inflate_by == a.sheet.inflate_by);
    CHECK(rows[4].crease_by == a.sheet.crease_by);
    CHECK(rows[4].pour_by == a.sheet.pour_by);
}

TEST_CASE("a row of either table is what an answer for it prints, and there is none where that is a refusal",
          "[cure]") {
    const job::Limits limits = test::usual_limits();
    const std::vector<Temperature> list = celsius({5, 10, 15, 20, 25, 28, 30});
    job::Resin hot = test::fast();  // heats a thick sleeve too far in the warm
    hot.highest_safe = Temperature::celsius(70.0);
    Case thick = usual(9.0, 10.0, 15.0, 15.0);
    Case warm = usual(3.0, 15.0, 15.0, 15.0);  // gels while the hands are still at it
    warm.conditions.heating.medium = Heating::Medium::water;
    warm.conditions.heating.points = {{Duration{}, Temperature::celsius(70.0)}};
    int rows = 0, none = 0, gel_binds = 0;
    for (const auto& [resin, c] : {std::pair{hot, thick}, std::pair{quick_to_gel(), warm}}) {
        const Model model{resin};
        const auto by_pipe = model.let_down_table(c.sleeve, c.host, c.conditions, limits, list);
        const auto by_air = model.inflate_table(c.sleeve, c.host, c.conditions, limits, list);
        for (const Temperature t : list) {
            CAPTURE(resin.id, t.in_celsius());
            Case pipe = c, air = c;
            pipe.conditions.pipe.value = t;
            pipe.conditions.pipe_measured = true;
            air.conditions.air.value = air.conditions.van.value = t;
            air.conditions.others_measured = true;
            const Answer in_pipe = test::ask(model, pipe, limits), in_air = test::ask(model, air, limits);
            const auto p = std::find_if(by_pipe.begin(), by_pipe.end(), [&](const auto& r) { return r.pipe == t; });
            const auto a = std::find_if(by_air.begin(), by_air.end(), [&](const auto& r) { return r.air == t; });
            REQUIRE((p == by_pipe.end()) == in_pipe.refused.has_value());
            REQUIRE((a == by_air.end()) == in_air.refused.has_value());
            rows += p != by_pipe.end() ? 1 : 0;
            none += p == by_pipe.end() ? 1 : 0;
            if (p != by_pipe.end()) CHECK(p->let_down == in_pipe.sheet.let_down);
            if (p != by_pipe.end()) CHECK(p->inflate_by <= in_pipe.sheet.inflate_by);
            if (a == by_air.end()) continue;
            gel_binds += in_air.sheet.crease_by == in_air.sheet.gel - 1.0 * unit::minute ? 1 : 0;
            CHECK(a->inflate_by == in_air.sheet.inflate_by);
            CHECK(a->crease_by == in_air.sheet.crease_by);
        }
    }
    CHECK(rows >= 4);
    CHECK(none >= 2);
    CHECK(gel_binds >= 1);
}

TEST_CASE("the shorter of both tables is safe whatever of pipe, resin and air was measured warmer", "[cure]") {
    const job::Limits limits = test::usual_limits();
    const std::vector<Temperature> pipes = celsius({5, 6, 8, 10, 12, 15, 20, 25, 28});
    struct Expected {
        double pipe, air, resin;
    };
    for (const job::Resin& resin : {test::fast(), test::standard(), quick_to_gel()})
        for (const auto& [pipe, air, mix] : {Expected{10, 15, 15}, Expected{15, 10, 12}, Expected{10, 20, 6}}) {
            const Model model{resin};
            const Case expected = usual(3.0, pipe, air, mix);
            std::vector<Temperature> airs{*expected.conditions.air}, resins{*expected.conditions.resin};
            for (const double warmer : {15.0, 20.0, 28.0}) {
                if (warmer > air) airs.push_back(Temperature::celsius(warmer));
                if (warmer > mix) resins.push_back(Temperature::celsius(warmer));
            }
            const auto by_pipe =
                model.let_down_table(expected.sleeve, expected.host, expected.conditions, limits, pipes);
            std::vector<InflateRow> by_air;
            for (const Temperature r : resins) {
                Conditions c = expected.conditions;
                c.resin.value = r;
                const auto rows = model.inflate_table(expected.sleeve, expected.host, c, limits, airs);
                by_air.insert(by_air.end(), rows.begin(), rows.end());
            }
            int read = 0;
            for (const double p : {6.0, 9.0, 10.0, 13.0, 15.0, 18.0, 20.0, 24.0, 28.0})
                for (const double a : {5.0, 10.0, 14.0, 17.0, 20.0, 26.0})
                    for (const double r : {6.0, 12.0, 15.0, 21.0, 28.0}) {
                        Case measured = usual(3.0, p, a, r);
                        measured.conditions.pipe_measured = measured.conditions.others_measured = true;
                        const Answer own = test::ask(model, measured, limits);
                        const Duration most = last_inflation(own, limits);
                        const Duration rule = shorter_of_both(by_pipe, by_air, measured.conditions);
                        read += rule > Duration{} ? 1 : 0;
                        CAPTURE(resin.id, pipe, air, mix, p, a, r, rule.in(unit::minute), most.in(unit::minute));
                        CHECK(rule <= most);
                    }
            CHECK(read > 60);
        }
}

TEST_CASE("inflated late: what is left, and the let-down that follows", "[cure]") {
    const Model model{test::standard()};
    Case c = usual(3.0, 10.0, 15.0);
    c.conditions.wet_out = 8.0 * unit::minute;
    c.conditions.load = 4.0 * unit::minute;
    c.conditions.position = 5.0 * unit::minute;
    const std::vector<Duration> late{0.0 * unit::s, 5.0 * unit::minute, 15.0 * unit::minute, 2.0 * unit::h};
    const auto rows = model.late_table(c.sleeve, c.host, c.conditions, test::usual_limits(), late);
    REQUIRE(rows.size() == late.size());
    const Answer a = test::ask(model, c);
    CHECK(rows[0].spare == a.sheet.inflate_by - 19.0 * unit::minute);
    CHECK(rows[0].in_time);
    CHECK(rows[0].spare - rows[1].spare == 5.0 * unit::minute);
    CHECK_FALSE(rows[3].in_time);
    // Minutes in air that is warmer than the pipe bring the cure forward.
    CHECK(rows[2].let_down < rows[0].let_down);
    const std::vector<Duration> negative{-1.0 * unit::s};
    CHECK_THROWS_AS(model.late_table(c.sleeve, c.host, c.conditions, test::usual_limits(), negative), RangeError);
}

TEST_CASE("the time left from noted temperatures", "[cure]") {
    const Model model{test::standard()};
    const job::Limits limits = test::usual_limits();
    Working working;
    const std::vector<Note> steady{{10.0 * unit::minute, Temperature::celsius(12.0)}};
    const Remaining r = model.time_left(steady, 60.0 * unit::minute, limits, working);
    REQUIRE(working.steps().size() == 1);
    CHECK(working.steps()[0].result == r.let_down_left.si());

    // At one temperature the dose is the isothermal time of the slow side: the band is the only unknown factor.
    const Duration likely = isothermal_time(model.kinetics(), 0.0, 0.577, Temperature::celsius(12.0));
    const double slow = (r.gel_left + 60.0 * unit::minute) / likely;
    CHECK(slow > 1.15);
    CHECK(slow < 1.60);

    // Time passes: what is left falls by as much.
    Working off = Working::off();
    const Remaining later = model.time_left(steady, 90.0 * unit::minute, limits, off);
    CHECK(later.let_down_left.si() == Approx(r.let_down_left.si() - 1800.0).epsilon(2e-3));
    CHECK(later.conversion > r.conversion);

    // A warmer note shortens, a colder one lengthens.
    const auto left = [&](double celsius) {
        const std::vector<Note> notes{{10.0 * unit::minute, Temperature::celsius(12.0)},
                                      {60.0 * unit::minute, Temperature::celsius(celsius)}};
        return model.time_left(notes, 60.0 * unit::minute, limits, off).let_down_left;
    };
    CHECK(left(16.0) < left(12.0));
    CHECK(left(12.0) < left(8.0));

    // Long after, nothing is left.
    CHECK(model.time_left(steady, 48.0 * unit::h, limits, off).let_down_left.si() < 0.0);
    CHECK(model.time_left(steady, 48.0 * unit::h, limits, off).working_left.si() < 0.0);

    const std::vector<Note> none;
    CHECK_THROWS_AS(model.time_left(none, 1.0 * unit::h, limits, off), InputError);
    const std::vector<Note> backwards{{20.0 * unit::minute, Temperature::celsius(12.0)},
                                      {10.0 * unit::minute, Temperature::celsius(12.0)}};
    CHECK_THROWS_AS(model.time_left(backwards, 1.0 * unit::h, limits, off), InputError);
    CHECK_THROWS_AS(model.time_left(steady, 5.0 * unit::minute, limits, off), InputError);
}

TEST_CASE("points of the cure curve", "[cure]") {
    const Model model{test::standard()};
    const Case c = usual(3.0, 10.0);
    const auto curve = model.curve(c.sleeve, c.host, c.conditions, test::usual_limits(), Side::late);
    REQUIRE(curve.size() > 40);
    CHECK(curve.front().time == Duration{});
    CHECK(curve.front().least_conversion == 0.0);
    CHECK(curve.back().time >= test::ask(model, c).sheet.let_down);
    for (std::size_t i = 1; i < curve.size(); ++i) {
        CHECK(curve[i].time > curve[i - 1].time);
        CHECK(curve[i].least_conversion >= curve[i - 1].least_conversion);
        CHECK(curve[i].glass >= curve[i - 1].glass);
    }
    CHECK(curve.back().least_conversion > 0.577);
}
