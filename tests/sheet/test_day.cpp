// What a crew reads on its day: what to load, who does what, what to do when it goes wrong.
#include <catch2/catch.hpp>
#include <cmath>

#include <regex>
#include <set>

#include <fmt/format.h>

#include "patchwright/io/read.hpp"
#include "patchwright/plan/figures.hpp"
#include "patchwright/sheet/html.hpp"
#include "planned.hpp"
#include "words.hpp"

using namespace patchwright;
using namespace patchwright::sheet;
using namespace patchwright::test;

namespace {

/// A live branch that may not be opened again through the liner: a T packer.
std::vector<std::string> load_list(const Context& c, int day) {
    const auto sheets = day_sheets(c, day);
    for (const auto& block : sheets.front().blocks) {
        if (const auto* ticks = std::get_if<Ticks>(&block.content)) return ticks->items;
    }
    return {};
}

/// How often something begins so among them.
template <class Words>
int count_of(const Words& items, const std::string& begin) {
    return static_cast<int>(
        std::count_if(items.begin(), items.end(), [&](const std::string& item) { return item.starts_with(begin); }));
}

/// The text from one heading of the sheet to another.
std::string part(const std::string& sheet, const std::string& from, const std::string& to) {
    const auto at = sheet.find(from);
    REQUIRE(at != std::string::npos);
    return sheet.substr(at, sheet.find(to, at + from.size()) - at);
}

/// Tables within the columns of a sheet, by words of their titles.
std::vector<const Table*> tables_in_columns(const Sheet& sheet, const std::string& words) {
    std::vector<const Table*> list;
    for (const auto& block : sheet.blocks) {
        const auto* both = std::get_if<Columns>(&block.content);
        if (both == nullptr) continue;
        for (const auto& column : both->columns)
            for (const auto& inner : column) {
                const auto* table = std::get_if<Table>(&inner.content);
                if (table != nullptr && table->title.find(words) != std::string::npos) list.push_back(table);
            }
    }
    return list;
}

}  // namespace

TEST_CASE("the dangers give nobody's relief setting to all", "[day]") {
    const auto p = planned(project_file("examples/demo.json"));
    const auto dangers = part(days(p.context()), "Dangers of this day", "[  ]");
    CHECK(has(dangers, "relief valve as on the card"));
    CHECK_FALSE(has(dangers, "relief valve at"));
}

TEST_CASE("card and emergency box say the same of shut-in air, on crowded days too", "[day]") {
    auto p = planned(project_file("examples/demo.json"));
    REQUIRE(p.yard.limits.air == job::AirSupply::regulated);
    for (std::size_t day = 0; day < p.plan.schedule.days.size(); ++day) {
        const auto today = patches_of(p, static_cast<int>(day));
        for (const std::size_t weak : {std::size_t{0}, std::size_t{1}, today.size()}) {
            std::string never;
            for (std::size_t k = 0; k < today.size(); ++k) {
                auto& patch = p.plan.patches[today[k]];
                patch.pressure.shut_in_holds = k >= weak;
                if (k < weak) never += (never.empty() ? "" : ", ") + patch.id;
            }
            const auto sheet = printed(day_sheets(p.context(), static_cast<int>(day)));
            const auto box = part(sheet, "If it goes wrong", "Water backs up");
            CAPTURE(day, weak, box);
            CHECK(has(box, "valve at the packer shut") == (weak < today.size()));
            // What the box sends the reader to stands on the cards in the same words.
            CHECK(has(box, "\"air failing\"") == has(sheet, "Air failing: 0"));
            CHECK(has(box, "do not shut in, keep the supply") == (weak > 0));
            if (weak > 0) CHECK(has(box, never + ": do not shut in, keep the supply"));
            for (std::size_t k = 0; k < today.size(); ++k) {
                const auto& patch = p.plan.patches[today[k]];
                const auto card = part(sheet, "Patch " + patch.id, "Witness bag");
                CAPTURE(patch.id);
                CHECK((has(card, "never left on shut-in air") || has(card, "failing: do not shut in")) == (k < weak));
                CHECK(has(card, "failing: " + shown(p.context(), patch, "shut-in") + ", then shut") == (k >= weak));
            }
        }
    }
}

TEST_CASE("each table for site says which resin, air or pipe it holds for", "[day]") {
    const auto p = planned(demo_with(R"("resin_temperature": "15 C")", R"("resin_temperature": "17 C")"));
    const auto all = days(p.context());
    CHECK(has(all, "by pipe as measured, resin 17 \u00b0C, air 12 \u00b0C"));
    // One that sleeves share holds in the coldest of their pipes.
    int told = 0;
    for (std::size_t day = 0; day < p.plan.schedule.days.size(); ++day) {
        const auto sheet = day_sheets(p.context(), static_cast<int>(day)).front();
        for (const Table* table : tables_in_columns(sheet, "by resin and air")) {
            auto coldest = Temperature::celsius(100.0);
            for (const auto i : patches_of(p, static_cast<int>(day))) {
                const auto& patch = p.plan.patches[i];
                const bool its = !table->title.starts_with("From mixing: ") || has(table->title, patch.id);
                if (its) coldest = std::min(coldest, *patch.conditions.pipe);
            }
            CAPTURE(table->title);
            CHECK(has(table->title,
                      fmt::format("pipe no warmer than {} or the air", format(Show::temperature, coldest, p.units))));
            ++told;
        }
    }
    CHECK(told > 0);
    // How to read between rows stands in each table's own title.
    CHECK(has(all, "Between rows: inflated by and gels the warmer, deflate by the colder"));
    CHECK(has(all, "Between rows: the warmer"));
}

TEST_CASE("sleeves that differ little share a table where there would be many; unlike ones have their own, unhalved",
          "[day]") {
    auto p = planned(job_with(fissures(4)));
    const auto today = patches_of(p, 0);
    REQUIRE(today.size() >= 3);
    const double apart = GENERATE(0.0, 4.0, 60.0);  // minutes
    CAPTURE(apart);
    // All have the first one's times, each so much later than the one before.
    const auto tables = p.plan.patches[today.front()].tables;
    for (std::size_t k = 0; k < today.size(); ++k) {
        auto& patch = p.plan.patches[today[k]];
        patch.tables = tables;
        patch.heater = p.plan.patches[today.front()].heater;  // a heated sleeve shares with heated ones alone
        for (auto& row : patch.tables.let_down) {
            row.let_down += static_cast<double>(k) * apart * unit::minute;
        }
    }
    const auto sheet = day_sheets(p.context(), 0).front();
    const auto own = tables_in_columns(sheet, "by pipe as measured");
    if (apart > 10.0) {
        CHECK(own.size() == today.size());
        for (const Table* table : own) {
            CHECK(table->title.starts_with("From mixing: "));
            CHECK(table->side_by_side == 1);  // halves would break their figures
        }
        return;
    }
    REQUIRE(own.size() == 1);
    // Two kinds in one table are halved only where four cards leave no room for its length.
    CHECK(own.front()->side_by_side == (apart > 0.0 && today.size() < 4 ? 1 : 2));
    // The last column of times to deflate is that of the latest in its group: no sleeve comes out too soon.
    const auto& row = tables.let_down.front();
    const Duration latest_of_all = row.let_down + static_cast<double>(today.size() - 1) * apart * unit::minute;
    const auto& cells = own.front()->rows.at(1);
    CHECK(cells.back() == earliest(p.context(), latest_of_all));
}

TEST_CASE("the emergency box sends to words that a roomy card has too", "[day]") {
    const auto p = planned(project_file("examples/us-slab.json"));
    const auto sheet = printed({day_sheets(p.context(), 0).front()});
    CHECK(has(sheet, "raise to the card's \"air failing\""));
    CHECK(has(sheet, "regulated; air failing: "));
}

TEST_CASE("where today's packers let the water through, today's sheet shuts nothing", "[day]") {
    auto p = planned(project_file("examples/demo.json"));
    const auto sheet = printed({day_sheets(p.context(), 0).front()});
    REQUIRE(has(sheet, "Run B: blocked up to"));
    // Who pumps from the start keeps up with all that comes in; one for each run that is pumped round at once.
    CHECK(has(sheet, "what comes in: 0.04 l/s at least"));
    CHECK(count_of(load_list(p.context(), 0), "2 pumps and a standby pump, each 0.04 l/s at least") == 1);
    REQUIRE(count_of(
                load_list(p.context(), 0),
                "Stopper with brace and tie, for each mouth that water comes to: 100 mm (run A), 150 mm (run B)") == 1);
    for (const auto i : patches_of(p, 0)) {
        auto& patch = p.plan.patches[i];
        if (p.plan.run_of(patch).id == "B") patch.option.packer.flow_through = true;
    }
    // Blocked for less than the room upstream takes to fill, that day wants no pump, whatever another day does.
    for (auto& shut : p.plan.schedule.blocked)
        if (shut.day == 0) shut.to = shut.from + 40;
    const auto quick = printed({day_sheets(p.context(), 0).front()});
    CHECK(has(quick, "Run A: blocked up to 40 min; the room upstream fills in 50 min. Holds"));
    CHECK(count_of(load_list(p.context(), 0), "standby pump") == 0);
    const auto open = printed({day_sheets(p.context(), 0).front()});
    CHECK(has(open, "Run B: its packer lets the water through, nothing is shut."));
    CHECK_FALSE(has(open, "Run B: blocked up to"));
    for (const auto i : patches_of(p, 0)) p.plan.patches[i].option.packer.flow_through = true;
    CHECK(count_of(load_list(p.context(), 0), "Stopper with brace and tie") == 0);
}

TEST_CASE("what is cut in the pipe needs a cutter, water that is stopped needs grout", "[day]") {
    const auto wet =
        planned(job_with(R"({"id": "A1", "at": "5 m", "kind": "fissure", "size": "2 mm", "inflow": "running"})"));
    REQUIRE(wet.plan.patches.size() == 1);
    REQUIRE_FALSE(wet.plan.patches.front().preparations.empty());
    const auto stopped = load_list(wet.context(), 0);
    CHECK(count_of(stopped, "Grout or injection gel with its pump, for the water at A1") == 1);
    CHECK(count_of(stopped, "Cutter") == 0);
    CHECK_FALSE(has(days(wet.context()), "Cutter: start it in the pipe only"));
    const auto rooted = planned(job_with(R"({"id": "A1", "at": "5 m", "kind": "root intrusion", "size": "15 %"})"));
    REQUIRE(rooted.plan.patches.size() == 1);
    const auto cut = load_list(rooted.context(), 0);
    CHECK(count_of(cut, "Cutter") == 1);
    CHECK(count_of(cut, "Grout") == 0);
    CHECK(has(days(rooted.context()), "Cutter: start it in the pipe only"));
}

TEST_CASE("what the customer is told of the dig stands by the comparison", "[day]") {
    auto p = planned(project_file("examples/demo.json"));
    p.job.dig.customer_note = "The yard is paved with old stone.";
    p.tell_plan();
    const auto offer = printed({quote_sheet(p.context())});
    CHECK(has(offer, p.job.dig.customer_note));
    CHECK(has(part(offer, "Compared with digging", "Not included"), p.job.dig.customer_note));
    CHECK(has(printed({inside_sheet(p.context())}), p.job.dig.customer_note));
    CHECK_FALSE(has(days(p.context()), p.job.dig.customer_note));
}

TEST_CASE("on the web page a line to write on is named by its task, and notes belong to that content", "[day][html]") {
    const auto p = planned(job_with(fissures(2)));  // of more sleeves the order has no lines to write on
    auto sheets = day_sheets(p.context(), 0);
    const auto page = html(sheets, [](const Drawing&) { return std::string{}; });
    std::set<std::string> labels;
    const std::regex form{"data-label=\"(\\d\\d:\\d\\d[^\"]*, Done at)\""};
    for (std::sregex_iterator at{page.begin(), page.end(), form}, end; at != end; ++at) {
        CAPTURE((*at)[1].str());
        CHECK(std::regex_search((*at)[1].str(), std::regex{"^\\d\\d:\\d\\d [a-z]"}));
        CHECK(labels.insert((*at)[1]).second);
    }
    CHECK(labels.size() > 5);
    CHECK(has(page, "cure <span class=\"name\">A-P1</span>"));  // never "A-" on one line and "P1" on the next
    const auto content = [](const std::string& of) {
        std::smatch found;
        REQUIRE(std::regex_search(of, found, std::regex{"data-content=\"([0-9a-f]{16})\""}));
        return found[1].str();
    };
    CHECK(has(page, "document.body.dataset.content"));
    CHECK(content(page) == content(html(sheets, [](const Drawing&) { return std::string{}; })));
    sheets.front().blocks.push_back({Paragraph{"Another plan."}});
    CHECK(content(page) != content(html(sheets, [](const Drawing&) { return std::string{}; })));
    CHECK(has(page, "Resin or air colder than the table: do not mix."));
    // Sizes in rem follow the root: it has the size of the print.
    CHECK(has(part(page, "@media print", "</style>"), "html { font-size: 7pt; }"));
}

TEST_CASE("what is loaded reaches as far as the rule of the way in wants", "[sheet]") {
    // Far end of the sleeve, up the chamber, slack (docs/methods/packer.md); 35 m of run, the sleeve's middle at 17 m.
    const auto p = planned(R"({"patchwright_job": 1, "reference": "reach", "runs": [
        {"id": "A", "from": "M1", "to": "M2", "length": "35 m", "bore": "100 mm", "material": "clay", "depth": "1.2 m",
         "access": ["M1", "M2"], "ground_temperature": "10 C",
         "defects": [{"id": "A1", "at": "17 m", "kind": "fissure", "size": "2 mm"}]}]})");
    REQUIRE(p.plan.patches.size() == 1);
    const auto& patch = p.plan.patches.front();
    REQUIRE(patch.rigging.method == packer::Method::push);
    const Length wanted = patch.rigging.mark + patch.length() / 2.0 + 1.2 * unit::m + p.yard.limits.reach_slack;
    const auto words = text(days_alone(p.context()).front(), {true, false, 4000});
    const double up = std::ceil(wanted.in(unit::m) / 0.5 - 1e-9) * 0.5;
    CAPTURE(words.substr(0, 3000), wanted.in(unit::m));
    CHECK(words.find(fmt::format("Rods, marking tape, air line: {:.2f} m at least", up)) != std::string::npos);
    CHECK(up - wanted.in(unit::m) < 0.5);
    // A hose a hand short of that is no way in: the figure is the rule's own.
    CHECK(wanted > patch.rigging.mark + 1.2 * unit::m);
}

TEST_CASE("mark and place of a sleeve are told from the mouth that it goes in at", "[sheet][day]") {
    const auto p = planned(project_file("examples/demo.json"));
    const auto c = p.context();
    const auto all = days(c);
    int far = 0, near = 0;
    for (const auto& patch : p.plan.patches) {
        const auto& run = p.plan.run_of(patch);
        const bool from_far_end = patch.rigging.from == run.to;
        (from_far_end ? far : near) += 1;
        const Length from = from_far_end ? run.length - patch.end : patch.start, to = from + patch.length();
        CAPTURE(patch.id);
        CHECK(has(all, fmt::format("Sleeve lies, from {}: {} to {}", patch.rigging.from,
                                   show(c, Show::run_distance, from), show(c, Show::run_distance, to))));
        CHECK(patch.rigging.mark.in(unit::m) == Approx((from + to).in(unit::m) / 2.0));
        // The survey's own distance names its mouth where that is the other one.
        for (const int d : patch.defects)
            CHECK(has(all, defect_words(c, run.defects[static_cast<std::size_t>(d)]) +
                               (from_far_end ? " (from " + run.from + ")" : "") + "\n"));
    }
    CHECK(far > 0);
    CHECK(near > 0);
}

TEST_CASE("a ring of the clock is all round", "[sheet]") {
    CHECK(clock_words({10, 2, false}) == "10-2 o'clock");
    CHECK(clock_words({12, 12, true}) == "all round");
}

TEST_CASE("a table that sleeves share has the safer time of each row", "[sheet]") {
    // A-P1 and A-P2 of the demonstration differ by a minute here and there: their felt is of other lengths.
    const auto p = planned(project_file("examples/demo.json"));
    const auto c = p.context();
    std::size_t shared = 0, unlike = 0;
    for (const auto& sheet : day_sheets(c, std::nullopt)) {
        for (const Table* table : tables_in_columns(sheet, "by pipe as measured")) {
            for (std::size_t k = 0; k + 1 < table->columns.size(); ++k) {
                const std::string label = table->columns[k].title;
                if (label.find("inflated by") == std::string::npos) continue;
                const auto& names = label.find(':') == std::string::npos ? table->title : label;
                std::vector<const plan::Patch*> own;
                for (const auto& patch : p.plan.patches)
                    if (names.find(patch.id) != std::string::npos) own.push_back(&patch);
                if (own.size() < 2) continue;
                ++shared;
                for (const auto& row : own.front()->tables.let_down) {
                    Duration let_down{}, inflate_by = 1.0 * unit::day, gel = inflate_by;
                    for (const auto* patch : own)
                        for (const auto& other : patch->tables.let_down) {
                            if (other.pipe != row.pipe) continue;
                            unlike += other.let_down != row.let_down || other.inflate_by != row.inflate_by ? 1 : 0;
                            let_down = std::max(let_down, other.let_down);
                            inflate_by = std::min(inflate_by, other.inflate_by);
                            gel = std::min(gel, other.gel);
                        }
                    const auto printed = std::find_if(table->rows.begin(), table->rows.end(), [&](const auto& r) {
                        return r.front() == show(c, Show::temperature, row.pipe);
                    });
                    REQUIRE(printed != table->rows.end());
                    CAPTURE(names, printed->front());
                    if (inflate_by > Duration{}) CHECK((*printed)[k] == latest(c, inflate_by));
                    CHECK((*printed)[k + 1] == plan::shown(Show::span, plan::Rounding::down, gel.si(), c.units));
                    CHECK((*printed)[k + 2] == earliest(c, let_down));
                }
            }
        }
    }
    CHECK(shared > 0);
    CHECK(unlike > 0);
}

TEST_CASE("what nobody and nothing waits for has no star, though the work before it has one", "[day]") {
    // Run B is surveyed first and its camera goes to run A; its flow control may then take until run A is ready.
    const auto p = planned(project_file("examples/demo.json"));
    const auto task_of = [&](schedule::What what, const char* run) {
        const auto& tasks = p.plan.schedule.days.front().tasks;
        const auto task = std::find_if(tasks.begin(), tasks.end(), [&](const schedule::Task& t) {
            return t.what == what && t.run && p.job.runs[job::index(*t.run)].id == run;
        });
        REQUIRE(task != tasks.end());
        return *task;
    };
    using schedule::What;
    REQUIRE(task_of(What::survey, "B").finish == task_of(What::survey, "A").start);
    REQUIRE(task_of(What::flow_control, "B").finish < task_of(What::flow_control, "A").finish);
    CHECK(task_of(What::survey, "B").critical);
    CHECK_FALSE(task_of(What::flow_control, "B").critical);
    CHECK(task_of(What::flow_control, "A").critical);
}

TEST_CASE("who goes in at a mouth of a pipe under air is warned of it", "[day]") {
    const auto p = planned(project_file("examples/demo.json"));
    const auto sheet = printed({day_sheets(p.context(), 0).front()});
    // Of run B, which begins at MH2, and of run A itself, from its other end.
    const auto& times = p.plan.schedule.patches;
    const auto place = [&](const char* id) {
        const auto& list = p.plan.patches;
        return static_cast<std::size_t>(
            std::find_if(list.begin(), list.end(), [&](const auto& patch) { return patch.id == id; }) - list.begin());
    };
    REQUIRE(times[place("B-P2")].inflate < times[place("A-P2")].inflate);
    REQUIRE(times[place("A-P2")].inflate < times[place("A-P1")].inflate);
    CHECK(has(sheet, "A-P2 goes in at MH2 while B-P2 is under air; A-P1 goes in at MH1 while A-P2 is under air."));
    const auto alone = planned(job_with(fissures(1)));
    CHECK_FALSE(has(printed({day_sheets(alone.context(), 0).front()}), "under air"));
}

TEST_CASE("roots that were cut on an earlier day want no cutter; every opening wants its gas meter", "[day]") {
    const auto p = planned(project_file("examples/demo.json"));
    for (const int day : {0, 1}) {
        CHECK(count_of(load_list(p.context(), day), "Cutter with guard") == 0);
        CHECK(count_of(load_list(p.context(), day), "Gas meter") == 1);
        CHECK(has(printed({day_sheets(p.context(), day).front()}), "Gas test"));
    }
    const auto shallow = planned(project_file("examples/us-slab.json"));
    CHECK(count_of(load_list(shallow.context(), 0), "Gas meter at the opening") == 1);
    CHECK(count_of(load_list(shallow.context(), 0), "harness") == 0);
    CHECK(has(printed({day_sheets(shallow.context(), 0).front()}), "Gas test"));
}
