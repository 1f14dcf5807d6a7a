// Files with more faults than anybody reads: the first in full, the rest counted, and soon said.
#include <fmt/format.h>

#include <functional>

#include "document.hpp"
#include "files.hpp"
#include "further.hpp"

using namespace patchwright;

namespace {

std::string job_of_runs(int runs, const std::function<std::string(int)>& keys) {
    std::string text = R"({"patchwright_job": 1, "reference": "Q-1", "runs": [)";
    for (int i = 0; i < runs; ++i) text += (i > 0 ? ",\n" : "\n") + fmt::format(R"({{"id": "R{}", {}}})", i, keys(i));
    return text + "]}";
}

std::int64_t told(const std::vector<io::Diagnostic>& list, io::Severity severity) {
    std::int64_t sum = 0;
    for (const auto& d : list) sum += d.severity == severity ? d.count : 0;
    return sum;
}

}  // namespace

TEST_CASE("of many faults the first hundred stand in full, the rest is counted by kind", "[job][error]") {
    // Each run: bore and material at fault; every tenth a depth besides. Wanted keys that are not given are told at the
    // run.
    const auto result = io::read_job(
        job_of_runs(200,
                    [](int i) {
                        return fmt::format(
                            R"("from": "M{}", "to": "M{}", "length": "5 m", "bore": "x", "material": "clai"{})", i,
                            i + 1, i % 10 == 0 ? R"(, "depth": "deep")" : R"(, "depth": "1 m")");
                    }),
        "job.json");
    CHECK_FALSE(result);
    CHECK(told(result.diagnostics, io::Severity::error) == 200 + 200 + 20);
    REQUIRE(result.diagnostics.size() == io::told_in_full + 1);
    for (std::size_t i = 0; i < io::told_in_full; ++i) {
        CHECK(result.diagnostics[i].count == 1);
        CHECK(result.diagnostics[i].line > 1);
        CHECK(result.diagnostics[i].line <= 2 + static_cast<int>(io::told_in_full) / 2);
    }
    const auto& last = result.diagnostics.back();
    CHECK(last.count == 320);
    CHECK(last.file == "job.json");
    CHECK(last.message == "320 more errors: 153 at \"material\", 152 at \"bore\", 15 at \"depth\"");
}

TEST_CASE("a hundred faults are a list like any other", "[job][error]") {
    const auto faults = [](int runs) {
        return io::read_job(
                   job_of_runs(
                       runs,
                       [](int i) {
                           return fmt::format(
                               R"("from": "M{}", "to": "M{}", "length": "5 m", "bore": "x", "material": "clay", "depth": "1 m")",
                               i, i + 1);
                       }),
                   "job.json")
            .diagnostics;
    };
    CHECK(faults(100).size() == 100);
    CHECK(faults(100).back().count == 1);
    CHECK(faults(101).back().message == "1 more error: 1 at \"bore\"");
}

TEST_CASE("kinds of fault beyond count are one", "[job][error]") {
    std::string keys =
        R"("from": "A", "to": "B", "length": "5 m", "bore": "100 mm", "material": "clay", "depth": "1 m")";
    for (int i = 0; i < 300; ++i) keys += fmt::format(R"(, "key{}{}": 1)", i, std::string(100, 'y'));
    const auto list = io::read_job(job_of_runs(1, [&](int) { return keys; }), "job.json").diagnostics;
    CHECK(told(list, io::Severity::error) == 300);
    CHECK(list.back().message.find("180 elsewhere") != std::string::npos);
    CHECK(list.back().message.size() < 2000);
}

TEST_CASE("checks between job and yard end in a count too", "[job][error]") {
    const auto job = io::read_job(
        job_of_runs(
            300,
            [](int i) {
                return fmt::format(
                    R"("from": "M{}", "to": "M{}", "length": "5 m", "bore": "100 mm", "material": "clay", "depth": "1 m",
            "ground_temperature": "39 C", "defects": [{{"id": "D", "at": "2 m", "kind": "fissure"}}])",
                    i, i + 1);
            }),
        "job.json");
    CAPTURE(test::errors_of(job.diagnostics));
    REQUIRE(job);
    const auto list = io::cross_check(*job.value, io::builtin_yard());
    CHECK(told(list, io::Severity::warning) == 300);
    CHECK(list.size() == io::told_in_full + 1);
    CHECK(list.back().message == "200 more warnings: 200 at \"ground_temperature\"");
}

TEST_CASE("a key that stands a hundred thousand times is told within the blink of a line", "[job][error]") {
    // Each message names the place of the first; looked up for every one, that was minutes.
    std::string text = "{\n";
    for (int i = 0; i < 100'000; ++i) text += "\"units\": \"metric\",\n";
    const auto list = io::read_job(text + "\"patchwright_job\": 1}", "job.json").diagnostics;
    CHECK(list.back().message.find("more errors: 99899 at \"units\"") != std::string::npos);
}

TEST_CASE("a file of more values than any job has is refused at the first too many", "[job][document][error]") {
    std::string text = "[";
    for (std::size_t i = 0; i + 2 < io::max_values; ++i) text += "1,\n";
    CHECK(io::parse_document(text + "1]").complete);
    const auto list = io::read_job(text + "1,\n7]", "job.json").diagnostics;
    REQUIRE(list.size() == 1);
    CHECK(list[0].message == "more than 500000 values in one file; give it in parts");
    CHECK(list[0].line == static_cast<int>(io::max_values));
}
