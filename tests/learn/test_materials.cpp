// Resins learned from records: their rate against the data sheet, and how much of them is used.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <random>

#include "patchwright/io/read.hpp"
#include "patchwright/learn/learn.hpp"
#include "patchwright/plan/plan.hpp"
#include "patchwright/record/measured.hpp"
#include "patchwright/sheet/learn.hpp"
#include "support/project_file.hpp"

using namespace patchwright;
using namespace patchwright::learn;

namespace {

const plan::Plan& plan_of(const char* file) {
    const auto made = [](const char* name) {
        const auto job = io::read_job(test::project_file(name), name);
        plan::Options options;
        options.price = options.tables = false;
        return plan::make_plan(*job.value, io::builtin_yard(), options);
    };
    static const plan::Plan demo = made("examples/demo.json"), slab = made("examples/us-slab.json");
    return std::string_view{file} == "demo" ? demo : slab;
}

ClockTime clock(double minutes) { return {static_cast<int>(std::lround(minutes)) % (24 * 60)}; }

/// Everything as it was planned, of the sleeves of the demonstration.
job::Record as_planned() {
    const auto& plan = plan_of("demo");
    job::Record record;
    record.job = plan.job->reference;
    for (std::size_t i = 0; i < plan.patches.size(); ++i) {
        const auto& p = plan.patches[i];
        auto& r = record.patches.emplace_back();
        r.id = p.id;
        r.mixed_at = ClockTime{plan.schedule.patches[i].mix};
        r.date = plan.dates[static_cast<std::size_t>(plan.schedule.patches[i].day)];
        r.pipe_temperature = *p.conditions.pipe;
        r.resin_temperature = *p.conditions.resin;
        r.air_temperature = *p.conditions.air;
    }
    return record;
}

/// The model's gel time, minutes, as the record's temperatures have it.
double gel_minutes(const job::PatchRecord& r) {
    const auto& plan = plan_of("demo");
    const auto& p =
        *std::find_if(plan.patches.begin(), plan.patches.end(), [&](const auto& q) { return q.id == r.id; });
    Working off = Working::off();
    return cure::Model{plan.resin_of(p)}
        .answer_without_pot(p.sleeve, p.surroundings, record::as_measured(r, p, {}, unit::h), plan.yard->limits, off)
        .gel.likely.in(unit::minute);
}

Learned learned_from(const job::Record& record) {
    return learn::learn({record}, io::builtin_yard(), {plan_of("demo")});
}

/// Standard normal and chi-squared numbers; not by distributions of the library, which differ between systems.
class Numbers {
public:
    double normal() {
        return std::sqrt(-2.0 * std::log(uniform())) * std::cos(2.0 * 3.14159265358979323846 * uniform());
    }
    double chi_squared(int degrees) {
        double sum = 0.0;
        for (int i = 0; i < degrees; ++i) sum += std::pow(normal(), 2);
        return sum;
    }

private:
    double uniform() { return (static_cast<double>(engine_()) + 0.5) / 4294967296.0; }
    std::mt19937 engine_{1610};
};

}  // namespace

TEST_CASE("resin that gelled and was used as planned teaches nothing but confidence", "[learn]") {
    auto record = as_planned();
    for (auto& r : record.patches) {
        r.gelled_at = clock(r.mixed_at->minutes + gel_minutes(r));
        const auto& p = *std::find_if(plan_of("demo").patches.begin(), plan_of("demo").patches.end(),
                                      [&](const auto& q) { return q.id == r.id; });
        r.part_a = p.need.part_a;
        r.part_b = p.need.part_b;
        r.left_over = p.need.total - p.need.in_sleeve();
    }
    const auto learned = learned_from(record);
    REQUIRE(learned.resins.size() == 1);
    const auto& fast = learned.resins.front();
    CHECK(fast.id == "fast");
    CHECK(fast.noted == static_cast<int>(record.patches.size()));
    // Times are noted in whole minutes: half a minute of an hour and a half.
    CHECK(fast.after == Approx(1.0).margin(0.006));
    CHECK(fast.spread_after < fast.spread_before);
    CHECK(fast.least < fast.after);
    CHECK(fast.most > fast.after);
    REQUIRE(learned.excess);
    CHECK(learned.excess->noted == static_cast<int>(record.patches.size()));
    CHECK(learned.excess->after == Approx(learned.excess->before).margin(1e-9));
    CHECK(learned.excess->nine_in_ten > learned.excess->most);
    CHECK(learned.excess->most > learned.excess->after);
    CHECK(learned.unused.empty());
}

TEST_CASE("a quicker resin moves its rate in proportion to what is noted", "[learn]") {
    auto record = as_planned();
    for (auto& r : record.patches) r.gelled_at = clock(r.mixed_at->minutes + gel_minutes(r) / 1.25);
    const auto n = static_cast<double>(record.patches.size());
    // By hand: the sheet counts as one sleeve with ln f = 0, so m' = n ln 1.25 / (n + 1).
    CHECK(learned_from(record).resins.at(0).after == Approx(std::pow(1.25, n / (n + 1.0))).epsilon(0.006));
}

TEST_CASE("a mix counts once, with the felt of all its sleeves", "[learn]") {
    auto record = as_planned();
    record.patches.resize(2);
    auto &first = record.patches[0], &second = record.patches[1];
    second.mixed_at = first.mixed_at;
    second.date = first.date;
    const auto& plan = plan_of("demo");
    Mass wanted{};
    for (const auto& p : plan.patches)
        if (p.id == first.id || p.id == second.id) wanted += p.need.in_sleeve();
    const double before = plan.yard->limits.resin_excess;
    for (auto* r : {&first, &second}) {
        r->part_a = 1.1 * wanted;
        r->part_b = 0.2 * wanted;
        r->left_over = 0.1 * wanted;
    }
    const auto excess = learned_from(record).excess;
    REQUIRE(excess);
    CHECK(excess->noted == 1);
    // By hand: 1.2 of the planned in one mix, against five of the yard's own at 1.
    CHECK(1.0 + excess->after == Approx((1.0 + before) * std::pow(1.2, 1.0 / 6.0)));
}

TEST_CASE("what a record cannot say of resin is listed with its reason", "[learn]") {
    const auto said = [](const Learned& learned, std::string_view words) {
        return std::any_of(learned.unused.begin(), learned.unused.end(),
                           [&](const std::string& line) { return line.find(words) != std::string::npos; });
    };
    auto record = as_planned();
    record.patches[0].gelled_at = clock(record.patches[0].mixed_at->minutes + 90);
    const auto alone = learn::learn({record}, io::builtin_yard());
    CHECK(alone.resins.empty());
    CHECK(said(alone, "without its job (--jobs)"));
    record.patches[0].pipe_temperature.reset();
    record.patches[1].gelled_at = record.patches[1].mixed_at;
    record.patches[2].left_over = 100.0 * unit::g;
    const auto learned = learned_from(record);
    CHECK(learned.resins.empty());
    CHECK_FALSE(learned.excess);
    CHECK(said(learned, "no temperature of the pipe was noted"));
    CHECK(said(learned, "mixing was not noted"));
    CHECK(said(learned, "weights or the time of mixing were not noted"));
    // A bag in the pipe says nothing of a sleeve with warm air in it.
    const auto& slab = plan_of("slab");
    REQUIRE(slab.patches.front().heater >= 0);
    job::Record heated;
    heated.job = slab.job->reference;
    auto& r = heated.patches.emplace_back();
    r.id = slab.patches.front().id;
    r.mixed_at = ClockTime{540};
    r.gelled_at = ClockTime{600};
    r.pipe_temperature = Temperature::celsius(17.0);
    CHECK(said(learn::learn({heated}, io::builtin_yard(), {slab}), "is not heated as the sleeve is"));
}

TEST_CASE("of simulated firms the rate of their resin lies in the band as often as the band says",
          "[learn][simulation]") {
    // Firms as the prior has them: half of the sheet's doubt is the resin's, half that of single sleeves, the variance
    // itself s^2 v / chi^2(v). Noted in whole minutes, as on a card.
    auto record = as_planned();
    std::vector<double> gel;
    for (const auto& r : record.patches) gel.push_back(gel_minutes(r));
    for (auto& r : record.patches) r.gelled_at = r.mixed_at;
    const auto prior_sd = [&] {
        auto one = as_planned();
        one.patches.resize(1);
        one.patches[0].gelled_at = clock(one.patches[0].mixed_at->minutes + gel[0]);
        return std::log1p(learned_from(one).resins.at(0).spread_before) / 1.2815515655446004 / std::sqrt(2.0);
    }();
    Numbers numbers;
    constexpr int firms = 1200;
    int inside = 0;
    for (int firm = 0; firm < firms; ++firm) {
        const double sd = prior_sd * std::sqrt(durations_count_as / numbers.chi_squared(5));
        const double rate = std::exp(sd * numbers.normal());
        for (std::size_t i = 0; i < gel.size(); ++i) {
            auto& r = record.patches[i];
            r.gelled_at = clock(r.mixed_at->minutes + gel[i] / (rate * std::exp(sd * numbers.normal())));
        }
        const auto learned = learned_from(record).resins.at(0);
        inside += learned.least <= rate && rate <= learned.most ? 1 : 0;
    }
    // 80 %, within four standard errors of a simulation of that size: sqrt(0.8 x 0.2 / 1200) = 0.0115.
    CHECK(static_cast<double>(inside) / firms == Approx(0.8).margin(0.046).epsilon(0));
}

TEST_CASE("of simulated firms the resin that they use lies in the band as often as the band says",
          "[learn][simulation]") {
    auto record = as_planned();
    const auto& plan = plan_of("demo");
    const double before = plan.yard->limits.resin_excess;
    Numbers numbers;
    constexpr int firms = 4000;
    int inside = 0;
    for (int firm = 0; firm < firms; ++firm) {
        const double sd = consumption_sd * std::sqrt(durations_count_as / numbers.chi_squared(5));
        const double factor = std::exp(sd / std::sqrt(durations_count_as) * numbers.normal());
        for (auto& r : record.patches) {
            const auto& p =
                *std::find_if(plan.patches.begin(), plan.patches.end(), [&](const auto& q) { return q.id == r.id; });
            r.part_a = 2.0 * p.need.in_sleeve();
            r.part_b = p.need.in_sleeve();
            r.left_over = (3.0 - factor * std::exp(sd * numbers.normal())) * p.need.in_sleeve();
        }
        const auto excess = learned_from(record).excess;
        const double own = std::clamp(factor * (1.0 + before) - 1.0, 0.0, 1.0);
        inside += excess->least <= own && own <= excess->most ? 1 : 0;
    }
    // Standard error 0.0063. A firm under its voids' need counts as one at it, which the yard file takes at least.
    CHECK(static_cast<double>(inside) / firms == Approx(0.8).margin(0.026).epsilon(0));
}

TEST_CASE("a yard with what was learned of its resins is read, and its plans use it", "[learn]") {
    Learned learned;
    learned.records = 1;
    learned.resins.push_back({"fast", 1.0, 1.2, 0.15, 0.08, 6, 1.1, 1.3});
    learned.excess = LearnedExcess{0.15, 0.20, 6, 0.17, 0.23, 0.27};
    for (
        const std::string own :
        {R"({})",
         R"({"patchwright_yard": 1, "extends": "builtin", "name": "Ours", "resins": [{"id": "slow", "tolerates_damp": true}],
                       "durations": {"load": {"low": "3 min", "likely": "4 min", "high": "6 min", "persons": 1}}})"}) {
        const auto text = sheet::learned_yard(learned, own == "{}" ? std::string{} : own);
        const auto yard = io::read_yard(text, "learned.json", cure::resin_faults);
        for (const auto& d : yard.diagnostics) UNSCOPED_INFO(d.message);
        REQUIRE(yard);
        const auto& fast = *yard.value->find_resin("fast");
        CHECK(fast.rate == Approx(1.2));
        CHECK(fast.rate_spread == Approx(0.08));
        CHECK(yard.value->limits.resin_excess == Approx(0.20));
        CHECK(yard.value->find_resin("standard")->rate == 1.0);
        if (own != "{}") {
            CHECK(yard.value->name == "Ours");
            CHECK(yard.value->find_resin("slow")->tolerates_damp);
            CHECK(yard.value->durations.load.persons == 1);
        }
        plan::Options options;
        options.price = options.tables = false;
        const auto& before = plan_of("demo");
        const auto after = plan::make_plan(*before.job, *yard.value, options);
        REQUIRE(after.patches.size() == before.patches.size());
        for (const auto& was : before.patches) {
            // The day's order may be another.
            const auto now = std::find_if(after.patches.begin(), after.patches.end(), [&](const plan::Patch& p) {
                return p.run == was.run && p.defects == was.defects;
            });
            REQUIRE(now != after.patches.end());
            CAPTURE(was.id);
            CHECK(now->need.total > was.need.total);
            CHECK(now->cure.likely.gel < was.cure.likely.gel);
            CHECK(now->cure.gel_rate_sd == Approx(std::log(1.08) / 1.2815515655446004));
        }
    }
}
