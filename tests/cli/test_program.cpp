// The program as its users meet it: exit statuses, messages, what goes where.
#include <sys/stat.h>

#include <catch2/catch.hpp>
#include <regex>

#include "support/jobs.hpp"
#include "support/program.hpp"
#include "support/project_file.hpp"
#include "support/share.hpp"

using namespace patchwright;
using test::example;
using test::run;
using test::says;
using test::simple_job;

namespace {

// A job whose only defect is mended by a patch.
constexpr const char* one_fissure = R"({"patchwright_job": 1, "reference": "ok", "runs": [
 {"id": "A", "from": "a", "to": "b", "length": "12 m", "bore": "100 mm", "material": "clay", "depth": "1.2 m", "access": ["a", "b"],
  "defects": [{"id": "A1", "at": "5 m", "kind": "fissure", "size": "2 mm"}]}]})";

// Two faults, on lines 2 and 3.
constexpr const char* two_faults =
    "{\"patchwright_job\": 1, \"reference\": \"bad\", \"runs\": [\n"
    " {\"id\": \"A\", \"lenght\": \"12 m\", \"length\": \"12 m\", \"bore\": 100,\n"
    "  \"material\": \"clay\", \"depth\": \"1,2 m\"}]}\n";

const std::vector<std::string> commands{"daysheet", "quote", "plan", "check", "picklist", "why", "draw", "whatif"};

}  // namespace

TEST_CASE("exit status 0: done, results on standard output and nothing else there", "[program]") {
    for (const auto& command : commands) {
        const auto said = run({command, example(test::under_sanitizers ? "us-slab.json" : "demo.json"), "-q"});
        CAPTURE(command, said.err);
        CHECK(said.status == 0);
        CHECK(said.out.size() > (command == "check" ? 10 : 100));
        CHECK(said.err.empty());
    }
    CHECK(run({"--version"}).out.starts_with("patchwright "));
    CHECK(run({"--version"}).status == 0);
    CHECK(run({"-V"}).out == run({"--version"}).out);
}

TEST_CASE("every command explains itself, with an example", "[program]") {
    const auto whole = run({"--help"});
    CHECK(whole.status == 0);
    CHECK(whole.err.empty());
    for (const auto& command : commands) {
        CAPTURE(command);
        CHECK(says(whole.out, command));
        const auto said = run({command, "--help"});
        CHECK(said.status == 0);
        CHECK(says(said.out, "Examples:\n  patchwright " + command));
        CHECK(run({command, "-h"}).out == said.out);
    }
}

TEST_CASE("exit status 0 also when the honest answer is to dig", "[program]") {
    test::Call call;
    call.arguments = {"quote", "-"};
    call.input = R"({"patchwright_job": 1, "reference": "dig", "runs": [
 {"id": "A", "length": "12 m", "bore": "100 mm", "material": "clay", "depth": "1.2 m",
  "defects": [{"id": "A1", "at": "5 m", "kind": "collapse"}]}]})";
    const auto said = run(call);
    CHECK(said.status == 0);
    CHECK(says(said.out, "dig"));
    call.arguments = {"quote", "-", "--strict"};
    CHECK(run(call).status == 4);
}

TEST_CASE("exit status 1: input or output failed", "[program]") {
    const auto missing = run({"plan", "/nonexistent/job.json"});
    CHECK(missing.status == 1);
    CHECK(missing.out.empty());
    CHECK(says(missing.err, "/nonexistent/job.json"));
    CHECK(says(missing.err, "No such file"));
    CHECK(run({"plan", simple_job(), "--yard", "/nonexistent/yard.json"}).status == 1);
    CHECK(run({"plan", "/"}).status == 1);  // a folder
    const test::Folder folder;
    folder.write("secret.json", one_fissure);
    REQUIRE(chmod((folder / "secret.json").c_str(), 0) == 0);
    REQUIRE(chmod(folder.path().c_str(), 0755) == 0);
    test::Call call;
    call.arguments = {"plan", folder / "secret.json"};
    call.as_nobody = true;
    const auto unreadable = run(call);
    CHECK(unreadable.status == 1);
    CHECK(says(unreadable.err, "Permission denied"));
}

TEST_CASE("exit status 2: wrong usage, with the nearest known name", "[program]") {
    struct Row {
        std::vector<std::string> arguments;
        std::string hint;
    };
    const Row rows[] = {
        {{"daysheat", "x.json"}, "daysheet"},
        {{"quots", "x.json"}, "quote"},
        {{"daysheat", "x.json"},
         "\"daysheat\" is not a command; did you mean \"daysheet\"?; there are daysheet, quote, plan"},
        {{"frobnicate", "x.json"}, "\"frobnicate\" is not a command; there are daysheet, quote, plan, check"},
        {{"calc", "frobnicate"}, "\"frobnicate\" is not a calculation; there are "},
        {{"plan", "x.json", "--yrad", "y.json"}, "--yard"},
        {{"plan", "x.json", "--form", "json"}, "--format"},
        {{"plan", simple_job(), "-f", "jsn"}, "json"},
        {{"plan", simple_job(), "--units", "imperial"}, "metric"},
        {{"plan"}, "JOB"},
        {{}, "Usage"},
    };
    for (const auto& row : rows) {
        const auto said = run(row.arguments);
        CAPTURE(row.arguments, said.err);
        CHECK(said.status == 2);
        CHECK(said.out.empty());
        CHECK(says(said.err, row.hint));
        CHECK(says(said.err, "--help"));
    }
    const auto calc = run({"calc", "cure"});
    CHECK(calc.status == 2);
    CHECK(says(calc.err, "--resin is missing"));
}

TEST_CASE("exit status 3: all errors of the file with line and column, and nothing written", "[program]") {
    const test::Folder folder;
    folder.write("bad.json", two_faults);
    folder.write("old.txt", "yesterday's sheet\n");
    const auto file = folder / "bad.json";
    for (const auto& command : {"daysheet", "quote", "plan", "picklist", "why", "whatif"}) {
        const auto said = run({command, file, "-o", folder / "old.txt"});
        CAPTURE(command, said.err);
        CHECK(said.status == 3);
        CHECK(said.out.empty());
        CHECK(says(said.err, file + ":2:14: error: "));  // the misspelt key
        CHECK(says(said.err, file + ":2:"));
        CHECK(says(said.err, file + ":3:"));  // the decimal comma
        CHECK(says(said.err, "length"));
        CHECK(says(said.err, "^"));
        CHECK(folder.read("old.txt") == "yesterday's sheet\n");
        CHECK(folder.names() == std::vector<std::string>{"bad.json", "old.txt"});
    }
    const auto checked = run({"check", file});
    CHECK(checked.status == 3);
    CHECK(says(checked.out, file + ":2:14: error: "));
    CHECK(says(checked.out, "3 errors"));
}

TEST_CASE("exit status 3: faults of the yard file too", "[program]") {
    const test::Folder folder;
    folder.write("yard.json", "{\"patchwright_yard\": 1, \"extends\": \"builtin\",\n \"limitz\": {}}\n");
    const auto said = run({"plan", simple_job(), "--yard", folder / "yard.json"});
    CHECK(said.status == 3);
    CHECK(said.out.empty());
    CHECK(says(said.err, "yard.json:2:2: error: "));
    CHECK(says(said.err, "limits"));
}

TEST_CASE("exit status 3: resin data that no resin can have, named, in every build of the program", "[program]") {
    const test::Folder folder;
    for (const char* wrong : {R"("gel_conversion": 0.99)", R"("heat_of_reaction": "0 J/g")"}) {
        folder.write("yard.json", R"({"patchwright_yard": 1, "extends": "builtin", "resins": [{"id": "fast", )" +
                                      std::string{wrong} + "}]}\n");
        for (const char* command : {"check", "daysheet", "plan"}) {
            const auto said = run({command, simple_job(), "--yard", folder / "yard.json"});
            CAPTURE(wrong, command, said.err);
            CHECK(said.status == 3);
            CHECK(says(said.out + said.err, "fast"));
        }
    }
}

TEST_CASE("exit status 4: --strict and something stays unpatched", "[program]") {
    const auto demo = run({"daysheet", example("demo.json"), "--strict", "-q"});
    CHECK(demo.status == 4);
    CHECK(demo.out == run({"daysheet", example("demo.json"), "-q"}).out);
    test::Call call;
    call.arguments = {"daysheet", "-", "--strict"};
    call.input = one_fissure;
    CHECK(run(call).status == 0);
}

TEST_CASE("a dash is standard input, and names itself in messages", "[program]") {
    test::Call call;
    call.arguments = {"plan", "-", "-f", "json"};
    call.input = test::project_file("tests/support/one_patch.json");
    const auto piped = run(call);
    CHECK(piped.status == 0);
    CHECK(piped.out == run({"plan", simple_job(), "-f", "json"}).out);
    CHECK(piped.out == run({"plan", simple_job(), "-f", "json", "-o", "-"}).out);
    call.input = two_faults;
    const auto bad = run(call);
    CHECK(bad.status == 3);
    CHECK(says(bad.err, "standard input:2:14: error: "));
}

TEST_CASE("empty and damaged files are refused with a place", "[program]") {
    for (const std::string text : {"", " \n", "{", "[]", "null", "\xff\xfe", "{\"patchwright_job\": 2}"}) {
        test::Call call;
        call.arguments = {"plan", "-"};
        call.input = text;
        const auto said = run(call);
        CAPTURE(text, said.err);
        CHECK(said.status == 3);
        CHECK(said.out.empty());
        CHECK(std::regex_search(said.err, std::regex{"^standard input:[0-9]+:[0-9]+: error: "}));
    }
    test::Call deep;
    deep.arguments = {"plan", "-"};
    deep.input = std::string(100000, '[');
    CHECK(run(deep).status == 3);
}

TEST_CASE("quiet leaves warnings out, never errors", "[program]") {
    test::Call call;
    call.arguments = {"plan", "-"};
    call.input = std::regex_replace(std::string{one_fissure}, std::regex{"100 mm"}, "30 mm");
    CHECK(says(run(call).err, "warning"));
    call.arguments.emplace_back("-q");
    CHECK(run(call).err.empty());
    call.input = two_faults;
    const auto bad = run(call);
    CHECK(bad.status == 3);
    CHECK(says(bad.err, "error"));
}
