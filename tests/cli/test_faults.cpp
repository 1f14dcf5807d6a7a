// Faults made on purpose, to the program that users get: memory that runs out, writing that fails at any of its steps,
// clocks that jump, a machine that has nothing. Whatever happens, what was written before stays whole.
#include <algorithm>
#include <catch2/catch.hpp>
#include <sstream>

#include "stream_jobs.hpp"
#include "support/program.hpp"
#include "support/project_file.hpp"
#include "support/share.hpp"

using namespace patchwright;
using test::says;

namespace {

using Words = std::vector<std::string>;

/// What the program is asked for, and the file that it writes; without one, standard output.
struct Deed {
    Words words;
    std::string file{};
};

const Words week{"week",   test::example("week/101-kitchen-drain.json"),
                 "--yard", test::example("week/yard.json"),
                 "--from", "2026-07-13"};

/// Every command, each way to make bytes, each way to write them.
std::vector<Deed> deeds() {
    const auto job = test::simple_job();
    const auto in_week = [](const Words& more) {
        Words words = week;
        words.insert(words.end(), more.begin(), more.end());
        return words;
    };
    return {{{"check", job}, "found.json"},
            {{"daysheet", job}, "day.txt"},
            {{"daysheet", job}, "day.html"},
            {{"daysheet", job}, "day.pdf"},
            {{"quote", job}, "offer.txt"},
            {{"plan", job}, "plan.txt"},
            {{"plan", job, "-f", "json"}},
            {{"picklist", job}, "pick.csv"},
            {{"draw", job}, "run.svg"},
            {{"draw", job}, "run.png"},
            {{"why", job, "price"}, "why.txt"},
            {{"whatif", job, "--try", "site.finish=18:00"}, "what.csv"},
            {in_week({}), "week.ics"},
            {{"calc", "airtest", "--bore", "100 mm", "--length", "30 m", "--method", "LC"}, "calc.json"},
            {{"import", test::example("survey.txt")}, "job.json"},
            {{"new"}, "job.json"},
            {{"now", job, "--at", "11:00"}},
            {{"record", "--new", job}, "record.json"},
            {{"learn", test::noted}, "yard.json"},
            {{"completion", "bash"}},
            {{"--version"}}};
}

/// What a run left behind.
struct Left {
    int status = -1;
    std::string out, err;
    std::vector<std::pair<std::string, std::string>> files{};
    bool same_as(const Left& other) const { return status == other.status && out == other.out && files == other.files; }
};

constexpr const char* yesterday = "yesterday's";

Left done(const Deed& deed, const Words& environment) {
    const test::Folder folder;
    test::Call call;
    call.arguments = deed.words;
    if (!deed.file.empty()) {
        folder.write(deed.file, yesterday);
        call.arguments.insert(call.arguments.end(), {"-q", "-o", folder / deed.file});
    }
    call.environment = environment;
    const auto said = test::run(call);
    Left left{said.status, said.out, said.err};
    for (const auto& name : folder.names()) left.files.emplace_back(name, folder.read(name));
    return left;
}

/// What follows is unused under sanitizers.
/// Nothing was written, and the words say why.
[[maybe_unused]] bool told(const Left& left, const Deed& deed, const std::string& why) {
    const bool kept =
        deed.file.empty() ? left.files.empty() : left.files.size() == 1 && left.files.front().second == yesterday;
    return left.status == 1 && kept && left.out.empty() && says(left.err, why);
}

Words with(const Words& faults) {
    Words environment{"LC_ALL=C.UTF-8", std::string{"LD_PRELOAD="} + PATCHWRIGHT_FAULTY};
    environment.insert(environment.end(), faults.begin(), faults.end());
    return environment;
}

/// How many allocations and calls for writing a run takes.
[[maybe_unused]] std::pair<long, long> counted(const Deed& deed) {
    const test::Folder folder;
    const auto file = folder / "counts";
    done(deed, with({"FAULTY_COUNTS=" + file}));
    std::istringstream numbers{folder.read("counts")};
    std::pair<long, long> counts;
    numbers >> counts.first >> counts.second;
    return counts;
}

/// Of so many in turn: the first ones, and some of all the rest that are others for every deed.
[[maybe_unused]] std::vector<long> sample(long count, long first, long more, long shift) {
    std::vector<long> list;
    for (long n = 1; n <= std::min(count, first); ++n) list.push_back(n);
    const long step = std::max(1L, (count - first) / more);
    for (long n = first + 1 + shift % step; n <= count; n += step) list.push_back(n);
    return list;
}

}  // namespace

// The sanitizers have an operator new and a start of their own; tests/plan/test_no_memory.cpp runs under them.
#ifndef PATCHWRIGHT_SANITIZED

TEST_CASE("memory that runs out is told in plain words, and no file is touched", "[program][faults]") {
    long shift = 0;
    for (const auto& deed : deeds()) {
        const auto whole = done(deed, with({}));
        const long count = counted(deed).first;
        REQUIRE(count > 0);
        for (const long n : sample(count, 3, 5, shift += 7919)) {
            for (const bool all : {false, true}) {
                Words faults{"FAULTY_NEW=" + std::to_string(n)};
                if (all) faults.emplace_back("FAULTY_NEW_ALL=1");
                const auto left = done(deed, with(faults));
                CAPTURE(deed.words, deed.file, n, all, left.status, left.err);
                // The library may do with less: then all is as ever.
                CHECK((left.same_as(whole) || told(left, deed, "out of memory")));
            }
        }
    }
}

TEST_CASE("memory that runs out at any step of making JSON is told as well", "[program][faults]") {
    // A value of nlohmann-json 3.11.2 that turns from nothing into an object when memory runs out is of no kind, and
    // ends the program by signal 11: every object is made as one. The job file is made in the last 400 allocations.
    const Deed deed{{"new"}, "job.json"};
    const long count = counted(deed).first;
    REQUIRE(count > 400);
    for (long n = count - 400; n <= count; ++n) {
        const auto left = done(deed, with({"FAULTY_NEW=" + std::to_string(n)}));
        CAPTURE(n, left.status, left.err);
        CHECK(told(left, deed, "out of memory"));
    }
}

TEST_CASE("a stream without memory ends with what it had written whole", "[program][faults]") {
    const auto jobs = test::many_jobs(6);
    const auto whole = test::run(test::stream(jobs)).out;
    const test::Folder folder;
    auto call = test::stream(jobs, {"--skip-done", folder / "plans", "-o", folder / "plans"});
    for (const long n : {20'000L, 60'000L, 90'000L}) {
        call.environment = with({"FAULTY_NEW=" + std::to_string(n), "FAULTY_NEW_ALL=1"});
        const auto said = test::run(call);
        CAPTURE(n, said.err);
        CHECK(said.status == 1);
        CHECK(says(said.err, "out of memory"));
        CHECK_FALSE(says(folder.read("plans"), "bad_alloc"));
        CHECK(whole.starts_with(folder.read("plans")));
    }
    call.environment = with({});
    CHECK(test::run(call).status == 0);
    CHECK(folder.read("plans") == whole);
}

TEST_CASE("each step of writing fails in turn, and what was there before stays", "[program][faults]") {
    for (const auto& deed : deeds()) {
        const auto whole = done(deed, with({}));
        const long count = counted(deed).second;
        REQUIRE(count > 0);
        int failed = 0;
        for (long n = 1; n <= count; ++n) {
            const auto left = done(deed, with({"FAULTY_CALL=" + std::to_string(n)}));
            CAPTURE(deed.words, deed.file, n, left.status, left.err);
            failed += left.status == 1 ? 1 : 0;
            // A file that was only read closes as it likes, and so does one whose bytes stand on the disk already;
            // fonts are read without their caches.
            CHECK((left.same_as(whole) || told(left, deed, deed.file)));
        }
        // Made, written, its rights set, flushed, closed, renamed; on standard output the write alone.
        CAPTURE(deed.words, deed.file);
        CHECK(failed >= (deed.file.empty() ? 1 : 6));
    }
}

TEST_CASE("writes that take a part or are interrupted, and clocks that jump, change nothing", "[program][faults]") {
    for (const auto& deed : deeds()) {
        const auto whole = done(deed, with({}));
        CAPTURE(deed.words, deed.file);
        CHECK(done(deed, with({"FAULTY_SHORT=1"})).same_as(whole));
        const auto jumped = done(deed, with({"FAULTY_CLOCK=1"}));
        CHECK(jumped.same_as(whole));
        CHECK(jumped.err == whole.err);
    }
}

TEST_CASE("every command does with 64 MB, or says in plain words that it cannot", "[program][faults]") {
    constexpr std::size_t most = 64'000'000;
    auto list = deeds();
    list.push_back({{"quote", test::demo, "--inside"}, "inside.txt"});
    list.push_back({{"daysheet", test::demo}, "days.pdf"});
    for (const auto& deed : list) {
        const test::Folder folder;
        test::Call call;
        call.arguments = deed.words;
        if (!deed.file.empty()) call.arguments.insert(call.arguments.end(), {"-q", "-o", folder / deed.file});
        const auto whole = test::run(call);
        CAPTURE(deed.words, deed.file);
        CHECK(whole.status == 0);
        CHECK(whole.memory < most);
        // Address space is more than memory: libraries, and room set aside for every thread.
        call.address_space = most;
        const auto narrow = test::run(call);
        CAPTURE(narrow.status, narrow.err);
        CHECK((narrow.status == 0 || (narrow.status == 1 && says(narrow.err, "out of memory"))));
        if (narrow.status == 0) CHECK(narrow.out == whole.out);
    }
}

#endif

TEST_CASE("without a home or a locale all is as ever", "[program][faults]") {
    for (const auto& deed : deeds()) {
        const auto whole = done(deed, {"LC_ALL=C"});
        CAPTURE(deed.words, deed.file);
        const auto bare = done(deed, {});
        CHECK(bare.same_as(whole));
        CHECK(bare.err == whole.err);
        CHECK(done(deed, {"HOME=/nowhere", "LC_ALL=xx_XX", "TMPDIR=/nowhere", "TERM="}).same_as(whole));
    }
}

TEST_CASE("where no thread can be started every command does its work alone", "[program][faults]") {
    const std::string file = test::under_sanitizers ? "us-slab.json" : "demo.json";
    for (const char* command : {"check", "daysheet", "quote"}) {
        test::Call call;
        call.arguments = {command, "-", "-q"};
        call.input = test::project_file("examples/" + file);  // an unprivileged reader may not reach the folder
        const auto whole = test::run(call);
        call.processes = 1;
        call.as_nobody = true;                                         // root has no such limit
        call.environment.emplace_back("ASAN_OPTIONS=detect_leaks=0");  // its search takes a thread of its own
        const auto alone = test::run(call);
        CAPTURE(command, alone.err);
        CHECK(alone.status == 0);
        CHECK(alone.out == whole.out);
    }
    // The library that sets type cannot do without a thread of its own, and says so by a signal if it is let.
    test::Call drawn;
    drawn.arguments = {"draw", "-", "-f", "svg"};
    drawn.input = test::project_file("tests/support/one_patch.json");
    drawn.processes = 1;
    drawn.as_nobody = true;
    drawn.environment.emplace_back("ASAN_OPTIONS=detect_leaks=0");
    const auto said = test::run(drawn);
    CHECK(said.status == 1);
    CHECK(says(said.err, "no second thread"));
}
