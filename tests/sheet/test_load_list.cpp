// What is loaded is enough for what the day does, counted from the plan itself.
#include <algorithm>
#include <catch2/catch.hpp>
#include <map>
#include <regex>
#include <set>
#include <string>

#include <fmt/format.h>

#include "patchwright/io/read.hpp"
#include "planned.hpp"

using namespace patchwright;
using namespace patchwright::test;

namespace {

std::vector<std::string> load_of(const Planned& p, int day) {
    const auto sheets = sheet::day_sheets(p.context(), day);
    bool after_load = false;
    for (const auto& block : sheets.front().blocks) {
        const auto* heading = std::get_if<sheet::Heading>(&block.content);
        if (heading != nullptr) after_load = heading->text == "Load before leaving";
        const auto* ticks = std::get_if<sheet::Ticks>(&block.content);
        if (after_load && ticks != nullptr) return ticks->items;
    }
    return {};
}
bool holds(const std::vector<std::string>& items, const std::string& words) {
    return std::any_of(items.begin(), items.end(), [&](const auto& item) { return has(item, words); });
}

constexpr const char* live_branch = R"(, "reopening_allowed": false, "fittings": [
    {"id": "kb", "at": "10 m", "kind": "junction", "bore": "100 mm", "clock": "2", "live": true}])";

/// A yard without that packer, nor one that could be built instead.
job::Yard yard_without(const std::string& packer) {
    auto yard = io::builtin_yard();
    yard.chassis.clear();
    for (auto& p : yard.packers) {
        if (p.id == packer) p.count = 0;
    }
    return yard;
}

/// The soft packers for 100 mm bear less than the rubber one.
job::Yard soft_ones_weak() {
    auto yard = io::builtin_yard();
    for (auto& p : yard.packers)
        if (p.id.starts_with("S100")) p.rated_pressure = 0.8 * unit::bar;
    return yard;
}

/// How often something begins so among them.
int count_of(const std::vector<std::string>& items, const std::string& begin) {
    return static_cast<int>(
        std::count_if(items.begin(), items.end(), [&](const std::string& item) { return item.starts_with(begin); }));
}

struct Size {
    int length = 0, width = 0;
};
/// Millimetres of every line of that form.
std::vector<Size> sizes(const std::vector<std::string>& items, const std::string& form) {
    std::vector<Size> found;
    const std::regex line{form + R"(sheet-3\D.*?(\d+) mm x (\d+) mm.*)"};
    for (const auto& item : items)
        if (std::smatch m; std::regex_match(item, m, line)) found.push_back({std::stoi(m[1]), std::stoi(m[2])});
    return found;
}

/// At each minute of the day as many as `going_on` counts; the most of them.
template <class Count>
int most(const Count& going_on) {
    int most = 0;
    for (int minute = 0; minute < 24 * 60; ++minute) most = std::max(most, going_on(minute));
    return most;
}

}  // namespace

TEST_CASE("the spare felt is large enough for any sleeve of the day", "[sheet][day]") {
    const auto p = planned(project_file("examples/demo.json"));  // all its sleeves are of one felt, in one layer
    bool wider_than_the_longest = false;
    for (int day = 0; day < static_cast<int>(p.plan.schedule.days.size()); ++day) {
        const auto items = load_of(p, day);
        const auto spare = sizes(items, "Spare felt, one sleeve: "), cut = sizes(items, "Felt ");
        CAPTURE(day);
        REQUIRE(spare.size() == 1);
        REQUIRE(cut.size() == patches_of(p, day).size());
        for (const auto& piece : cut) {
            CHECK(piece.length <= spare.front().length);
            CHECK(piece.width <= spare.front().width);
        }
        const auto longest =
            std::max_element(cut.begin(), cut.end(), [](const auto& a, const auto& b) { return a.length < b.length; });
        wider_than_the_longest = wider_than_the_longest || longest->width < spare.front().width;
    }
    CHECK(wider_than_the_longest);  // a spare of the longest sleeve would not do
}

TEST_CASE("as many air sets and cameras are loaded as are in use at one time", "[sheet][day]") {
    auto yard = io::builtin_yard();
    yard.limits.cameras = 2;
    const auto p = planned(project_file("examples/demo.json"), yard);
    int several = 0;
    for (int day = 0; day < static_cast<int>(p.plan.schedule.days.size()); ++day) {
        const auto& tasks = p.plan.schedule.days[static_cast<std::size_t>(day)].tasks;
        const int up = most([&](int minute) {
            int count = 0;
            for (const auto i : patches_of(p, day)) {
                const auto& times = p.plan.schedule.patches[i];
                count += times.inflate <= minute && minute < times.let_down ? 1 : 0;
            }
            return count;
        });
        const int surveys = most([&](int minute) {
            return static_cast<int>(std::count_if(tasks.begin(), tasks.end(), [&](const schedule::Task& task) {
                return (task.what == schedule::What::survey || task.what == schedule::What::re_survey) &&
                       task.start <= minute && minute < task.finish;
            }));
        });
        const auto items = load_of(p, day);
        CAPTURE(day, up, surveys);
        CHECK(holds(items, up > 1 ? fmt::format("Compressor; {} each of air line", up) : "Compressor; air line"));
        CHECK(holds(items, surveys > 1 ? fmt::format(", {} cameras", surveys) : ", camera"));
        several += up > 1 && surveys > 1 ? 1 : 0;
    }
    CHECK(several > 0);
}

TEST_CASE("a spare packer bears the pressures of the cards that it may have to stand in for, in their shape", "[day]") {
    const bool piece = GENERATE(false, true);
    const auto p = planned(piece ? job_with(R"({"id": "A1", "at": "9.9 m", "kind": "fissure", "size": "2 mm"},
        {"id": "A2", "at": "14 m", "kind": "fissure", "size": "2 mm"})",
                                            live_branch)
                                 : project_file("examples/demo.json"),
                           piece ? io::builtin_yard() : soft_ones_weak());
    const auto& all = p.plan.patches;
    REQUIRE(std::any_of(all.begin(), all.end(), [](const plan::Patch& patch) {
                return patch.option.packer.shape != job::PackerShape::straight;
            }) == piece);
    int said = 0, weak = 0;
    for (std::size_t day = 0; day < p.plan.schedule.days.size(); ++day) {
        const auto items = load_of(p, static_cast<int>(day));
        std::set<std::string> used;
        for (const auto i : patches_of(p, static_cast<int>(day))) used.insert(p.plan.patches[i].option.packer.id);
        for (const auto& id : used) {
            std::set<std::string> fit;
            for (const auto& other : p.yard.packers) {
                bool fits = other.id != id && other.count > 0;
                for (const auto i : patches_of(p, static_cast<int>(day))) {
                    const auto& patch = p.plan.patches[i];
                    if (patch.option.packer.id != id) continue;
                    const bool bears = other.rated_pressure >= patch.pressure.maximum;
                    weak += bears ? 0 : 1;
                    fits = fits && bears && other.shape == patch.option.packer.shape && other.bore_min <= patch.bore &&
                           patch.bore <= other.bore_max;
                }
                if (fits) fit.insert(other.id);
            }
            // Each spare that is named is one of those; where there are none the list says so.
            if (!fit.empty()) continue;
            const bool has_own = count_of(items, fmt::format("Spare: another {} ", id)) > 0;
            const bool none = count_of(items, fmt::format("Spare: the yard has no second packer for {}", id)) > 0;
            CAPTURE(day, id, items);
            CHECK((has_own || none));
            ++said;
        }
        // Nothing is counted twice.
        for (const auto& packer : p.yard.packers)
            CHECK((count_of(items, fmt::format("Spare: another {} ", packer.id)) == 0 ||
                   std::count(items.begin(), items.end(), "Spare: " + packer.id) == 0));
        std::set<std::string> named;
        for (const auto& item : items) {
            std::smatch found;
            static const std::regex form{"^Spare: ([A-Z][0-9A-Za-z-]+)(, with separating film)?$"};
            if (std::regex_match(item, found, form)) named.insert(found[1]);
        }
        for (const auto& id : named) {
            const auto other = std::find_if(p.yard.packers.begin(), p.yard.packers.end(),
                                            [&](const job::Packer& packer) { return packer.id == id; });
            REQUIRE(other != p.yard.packers.end());
            bool for_some = false;
            for (const auto i : patches_of(p, static_cast<int>(day))) {
                const auto& patch = p.plan.patches[i];
                for_some = for_some || (other->shape == patch.option.packer.shape &&
                                        other->rated_pressure >= patch.pressure.maximum);
            }
            CAPTURE(id);
            CHECK(for_some);
        }
    }
    CHECK(said > 0);
    CHECK((piece || weak > 0));
}

TEST_CASE("two packers of a kind in the pipe at once are two to load, and neither is the other's spare", "[day]") {
    auto p = planned(job_with(fissures(6)), yard_without("R100-10"));
    int most = 0;
    std::string id;
    for (std::size_t day = 0; day < p.plan.schedule.days.size(); ++day) {
        std::map<std::pair<std::string, int>, int> in_pipe;  // packer, minute
        for (const auto i : patches_of(p, static_cast<int>(day))) {
            int from = 1 << 20, to = 0;
            for (const auto& task : p.plan.schedule.days[day].tasks) {
                if (task.patch != static_cast<int>(i) || task.what < schedule::What::load ||
                    task.what > schedule::What::let_down)
                    continue;
                from = std::min(from, task.start);
                to = std::max(to, task.finish);
            }
            for (int minute = from; minute < to; ++minute) {
                const int count = ++in_pipe[{p.plan.patches[i].option.packer.id, minute}];
                if (day == 0 && count > most) most = count, id = p.plan.patches[i].option.packer.id;
            }
        }
    }
    REQUIRE(most == 2);  // else the job says nothing about this
    CAPTURE(id);
    const auto items = load_of(p, 0);
    CHECK(count_of(items, fmt::format("2 x Packer {} ", id)) == 1);
    CHECK(count_of(items, fmt::format("Spare: another {}", id)) == 0);
    // A third of them would be a spare; one that must be built first has no second.
    for (auto& packer : p.yard.packers) packer.count = std::max(packer.count, 3);
    for (auto& patch : p.plan.patches) patch.option.packer.count = 3;
    CHECK(count_of(load_of(p, 0), fmt::format("Spare: another {} (the yard has 3)", id)) == 1);
    for (auto& patch : p.plan.patches) patch.option.to_build = true;
    CHECK(count_of(load_of(p, 0), "Spare: another") == 0);
}

TEST_CASE("each resin of the day is loaded by its own name and weight, whichever stands first in the yard", "[day]") {
    auto yard = io::builtin_yard();
    std::reverse(yard.resins.begin(), yard.resins.end());
    const auto p = planned(project_file("examples/demo.json"), yard);
    for (int day = 0; day < static_cast<int>(p.plan.schedule.days.size()); ++day) {
        std::map<std::string, Mass> mixed;
        for (const auto& batch : p.plan.batches)
            if (batch.day == day) mixed[p.plan.resin_of(batch).id] += batch.batch.total;
        CAPTURE(day);
        REQUIRE(mixed.size() == 1);
        const auto& [id, mass] = *mixed.begin();
        REQUIRE(id != p.yard.resins.front().id);
        CHECK(holds(load_of(p, day),
                    fmt::format("Resin {}: {} in all mixes", id, format(Show::scale_mass, mass, UnitSystem::metric))));
        CHECK(holds(load_of(p, day), fmt::format("Spare resin {}, one mix", id)));
    }
}
