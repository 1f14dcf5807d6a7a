// What the job file says in words stands where those who need it look.
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <fmt/format.h>

#include <algorithm>
#include <functional>

#include "patchwright/io/read.hpp"
#include "planned.hpp"
#include "words.hpp"

using namespace patchwright;
using namespace patchwright::sheet;
using namespace patchwright::test;

namespace {

const std::string fissure = R"({"id": "A1", "at": "5 m", "kind": "fissure", "size": "2 mm"})";

/// The cards of the days alone.
std::string cards(const Context& context) {
    Sheet sheet;
    const std::function<void(const std::vector<Block>&)> look = [&](const std::vector<Block>& blocks) {
        for (const auto& block : blocks) {
            if (std::holds_alternative<Card>(block.content)) sheet.blocks.push_back(block);
            if (const auto* both = std::get_if<Columns>(&block.content))
                for (const auto& column : both->columns) look(column);
        }
    };
    for (const auto& day : days_alone(context)) look(day.blocks);
    return printed({sheet});
}

}  // namespace

TEST_CASE("a fitting stands with its clock and remark on plan, day sheet and in the JSON", "[sheet]") {
    const auto p = planned(job_with(fissure, R"(, "fittings": [
        {"at": "12 m", "kind": "bend", "angle": "45 deg", "radius": "150 mm", "remark": "Step at its end."},
        {"id": "kitchen", "at": "17 m", "kind": "junction", "bore": "100 mm", "clock": "2", "live": true,
         "remark": "In use until ten."}])"));
    REQUIRE(p.plan.patches.size() == 1);
    for (const auto& sheet : {printed({plan_sheet(p.context())}), printed({days_alone(p.context()).front()})}) {
        CHECK(has(sheet, "bend at 12.00 m, 45°, radius 150 mm"));
        CHECK(has(sheet, "kitchen: live junction at 17.00 m, 100 mm, 2 o'clock"));
        CHECK(has(sheet, "Run A, bend at 12.00 m: Step at its end."));
        CHECK(has(sheet, "Run A, kitchen: In use until ten."));
    }
    const auto tree = nlohmann::json::parse(plan_json(p.context(), true));
    const auto& fittings = tree.at("runs").at(0).at("fittings");
    REQUIRE(fittings.size() == 2);
    CHECK(fittings[0].at("id") == "bend at 12.00 m");
    CHECK_FALSE(fittings[0].contains("clock"));
    CHECK(fittings[1].at("clock") == "2");
    CHECK(tree.at("job").at("notes") ==
          nlohmann::json{"Run A, bend at 12.00 m: Step at its end.", "Run A, kitchen: In use until ten."});
    // Once, where a note says it already, as those of an imported survey do.
    auto noted =
        job_with(fissure, R"(, "fittings": [{"id": "kitchen", "at": "17 m", "kind": "junction", "bore": "100 mm",
        "remark": "seen closed"}])");
    noted.insert(noted.rfind('}'), R"(, "notes": ["Run A, junction at 17.00 m: seen closed; line 3"])");
    CHECK(planned(noted).job.notes.size() == 1);
    // It is a text, and no other value.
    const auto wrong = io::read_job(job_with(fissure, R"(, "fittings": [{"at": "17 m", "kind": "junction",
        "bore": "100 mm", "remark": 5}])"),
                                    "invented.json");
    CHECK_FALSE(wrong.value);
    REQUIRE(wrong.diagnostics.size() == 1);
    CHECK(wrong.diagnostics.front().pointer == "/runs/0/fittings/0/remark");
}

TEST_CASE("what is not patched keeps the survey's remark, also where no packer serves", "[sheet][day]") {
    auto text = job_with(fissure);
    // A run that no packer of the yard fits into.
    text.insert(text.rfind(']'), R"(, {"id": "B", "from": "MH2", "to": "MH3", "length": "20 m", "bore": "300 mm",
        "material": "clay", "depth": "1.5 m", "defects": [
        {"id": "B1", "at": "5 m", "kind": "fissure", "size": "2 mm", "remark": "Water stands behind it."},
        {"id": "B2", "at": "9 m", "kind": "fissure", "size": "2 mm"}]})");
    const auto p = planned(text);
    REQUIRE(p.plan.patches.size() == 1);
    REQUIRE(p.plan.runs[1].unanswered.size() == 1);
    const auto sheet = days(p.context());
    CAPTURE(sheet);
    CHECK(has(sheet, p.plan.runs[1].unanswered.front() + " B1: \"Water stands behind it.\""));
}

TEST_CASE("a wet wall is told to whoever uses a resin that bears no damp", "[sheet][day]") {
    const std::string resin = GENERATE("fast", "silicate");
    const std::string inflow = GENERATE("none", "sweating", "dripping");
    const auto p = planned(job_with(
        fmt::format(R"({{"id": "A1", "at": "5 m", "kind": "fissure", "size": "2 mm", "inflow": "{}"}})", inflow),
        fmt::format(R"(, "resin": "{}")", resin)));
    REQUIRE(p.plan.patches.size() == 1);
    CAPTURE(resin, inflow);
    CHECK(has(cards(p.context()), "Wall wet at A1") == (resin == "fast" && inflow != "none"));
}

TEST_CASE("the calculation of a cure says where the resin's times are from", "[sheet]") {
    const auto p = planned(job_with(fissure));
    REQUIRE(p.plan.patches.size() == 1);
    const auto& resin = p.yard.resins[static_cast<std::size_t>(p.plan.patches.front().resin)];
    REQUIRE_FALSE(resin.source.empty());
    const auto words = fmt::format("Data of resin {}: {}.", resin.id, resin.source);
    CHECK(has(printed({why_sheet(p.context(), "A-P1.let-down")}), words));
    CHECK_FALSE(has(printed({why_sheet(p.context(), "A-P1.mark")}), words));
}

TEST_CASE("each length of bladder is built for its own patches, on site where no end fittings are left",
          "[sheet][day]") {
    auto yard = io::builtin_yard();
    for (auto& packer : yard.packers) packer.count = 0;
    yard.heaters.clear();
    const bool alike = GENERATE(true, false);
    const auto defect = [](int id, double at, double to) {
        return fmt::format(R"({{"id": "A{}", "at": "{:.1f} m", "to": "{:.1f} m", "kind": "fissure", "size": "2 mm"}})",
                           id, at, to);
    };
    const auto text = job_with(fmt::format("{}, {}, {}", defect(1, 5, 5.2), defect(2, 13, alike ? 13.2 : 13.7),
                                           defect(3, 21, alike ? 21.2 : 22.3)));
    const auto p = planned(text, yard);
    REQUIRE(p.plan.patches.size() == 3);
    REQUIRE(p.plan.schedule.days.size() == 1);
    const auto told = cards(p.context());
    for (std::size_t i = 0; i < 3; ++i) {
        const auto& patch = p.plan.patches[i];
        CAPTURE(alike, patch.id);
        REQUIRE(patch.build);
        const auto size = format(Show::tape, patch.build->bladder_cut, p.units);
        CHECK(has(told, alike ? fmt::format("2 of them, bladder {}, for", size)
                              : fmt::format("bladder {}, for {};", size, patch.id)));
    }
    // Two sets of end fittings in the yard: the third packer is built of what comes out of the pipe.
    CHECK(has(told, "on site, once a C28 is out of the pipe: 28 min") == !alike);
    CHECK(std::any_of(p.plan.warnings.begin(), p.plan.warnings.end(), [](const std::string& words) {
              return has(words, "its packer is built on site, on end fittings C28");
          }) == !alike);
    CHECK(has(days(p.context()), "Bladder of C28 + rubber-70, 1020 mm for A-P1, with tape, clamps and tools") ==
          !alike);
}

TEST_CASE("roots are cut on a run's first day, and no later card or list calls for it again", "[sheet][day]") {
    std::string defects;
    for (int i = 0; i < 8; ++i)
        defects += fmt::format(R"({}{{"id": "A{}", "at": "{} m", "kind": "root intrusion", "size": "15 %"}})",
                               i > 0 ? ", " : "", i, 3 + 4 * i);
    const auto p = planned(job_with(defects));
    REQUIRE(p.plan.schedule.days.size() > 1);
    const auto sheets = days_alone(p.context());
    for (std::size_t day = 0; day < sheets.size(); ++day) {
        const auto told = printed({sheets[day]});
        CAPTURE(day);
        CHECK(has(told, "Jetter with root cutter, ") == (day == 0));
        CHECK(has(told, "Jetter, ") == (day > 0));
        CHECK(has(told, "First: cut the roots back") == (day == 0));
        CHECK(has(told, "Roots cut on an earlier day: none left") == (day > 0));
    }
}

TEST_CASE("in the estimator's view what falls while the sum rises has a share below nothing and no marks", "[sheet]") {
    auto p = planned(job_with(fissures(1)));
    auto& drivers = p.plan.offer.risk.patch_drivers;
    REQUIRE_FALSE(drivers.empty());
    drivers.front().share = -0.3;
    CHECK(has(printed({inside_sheet(p.context())}), "-30 %"));
    drivers.front().share = 1.3;  // as much as it does, others take back
    CHECK_FALSE(has(printed({inside_sheet(p.context())}), std::string(21, '#')));
}

TEST_CASE("a chance is said as one in so many, never less than it is", "[sheet]") {
    CHECK(one_in(0.0) == "less than 1 in 1000");
    CHECK(one_in(0.0009) == "less than 1 in 1000");
    CHECK(one_in(0.025) == "1 in 40");
    CHECK(one_in(0.024) == "1 in 40");
    CHECK(one_in(0.3) == "1 in 3");
    CHECK(one_in(0.8) == "more than 1 in 2");
}
