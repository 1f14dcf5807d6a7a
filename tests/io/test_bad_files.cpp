#include <nlohmann/json.hpp>
#include <set>
#include <sstream>

#include "files.hpp"
#include "patchwright/io/read_record.hpp"

using namespace patchwright;

namespace {

struct Row {
    std::string name, place, message;
};

/// tests/io/bad/expected.txt: file | line:column | part of the message. The places were counted in the text itself.
std::vector<Row> expected() {
    std::istringstream in{test::project_file("tests/io/bad/expected.txt")};
    std::vector<Row> rows;
    for (std::string line; std::getline(in, line);) {
        const std::size_t first = line.find(" | ");
        const std::size_t second = line.find(" | ", first + 3);
        REQUIRE(second != std::string::npos);
        rows.push_back({line.substr(0, first), line.substr(first + 3, second - first - 3), line.substr(second + 3)});
    }
    return rows;
}

std::vector<io::Diagnostic> refuse(const std::string& name, const std::string& text) {
    if (name.starts_with("job-")) {
        const auto result = io::read_job(text, name);
        CHECK_FALSE(result);
        return result.diagnostics;
    }
    if (name.starts_with("record-")) {
        const io::RecordNames names{"T", {"A-P1"}, {"A"}};
        const auto result = io::read_record(text, name, &names);
        CHECK_FALSE(result);
        return result.diagnostics;
    }
    const auto result = io::read_yard(text, name);
    CHECK_FALSE(result);
    return result.diagnostics;
}

}  // namespace

TEST_CASE("each bad file gets its one error, at its place", "[job][error]") {
    const auto rows = expected();
    REQUIRE(rows.size() > 100);
    for (const Row& row : rows) {
        const std::string text = test::project_file("tests/io/bad/" + row.name);
        const auto errors = test::errors_of(refuse(row.name, text));
        CAPTURE(row.name, row.place, row.message, errors);
        REQUIRE(errors.size() == 1);
        CHECK(errors[0].starts_with(row.place + " "));
        CHECK(errors[0].find(row.message) != std::string::npos);
    }
}

TEST_CASE("all errors of a file come in one go, in order of place", "[job][error]") {
    const std::string text = R"({
  "patchwright_job": 1, "reference": "", "units": "imperial",
  "site": { "finish": "07:00" },
  "runs": [
    { "id": "A", "lenght": "20 m", "bore": 100, "material": "clai", "depth": "1,2 m",
      "defects": [ { "id": "A1", "at": "x", "kind": "hole" }, { "at": "1 m" } ] },
    { "id": "A", "length": "5 m", "bore": "0 mm", "material": "clay", "depth": "1 m", "bore": "1 m" }
  ]
})";
    const auto result = io::read_job(text, "j");
    const auto errors = test::errors_of(result.diagnostics);
    CAPTURE(errors);
    CHECK_FALSE(result);
    const std::vector<std::string> places{"2:38", "2:51", "3:23", "5:18", "5:44", "5:61", "5:80",
                                          "6:41", "6:53", "6:63", "7:13", "7:43", "7:87"};
    REQUIRE(errors.size() == places.size());
    for (std::size_t i = 0; i < places.size(); ++i) {
        CAPTURE(i);
        CHECK(errors[i].substr(0, errors[i].find(' ')) == places[i]);
    }
}

TEST_CASE("a fault is shown with its line and a mark under it", "[job][error]") {
    const auto result = io::read_job(test::small_job(R"("water_table": "0,5 m")"), "yard drain.json");
    REQUIRE(result.diagnostics.size() == 1);
    CHECK(io::text(result.diagnostics[0]) ==
          "yard drain.json:3:18: error: use a point as the decimal mark, and no mark between thousands "
          "[at /runs/0/water_table]\n"
          " 3 | \"water_table\": \"0,5 m\"}]}\n"
          "   |                  ^");
}
