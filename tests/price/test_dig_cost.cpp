#include <rapidcheck.h>
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>

#include "scenario.hpp"
#include "support/working_off.hpp"

using namespace patchwright;
using namespace patchwright::price;
using scenario::Scenario;

namespace {

/// A yard in which likely, mean and sure are the same, so that the mean cost is the sum of the lines.
job::Yard sure_yard() {
    job::Yard yard = io::builtin_yard();
    yard.rates.material_spread = yard.rates.labour_spread = yard.rates.plant_spread = {1, 1, 1};
    yard.dig_rates.ground_spread = yard.dig_rates.access_spread = {1, 1, 1};
    for (auto& o : yard.dig_rates.outputs) {
        o.days_hard = {o.days_hard.likely, o.days_hard.likely, o.days_hard.likely};
        o.days_soft = o.days_hard;
    }
    yard.dig_rates.surface_crew_days = {0.75, 0.75, 0.75};
    yard.dig_rates.hand_factor = {2.5, 2.5, 2.5};
    yard.dig_rates.services_factor = {1.2, 1.2, 1.2};
    return yard;
}

/// Every way of cutting the row of places into trenches, every protection for each: the cheapest sum of lines.
Money cheapest_by_trying(const std::vector<excavation::Place>& places, const job::Dig& dig, const job::Yard& yard) {
    Money best{};
    bool any = false;
    const std::size_t n = places.size();
    for (std::size_t cuts = 0; cuts < (std::size_t{1} << (n - 1)); ++cuts) {
        std::vector<excavation::Place> holes{places[0]};
        for (std::size_t i = 1; i < n; ++i) {
            if ((cuts >> (i - 1)) & 1U) {
                holes.push_back(places[i]);
            } else {
                holes.back() = excavation::joined(holes.back(), places[i]);
            }
        }
        bool meet = false;
        for (std::size_t i = 1; i < holes.size(); ++i) {
            meet = meet || excavation::pit_span(holes[i - 1], yard.dig_rates).to >=
                               excavation::pit_span(holes[i], yard.dig_rates).from;
        }
        if (meet) continue;
        const std::function<void(std::size_t, DigWorks)> with = [&](std::size_t hole, DigWorks works) {
            if (hole == holes.size()) {
                const Money total = sum(dig_lines(works, dig, yard, off));
                if (!any || total < best) best = total;
                any = true;
                return;
            }
            const double depth = excavation::pit(holes[hole], dig, yard.dig_rates, excavation::Protection::box, off)
                                     .trench.depth.in(unit::m);
            for (const auto p : excavation::allowed_protections(depth * unit::m, dig.soil.value, yard.dig_rates)) {
                DigWorks more = works;
                more.pits.push_back(excavation::pit(holes[hole], dig, yard.dig_rates, p, off));
                more.team_days += more.pits.back().days_likely;
                more.mean_days = more.team_days;
                with(hole + 1, std::move(more));
            }
        };
        with(0, {});
    }
    return best;
}

}  // namespace

TEST_CASE("the cheapest holes are those found by trying all", "[price][dig][oracle]") {
    CHECK(rc::check("one to four places, every grouping, every protection", [] {
        const int count = *rc::gen::inRange(1, 5);
        std::vector<double> at;
        double x = 0.5;
        for (int i = 0; i < count; ++i) {
            x += *rc::gen::inRange(30, 400) * 1e-2;
            at.push_back(x);
        }
        Scenario s(at, *rc::gen::inRange(50, 700) * 1e-2);
        s.yard = sure_yard();
        s.yard.dig_rates.digger_minimum = scenario::eur(*rc::gen::inRange(0, 800));
        s.yard.dig_rates.box_per_day = scenario::eur(*rc::gen::inRange(0, 200));
        s.job.dig.surface.value = *rc::gen::element(job::Surface::grass, job::Surface::concrete);
        s.job.dig.soil.value = *rc::gen::element(job::Soil::a, job::Soil::c, job::Soil::rock);
        const auto places = s.places(s.patched);
        const Money tried = cheapest_by_trying(places, s.job.dig, s.yard);
        const Money found = sum(dig_lines(cheapest_dig(places, s.job.dig, s.yard, off), s.job.dig, s.yard, off));
        // Each line is rounded to the cent; the choice is made before rounding.
        const auto difference = (found - tried).in_cents();
        RC_ASSERT(difference >= 0);
        RC_ASSERT(difference <= 20);
    }));
}

TEST_CASE("the mean that what-ifs use is the sum of the lines where nothing is uncertain", "[price][dig]") {
    Scenario s({3.9, 9.1, 9.8, 15.0});
    s.yard = sure_yard();
    const auto places = s.places(s.patched);
    const DigMean mean = cheapest_dig_mean(places, s.job.dig, s.yard);
    const Money lines = sum(dig_lines(cheapest_dig(places, s.job.dig, s.yard, off), s.job.dig, s.yard, off));
    CHECK(mean.cents() == Approx(static_cast<double>(lines.in_cents())).margin(12));
    CHECK(cheapest_dig_mean({}, s.job.dig, s.yard).cents() == 0.0);
}

TEST_CASE("deeper is never cheaper to dig", "[price][dig][property]") {
    CHECK(rc::check("mean cost of the cheapest dig, any ground, any of the rules", [] {
        std::vector<double> at;
        double x = 0.5;
        for (int i = *rc::gen::inRange(1, 5); i > 0; --i) {
            x += *rc::gen::inRange(40, 400) * 1e-2;
            at.push_back(x);
        }
        Scenario s(at);
        s.job.dig.surface.value =
            *rc::gen::element(job::Surface::grass, job::Surface::block, job::Surface::asphalt, job::Surface::concrete);
        s.job.dig.soil.value = *rc::gen::element(job::Soil::a, job::Soil::b, job::Soil::c, job::Soil::rock);
        s.job.dig.hand_dig_only = *rc::gen::arbitrary<bool>();
        s.job.dig.services_near = *rc::gen::arbitrary<bool>();
        s.yard.dig_rates.width_by_d2321 = *rc::gen::arbitrary<bool>();
        s.yard.dig_rates.box_per_day = scenario::eur(*rc::gen::inRange(0, 300));
        s.yard.dig_rates.shoring.amount = scenario::eur(*rc::gen::inRange(0, 60));
        s.yard.dig_rates.digger_minimum = scenario::eur(*rc::gen::inRange(0, 900));
        if (*rc::gen::arbitrary<bool>()) {
            s.job.runs[0].water_table.value = *rc::gen::inRange(50, 300) * 1e-2 * unit::m;
        }
        auto places = s.places(s.patched);
        double before = 0.0;
        for (int cm = *rc::gen::inRange(30, 60); cm < 800; cm += 7) {
            for (auto& p : places) p.depth = cm * 1e-2 * unit::m;
            const double now = cheapest_dig_mean(places, s.job.dig, s.yard).cents();
            RC_ASSERT(now >= before - 1e-6);
            before = now;
        }
    }));
}

TEST_CASE("one more place is never cheaper to dig", "[price][dig][property]") {
    std::vector<double> at;
    double before = 0.0;
    for (const double x : {2.0, 4.1, 5.5, 9.0, 9.6, 14.0, 19.0}) {
        at.push_back(x);
        const Scenario s(at);
        const double now = cheapest_dig_mean(s.places(s.patched), s.job.dig, s.yard).cents();
        CHECK(now > before);
        before = now;
    }
}

TEST_CASE("pits that would meet are one trench, and order does not matter", "[price][dig]") {
    const Scenario s({9.1, 3.9, 9.8, 15.0});
    auto places = s.places(s.patched);
    const DigWorks works = cheapest_dig(places, s.job.dig, s.yard, off);
    REQUIRE(works.pits.size() == 3);
    CHECK(works.pits[1].defects == std::vector<std::string>{"A1", "A3"});
    CHECK(works.places == 4);
    std::reverse(places.begin(), places.end());
    const DigWorks reversed = cheapest_dig(places, s.job.dig, s.yard, off);
    CHECK(sum(dig_lines(reversed, s.job.dig, s.yard, off)) == sum(dig_lines(works, s.job.dig, s.yard, off)));
}

TEST_CASE("far pits stay apart where trenches are dear, close ones join where pits are", "[price][dig]") {
    Scenario s({4.0, 6.2});
    s.job.dig.surface.value = job::Surface::grass;
    s.yard.dig_rates.outputs.back().depth_to = 4.0 * unit::m;
    for (auto& o : s.yard.dig_rates.outputs) o.metres_soft = 100.0;  // a long trench is quick ...
    CHECK(cheapest_dig(s.places(s.patched), s.job.dig, s.yard, off).pits.size() == 1);
    for (auto& o : s.yard.dig_rates.outputs) o.metres_soft = 0.2;  // ... or very slow
    CHECK(cheapest_dig(s.places(s.patched), s.job.dig, s.yard, off).pits.size() == 2);
}

TEST_CASE("each circumstance of a dig is a line", "[price][dig]") {
    Scenario s({5.0});
    const auto has = [&](std::string_view words) {
        const auto lines = dig_lines(cheapest_dig(s.places(s.patched), s.job.dig, s.yard, off), s.job.dig, s.yard, off);
        return std::any_of(lines.begin(), lines.end(), [words](const Line& l) { return l.words == words; });
    };
    CHECK(has("Permit"));
    CHECK(has("Trace of services"));
    CHECK(has("Surface team"));
    CHECK_FALSE(has("Pump"));
    s.job.runs[0].water_table.value = 0.8 * unit::m;
    CHECK(has("Pump"));
    CHECK_FALSE(has("Asbestos cement, licensed waste"));
    s.job.runs[0].material = job::Material::asbestos_cement;
    CHECK(has("Asbestos cement, licensed waste"));
    CHECK_FALSE(has("Deep dig, extra"));
    s.job.runs[0].depth = 3.0 * unit::m;
    CHECK(has("Deep dig, extra"));
    CHECK_FALSE(has("Engineer's design of the support"));
    s.job.runs[0].depth = 6.5 * unit::m;
    CHECK(has("Engineer's design of the support"));
    CHECK(has("Digger"));
    s.job.dig.hand_dig_only = true;
    CHECK_FALSE(has("Digger"));
    CHECK(has("Dig by hand, tools"));
    s.job.dig.surface.value = job::Surface::grass;
    CHECK_FALSE(has("Surface team"));
}

TEST_CASE("the team comes once a day, the surface team once more", "[price][dig]") {
    for (const auto surface : {job::Surface::grass, job::Surface::concrete}) {
        for (const double depth : {0.8, 1.35, 2.5, 3.5}) {
            Scenario s({5.0}, depth);
            s.yard = sure_yard();  // the mean is the table's own day: 0.75, 1, 2.5 and 4 of them
            s.job.dig.surface.value = surface;
            const DigWorks works = cheapest_dig(s.places(s.patched), s.job.dig, s.yard, off);
            const int days = depth < 1.5 ? 1 : depth < 3.0 ? 3 : 4;
            CAPTURE(depth, works.mean_days);
            CHECK(works.visits == days + (surface == job::Surface::grass ? 0 : 1));
            const auto lines = dig_lines(works, s.job.dig, s.yard, off);
            const auto road = std::find_if(lines.begin(), lines.end(),
                                           [](const Line& l) { return l.words == "Road, there and back"; });
            REQUIRE(road != lines.end());
            CHECK(road->quantity ==
                  Approx(2.0 * works.visits * (s.yard.rates.travel_distance / s.yard.rates.travel_cost.per)));
        }
    }
}

TEST_CASE("the minimum hire of the digger is charged", "[price][dig]") {
    Scenario s({5.0}, 0.8);
    s.yard.dig_rates.digger_minimum = scenario::eur(500.0);
    const auto lines = dig_lines(cheapest_dig(s.places(s.patched), s.job.dig, s.yard, off), s.job.dig, s.yard, off);
    const auto hire =
        std::find_if(lines.begin(), lines.end(), [](const Line& l) { return l.words == "Digger, minimum hire"; });
    REQUIRE(hire != lines.end());
    CHECK(hire->amount == scenario::eur(500.0));
}

TEST_CASE("one dig of a single pit in the usual range", "[price][dig][reference]") {
    // A dig under hard surface at 1 to 1.5 m: 1500 to 4000 euros net: common practice, no source.
    for (const double depth : {1.0, 1.25, 1.5}) {
        Scenario s({5.0}, depth);
        s.works = {};
        Input in = s.input();
        const Money net = make_offer(in, off).dig.net;
        CAPTURE(depth, net.in_cents());
        CHECK(net >= scenario::eur(1500.0));
        CHECK(net <= scenario::eur(4000.0));
    }
}
