// plan --stream that was broken off, and goes on: the output put together is that of one run, byte for byte.
#include <fcntl.h>
#include <sys/file.h>
#include <unistd.h>

#include <algorithm>
#include <catch2/catch.hpp>
#include <csignal>
#include <nlohmann/json.hpp>

#include "stream_jobs.hpp"
#include "support/program.hpp"

using namespace patchwright;
using Json = nlohmann::json;
using test::lines;
using test::many_jobs;
using test::run;
using test::stream;

namespace {

/// Jobs of which some share a reference, some cannot be read, one is a file, and lines are empty.
std::string mixed_jobs() {
    const auto some = lines(many_jobs(9));
    std::string text;
    for (const auto& line : some) text += line + "\n";
    text += some[2] + "\n\n" + test::simple_job() + "\r\nno such file\n" + some[2] + "\n{\n" + some[0] + "\n";
    return text;
}

std::string whole_output() {
    static const std::string output = run(stream(mixed_jobs())).out;
    return output;
}

/// Where a run may have been broken off: at line ends, next to them, and within lines.
std::vector<std::size_t> breaks(const std::string& output) {
    std::vector<std::size_t> list{0, 1, output.size() - 1, output.size()};
    std::size_t line = 0;
    for (auto end = output.find('\n'); end != std::string::npos; end = output.find('\n', end + 1)) {
        if (++line % 4 == 0) list.insert(list.end(), {end - 1, end, end + 1, end + 200});
    }
    for (auto& at : list) at = std::min(at, output.size());
    return list;
}

}  // namespace

TEST_CASE("a stream that was broken off goes on where it stopped", "[program][stream][done]") {
    const auto whole = whole_output();
    REQUIRE(lines(whole).size() == 15);
    const test::Folder folder;
    const std::string plans = folder / "plans.jsonl";
    for (const auto at : breaks(whole)) {
        CAPTURE(at);
        folder.write("plans.jsonl", whole.substr(0, at));
        const auto said = run(stream(mixed_jobs(), {"-o", plans, "--skip-done", plans}));
        CHECK(said.status == 0);
        CHECK(said.out.empty());
        CHECK((folder.read("plans.jsonl") == whole));
        const bool half = at > 0 && whole[at - 1] != '\n';
        CHECK((said.err.find("half written; done again") != std::string::npos) == half);
    }
}

TEST_CASE("the first run of a stream that may be broken off is the same command", "[program][stream][done]") {
    const test::Folder folder;
    const std::string plans = folder / "plans.jsonl";
    const auto said = run(stream(mixed_jobs(), {"-o", plans, "--skip-done", plans}));
    CHECK(said.status == 0);
    CHECK(said.err.empty());
    CHECK((folder.read("plans.jsonl") == whole_output()));
}

TEST_CASE("a stream goes on behind standard output too", "[program][stream][done]") {
    const auto whole = whole_output();
    const test::Folder folder;
    for (const auto at : breaks(whole)) {
        CAPTURE(at);
        folder.write("plans.jsonl", whole.substr(0, at));
        auto call = stream(mixed_jobs(), {"--skip-done", folder / "plans.jsonl"});
        call.output_to = folder / "plans.jsonl";
        call.appends = true;
        CHECK(run(call).status == 0);
        CHECK((folder.read("plans.jsonl") == whole));
    }
}

TEST_CASE("a run that dies in the middle of a line leaves what can be gone on with", "[program][stream][done]") {
    const test::Folder folder;
    const std::string plans = folder / "plans.jsonl";
    auto call = stream(mixed_jobs(), {"-o", plans, "--skip-done", plans});
    call.file_size = whole_output().size() * 2 / 3;
    CHECK(run(call).status == 128 + SIGXFSZ);
    CHECK((folder.read("plans.jsonl") == whole_output().substr(0, *call.file_size)));
    call.file_size.reset();
    CHECK(run(call).status == 0);
    CHECK((folder.read("plans.jsonl") == whole_output()));
}

TEST_CASE("what is done is not done again", "[program][stream][done]") {
    const auto whole = whole_output();
    auto kept = lines(whole).front();
    const auto title = kept.find(R"("title":"")");
    REQUIRE(title != std::string::npos);
    kept.insert(title + 9, "as it was");
    const test::Folder folder;
    folder.write("plans.jsonl", kept + "\n");
    const std::string plans = folder / "plans.jsonl";
    CHECK(run(stream(mixed_jobs(), {"-o", plans, "--skip-done", plans})).status == 0);
    CHECK((folder.read("plans.jsonl") == kept + whole.substr(whole.find('\n'))));
}

TEST_CASE("elsewhere only the rest is written, and a half line is told of", "[program][stream][done]") {
    const auto whole = whole_output();
    const auto list = lines(whole);
    const std::size_t first = list[0].size() + 1;
    const test::Folder folder;
    folder.write("plans.jsonl", whole.substr(0, first + 10));
    const auto said = run(stream(mixed_jobs(), {"--skip-done", folder / "plans.jsonl"}));
    CHECK((said.out == whole.substr(first)));
    CHECK(said.err.find("cut it off before the two are put together") != std::string::npos);
    CHECK(folder.read("plans.jsonl").size() == first + 10);
    const auto rest =
        run(stream(mixed_jobs(), {"-q", "--skip-done", folder / "plans.jsonl", "-o", folder / "rest.json"}));
    CHECK(rest.err.empty());
    CHECK((folder.read("rest.json") == whole.substr(first)));
}

TEST_CASE("what does not fit the stream is warned of", "[program][stream][done]") {
    const auto list = lines(whole_output());
    const test::Folder folder;
    folder.write("plans.jsonl", list[3] + "\n");
    const auto order = run(stream(mixed_jobs(), {"--skip-done", folder / "plans.jsonl"}));
    CHECK(order.status == 0);
    CHECK(order.err.find("line 4 of the stream was done, one before it was not") != std::string::npos);
    CHECK(lines(order.out).size() == list.size() - 1);
    const auto foreign = run(stream(lines(many_jobs(2))[0] + "\n", {"--skip-done", folder / "plans.jsonl"}));
    CHECK(foreign.err.find("1 of its lines is of no job of this stream, such as job 4") != std::string::npos);
    CHECK(lines(foreign.out).size() == 1);
}

TEST_CASE("a file that holds no plans is left as it is, each line told", "[program][stream][done]") {
    const auto list = lines(whole_output());
    auto other = Json::parse(list[1]);
    other["yard"]["name"] = "Ours";
    const auto text =
        list[0] + "\n" + other.dump() + "\nno plan\n" + list[2].substr(0, 900) + "\n{}\n\n" + list[3] + "\n";
    const test::Folder folder;
    folder.write("plans.jsonl", text);
    const std::string plans = folder / "plans.jsonl";
    const auto said = run(stream(mixed_jobs(), {"-o", plans, "--skip-done", plans}));
    CHECK(said.status == 3);
    CHECK((folder.read("plans.jsonl") == text));
    CAPTURE(said.err);
    CHECK(lines(said.err).size() == 5);
    CHECK(said.err.find("plans.jsonl:2: error: planned with the yard \"Ours\"") != std::string::npos);
    for (const char* line : {":3: ", ":4: ", ":5: ", ":6: "})
        CHECK(said.err.find("plans.jsonl" + std::string{line} + "error: no line as") != std::string::npos);
    const auto missing = run(stream(mixed_jobs(), {"--skip-done", folder / "none.jsonl"}));
    CHECK(missing.status == 1);
    CHECK(missing.err.find("none.jsonl") != std::string::npos);
}

TEST_CASE("two runs do not write to one file", "[program][stream][done]") {
    const test::Folder folder;
    folder.write("plans.jsonl", "");
    const std::string plans = folder / "plans.jsonl";
    const int other = open(plans.c_str(), O_WRONLY);
    REQUIRE(flock(other, LOCK_EX) == 0);
    const auto said = run(stream(many_jobs(2), {"-o", plans, "--skip-done", plans}));
    close(other);
    CHECK(said.status == 1);
    CHECK(said.err.find("another run is writing to it") != std::string::npos);
    CHECK(folder.read("plans.jsonl").empty());
}

TEST_CASE("pieces of a stream put together are the whole, errors with their lines", "[program][stream][done]") {
    const auto jobs = lines(mixed_jobs());
    std::string together;
    for (std::size_t first = 0; first < jobs.size(); first += 6) {
        std::string piece;
        for (std::size_t i = first; i < std::min(first + 6, jobs.size()); ++i) piece += jobs[i] + "\n";
        together += run(stream(piece, {"--first-line", std::to_string(first + 1)})).out;
    }
    CHECK((together == whole_output()));
}

TEST_CASE("what belongs to a stream is refused without one", "[program][stream][done]") {
    CHECK(run({"plan", test::demo, "--skip-done", "x"}).status == 2);
    CHECK(run({"plan", test::demo, "--first-line", "3"}).status == 2);
    CHECK(run(stream("", {"--first-line", "0"})).status == 2);
    CHECK(run(stream("", {"--skip-done", ""})).status == 2);
}

TEST_CASE("strict counts the errors that stand in the file", "[program][stream][done]") {
    const test::Folder folder;
    const std::string plans = folder / "plans.jsonl";
    folder.write("plans.jsonl", run(stream(many_jobs(7))).out);
    CHECK(run(stream(many_jobs(7), {"--strict", "-o", plans, "--skip-done", plans})).status == 4);
    folder.write("plans.jsonl", run(stream(many_jobs(6))).out);
    CHECK(run(stream(many_jobs(6), {"--strict", "-o", plans, "--skip-done", plans})).status == 0);
}

TEST_CASE("a stream into a file takes no more memory the longer it is", "[program][stream]") {
    const auto held = [](int times) {
        auto job = Json::parse(lines(many_jobs(1)).front());
        job["runs"][0]["defects"] = Json::array();  // nothing to mend: a plan soon made
        std::string input;
        for (int n = 0; n < times; ++n) input += job.dump() + "\n";
        const test::Folder folder;
        const auto said = run(stream(input, {"--threads", "1", "-o", folder / "plans.json"}));
        CHECK(said.status == 0);
        return std::pair{said.memory, folder.read("plans.json").size()};
    };
    const auto [few, little] = held(100);
    const auto [many, much] = held(3000);
    CAPTURE(few, many, little, much);
    CHECK(much > little + 6'000'000);
#ifndef PATCHWRIGHT_SANITIZED  // which keeps what was freed
    CHECK(many < few + 2'000'000);
#endif
}
