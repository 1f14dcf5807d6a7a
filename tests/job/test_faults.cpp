// However many faults a file has, what is told of them stays short.
#include <fmt/format.h>

#include "files.hpp"

using namespace patchwright;

namespace {

std::string job_with(int unknown_keys, int numbers) {
    std::string more;
    for (int i = 0; i < unknown_keys; ++i) more += fmt::format("{}\"key{}\": 1", more.empty() ? "" : ",\n", i);
    std::string defects;
    for (int i = 0; i < numbers; ++i)
        defects += fmt::format("{}{{\"id\": \"D{}\", \"at\": {}, \"kind\": \"fissure\"}}", i == 0 ? "" : ",\n", i, i);
    return test::small_job(more + (more.empty() ? "" : ",\n") + "\"defects\": [" + defects + "]");
}

}  // namespace

TEST_CASE("the first hundred errors in full by place, the rest by kind with their number", "[job][error]") {
    const auto told = job::read_job(job_with(150, 70), "f").diagnostics;
    REQUIRE(told.size() == 102);
    int line = 0;
    for (std::size_t i = 0; i < 100; ++i) {
        CHECK(told[i].line > line);  // the keys, one a line
        line = told[i].line;
    }
    CHECK(told[99].message.find("key99") != std::string::npos);
    // What follows stands where the first of its kind does.
    CHECK(told[100].line == line + 1);
    CHECK(told[100].message.starts_with("50 more from here on: \"...\" is no known key here"));
    CHECK(told[101].line == line + 51);
    CHECK(told[101].message.starts_with("70 more from here on: a bare number"));
}

TEST_CASE("a hundred errors are told as they are", "[job][error]") {
    CHECK(job::read_job(job_with(100, 0), "f").diagnostics.size() == 100);
    CHECK(job::read_job(job_with(0, 101), "f").diagnostics.size() == 101);
    CHECK(job::read_job(job_with(0, 101), "f").diagnostics.back().message.starts_with("1 more from here on: "));
}

TEST_CASE("keys that stand twice are counted as well", "[job][error]") {
    std::string text = "{\"patchwright_job\": 1";
    for (int i = 0; i < 300; ++i) text += ",\n\"patchwright_job\": 1";
    const auto told = job::read_job(text + "}", "f").diagnostics;
    CHECK(told.size() < 110);
    CHECK(std::any_of(told.begin(), told.end(), [](const job::Diagnostic& d) {
        return d.message.find(" more from here on: ") != std::string::npos;
    }));
}
