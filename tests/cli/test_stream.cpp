// plan --stream: one job a line in, one plan a line out, in order, whatever the number of threads.
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "stream_jobs.hpp"
#include "support/jobs.hpp"
#include "support/program.hpp"
#include "support/project_file.hpp"
#include "support/share.hpp"

using namespace patchwright;
using Json = nlohmann::json;
using test::lines;
using test::many_jobs;
using test::run;
using test::stream;

TEST_CASE("plans come out in the order of the jobs, with an error in the place of a bad line", "[program][stream]") {
    const auto said = run(stream(many_jobs(40)));
    CHECK(said.status == 0);
    CHECK(said.err.empty());
    const auto plans = lines(said.out);
    REQUIRE(plans.size() == 40);
    for (int n = 1; n <= 40; ++n) {
        const auto plan = Json::parse(plans[static_cast<std::size_t>(n - 1)]);
        CAPTURE(n);
        if (n % 7 == 0) {
            CHECK(plan["error"].get<std::string>().find("bore") != std::string::npos);
            CHECK(plan["line"] == n);
        } else {
            CHECK(plan["job"]["reference"] == "job " + std::to_string(n));
            CHECK(plan["patches"].size() == 1);
        }
    }
}

TEST_CASE("one thread and two give the same bytes", "[program][stream]") {
    const auto input = many_jobs(30);
    const auto one = run(stream(input, {"--threads", "1"}));
    CHECK(one.status == 0);
    CHECK(one.out == run(stream(input, {"--threads", "2"})).out);
    CHECK(one.out == run(stream(input)).out);
}

namespace {
/// What is said of other jobs than this one takes many plans more; a stream leaves it out.
Json without_outlook(Json plan) {
    for (const char* key : {"break_even", "look_again", "variants"}) plan["price"].erase(key);
    return plan;
}
Json planned(const std::string& name) {
    return without_outlook(Json::parse(run({"plan", test::example(name), "-f", "json"}).out));
}
}  // namespace

TEST_CASE("a line of the stream is planned as the file is", "[program][stream]") {
    const std::string file = test::under_sanitizers ? "us-slab.json" : "demo.json";
    const auto demo = test::line(nlohmann::ordered_json::parse(test::project_file("examples/" + file)));
    const auto said = run(stream(demo + "\n\n" + test::example("us-slab.json") + "\r\nno such file\n{\n" + demo));
    const auto plans = lines(said.out);
    REQUIRE(plans.size() == 5);  // an empty line is no job
    CHECK(without_outlook(Json::parse(plans[0])) == planned(file));
    CHECK(without_outlook(Json::parse(plans[1])) == planned("us-slab.json"));
    CHECK(Json::parse(plans[0]).at("price").at("break_even").empty());
    CHECK(Json::parse(plans[2]).contains("error"));
    CHECK(Json::parse(plans[3]).contains("error"));
    CHECK(Json::parse(plans[3])["line"] == 5);
    CHECK(plans[4] == plans[0]);
}

TEST_CASE("a long bad line is not printed back", "[program][stream]") {
    const std::string much(100'000, 'x'), umlauts = [] {
        std::string text;
        for (int i = 0; i < 1500; ++i) text += "\u00fc";
        return text;
    }();
    const std::vector<std::string> bad{
        much,
        "[" + much,
        "x" + umlauts,
        "{" + much,
        "{\"" + much + "\": 1}",
        "{\"patchwright_job\": 1, \"reference\": \"" + much + "\", \"units\": \"" + much + "\"}",
        R"({"runs": [{")" + much + R"(": {"a": )" + much + "}}]}",
    };
    std::string input;
    for (const auto& line : bad) input += line + "\n";
    const auto said = run(stream(input));
    const auto plans = lines(said.out);
    REQUIRE(plans.size() == bad.size());
    for (const auto& plan : plans) {
        CAPTURE(plan.substr(0, 500));
        CHECK(plan.size() < 2500);
        CHECK_FALSE(Json::parse(plan)["error"].get<std::string>().empty());
    }
    CHECK(plans[0].find("File name too long") != std::string::npos);
    // A name of a few hundred characters is cut too, between two characters.
    CHECK(plans[2].find("\u00fc...: cannot read") != std::string::npos);
    // A short one is printed whole.
    CHECK(run(stream("no such file\n")).out.find("no such file: cannot read") != std::string::npos);
}

TEST_CASE("a stream of nothing is no error", "[program][stream]") {
    const auto said = run(stream(""));
    CHECK(said.status == 0);
    CHECK(said.out.empty());
}

TEST_CASE("a stream from a folder or a file that is not there fails with the reason", "[program][stream]") {
    const test::Folder folder;
    const auto from_folder = run({"plan", "--stream", folder.path()});
    CHECK(from_folder.status == 1);
    CHECK(from_folder.err.find("Is a directory") != std::string::npos);
    const auto missing = run({"plan", "--stream", folder / "none.jsonl"});
    CHECK(missing.status == 1);
    CHECK(missing.err.find("none.jsonl") != std::string::npos);
    CHECK(missing.err.find("No such file or directory") != std::string::npos);
}

TEST_CASE("a byte order mark in front of a stream is no part of its first line", "[program][stream]") {
    CHECK(run(stream("\xEF\xBB\xBF" + many_jobs(2))).out == run(stream(many_jobs(2))).out);
    CHECK(run(stream("\xEF\xBB\xBF" + test::simple_job())).out == run(stream(test::simple_job())).out);
}

TEST_CASE("a thread that cannot start is no end of a stream, nor are thousands asked for", "[program][stream]") {
    const auto input = many_jobs(20);
    auto few = stream(input, {"--threads", "1024"});
    few.processes = 1;
    few.as_nobody = true;                                         // root has no such limit
    few.environment.emplace_back("ASAN_OPTIONS=detect_leaks=0");  // its search takes a thread of its own
    const auto said = run(few);
    CAPTURE(said.err);
    CHECK(said.status == 0);
    CHECK(said.out == run(stream(input, {"--threads", "1"})).out);
    CHECK(run(stream(input, {"--threads", "1024"})).out == said.out);
}

TEST_CASE("strict: status 4 when a line could not be patched or read", "[program][stream]") {
    const auto good = lines(many_jobs(1)).front() + "\n";
    CHECK(run(stream(good, {"--strict"})).status == 0);
    CHECK(run(stream(many_jobs(7), {"--strict"})).status == 4);
}

TEST_CASE("a stream may be read from a file and written to one", "[program][stream]") {
    const test::Folder folder;
    folder.write("jobs.jsonl", many_jobs(8));
    const auto said = run({"plan", "--stream", folder / "jobs.jsonl", "-o", folder / "plans.json"});
    CAPTURE(said.err);
    CHECK(said.status == 0);
    CHECK(said.out.empty());
    CHECK(folder.read("plans.json") == run(stream(many_jobs(8))).out);
}

TEST_CASE("a stream into a full device or a closed pipe ends with status 1", "[program][stream]") {
    auto call = stream(many_jobs(3));
    call.output_to = "/dev/full";
    const auto full = run(call);
    CHECK(full.status == 1);
    CHECK(full.err.find("No space left on device") != std::string::npos);
    call.output_to.reset();
    call.reader_leaves = true;
    const auto closed = run(call);
    CHECK((closed.status == 128 + 13 || closed.status == 1));
}
