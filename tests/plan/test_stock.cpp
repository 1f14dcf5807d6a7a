// What stands in the yard against what the pipe asks for: bores, lengths, lines, walls by resin.
#include <algorithm>
#include <catch2/catch.hpp>
#include <string>

#include "patchwright/io/read.hpp"
#include "patchwright/plan/plan.hpp"
#include "support/jobs.hpp"

using namespace patchwright;

namespace {

/// One fissure of `length` from 6 m on in a straight clay drain with both ends open, one metre of water over the
/// invert.
job::Job fissure(Length bore, Length length) {
    job::Job job = test::must_read(R"({
      "patchwright_job": 1, "reference": "stock", "site": {"start": "06:00", "finish": "20:00", "travel": "10 min"},
      "runs": [{"id": "A", "from": "near", "to": "far", "length": "18 m", "bore": "100 mm", "material": "clay",
                "depth": "1.50 m", "water_table": "0.50 m", "ground_temperature": "12 C", "access": ["near", "far"],
                "defects": [{"id": "A1", "at": "6.00 m", "kind": "fissure", "size": "2 mm"}]}]})");
    job.runs.front().bore = bore;
    job.runs.front().defects.front().to = 6.0 * unit::m + length;
    return job;
}

bool said(const std::vector<std::string>& lines, const std::string& words) {
    return std::any_of(lines.begin(), lines.end(),
                       [&](const std::string& line) { return line.find(words) != std::string::npos; });
}

}  // namespace

TEST_CASE("the demonstration yard serves small drains of every size of the trade", "[plan][stock]") {
    // Scope of the program: 50 to 200 mm; sizes common practice, no source.
    const auto yard = io::builtin_yard();
    for (const double bore : {50.0, 75.0, 100.0, 125.0, 150.0, 175.0, 200.0}) {
        CAPTURE(bore);
        const auto plan = plan::make_plan(fissure(bore * unit::mm, 0.3 * unit::m), yard);
        REQUIRE(plan.patches.size() == 1);
        CHECK(plan.runs.front().unanswered.empty());
        // Felt of 2 to 3 mm in 50 to 70 mm, to 6 mm in 200 mm; the thinnest wall of the yard is 3 mm.
        CHECK(plan.patches.front().felt.installed >= 3.0 * unit::mm);
        CHECK(plan.patches.front().felt.installed <= 6.0 * unit::mm);
    }
}

TEST_CASE("a sleeve of half a metre to a metre and a half has a packer in 100 and 150 mm", "[plan][stock]") {
    const auto yard = io::builtin_yard();
    const auto all = packer::options(yard);
    for (const double bore : {100.0, 150.0}) {
        for (const double length : {0.5, 1.0, 1.5}) {
            const auto run = fissure(bore * unit::mm, {}).runs.front();
            const auto standing = std::count_if(all.begin(), all.end(), [&](const packer::Option& option) {
                Working off = Working::off();
                return !option.to_build && !option.packer.flow_through &&
                       !packer::riggings(run, yard, option, 6.0 * unit::m, (6.0 + length) * unit::m, 3.0 * unit::mm,
                                         off)
                            .empty();
            });
            CAPTURE(bore, length);
            CHECK(standing >= 1);
        }
    }
}

TEST_CASE("a stiff flow-through packer is not taken where a short one does and no water runs", "[plan][stock]") {
    const auto yard = io::builtin_yard();
    REQUIRE(
        std::any_of(yard.packers.begin(), yard.packers.end(), [](const auto& packer) { return packer.flow_through; }));
    for (const double bore : {150.0, 200.0}) {
        for (const double length : {0.05, 0.4, 0.6}) {
            for (const bool leaks : {false, true}) {  // infiltration: the packer's own rating is its limit
                auto job = fissure(bore * unit::mm, length * unit::m);
                auto& defect = job.runs.front().defects.front();
                if (leaks) {
                    defect.kind = job::DefectKind::infiltration;
                    defect.inflow = job::Inflow::dripping;
                }
                const auto plan = plan::make_plan(job, yard);
                CAPTURE(bore, length, leaks);
                REQUIRE(plan.patches.size() == 1);
                CHECK_FALSE(plan.patches.front().option.packer.flow_through);
            }
        }
    }
}

TEST_CASE("packers more in the yard never make the job dearer", "[plan][stock]") {
    // Four sleeves in one run, from two mouths: two packers of one kind do it in one day. With all of the yard's that
    // day must still be found, among the thousands of ways to share so many packers out.
    std::string defects;
    for (int i = 0; i < 4; ++i) {
        const auto id = std::to_string(i + 1), at = std::to_string(5 + 8 * i);
        defects += std::string{i > 0 ? ", " : ""} + R"({"id": ")" + id + R"(", "at": ")" + at +
                   R"( m", "kind": "fissure", "size": "2 mm"})";
    }
    const auto job = test::must_read(R"({
      "patchwright_job": 1, "reference": "stock", "date": "2026-04-18",
      "site": {"start": "05:00", "finish": "22:00", "travel": "90 min", "air_temperature": "12 C", "resin_temperature": "12 C"},
      "runs": [{"id": "A", "from": "near", "to": "far", "length": "40 m", "bore": "99 mm", "material": "clay",
                "depth": "1.2 m", "ground_temperature": "10 C", "joint_spacing": "1.25 m", "access": ["near", "far"],
                "defects": [)" + defects +
                                     "]}]}");
    for (const std::string kind : {"S100-07", "R100-10"}) {
        auto much = io::builtin_yard();
        for (auto& packer : much.packers)
            if (packer.id == kind) packer.count = 2;
        auto little = much;
        little.chassis.clear();
        for (auto& packer : little.packers)
            if (packer.id != kind) packer.count = 0;
        const auto with_much = plan::make_plan(job, much), with_little = plan::make_plan(job, little);
        CAPTURE(kind);
        REQUIRE(with_little.patches.size() == 4);
        REQUIRE(with_much.patches.size() == 4);
        CHECK(with_much.offer.bracket.own <= with_little.offer.bracket.own);
        CHECK(with_much.schedule.days.size() <= with_little.schedule.days.size());
    }
}

TEST_CASE("a hose that does not reach is said with the length that would", "[plan][stock]") {
    auto yard = io::builtin_yard();
    for (auto& packer : yard.packers) packer.hose_length = 20.0 * unit::m;
    yard.limits.air_hose_length = 20.0 * unit::m;
    auto job = fissure(100.0 * unit::mm, 0.1 * unit::m);
    auto& run = job.runs.front();
    run.length = 40.0 * unit::m;
    run.depth = 3.0 * unit::m;
    run.access = {"near"};
    run.defects.front().at = 29.0 * unit::m;
    run.defects.front().to = 29.1 * unit::m;
    const auto plan = plan::make_plan(job, yard);
    CHECK(plan.patches.empty());
    // 29.10 + 0.25 of overlap and tolerance, 3.00 deep, 1.00 above ground.
    CHECK(said(plan.runs.front().unanswered,
               "A1: the air hose and the push rods do not reach from near: 20.00 m of hose, 33.35 m wanted; 30.00 m of "
               "rods, 33.35 m wanted"));
    for (auto& packer : yard.packers) packer.hose_length = 34.0 * unit::m;
    yard.limits.push_reach = 34.0 * unit::m;
    CHECK(plan::make_plan(job, yard).patches.size() == 1);
}

TEST_CASE("a chamber too narrow for every packer's stiff part is said", "[plan][stock]") {
    auto yard = io::builtin_yard();
    auto job = fissure(150.0 * unit::mm, 0.1 * unit::m);
    yard.chassis.clear();
    std::erase_if(yard.packers, [](const job::Packer& packer) { return !packer.flow_through; });
    yard.limits.host_most =
        2.0 * unit::bar;  // a stiff packer wants more than the demonstration yard gives a cracked pipe
    const auto asked = plan::make_plan(job, yard);
    REQUIRE(asked.patches.size() == 1);
    CHECK(said(asked.warnings, "give it as \"chamber_opening\" of run A"));
    job.runs.front().chamber_opening = 600.0 * unit::mm;
    const auto refused = plan::make_plan(job, yard);
    CHECK(refused.patches.empty());
    CHECK(said(refused.runs.front().unanswered, "does not turn into the pipe from a chamber 600 mm wide"));
    job.runs.front().chamber_opening = 1.4 * unit::m;
    CHECK(plan::make_plan(job, yard).patches.size() == 1);
}

TEST_CASE("the wall is that of the resin that is poured, each check with its own figures", "[plan][stock]") {
    // Two invented resins: one bends easily and breaks late, the other is stiff and breaks early. An oval pipe deep
    // under water asks for buckling of the one and for bending of the other.
    auto yard = io::builtin_yard();
    std::erase_if(yard.resins, [](const job::Resin& resin) { return resin.id != "fast" && resin.id != "standard"; });
    REQUIRE(yard.resins.size() == 2);
    yard.limits.least_thickness = 0.5 * unit::mm;
    auto job = fissure(150.0 * unit::mm, 0.1 * unit::m);
    auto& run = job.runs.front();
    run.depth = 4.0 * unit::m;
    run.water_table.value = 0.5 * unit::m;
    run.ovality = {6.0, Origin::given};
    for (auto& resin : yard.resins) {
        const bool soft = resin.id == "fast";
        resin.modulus = (soft ? 1500.0 : 6000.0) * unit::MPa;
        resin.flexural_strength = (soft ? 90.0 : 14.0) * unit::MPa;
    }
    Length walls[2];
    for (std::size_t i = 0; i < 2; ++i) {
        run.resin = yard.resins[i].id;
        const auto plan = plan::make_plan(job, yard);
        REQUIRE(plan.patches.size() == 1);
        const auto& patch = plan.patches.front();
        liner::ThicknessInput input = patch.thickness_input;
        input.wall.modulus.value = yard.resins[i].modulus;
        input.wall.flexural_strength.value = yard.resins[i].flexural_strength;
        Working off = Working::off();
        walls[i] = liner::design_thickness(input, off).design;
        CHECK(patch.thickness.design == walls[i]);
        CHECK(patch.felt.installed >= walls[i]);
    }
    CHECK(walls[1] > walls[0]);
    // Free to choose, the plan takes one of them and its wall, never the one's modulus with the other's strength.
    run.resin.reset();
    const auto plan = plan::make_plan(job, yard);
    REQUIRE(plan.patches.size() == 1);
    const auto& patch = plan.patches.front();
    CHECK(patch.thickness.design == walls[static_cast<std::size_t>(patch.resin)]);
    CHECK(*patch.thickness_input.wall.modulus == yard.resins[static_cast<std::size_t>(patch.resin)].modulus);
    CHECK(*patch.thickness_input.wall.flexural_strength ==
          yard.resins[static_cast<std::size_t>(patch.resin)].flexural_strength);
}

TEST_CASE("a defect that no method covers is a verdict, not the end of the job", "[plan][stock]") {
    auto job = fissure(100.0 * unit::mm, 0.1 * unit::m);
    auto crushed = job.runs.front().defects.front();
    crushed.id = "A2";
    crushed.kind = job::DefectKind::deformation;
    crushed.at = crushed.to = 12.0 * unit::m;
    crushed.size.reset();
    crushed.size_percent = 100.0;
    job.runs.front().defects.push_back(crushed);
    plan::Plan plan;
    REQUIRE_NOTHROW(plan = plan::make_plan(job, io::builtin_yard()));
    CHECK(plan.patches.size() == 1);
    CHECK(plan.runs.front().verdicts[1].assessment.verdict == survey::Verdict::dig);
}

TEST_CASE("the share of a run under sleeves counts the sleeves", "[plan][stock]") {
    // 2 sleeves in 2.5 m: each at least 0.5 m, so 40 % or more, though the defects with their overlap make 32 %.
    auto job = fissure(100.0 * unit::mm, {});
    auto& run = job.runs.front();
    run.length = 2.5 * unit::m;
    run.defects.front().at = run.defects.front().to = 0.5 * unit::m;
    run.defects.push_back(run.defects.front());
    run.defects.back().id = "A2";
    run.defects.back().at = run.defects.back().to = 1.8 * unit::m;
    const auto plan = plan::make_plan(job, io::builtin_yard());
    Length lined{};
    for (const auto& patch : plan.patches) lined += patch.length();
    REQUIRE(lined >= 1.0 * unit::m);
    CHECK(said(plan.runs.front().remarks, "Sleeves cover"));
}

TEST_CASE("a sewn tube lies double on the table, and sets no later for it", "[plan][stock]") {
    auto yard = io::builtin_yard();
    std::erase_if(yard.felts, [](const job::Felt& felt) { return felt.form != job::FeltForm::sewn_tube; });
    const auto tube = plan::make_plan(fissure(100.0 * unit::mm, 0.3 * unit::m), yard);
    REQUIRE(tube.patches.size() == 1);
    const auto& patch = tube.patches.front();
    CHECK(patch.sleeve.table_layers == 2.0);
    // The cure module asked for the same felt in one layer, which gives its warmth away.
    auto single = patch.sleeve;
    single.table_layers = 1.0;
    Working off = Working::off();
    const cure::Model model{yard.resins[static_cast<std::size_t>(patch.resin)]};
    const auto answer = model.answer_without_pot(single, patch.surroundings, patch.conditions, yard.limits, off);
    CHECK(patch.cure.shaping.likely <= answer.shaping.likely);
    CHECK(plan::make_plan(fissure(100.0 * unit::mm, 0.3 * unit::m), io::builtin_yard())
              .patches.front()
              .sleeve.table_layers == 1.0);
}
