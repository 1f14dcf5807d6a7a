// `patchwright whatif` as its users meet it: forms, changes that are tried, changes that are refused.
#include <catch2/catch.hpp>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>

#include "support/jobs.hpp"
#include "support/program.hpp"

using namespace patchwright;
using nlohmann::json;
using test::example;
using test::run;
using test::says;
using test::simple_job;

namespace {

std::vector<std::string> lines_of(const std::string& text) {
    std::vector<std::string> lines;
    std::istringstream stream(text);
    for (std::string line; std::getline(stream, line);) lines.push_back(line);
    return lines;
}

/// What the program says of a changed job file, as `plan -f json` does.
json planned(const json& job) {
    test::Call call;
    call.arguments = {"plan", "-", "-q", "-f", "json"};
    call.input = job.dump();
    const auto said = run(call);
    REQUIRE(said.status == 0);
    return json::parse(said.out);
}

}  // namespace

TEST_CASE("whatif: text, JSON and CSV of the same plans", "[program][whatif]") {
    const auto said = run({"whatif", example("us-slab.json"), "-q", "-f", "json"});
    REQUIRE(said.status == 0);
    const auto all = json::parse(said.out);
    CHECK(all["patchwright_whatif"] == 1);
    CHECK(all["currency"] == "EUR");
    const auto rows = lines_of(run({"whatif", example("us-slab.json"), "-q", "-f", "csv"}).out);
    REQUIRE(rows.size() == all["plans"].size() + 2);  // heads of the columns, and the plan as it is
    CHECK(rows[1].starts_with("as it is,"));
    const auto text = run({"whatif", example("us-slab.json"), "-q"});
    CHECK(text.status == 0);
    CHECK(says(text.out, "demonstration prices, not yours"));
    for (std::size_t i = 0; i < all["plans"].size(); ++i) {
        const auto& plan = all["plans"][i];
        CAPTURE(plan);
        for (const char* key : {"lever", "words", "changes", "days", "back", "patches", "digs", "not_planned", "own",
                                "overtime_min", "helper_days", "late_probability", "saves", "places_more"})
            CHECK(plan.contains(key));
        CHECK(rows[i + 2].starts_with(plan["lever"].get<std::string>() + ","));
        CHECK(says(rows[i + 2], "," + plan["own"].get<std::string>() + ","));
    }
    for (const auto& item : all["not_listed"]) CHECK_FALSE(item["why"].get<std::string>().empty());
    CHECK(run({"whatif", example("us-slab.json"), "-q", "-f", "json"}).out == said.out);
}

TEST_CASE("whatif: what is tried is the plan of the changed file", "[program][whatif]") {
    const auto file = json::parse(std::ifstream{simple_job()});
    test::Call call;
    call.arguments = {"whatif", "-", "-q", "-f", "json", "--try", "runs.0.depth=2.4 m", "--try", "limits.overtime=1 h"};
    call.input = file.dump();
    const auto said = run(call);
    CAPTURE(said.err);
    REQUIRE(said.status == 0);
    const auto tried = json::parse(said.out);
    REQUIRE(tried["plans"].size() == 3);
    CHECK(tried["as_is"]["own"] == planned(file)["price"]["own"]);
    auto deep = file;
    deep["runs"][0]["depth"] = "2.4 m";
    const auto plan = planned(deep);
    CHECK(tried["plans"][0]["own"] == plan["price"]["own"]);
    CHECK(tried["plans"][0]["changes"] == json::array({"runs.0.depth=2.4 m"}));
    CHECK(tried["plans"][2]["changes"].size() == 2);
    call.arguments = {"whatif", "-", "-q", "--try", "runs.0.depth=2.4 m"};
    const auto text = run(call);
    CHECK(says(text.out, "1: runs.0.depth=2.4 m"));
    CHECK(says(text.out, "As it is"));
}

TEST_CASE("whatif: a change that cannot be is wrong use, said in the reader's words, and nothing is written",
          "[program][whatif]") {
    const test::Folder folder;
    const auto out = folder / "whatif.csv";
    const auto said = run({"whatif", simple_job(), "-o", out, "--try", "site.finish=25:00", "--try",
                           "sitte.finish=18:00", "--try", "limits.helprs=1"});
    CHECK(said.status == 2);
    CHECK(said.out.empty());
    CHECK(folder.names().empty());
    CHECK(says(said.err, "--try site.finish=25:00: "));
    CHECK(says(said.err, "[at /site/finish]"));
    CHECK(says(said.err, "--try sitte.finish=18:00: \"sitte\" is no key of a job or yard file; did you mean "));
    CHECK(says(said.err, "did you mean \"helpers\"?"));
    CHECK(run({"whatif", simple_job(), "--try", "site.finish"}).status == 2);
    CHECK(run({"whatif", simple_job(), "--try"}).status == 2);
    // Bytes that would act on a screen are written out.
    const auto escape = run({"whatif", simple_job(), "--try", "\x1b[31m=1"});
    CHECK(escape.status == 2);
    CHECK_FALSE(says(escape.err, "\x1b"));
}

TEST_CASE("whatif: a yard that comes through a pipe is read once", "[program][whatif]") {
    test::Call call;
    call.arguments = {"whatif", simple_job(), "--yard", "/dev/stdin", "-q", "-f", "json", "--try", "limits.helpers=1"};
    call.input = R"({"patchwright_yard": 1, "extends": "builtin", "name": "Ours"})";
    const auto said = run(call);
    CAPTURE(said.err);
    REQUIRE(said.status == 0);
    CHECK(json::parse(said.out)["yard"]["name"] == "Ours");
}

TEST_CASE("the estimator's view shows what would save most, the customer's letter does not", "[program][whatif]") {
    const test::Folder folder;
    folder.write("yard.json", R"({"patchwright_yard": 1, "extends": "builtin", "name": "Ours, without heaters",
        "heaters": [{"id": "warm-air", "count": 0}, {"id": "warm-water", "count": 0}]})");
    const auto inside = run({"quote", example("us-slab.json"), "--inside", "-q", "--yard", folder / "yard.json"});
    CHECK(inside.status == 0);
    CHECK(says(inside.out, "What would save most"));
    CHECK(says(inside.out, "an hour more"));
    CHECK_FALSE(says(run({"quote", example("us-slab.json"), "-q"}).out, "What would save most"));
}

TEST_CASE("daysheet --morning: what the crew can still change, without a word of money", "[program][whatif]") {
    const auto plain = run({"daysheet", example("us-slab.json"), "-q"});
    const auto said = run({"daysheet", example("us-slab.json"), "-q", "--morning"});
    REQUIRE(said.status == plain.status);
    CHECK_FALSE(says(plain.out, "this morning"));
    CHECK(says(said.out, "Could still be changed this morning"));
    CHECK(says(said.out, "half an hour earlier: off at"));
    CHECK(says(said.out, "have it printed anew first"));
    const auto section = said.out.find("Could still be changed this morning");
    CHECK_FALSE(says(said.out.substr(section, said.out.find("Crew lead") - section), "EUR"));
    // Nothing else on the sheet moves.
    CHECK(plain.out.substr(0, section) == said.out.substr(0, section));
    const auto whole = json::parse(run({"daysheet", example("us-slab.json"), "-q", "--morning", "-f", "json"}).out);
    CHECK(says(whole["sheets"].dump(), "Could still be changed this morning"));
}
