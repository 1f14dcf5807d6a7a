#pragma once
#include <fmt/format.h>

#include <string>
#include <vector>

#include "patchwright/io/read.hpp"
#include "patchwright/sheet/week.hpp"
#include "patchwright/week/week.hpp"
#include "support/dice.hpp"
#include "support/project_file.hpp"

/// Weeks for the tests: invented, and the same for a seed on every machine.
namespace patchwright::test {

inline const std::vector<std::string>& example_jobs() {
    static const std::vector<std::string> names{"101-kitchen-drain", "102-side-passage", "103-school-yard",
                                                "104-terrace",       "105-bakery",       "106-mill-lane"};
    return names;
}

inline job::Job read_job(const std::string& text) {
    auto read = io::read_job(text, "job");
    INFO((read.diagnostics.empty() ? std::string{} : io::text(read.diagnostics.front())));
    REQUIRE(read);
    return std::move(*read.value);
}

inline job::Job example_job(const std::string& name) {
    return read_job(project_file("examples/week/" + name + ".json"));
}

/// The week of examples/week; the first so many of its jobs, the one of several days last.
inline week::Input example_week(std::size_t jobs = 6) {
    week::Input input;
    for (std::size_t j = 0; j < jobs; ++j) input.jobs.push_back(example_job(example_jobs()[j]));
    auto yard = io::read_yard(project_file("examples/week/yard.json"), "yard");
    REQUIRE(yard);
    input.yard = std::move(*yard.value);
    input.drives = week::read_drives(project_file("examples/week/drives.csv"), "drives").table;
    input.from = {2026, 7, 13};
    input.threads = 2;
    return input;
}

/// A job of one run with so many places to mend, somewhere within half an hour's drive of 54 N, 2 E.
inline job::Job small_job(Dice& dice, int number) {
    const int defects = dice.chance(90) ? dice.between(1, 2) : dice.between(3, 4);
    std::string list;
    for (int d = 0; d < defects; ++d)
        list +=
            fmt::format(R"({}{{ "id": "A{}", "at": "{}.50 m", "kind": "{}", "size": "{} mm" }})", d == 0 ? "" : ", ",
                        d + 1, 4 + 5 * d, dice.chance(50) ? "fissure" : "displaced joint", dice.between(2, 6));
    const std::string window = dice.chance(25) ? R"(, "window": { "from": "08:30", "to": "15:30" })" : "";
    const std::string latest = dice.chance(20) ? R"(, "latest": "2026-07-15")" : "";
    const std::string earliest = dice.chance(20) ? R"(, "earliest": "2026-07-14")" : "";
    return read_job(fmt::format(
        R"({{ "patchwright_job": 1, "reference": "R-{}", "title": "Invented",
  "site": {{ "start": "07:00", "finish": "17:00", "air_temperature": "20 C", "resin_temperature": "18 C", "coordinates":
    {{ "latitude": "{:.4f} deg", "longitude": "{:.4f} deg" }}{}{}{} }},
  "runs": [ {{ "id": "A", "from": "MH1", "to": "MH2", "length": "36 m", "bore": "{}", "material": "clay",
    "depth": "1.2 m", "ground_temperature": "17 C", "access": ["MH1", "MH2"], "defects": [ {} ] }} ] }})",
        number, 54.0 + 0.0001 * dice.between(-900, 900), 2.0 + 0.0001 * dice.between(-1500, 1500), window, latest,
        earliest, dice.chance(70) ? "100 mm" : "150 mm", list));
}

}  // namespace patchwright::test
