#include <catch2/catch.hpp>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <set>

#include "support/program.hpp"
#include "support/project_file.hpp"

using namespace patchwright::test;
using Json = nlohmann::json;

namespace {

Result now(std::vector<std::string> more) {
    std::vector<std::string> arguments{"now", demo};
    arguments.insert(arguments.end(), more.begin(), more.end());
    return run(arguments);
}
bool has(const std::string& text, const char* words) { return text.find(words) != std::string::npos; }

/// Lines before the first blank one.
int lines_of_the_answer(const std::string& text) {
    const auto end = std::min(text.find("\n\n"), text.size() - 1);
    return static_cast<int>(std::count(text.begin(), text.begin() + static_cast<std::ptrdiff_t>(end) + 1, '\n'));
}

}  // namespace

TEST_CASE("now answers on five lines at most, in every form, the same each time", "[now][program]") {
    const std::vector<std::string> told{"--at",       "10:50",      "--mixed", "A-P1=10:23",
                                        "--inflated", "A-P1=10:41", "--pipe",  "7 C"};
    const auto text = now(told);
    CHECK(text.status == 0);
    CHECK(text.err.empty());
    CHECK(lines_of_the_answer(text.out) <= 5);
    CHECK(has(text.out, "10:50 Tue 2026-04-14"));
    CHECK(has(text.out, "In the pipe: A-P1 air out not before "));
    CHECK(has(text.out, "witness hard first"));
    CHECK(has(text.out, "Back in the yard "));
    CHECK(text.out == now(told).out);
    auto more = told;
    more.push_back("--order");
    CHECK(has(now(more).out, "Order of work"));
    CHECK(now(more).out.starts_with(text.out));
    for (const auto& [form, start] : {std::pair{"html", "<!DOCTYPE html>"}, std::pair{"pdf", "%PDF"}}) {
        auto in_form = told;
        in_form.insert(in_form.end(), {"-f", form});
        CHECK(now(in_form).out.starts_with(start));
    }
    const auto plain = run(Call{{"now", demo, "--at", "10:50", "--pipe", "7 C"}, {}, {"LC_ALL=C"}});
    CHECK(std::all_of(plain.out.begin(), plain.out.end(), [](char c) { return static_cast<unsigned char>(c) < 128; }));
}

TEST_CASE("a run that was cleaned the day before is flushed and looked at, as its day's sheet has it",
          "[now][program]") {
    const auto sheet = run({"daysheet", demo, "--day", "2"}).out;
    const auto rest = now({"--day", "2", "--at", "08:00", "--as-planned", "--order"}).out;
    for (const char* words : {"flush and look, run B", "flush and look, run A", "  clean, run C"}) {
        CAPTURE(words);
        CHECK(has(sheet, words));
        CHECK(has(rest, words));
    }
    CHECK_FALSE(has(rest, "  clean, run A"));
}

TEST_CASE(
    "a pipe of 7 \u00b0C has its row on the card, and now gives its time; between two rows it lies between their times",
    "[now][program]") {
    const auto plan = Json::parse(run({"plan", demo, "-f", "json"}).out);
    for (const auto& patch : plan["patches"]) {
        const std::string id = patch["id"];
        const auto let_down = [&](double pipe) {
            for (const auto& line : patch["cure"]["table"])
                if (line["pipe_temperature_c"] == pipe) return line["let_down_min"].get<double>();
            return -1.0;
        };
        CAPTURE(id);
        REQUIRE(let_down(7.0) > 0.0);
        REQUIRE(let_down(8.0) > 0.0);
        int day = 1;
        for (const auto& date : plan["schedule"]["days"]) {
            const auto& tasks = date["tasks"];
            if (std::any_of(tasks.begin(), tasks.end(), [&](const Json& task) { return task["patch"] == id; })) break;
            ++day;
        }
        const auto told = [&](const char* pipe) {
            const auto json = Json::parse(now({"--day", std::to_string(day), "--at", "11:30", "--as-planned", "--pipe",
                                               id + "=" + pipe, "-f", "json"})
                                              .out);
            for (const auto& sleeve : json["patches"])
                if (sleeve["id"] == id) return sleeve["from_mixing"]["let_down_min"].get<double>();
            return -1.0;
        };
        CHECK(told("7 C") == let_down(7.0));
        // The card's rule, the colder row, is on the safe side of it.
        CHECK(told("7.4 C") < let_down(7.0));
        CHECK(told("7.4 C") > let_down(8.0));
    }
}

TEST_CASE("sheets in US units are on Letter where no paper is asked for, others on A4", "[now][program]") {
    const auto paper = [](std::vector<std::string> more) {
        more.insert(more.end(), {"--at", "10:50", "-f", "pdf"});
        const auto out = now(std::move(more)).out;
        return has(out, "MediaBox [ 0 0 612 792 ]") ? "letter" : has(out, "MediaBox [ 0 0 595.") ? "a4" : "neither";
    };
    CHECK(paper({}) == std::string{"a4"});
    CHECK(paper({"--units", "us"}) == std::string{"letter"});
    CHECK(paper({"--units", "us", "--paper", "a4"}) == std::string{"a4"});
    CHECK(paper({"--paper", "letter"}) == std::string{"letter"});
}

TEST_CASE("now in JSON has the keys that are promised", "[now][program]") {
    const auto out = now({"--at", "10:50", "--mixed", "A-P1=10:23", "-f", "json"}).out;
    const auto json = Json::parse(out);
    CHECK(json["patchwright_now"] == 1);
    CHECK(json["at"] == "10:50");
    const std::set<std::string> states{"done", "in pipe", "in hand", "lost", "to do"}, verdicts{"go", "strip", "wait"};
    REQUIRE_FALSE(json["patches"].empty());
    for (const auto& patch : json["patches"]) {
        for (const char* key :
             {"id", "run", "state", "inflate_by", "let_down", "verdict", "mix_at", "again", "why", "another_day"})
            CHECK(patch.contains(key));
        CHECK(states.count(patch["state"]) == 1);
        if (!patch["verdict"].is_null()) CHECK(verdicts.count(patch["verdict"]) == 1);
    }
    const auto& day = json["schedule"]["days"][0];
    CHECK(day["finish"] == json["finish"]);
    for (const auto& task : day["tasks"]) {
        for (const char* key : {"patch", "what", "start", "finish", "persons", "crew", "lanes"})
            CHECK(task.contains(key));
        CHECK(task["start"].get<std::string>() >= "10:50");
    }
}

TEST_CASE("now tells all that is wrong in one go", "[now][program][error]") {
    const auto bad = now({"--at", "11:10", "--mixed", "Z-P9=10:40", "--inflated", "A-P1=10:20", "--mixed", "A-P1=10:40",
                          "--pipe", "cold", "--packer-lost", "none", "--persons", "7"});
    CHECK(bad.status == 2);
    CHECK(bad.out.empty());
    CHECK(has(bad.err, "--mixed Z-P9=10:40: the plan has no patch \"Z-P9\""));
    CHECK(has(bad.err, "--inflated A-P1=10:20: lies before it was mixed at 10:40"));
    CHECK(has(bad.err, "--pipe cold: "));
    CHECK(has(bad.err, "--packer-lost none: the yard has no such packer"));
    CHECK(has(bad.err, "--persons 7: a crew has 1 to 4 persons"));
    CHECK(now({"--at", "25:00"}).status == 2);
    CHECK(now({}).status == 2);
    CHECK(now({"--at", "11:10", "--day", "9"}).status == 2);
    CHECK(now({"--at", "11:10", "--mixed", "A-P1=11:11"}).status == 2);
    CHECK(now({"--at", "11:10", "--record", "/no/such/file"}).status == 1);
    CHECK(now({"--at", "11:10", "--record", noted, "-o", noted}).status == 2);
    CHECK(now({"--at", "08:00", "--record", noted, "--day", "1"}).status == 3);  // all of it lies after that
    CHECK(run(Call{{"now", demo, "--at", "11:10", "--record", "-"}, "{}"}).status == 3);
}

TEST_CASE("now takes a record, and says what is left for another day", "[now][program]") {
    const auto late = now({"--at", "15:30"});
    CHECK(late.status == 0);
    CHECK(has(late.out, "Another day: "));
    CHECK(now({"--at", "15:30", "--strict"}).status == 4);
    const auto record = now({"--at", "17:29", "--record", noted, "--day", "1", "-f", "json"});
    CHECK(record.status == 0);
    const auto json = Json::parse(record.out);
    const auto& patches = json["patches"];
    CHECK(std::any_of(patches.begin(), patches.end(), [](const Json& p) { return p["state"] == "done"; }));
}
