// What is loaded is enough for what the day does, counted from the plan itself.
#include <algorithm>
#include <catch2/catch.hpp>
#include <regex>
#include <string>

#include <fmt/format.h>

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
    const auto p = planned(project_file("examples/demo.json"));
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
