// Slips of the pen at the command line and in files: refused in plain words before anything is lost.
#include <fcntl.h>
#include <stdlib.h>
#include <sys/wait.h>
#include <unistd.h>

#include <catch2/catch.hpp>
#include <filesystem>
#include <nlohmann/json.hpp>

#include "support/program.hpp"

using namespace patchwright;
using test::run;
using test::says;
using test::simple_job;

namespace {

/// One defect that a patch mends; `bore` and the members of the run may be changed.
std::string job_text(const std::string& bore = "100 mm", const std::string& more = "") {
    return R"({"patchwright_job": 1, "reference": "ok", "runs": [
 {"id": "A", "from": "a", "to": "b", "length": "12 m", "bore": ")" +
           bore + R"(", "material": "clay", "depth": "1.2 m", "access": ["a", "b"],)" + more + R"(
  "defects": [{"id": "A1", "at": "5 m", "kind": "fissure", "size": "2 mm"}]}]})";
}

/// The program with a terminal for its standard output; what it wrote there, and its exit status.
std::pair<int, std::string> on_terminal(std::vector<std::string> arguments) {
    const int ours = posix_openpt(O_RDWR | O_NOCTTY);
    REQUIRE(ours >= 0);
    REQUIRE(grantpt(ours) == 0);
    REQUIRE(unlockpt(ours) == 0);
    const int theirs = open(ptsname(ours), O_RDWR | O_NOCTTY);
    REQUIRE(theirs >= 0);
    arguments.insert(arguments.begin(), "patchwright");
    std::vector<char*> list;
    for (auto& argument : arguments) list.push_back(argument.data());
    list.push_back(nullptr);
    const pid_t child = fork();
    REQUIRE(child >= 0);
    if (child == 0) {
        const int nothing = open("/dev/null", O_RDWR);
        dup2(nothing, STDIN_FILENO);
        dup2(theirs, STDOUT_FILENO);
        dup2(nothing, STDERR_FILENO);
        execv(PATCHWRIGHT_PROGRAM, list.data());
        _exit(127);
    }
    close(theirs);
    std::string out;
    char buffer[4096];
    for (ssize_t got = 0; (got = read(ours, buffer, sizeof buffer)) > 0;)
        out.append(buffer, static_cast<std::size_t>(got));
    close(ours);
    int state = 0;
    REQUIRE(waitpid(child, &state, 0) == child);
    return {WIFEXITED(state) ? WEXITSTATUS(state) : -1, out};
}

}  // namespace

TEST_CASE("an output that is an input is refused, by whatever name", "[program][output]") {
    const test::Folder folder;
    const std::string job = job_text(), yard = R"({"patchwright_yard": 1, "extends": "builtin"})";
    folder.write("job.json", job);
    folder.write("yard.json", yard);
    folder.write("survey.csv", "run,at,code\nA,1.0,BAA\n");
    folder.write("jobs.jsonl", folder / "job.json" + "\n");
    std::filesystem::create_symlink(folder / "job.json", folder / "link.json");
    const auto survey = folder.read("survey.csv"), jobs = folder.read("jobs.jsonl");
    const std::vector<std::vector<std::string>> calls{
        {"plan", folder / "job.json", "-o", folder / "job.json"},
        {"plan", folder / "job.json", "-o", folder / "./job.json", "-f", "json"},
        {"plan", folder / "job.json", "-o", folder / "link.json"},
        {"plan", folder / "link.json", "-o", folder / "job.json"},
        {"quote", folder / "job.json", "--yard", folder / "yard.json", "-o", folder / "yard.json", "-f", "text"},
        {"daysheet", folder / "job.json", "-f", "pdf", "-o", folder / "job.json"},
        {"check", folder / "job.json", "-f", "json", "-o", folder / "job.json"},
        {"picklist", folder / "job.json", "-f", "csv", "-o", folder / "job.json"},
        {"draw", folder / "job.json", "-f", "svg", "-o", folder / "job.json"},
        {"why", folder / "job.json", "-f", "json", "-o", folder / "job.json"},
        {"import", folder / "survey.csv", "-o", folder / "survey.csv"},
        {"import", folder / "survey.csv", "--yard", folder / "yard.json", "-o", folder / "yard.json"},
        {"plan", "--stream", folder / "jobs.jsonl", "-o", folder / "jobs.jsonl"},
        {"plan", "--stream", folder / "jobs.jsonl", "-o", folder / "job.json"},
    };
    for (const auto& call : calls) {
        const auto said = run(call);
        CAPTURE(call, said.err);
        CHECK(said.status == 2);
        CHECK(said.out.empty());
        CHECK(says(said.err, "which would be lost"));
        CHECK(folder.read("job.json") == job);
        CHECK(folder.read("yard.json") == yard);
        CHECK(folder.read("survey.csv") == survey);
        CHECK(folder.read("jobs.jsonl") == jobs);
    }
    CHECK(says(run(calls[2]).err, folder / "link.json: that is the input " + (folder / "job.json")));
    CHECK(run({"plan", folder / "job.json", "-o", folder / "plan.json"}).status == 0);
    CHECK(run({"plan", folder / "job.json", "-o", folder / "plan.json"}).status == 0);  // its own output again
}

TEST_CASE("an option given twice, and names that are empty", "[program]") {
    struct Row {
        std::vector<std::string> arguments;
        std::string words;
    };
    const Row rows[] = {
        {{"plan", simple_job(), "-o", "a.txt", "-o", "b.txt"}, "--output is given twice"},
        {{"plan", simple_job(), "--units", "us", "--units", "us", "--units", "us"}, "--units is given 3 times"},
        {{"calc", "bend", "--bore", "100 mm", "--bore", "90 mm"}, "--bore is given twice"},
        {{"plan", ""}, "JOB: a file name cannot be empty"},
        {{"plan", simple_job(), "-o", ""}, "--output: a file name cannot be empty"},
        {{"plan", simple_job(), "--yard", ""}, "--yard: a file name cannot be empty"},
        {{"import", ""}, "SURVEY: a file name cannot be empty"},
        {{"daysheet", simple_job(), "--day", "abc"}, "--day abc: the plan has"},
        {{"daysheet", simple_job(), "--day", "0"}, "--day 0: the plan has"},
        {{"daysheet", simple_job(), "--day", "99"}, "--day 99: the plan has"},
    };
    for (const auto& row : rows) {
        const auto said = run(row.arguments);
        CAPTURE(row.arguments, said.err);
        CHECK(said.status == 2);
        CHECK(said.out.empty());
        CHECK(says(said.err, row.words));
    }
    CHECK_FALSE(std::filesystem::exists("b.txt"));
}

TEST_CASE("help and version say when they could not be written", "[program]") {
    for (const char* option : {"--help", "--version"}) {
        test::Call call;
        call.arguments = {option};
        call.output_to = "/dev/full";
        const auto said = run(call);
        CAPTURE(option, said.err);
        CHECK(said.status == 1);
        CHECK(says(said.err, "cannot write"));
    }
}

TEST_CASE("a form that no terminal shows needs a file", "[program]") {
    const auto [refused, nothing] = on_terminal({"daysheet", simple_job(), "-f", "pdf"});
    CHECK(refused == 2);
    CHECK(nothing.empty());
    CHECK(on_terminal({"draw", simple_job(), "-f", "png"}).first == 2);
    CHECK(on_terminal({"plan", simple_job(), "-q"}).first == 0);
}

TEST_CASE("calculations refuse a pipe of nothing", "[program][calc]") {
    const std::vector<std::vector<std::string>> calls{
        {"calc", "energy", "--bore", "0mm", "--length", "1 m", "--pressure", "1 bar"},
        {"calc", "energy", "--bore", "100 mm", "--length", "0 m", "--pressure", "1 bar"},
        {"calc", "energy", "--bore", "100 mm", "--length", "1 m", "--pressure", "1 bar", "--hose-length", "-1 m"},
        {"calc", "thrust", "--bore", "0 mm", "--pressure", "1 bar"},
        {"calc", "ground", "--depth", "0 m", "--date", "2026-04-14"},
        {"calc", "felt", "--bore", "0 mm", "--length", "1 m"},
    };
    for (const auto& call : calls) {
        const auto said = run(call);
        CAPTURE(call, said.err);
        CHECK(said.status == 3);
        CHECK(said.out.empty());
        CHECK((says(said.err, "must be above zero") || says(said.err, "cannot be negative")));
    }
    CHECK(run({"calc", "energy", "--bore", "100 mm", "--length", "1 m", "--pressure", "1 bar"}).status == 0);
}

TEST_CASE("what stands in a file never acts on the screen", "[program][check]") {
    test::Call call;
    call.arguments = {"check", "-"};
    // ESC in a key, a name that turns the direction of writing, a name that ends in a blank.
    const std::pair<const char*, const char*> rows[] = {
        {"\"len\\u001b[31mgth\": \"1 m\",", "[at /runs/0/len\\u001b[31mgth]"},
        {"\"joint\xE2\x80\xAE\": \"1 m\",", "[at /runs/0/joint\\u202e]"},
        {"\"fittings\": [{\"id\": \"x\xE2\x81\xA6y\", \"at\": \"1 m\", \"kind\": \"junction\"}],",
         "turn the direction"},
        {"\"fittings\": [{\"id\": \"x \", \"at\": \"1 m\", \"kind\": \"junction\"}],",
         "\"id\" cannot begin or end with a blank [at /runs/0/fittings/0/id]"},
        {"\"fittings\": [{\"id\": \"\xC2\xA0x\", \"at\": \"1 m\", \"kind\": \"junction\"}],",
         "\"id\" cannot begin or end with a blank"},
    };
    for (const auto& [member, words] : rows) {
        call.input = job_text("100 mm", member);
        const auto said = run(call);
        CAPTURE(member, said.out);
        CHECK(said.status == 3);
        CHECK(says(said.out, words));
        for (const char* mark : {"\x1b", "\xE2\x80\xAE", "\xE2\x81\xA6"}) CHECK_FALSE(says(said.out + said.err, mark));
    }
}

TEST_CASE("check tells of bores for which no new pipe is listed, and says the worst on standard output", "[check]") {
    test::Call call;
    for (const char* bore : {"20 mm", "600 mm", "12 mm"}) {
        call.arguments = {"check", "-"};
        call.input = job_text(bore);
        const auto said = run(call);
        CAPTURE(bore, said.out, said.err);
        CHECK(said.status == 0);
        CHECK(says(said.out, "no replacement pipe is listed"));
    }
    const test::Folder folder;
    folder.write("job.json", job_text());
    folder.write("yard.json", R"({"patchwright_yard": 1, "extends": "builtin", "resins": [
 {"id": "standard", "kits": [{"mass": "0.001 g", "price": "1.00 EUR"}]}]})");
    const auto said = run({"check", folder / "job.json", "--yard", folder / "yard.json"});
    CHECK(said.status == 3);
    CHECK(says(said.out, "\"mass\" is too little: at least 1 g [at /resins/0/kits/0/mass]"));
    // Ten kilometres to dig, 49 m deep, are more than the money counts in one line.
    folder.write("long.json", R"({"patchwright_job": 1, "reference": "H", "runs": [
 {"id": "A", "length": "9.9 km", "bore": "100 mm", "material": "clay", "depth": "49 m",
  "defects": [{"id": "1", "at": "5 m", "to": "9.8 km", "kind": "collapse"}]}], "dig": {"soil": "C"}})");
    const auto beyond = run({"check", folder / "long.json"});
    CHECK(beyond.status == 3);
    CHECK(beyond.err.empty());
    const auto place = beyond.out.find(folder / "long.json: error: money");
    REQUIRE(place != std::string::npos);
    CHECK(beyond.out.find("warning: unusual: \"depth\"") < place);
    CHECK(says(beyond.out, "1 error, "));
}
