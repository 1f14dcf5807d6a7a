// The cure followed again, against an integration of its own: classical Runge-Kutta of the published rate law.
#include <cmath>

#include "patchwright/cure/followed.hpp"
#include "patchwright/io/read.hpp"
#include "patchwright/record/as_built.hpp"
#include "patchwright/units/error.hpp"
#include "record_of.hpp"

using namespace patchwright;

namespace {

/// Kamal & Sourour with DiBenedetto's glass temperature, as include/patchwright/cure/kinetics.hpp states them.
double rate(const cure::Kinetics& k, double a, double kelvin) {
    constexpr double gas = 8.31446261815324;  // SI 2019, exact
    const auto constant = [&](Frequency factor, MolarEnergy energy) {
        return factor.si() * std::exp(-energy.si() / (gas * kelvin));
    };
    const double k1 = constant(k.rate_1, k.energy_1), k2 = constant(k.rate_2, k.energy_2);
    double r = (k1 + k2 * std::pow(a, k.order_m)) * std::pow(1.0 - a, k.order_n);
    if (k.limit == cure::DiffusionLimit::glass) {
        const auto& g = k.glass;
        const double tg = g.start.in_kelvin() + (g.end - g.start).si() * g.lambda * a / (1.0 - (1.0 - g.lambda) * a);
        r /= 1.0 + std::exp((tg - kelvin - k.glass_offset.si()) / k.glass_width.si());
    }
    if (k.limit == cure::DiffusionLimit::conversion)
        r /= 1.0 +
             std::exp(k.conversion_sharpness * (a - k.conversion_limit_at_0_k - k.conversion_limit_per_k * kelvin));
    return r;
}

template <class Kelvin>
double integrated(const cure::Kinetics& k, double seconds, const Kelvin& kelvin) {
    constexpr double h = 5.0;
    double a = 0.0;
    for (double t = 0.0; t < seconds; t += h) {
        const double step = std::min(h, seconds - t);
        const double r1 = rate(k, a, kelvin(t));
        const double r2 = rate(k, a + 0.5 * step * r1, kelvin(t + 0.5 * step));
        const double r3 = rate(k, a + 0.5 * step * r2, kelvin(t + 0.5 * step));
        const double r4 = rate(k, a + step * r3, kelvin(t + step));
        a += step / 6.0 * (r1 + 2.0 * r2 + 2.0 * r3 + r4);
    }
    return a;
}

const job::Resin& resin_of(std::string_view id) { return *io::builtin_yard().find_resin(id); }
constexpr Duration minute = unit::minute;
Temperature celsius(double c) { return Temperature::celsius(c); }

}  // namespace

TEST_CASE("a sleeve followed along its notes has the conversion of the integrated rate law", "[record][cure][oracle]") {
    const auto* id = GENERATE("fast", "standard", "slow");
    const std::vector<cure::Note> notes{
        {0 * minute, celsius(15)}, {20 * minute, celsius(11)}, {90 * minute, celsius(14)}, {200 * minute, celsius(9)}};
    const auto kelvin = [&](double t) {
        const double m = t / 60.0;
        if (m < 20) return 273.15 + 15 - 4 * m / 20;
        if (m < 90) return 273.15 + 11 + 3 * (m - 20) / 70;
        return m < 200 ? 273.15 + 14 - 5 * (m - 90) / 110 : 273.15 + 9;
    };
    const cure::Model model{resin_of(id)};
    for (const double m : {60.0, 150.0, 300.0}) {
        std::vector<cure::Note> so_far;
        for (const auto& note : notes)
            if (note.after_mixing <= m * minute) so_far.push_back(note);
        // What comes after the last note stays as it was: so the last one must be the last that counts.
        const double until = so_far.back().after_mixing.si();
        const auto kept = [&](double t) { return kelvin(std::min(t, until)); };
        const auto followed = cure::follow_notes(resin_of(id), so_far, m * minute, io::builtin_yard().limits);
        CAPTURE(id, m);
        CHECK(followed.conversion == Approx(integrated(model.kinetics(), m * 60.0, kept)).margin(2e-3));
    }
}

TEST_CASE("deflated when it is likely just hard, a sleeve is soft in one case of two", "[record][cure]") {
    const auto& limits = io::builtin_yard().limits;
    const std::vector<cure::Note> notes{{0 * minute, celsius(10)}};
    const auto first = cure::follow_notes(resin_of("fast"), notes, 120 * minute, limits);
    REQUIRE(is_finite(first.hard));
    CHECK(cure::follow_notes(resin_of("fast"), notes, first.hard, limits).soft_probability == Approx(0.5).margin(0.01));
    double before = 1.0;
    for (const double share : {0.5, 0.8, 1.0, 1.2, 1.5, 2.0}) {
        const double soft = cure::follow_notes(resin_of("fast"), notes, share * first.hard, limits).soft_probability;
        CHECK(soft < before);
        before = soft;
    }
    // The wait that is told at the hole keeps the promise that it is told with.
    Working off = Working::off();
    const cure::Model model{resin_of("fast")};
    const auto left = model.time_left(notes, Duration{}, limits, off);
    const auto then = cure::follow_notes(resin_of("fast"), notes, left.let_down, limits);
    CHECK(then.soft_probability <= limits.soft_at_most + 1e-6);
    CHECK(then.soft_probability > 0.8 * limits.soft_at_most);
}

TEST_CASE("notes that cannot be are refused", "[record][cure][error]") {
    const auto& limits = io::builtin_yard().limits;
    const std::vector<cure::Note> later{{60 * minute, celsius(10)}};
    CHECK_THROWS_AS(cure::follow_notes(resin_of("fast"), {}, 60 * minute, limits), InputError);
    CHECK_THROWS_AS(cure::follow_notes(resin_of("fast"), later, 30 * minute, limits), InputError);
    const std::vector<cure::Note> at_once{{0 * minute, celsius(10)}};
    CHECK_THROWS_AS(cure::follow_notes(resin_of("fast"), at_once, Duration{}, limits), InputError);
}

TEST_CASE("as built, a sleeve without heat of its own in a pipe as warm as all else cures as at constant temperature",
          "[record][cure][oracle]") {
    auto yard = io::builtin_yard();
    for (auto& r : yard.resins) r.heat_of_reaction = 1.0 * unit::J_g;
    const auto planned = test::planned(
        R"({"patchwright_job": 1, "reference": "T", "date": "2026-04-14",
"site": {"air_temperature": "15 C", "resin_temperature": "15 C", "van_temperature": "15 C"},
"runs": [{"id": "A", "length": "20 m", "bore": "100 mm", "material": "clay", "depth": "1.2 m", "ground_temperature": "15 C",
  "defects": [{"id": "A1", "at": "8 m", "kind": "fissure"}]}]})",
        yard);
    REQUIRE(planned.plan.patches.size() == 1);
    auto record = test::perfect_day(planned);
    const cure::Model model{yard.resins[static_cast<std::size_t>(planned.plan.patches[0].resin)]};
    auto& noted = record.patches[0];
    noted.witness = {};
    for (const int minutes : {90, 150, 240}) {
        noted.deflated_at = ClockTime{(noted.mixed_at->minutes + minutes) % 1440};
        const auto built = record::as_built(planned.plan, record);
        REQUIRE(built.patches[0].cure);
        CAPTURE(minutes);
        CHECK(built.patches[0].cure->conversion ==
              Approx(integrated(model.kinetics(), 60.0 * minutes, [](double) { return 288.15; })).margin(5e-3));
        // Where nothing warms the sleeve but its pipe the witness is as soft as the sleeve.
        CHECK_FALSE(built.patches[0].cure->witness_soft);
        auto looked = record;
        looked.patches[0].witness = {job::YesNo::yes, noted.deflated_at};
        const auto beside = record::as_built(planned.plan, looked);
        REQUIRE(beside.patches[0].cure->witness_soft);
        CHECK(*beside.patches[0].cure->witness_soft == Approx(built.patches[0].cure->soft_probability).margin(0.02));
        CHECK(beside.patches[0].cure->soft_probability == built.patches[0].cure->soft_probability);
    }
}

TEST_CASE("the pipe that a cure is followed in is the mean of what was noted while it lay there", "[record][cure]") {
    const auto planned = test::planned(test::project_file("examples/demo.json"));
    auto record = test::perfect_day(planned);
    auto& noted = record.patches.front();
    noted.temperatures = {{*noted.inflated_at, celsius(7), job::Probe::pipe},
                          {*noted.deflated_at, celsius(11), job::Probe::witness}};
    const auto built = record::as_built(planned.plan, record);
    REQUIRE(built.patches.front().cure);
    CHECK(built.patches.front().cure->pipe.in_celsius() == Approx(9.0));
    CHECK(built.patches.front().cure->notes == 2);
    CHECK_FALSE(built.patches.front().cure->at_sleeve);
}

TEST_CASE("a probe at the sleeve is followed in place of the pipe", "[record][cure]") {
    const auto planned = test::planned(test::project_file("examples/demo.json"));
    auto record = test::perfect_day(planned);
    auto& noted = record.patches.front();
    const auto in_pipe = record::as_built(planned.plan, record);
    for (auto& t : noted.temperatures) t = {t.at, celsius(25), job::Probe::sleeve};
    const auto warm = record::as_built(planned.plan, record);
    REQUIRE(warm.patches.front().cure);
    CHECK(warm.patches.front().cure->at_sleeve);
    CHECK(warm.patches.front().cure->conversion > in_pipe.patches.front().cure->conversion);
}

TEST_CASE("a sleeve let down far too early is told as soft", "[record][cure]") {
    const auto planned = test::planned(test::project_file("examples/demo.json"));
    auto record = test::perfect_day(planned);
    auto& noted = record.patches.front();
    noted.deflated_at = ClockTime{noted.mixed_at->minutes + 100};
    const auto built = record::as_built(planned.plan, record);
    CHECK(built.patches.front().cure->soft_probability > 0.9);
    CHECK(built.patches.front().checks.back().verdict == record::Verdict::missed);
    CHECK_FALSE(built.patches.front().good());
}
