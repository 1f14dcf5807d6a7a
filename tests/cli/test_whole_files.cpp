// Files by -o: whole or not at all, whatever happens while they are written.
#include <sys/stat.h>
#include <unistd.h>

#include <catch2/catch.hpp>
#include <csignal>

#include <fmt/format.h>

#include "support/jobs.hpp"
#include "support/program.hpp"
#include "support/project_file.hpp"
#include "support/share.hpp"

using namespace patchwright;
using test::run;
using test::says;
using test::simple_job;

namespace {

struct Form {
    std::string command, file;
};
/// One of each way to make bytes: text, JSON, a page of paper, a drawing.
const std::vector<Form> forms{
    {"plan", "plan.txt"}, {"plan", "plan.json"}, {"daysheet", "day.pdf"}, {"draw", "run.svg"}};

constexpr const char* yesterday = "yesterday's";
using Names = std::vector<std::string>;

test::Call over_yesterday(const Form& form, const test::Folder& folder) {
    folder.write(form.file, yesterday);
    test::Call call;
    call.arguments = {form.command, simple_job(), "-q", "-o", folder / form.file};
    return call;
}

}  // namespace

TEST_CASE("output by -o has the same bytes as standard output, and the form follows the name", "[program][output]") {
    const test::Folder folder;
    for (const std::string name : {"plan.json", "plan.txt"}) {
        const auto said = run({"plan", simple_job(), "-q", "-o", folder / name});
        CAPTURE(name, said.err);
        CHECK(said.status == 0);
        CHECK(said.out.empty());
        const auto form = name == "plan.json" ? "json" : "text";
        CHECK(folder.read(name) == run({"plan", simple_job(), "-q", "-f", form}).out);
    }
    CHECK(run({"plan", simple_job(), "-o", folder / "plan.xyz"}).status == 2);
    CHECK(folder.names() == std::vector<std::string>{"plan.json", "plan.txt"});
}

TEST_CASE("a file that exists keeps its rights", "[program][output]") {
    const test::Folder folder;
    folder.write("plan.json", "old");
    REQUIRE(chmod((folder / "plan.json").c_str(), 0640) == 0);
    CHECK(run({"plan", simple_job(), "-q", "-o", folder / "plan.json"}).status == 0);
    struct stat now {};
    REQUIRE(stat((folder / "plan.json").c_str(), &now) == 0);
    CHECK((now.st_mode & 0777U) == 0640U);
    CHECK(folder.read("plan.json") != "old");
}

TEST_CASE("no file gets the rights of another user by what it held before", "[program][output]") {
    const test::Folder folder;
    folder.write("plan.json", "old");
    REQUIRE(chmod((folder / "plan.json").c_str(), 06755) == 0);
    CHECK(run({"plan", simple_job(), "-q", "-o", folder / "plan.json"}).status == 0);
    struct stat now {};
    REQUIRE(stat((folder / "plan.json").c_str(), &now) == 0);
    CHECK((now.st_mode & 07777U) == 0755U);
}

TEST_CASE("a symbolic link stays one, and its target is written whole or not at all", "[program][output]") {
    const test::Folder folder, elsewhere;
    elsewhere.write("kept.json", "old");
    // To a file, by a relative name over a second link, and to a file that is not there yet.
    REQUIRE(symlink((elsewhere / "kept.json").c_str(), (folder / "direct.json").c_str()) == 0);
    REQUIRE(symlink("direct.json", (folder / "twice.json").c_str()) == 0);
    REQUIRE(symlink((elsewhere / "new.json").c_str(), (folder / "dangling.json").c_str()) == 0);
    REQUIRE(symlink("round.json", (folder / "round.json").c_str()) == 0);
    const auto plan = run({"plan", simple_job(), "-q", "-f", "json"}).out;
    const auto is_link = [&](const char* name) {
        struct stat now {};
        return lstat((folder / name).c_str(), &now) == 0 && S_ISLNK(now.st_mode);
    };
    for (const char* name : {"direct.json", "twice.json", "dangling.json"}) {
        CAPTURE(name);
        CHECK(run({"plan", simple_job(), "-q", "-o", folder / name}).status == 0);
        CHECK(is_link(name));
        CHECK(folder.read(name) == plan);
    }
    CHECK(elsewhere.read("kept.json") == plan);
    CHECK(elsewhere.names() == Names{"kept.json", "new.json"});
    const auto round = run({"plan", simple_job(), "-q", "-o", folder / "round.json"});
    CHECK(round.status == 1);
    CHECK(says(round.err, "Too many levels of symbolic links"));

    elsewhere.write("kept.json", "old");
    test::Call full;
    full.arguments = {"plan", simple_job(), "-q", "-o", folder / "twice.json"};
    full.file_size = 1000;
    CHECK(run(full).status == 1);
    CHECK(elsewhere.read("kept.json") == "old");
    CHECK(elsewhere.names() == Names{"kept.json", "new.json"});
}

TEST_CASE("a name may be as long as the file system allows", "[program][output]") {
    const test::Folder folder;
    const std::string name = std::string(250, 'n') + ".json";  // 255 bytes, NAME_MAX
    const auto said = run({"plan", simple_job(), "-q", "-o", folder / name});
    CAPTURE(said.err);
    CHECK(said.status == 0);
    CHECK(folder.names() == Names{name});
}

TEST_CASE("with no room left the old file stays whole and nothing else is left behind", "[program][output]") {
    for (const auto& form : forms) {
        const test::Folder folder;
        auto call = over_yesterday(form, folder);
        call.file_size = 1000;
        const auto said = run(call);
        CAPTURE(form.file, said.err);
        CHECK(said.status == 1);
        CHECK(says(said.err, form.file));
        CHECK(says(said.err, "File too large"));
        CHECK(folder.read(form.file) == yesterday);
        CHECK(folder.names() == Names{form.file});
    }
}

TEST_CASE("interrupted in the middle of a write the old file stays whole and nothing else is left behind",
          "[program][output]") {
    const int signal = GENERATE(SIGTERM, SIGINT, SIGHUP);
    for (const auto& form : forms) {
        const test::Folder folder;
        auto call = over_yesterday(form, folder);
        call.file_size = 1000;  // the first write stops there: the rest is still to come
        call.interruption = {signal, folder.path()};
        const auto said = run(call);
        CAPTURE(signal, form.file, said.err);
        CHECK(said.status == 128 + signal);
        CHECK(folder.read(form.file) == yesterday);
        CHECK(folder.names() == Names{form.file});
    }
}

TEST_CASE("killed in the middle of a write the old file stays whole, and the next call is none the worse",
          "[program][output]") {
    for (const auto& form : forms) {
        const test::Folder folder;
        auto call = over_yesterday(form, folder);
        call.file_size = 1000;
        call.interruption = {SIGKILL, folder.path()};
        CAPTURE(form.file);
        CHECK(run(call).status == 128 + SIGKILL);
        CHECK(folder.read(form.file) == yesterday);
        // No program can tidy up after this signal: the part that was written keeps its temporary name.
        const auto left = folder.names();
        REQUIRE(left.size() == 2);
        CHECK(left[0].starts_with(".patchwright-"));
        CHECK(folder.read(left[0]).size() == 1000);

        const auto next = run({form.command, simple_job(), "-q", "-o", folder / form.file});
        CHECK(next.status == 0);
        CHECK(folder.read(form.file).size() > 1000);
        CHECK(folder.names() == left);
    }
}

TEST_CASE("in a folder without the right to write the old file stays whole", "[program][output]") {
    const test::Folder folder;
    folder.write("plan.json", "yesterday's plan");
    REQUIRE(chmod(folder.path().c_str(), 0555) == 0);
    test::Call call;
    call.arguments = {"plan", "-", "-q", "-o", folder / "plan.json"};
    call.input = test::project_file("tests/support/one_patch.json");  // an unprivileged reader may not reach the folder
    call.as_nobody = true;
    const auto said = run(call);
    CAPTURE(said.err);
    CHECK(said.status == 1);
    CHECK(says(said.err, "plan.json"));
    CHECK(says(said.err, "Permission denied"));
    CHECK(folder.read("plan.json") == "yesterday's plan");
    CHECK(folder.names() == std::vector<std::string>{"plan.json"});
}

TEST_CASE("output by -o to a folder or into one that is not there fails with its name", "[program][output]") {
    const test::Folder folder;
    CHECK(run({"plan", simple_job(), "-f", "json", "-o", folder.path()}).status == 1);
    const auto said = run({"plan", simple_job(), "-q", "-o", folder / "none/plan.json"});
    CHECK(said.status == 1);
    CHECK(says(said.err, "none/plan.json"));
    CHECK(folder.names().empty());
}

TEST_CASE("a file of thirty megabytes takes less than ten times its size", "[program]") {
    // Of memory, whatever stands in it: runs without a fault, faults at every value, nothing but ones.
    if (test::under_sanitizers) return;  // they take memory of their own
    constexpr std::size_t size = 30'000'000;
    const test::Folder folder;
    const std::string head = R"({"patchwright_job": 1, "reference": "long", "runs": [)";
    const auto run = [](int i, const char* bore) {
        return fmt::format(R"({}{{"id": "R{}", "from": "M{}", "to": "N{}", "length": "12 m", "bore": "{}",
            "material": "clay", "depth": "1.2 m", "access": ["M{}", "N{}"], "_note": "{}"}})",
                           i == 0 ? "" : ",\n", i, i, i, bore, i, i, std::string(600, 'x'));
    };
    std::string good = head, bad = head, ones = "[1", keys = "{\"a\": 1";
    for (int i = 0; good.size() < size; ++i) good += run(i, "100 mm");
    for (int i = 0; bad.size() < size; ++i) bad += run(i, "wide");
    while (ones.size() < size) ones += ",1";
    while (keys.size() < size) keys += ",\n\"a\": 1";
    for (const auto& text : {good + "]}", bad + "]}", ones + "]", keys + "}", std::string(size, '\n')}) {
        folder.write("long.json", text);
        const auto told = test::run({"check", folder / "long.json", "-q"});
        CAPTURE(text.substr(0, 60), told.err, told.out.substr(0, 200), told.memory);
        CHECK((told.status == 0 || told.status == 3));
        CHECK(told.memory < 10 * size);
    }
}
