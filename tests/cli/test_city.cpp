// patchwright city: a stream's plans counted and added up, held against the plans themselves.
#include <catch2/catch.hpp>
#include <map>
#include <nlohmann/json.hpp>

#include "stream_jobs.hpp"
#include "support/program.hpp"
#include "support/project_file.hpp"

using namespace patchwright;
using Json = nlohmann::json;
using test::lines;
using test::run;

namespace {

/// Laterals of every fate: patched, dug, to look at again, sound, unread, on more days than one.
std::string laterals() {
    auto job = Json::parse(lines(test::many_jobs(1)).front());
    const auto one = [&](const char* reference, const Json& defects) {
        job["reference"] = reference;
        job["title"] = std::string{"house "} + reference;
        job["runs"][0]["defects"] = defects;
        return job.dump() + "\n";
    };
    const Json crack{{"id", "1"}, {"at", "3 m"}, {"kind", "fissure"}, {"size", "2 mm"}};
    const Json fallen{{"id", "2"}, {"at", "7 m"}, {"kind", "collapse"}};
    const Json unknown{{"id", "3"}, {"at", "9 m"}, {"kind", "displaced joint"}};
    const auto demo = Json::parse(test::project_file("examples/demo.json"));
    return one("A", Json::array({crack})) + one("B", Json::array({crack, fallen})) +
           one("C", Json::array({crack, unknown})) + one("D", Json::array()) + "{\n" + one("E", Json::array({fallen})) +
           demo.dump() + "\n" + one("=F", Json::array({crack})) + "no such file\n";
}

std::string plans() {
    static const std::string output = run(test::stream(laterals())).out;
    return output;
}

test::Result city(const std::string& text, const std::vector<std::string>& more = {}) {
    test::Call call;
    call.arguments = {"city", "-"};
    call.arguments.insert(call.arguments.end(), more.begin(), more.end());
    call.input = text;
    return run(call);
}

/// "123.40" in hundredths.
long long cents(const std::string& text) {
    std::string digits = text;
    digits.erase(digits.find('.'), 1);
    return std::stoll(digits);
}

}  // namespace

TEST_CASE("the city's figures are the sums of its plans", "[program][city]") {
    std::map<std::string, int> places;
    std::map<std::string, std::map<std::string, long long>> money;
    int patches = 0, days = 0, errors = 0, jobs = 0;
    for (const auto& line : lines(plans())) {
        const auto plan = Json::parse(line);
        ++jobs;
        if (plan.contains("error")) {
            ++errors;
            continue;
        }
        for (const auto& r : plan["runs"])
            for (const auto& v : r["verdicts"]) ++places[v["verdict"].get<std::string>()];
        patches += static_cast<int>(plan["patches"].size());
        days += static_cast<int>(plan["schedule"]["days"].size());
        for (const char* key : {"floor", "own", "offered", "ceiling"})
            money[plan["letter"]["kind"].get<std::string>()][key] += cents(plan["price"][key].get<std::string>());
    }
    REQUIRE(errors == 2);
    REQUIRE(days > 5);
    for (const char* verdict : {"patch", "dig", "look again"}) REQUIRE(places[verdict] > 0);
    REQUIRE(money.size() == 2);  // offers and advice

    const auto said = city(plans(), {"-f", "json"});
    CAPTURE(said.err);
    REQUIRE(said.status == 0);
    const auto summary = Json::parse(said.out);
    CHECK(summary["patchwright_city"] == 1);
    CHECK(summary["jobs"] == jobs);
    CHECK(summary["patches"] == patches);
    CHECK(summary["days"] == days);
    for (const auto& [verdict, count] : summary["places"].items()) CHECK(count == places[verdict]);
    CHECK(summary["money"].size() == money.size());
    for (const auto& row : summary["money"])
        for (const auto& [key, sum] : money[row["letter"].get<std::string>()])
            CHECK(cents(row[key].get<std::string>()) == sum);
    // A and =F; B, E and the demonstration, which has a place to dig; C; D; two that could not be read.
    const auto& fates = summary["by_fate"];
    CHECK(fates["sound"] == 1);
    CHECK(fates["unread"] == 2);
    CHECK(fates["patch"] == 2);
    CHECK(fates["dig"].get<int>() + fates["look again"].get<int>() == 4);
    CHECK(fates["patch, if"] == 0);
    CHECK(summary["unread"][0]["line"] == 5);
    CHECK(summary["unread"][1]["line"] == 9);
}

TEST_CASE("the worst jobs stand in front, the earlier of equals first", "[program][city]") {
    const auto summary = Json::parse(city(plans(), {"-f", "json", "--worst", "2"}).out);
    std::map<std::string, std::vector<std::string>> worst;
    for (const auto& row : summary["worst"]) worst[row["by"]].push_back(row["reference"]);
    CHECK(worst["price"].front() == "Q-0412");
    CHECK(worst["days"] == std::vector<std::string>{"Q-0412"});  // the only one of more than a day
    CHECK(worst["places to dig"].size() == 2);
    CHECK(summary["unread"].size() == 2);
    CHECK(Json::parse(city(plans(), {"-f", "json", "--worst", "0"}).out)["worst"].empty());
}

TEST_CASE("the city as a table has a figure a line, and no formula", "[program][city]") {
    const auto said = city(plans(), {"-f", "csv"});
    const auto rows = lines(said.out);
    REQUIRE(rows.size() > 20);
    CHECK(rows[0] == "part,what,reference,value,unit");
    CHECK(rows[1] == "all,jobs,,9,jobs");
    CHECK(said.out.find("\njobs,sound,,1,jobs\n") != std::string::npos);
    CHECK(said.out.find(",=F,") == std::string::npos);
    const auto summary = Json::parse(city(plans(), {"-f", "json"}).out);
    for (const auto& row : summary["money"]) {
        const auto letter = row["letter"].get<std::string>(), sum = row["offered"].get<std::string>();
        CHECK(said.out.find("\n" + letter + ",offered,," + sum + ",EUR\n") != std::string::npos);
    }
}

TEST_CASE("the city stands on one page", "[program][city]") {
    const auto said = city(plans());
    CHECK(said.status == 0);
    for (const char* words : {"9 jobs", "every place patched", "Money, net, EUR", "Total", "soft when it is deflated",
                              "Worst jobs", "Could not be read", "demonstration prices, not yours"})
        CHECK(said.out.find(words) != std::string::npos);
    const test::Folder folder;
    REQUIRE(city(plans(), {"-o", folder / "city.pdf"}).status == 0);
    const auto pdf = folder.read("city.pdf");
    CHECK(pdf.starts_with("%PDF"));
    CHECK(pdf.find("/Count 1\n") != std::string::npos);
    REQUIRE(city(plans(), {"-o", folder / "letter.pdf", "--paper", "letter"}).status == 0);
    CHECK(folder.read("letter.pdf").find("/Count 1\n") != std::string::npos);
}

TEST_CASE("pieces of a city add up to the whole", "[program][city]") {
    const auto all = plans();
    const auto cut = all.find('\n', all.size() / 2) + 1;
    const test::Folder folder;
    folder.write("1.jsonl", all.substr(0, cut));
    folder.write("2.jsonl", all.substr(cut));
    const auto pieces = run({"city", folder / "1.jsonl", folder / "2.jsonl"});
    CHECK(pieces.status == 0);
    CHECK(pieces.out == city(all).out);
    // The same piece twice is counted, and told.
    const auto twice = run({"city", folder / "1.jsonl", folder / "1.jsonl"});
    CHECK(twice.err.find("bear a reference that stood before, first A: counted each time") != std::string::npos);
    CHECK(run({"city", "-q", folder / "1.jsonl", folder / "1.jsonl"}).err.empty());
    CHECK(run({"city", folder / "1.jsonl", "-o", folder / "1.jsonl", "-f", "csv"}).status == 2);
}

TEST_CASE("what is no plan is told with its line, and nothing is written", "[program][city]") {
    const auto list = lines(plans());
    auto odd = Json::parse(list[0]);
    odd["price"]["offered"] = "much";
    auto late = Json::parse(list[0]);
    late["patches"][0]["cure"]["late_probability"] = 2;
    auto without = Json::parse(list[0]);
    without["schedule"].erase("days");
    const auto text = list[0] + "\n{\"patchwright_plan\": 1}\nno plan\n" + odd.dump() + "\n" + late.dump() + "\n" +
                      without.dump() + "\n[1e999]\n" + list[1].substr(0, 1000);
    const test::Folder folder;
    folder.write("plans.jsonl", text);
    const auto said = run({"city", folder / "plans.jsonl", "-o", folder / "city.csv"});
    CHECK(said.status == 3);
    CHECK(folder.names() == std::vector<std::string>{"plans.jsonl"});
    const auto faults = lines(said.err);
    CAPTURE(said.err);
    REQUIRE(faults.size() == 7);
    CHECK(faults[0].find("plans.jsonl:2: error: ") != std::string::npos);
    CHECK(faults[0].find("\"job\"") != std::string::npos);
    CHECK(faults[1].find("plans.jsonl:3:2: error: no JSON") != std::string::npos);
    CHECK(faults[2].find("plans.jsonl:4: error: ") != std::string::npos);
    CHECK(faults[2].find("price.offered") != std::string::npos);
    CHECK(faults[3].find("late_probability") != std::string::npos);
    CHECK(faults[4].find("schedule.days") != std::string::npos);
    CHECK(faults[5].find("plans.jsonl:7") != std::string::npos);
    CHECK(faults[6].find("plans.jsonl:8:") != std::string::npos);
    CHECK(city("").status == 0);
    CHECK(run({"city", folder / "none.jsonl"}).status == 1);
    CHECK(city(std::string(3000, '\n') + "x\n").err.find("standard input:3001:1: error: ") != std::string::npos);
    std::string many;
    for (int n = 0; n < 50; ++n) many += "x\n";
    CHECK(city(many).err.find("and 30 more") != std::string::npos);
}
