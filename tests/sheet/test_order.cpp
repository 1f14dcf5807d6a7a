// The order of work on the day sheet: who does what when.
#include <catch2/catch.hpp>

#include <algorithm>
#include <regex>
#include <set>

#include <fmt/format.h>

#include "patchwright/io/read.hpp"
#include "planned.hpp"

using namespace patchwright;
using namespace patchwright::sheet;
using namespace patchwright::test;

namespace {

const Table& order_of(const Sheet& sheet) {
    const Table* found = nullptr;
    for (const auto& block : sheet.blocks) {
        const auto* table = std::get_if<Table>(&block.content);
        if (table != nullptr && table->columns.front().title == "From" && found == nullptr) found = table;
    }
    REQUIRE(found != nullptr);
    return *found;
}

int minute_of(const std::string& clock) { return 60 * std::stoi(clock.substr(0, 2)) + std::stoi(clock.substr(3, 2)); }

/// Columns of the persons in a line of the order.
std::vector<std::size_t> person_columns(const Table& order) {
    std::vector<std::size_t> columns;
    for (std::size_t i = 0; i < order.columns.size(); ++i)
        if (order.columns[i].title.starts_with("Person ")) columns.push_back(i);
    return columns;
}

/// From when to when a cell of the order binds its person; a cure binds nobody by name.
std::pair<int, int> bound_in(const std::vector<std::string>& row, std::size_t column) {
    const auto& cell = row[column];
    if (cell.empty() || cell.starts_with("cure")) return {0, 0};
    int from = minute_of(row[0]), to = minute_of(row[1]);
    std::smatch found;
    static const std::regex form{"^together(?: from (\\d\\d:\\d\\d))?(?: to (\\d\\d:\\d\\d))?$"};
    if (std::regex_match(cell, found, form)) {
        if (found[1].matched) from = minute_of(found[1]);
        if (found[2].matched) to = minute_of(found[2]);
    }
    return {from, to};
}

/// Persons that the lines of the order bind at a minute.
int bound_at(const Table& order, int minute) {
    int bound = 0;
    for (const auto& row : order.rows) {
        for (const auto column : person_columns(order)) {
            const auto [from, to] = bound_in(row, column);
            bound += from <= minute && minute < to ? 1 : 0;
        }
    }
    return bound;
}

/// Nobody stands in two lines at one minute.
void check_nobody_twice(const Table& order) {
    for (std::size_t r = 0; r < order.rows.size(); ++r) {
        for (std::size_t other = 0; other < r; ++other) {
            for (const auto column : person_columns(order)) {
                const auto a = bound_in(order.rows[r], column), b = bound_in(order.rows[other], column);
                CAPTURE(order.rows[r], order.rows[other]);
                CHECK_FALSE(std::max(a.first, b.first) < std::min(a.second, b.second));
            }
        }
    }
}

}  // namespace

TEST_CASE("the order of work says who does what: nobody twice at once, no fewer than it takes", "[day]") {
    auto yard = io::builtin_yard();
    yard.rates.crew_size = GENERATE(2, 3);
    yard.limits.alarm_gauge = GENERATE(true, false);
    const auto p = planned(job_with(fissures(2)), yard);
    for (std::size_t day = 0; day < p.plan.schedule.days.size(); ++day) {
        const auto sheet = day_sheets(p.context(), static_cast<int>(day)).front();
        const auto& order = order_of(sheet);
        CAPTURE(yard.rates.crew_size, yard.limits.alarm_gauge, day);
        REQUIRE(order.columns.size() == 3 + static_cast<std::size_t>(yard.rates.crew_size));  // and "Done at"
        const auto all = printed({sheet});
        for (int person = 1; person <= 3; ++person)
            CHECK(has(all, fmt::format("Person {} ", person)) == (person <= yard.rates.crew_size));
        check_nobody_twice(order);
        int watched = 0, helped = 0;
        for (const auto& row : order.rows) {
            std::string what;
            for (const auto column : person_columns(order)) {
                if (!row[column].empty() && !row[column].starts_with("together")) what = row[column];
                helped += row[column].starts_with("together") ? 1 : 0;
            }
            CAPTURE(what);
            if (!what.starts_with("cure")) continue;
            CHECK(has(what, "(by alarm gauge)") == yard.limits.alarm_gauge);
            CHECK(has(what, "(one watches)") != yard.limits.alarm_gauge);
            watched += has(what, "(one watches)") ? 1 : 0;
            if (yard.limits.alarm_gauge) continue;
            // Somebody is free for it, or at a job that can be dropped at once.
            static const std::regex droppable{"^(survey|flow control|re-survey|deflate)"};
            for (int minute = minute_of(row[0]); minute < minute_of(row[1]); ++minute) {
                const bool covered = std::any_of(order.rows.begin(), order.rows.end(), [&](const auto& other) {
                    return minute_of(other[0]) <= minute && minute < minute_of(other[1]) &&
                           std::any_of(other.begin(), other.end(),
                                       [](const std::string& cell) { return std::regex_search(cell, droppable); });
                });
                CAPTURE(minute);
                CHECK((covered || bound_at(order, minute) < yard.rates.crew_size));
            }
        }
        CHECK(helped > 0);
        CHECK((watched > 0) == !yard.limits.alarm_gauge);
        CHECK(has(all, "One watches: at that mouth") == !yard.limits.alarm_gauge);
    }
}

TEST_CASE("a sleeve that is handled without a break is one line, which says when somebody is free before its end",
          "[day]") {
    const auto p = planned(project_file("examples/demo.json"));
    int early = 0;
    for (std::size_t day = 0; day < p.plan.schedule.days.size(); ++day) {
        const auto& tasks = p.plan.schedule.days[day].tasks;
        const auto sheet = day_sheets(p.context(), static_cast<int>(day)).front();
        const auto& order = order_of(sheet);
        CAPTURE(day);
        check_nobody_twice(order);
        REQUIRE(patches_of(p, static_cast<int>(day)).size() > 2);  // else each handling has its line
        for (const auto i : patches_of(p, static_cast<int>(day))) {
            const auto time = [&](schedule::What what) {
                const auto task = std::find_if(tasks.begin(), tasks.end(), [&](const schedule::Task& t) {
                    return t.patch == static_cast<int>(i) && t.what == what;
                });
                REQUIRE(task != tasks.end());
                return *task;
            };
            const auto what = "wet-out to wrinkle check " + p.plan.patches[i].id;
            CAPTURE(what);
            int lines = 0;
            for (const auto& row : order.rows) {
                if (std::none_of(row.begin(), row.end(), [&](const auto& cell) { return has(cell, what); })) continue;
                ++lines;
                CHECK(minute_of(row[0]) == time(schedule::What::wet_out).start);
                CHECK(minute_of(row[1]) == time(schedule::What::crease).finish);
            }
            CHECK(lines == 1);
        }
        // As many are bound at each minute as the plan says.
        for (const auto& task : tasks) {
            const auto bound = [&](const schedule::Task& t) {
                return t.start <= task.start && task.start < t.finish ? static_cast<int>(t.lanes.size()) : 0;
            };
            int planned_persons = 0;
            for (const auto& t : tasks) planned_persons += bound(t);
            CAPTURE(task.start);
            CHECK(bound_at(order, task.start) == planned_persons);
        }
        for (const auto& row : order.rows)
            for (const auto& cell : row) early += cell.starts_with("together to") ? 1 : 0;
        // Cleaning and cutting roots are one line for each run.
        std::set<std::string> cleaned;
        for (const auto& row : order.rows) {
            for (const auto& cell : row)
                if (cell.starts_with("clean") || cell.starts_with("flush and look, run"))
                    CHECK(cleaned.insert(cell).second);
        }
        CHECK(cleaned.size() > 1);
    }
    CHECK(early > 0);
}

TEST_CASE("hired helpers have their line for a name under the number that the order gives them", "[day]") {
    auto p = planned(job_with(fissures(2)));
    REQUIRE(p.yard.rates.crew_size == 2);
    CHECK_FALSE(has(days(p.context()), "hired helper"));
    auto& tasks = p.plan.schedule.days.front().tasks;
    const auto two = std::find_if(tasks.begin(), tasks.end(), [](const auto& task) { return task.lanes.size() == 2; });
    REQUIRE(two != tasks.end());
    two->lanes.push_back(3);
    const auto sheet = day_sheets(p.context(), 0).front();
    CHECK(person_columns(order_of(sheet)).size() == 3);
    CHECK(has(printed({sheet}), "Person 3 (hired helper)"));
}

TEST_CASE("two crews each have their lines of the order and of the names", "[day]") {
    auto p = planned(job_with(fissures(2)));
    auto& tasks = p.plan.schedule.days.front().tasks;
    CHECK_FALSE(has(days(p.context()), "Crew 2"));
    for (auto& task : tasks) {
        if (task.patch == 1) task.crew = 1;
    }
    const auto sheet = day_sheets(p.context(), 0).front();
    const auto& order = order_of(sheet);
    REQUIRE(order.columns.at(2).title == "Crew");
    for (const auto& row : order.rows) {
        bool second = false;
        for (const auto& cell : row) second = second || has(cell, p.plan.patches[1].id);
        CAPTURE(row);
        CHECK(row.at(2) == (second ? "2" : "1"));
    }
    // Each line binds those of its crew whom the plan names.
    const auto columns = person_columns(order);
    REQUIRE(columns.size() == 2);
    int named = 0;
    for (const auto& task : tasks) {
        if (task.lanes.empty()) continue;
        const auto row = std::find_if(order.rows.begin(), order.rows.end(), [&](const auto& cells) {
            return minute_of(cells.at(0)) == task.start && minute_of(cells.at(1)) == task.finish &&
                   cells.at(2) == std::to_string(task.crew + 1) &&
                   !cells.at(columns[static_cast<std::size_t>(task.lanes.front() - 1)]).empty();
        });
        CAPTURE(task.start, task.crew, task.lanes);
        REQUIRE(row != order.rows.end());
        for (int lane = 1; lane <= 2; ++lane) {
            const bool binds = std::find(task.lanes.begin(), task.lanes.end(), lane) != task.lanes.end();
            CHECK(row->at(columns[static_cast<std::size_t>(lane - 1)]).empty() == !binds);
        }
        named += task.crew == 1 ? 1 : 0;
    }
    CHECK(named > 4);
    CHECK(has(printed({sheet}), "Crew 2, person 1 (lead)"));
}

TEST_CASE("a run that was cleaned on an earlier day is flushed and looked at, and the order says so", "[day][order]") {
    const auto p = planned(project_file("examples/demo.json"));
    REQUIRE(p.plan.schedule.days.size() == 2);
    std::set<std::string> cleaned;
    for (int day = 0; day < 2; ++day) {
        const auto sheet = day_sheets(p.context(), day).front();
        for (const auto& row : order_of(sheet).rows)
            for (const auto& cell : row) {
                for (const auto& run : p.job.runs) {
                    CAPTURE(day, run.id, cell);
                    const bool roots = std::any_of(run.defects.begin(), run.defects.end(), [](const auto& d) {
                        return d.kind == job::DefectKind::root_intrusion;
                    });
                    const auto full = (roots ? "clean and cut roots, run " : "clean, run ") + run.id;
                    if (cell.starts_with(full)) CHECK(cleaned.insert(run.id).second);
                    if (cell.starts_with("flush and look, run " + run.id)) {
                        CHECK(day == 1);
                        CHECK(cleaned.count(run.id) == 1);
                    }
                }
            }
    }
    const auto second = order_of(day_sheets(p.context(), 1).front());
    CHECK(std::any_of(second.rows.begin(), second.rows.end(), [](const auto& row) {
        return std::any_of(row.begin(), row.end(), [](const auto& cell) { return cell.starts_with("flush and look"); });
    }));
}

TEST_CASE("whom to ring stands on the sheet as job and yard have it, else lines to write on", "[day]") {
    const auto given =
        text(day_sheets(planned(project_file("examples/demo.json")).context(), 0).front(), {true, false, 200});
    for (const char* words : {"Nearest hospital: Example Hospital, 4 km", "Customer's telephone: 000 000 0001"}) {
        CAPTURE(words, given);
        CHECK(given.find(words) != std::string::npos);
    }
    const auto blank = text(day_sheets(planned(job_with(fissures(1))).context(), 0).front(), {true, false, 200});
    CHECK(blank.find("Nearest hospital ____") != std::string::npos);
    CHECK(blank.find("Customer's telephone ____") != std::string::npos);
}
