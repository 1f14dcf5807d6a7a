// What the sheets and the JSON say agrees, and says it to whom it concerns.
#include <catch2/catch.hpp>
#include <cmath>
#include <nlohmann/json.hpp>
#include <regex>

#include "support/program.hpp"

using namespace patchwright;
using nlohmann::json;
using test::example;
using test::run;

namespace {

bool says(const std::string& text, const std::string& words) { return text.find(words) != std::string::npos; }

/// Two defects under light paving, of which one gets no sleeve: digging is cheap there. Invented.
constexpr const char* cheap_to_dig = R"({
 "patchwright_job": 1, "reference": "N-04", "date": "2026-07-02",
 "runs": [{"id": "W", "length": "6 m", "bore": "75 mm", "material": "cast iron", "depth": "0.6 m", "ground_temperature": "17 C",
  "defects": [{"id": "W1", "at": "2.2 m", "kind": "fissure", "size": "2 mm"}]},
  {"id": "V", "length": "6 m", "bore": "240 mm", "material": "cast iron", "depth": "0.6 m", "ground_temperature": "17 C",
  "defects": [{"id": "W2", "at": "4.1 m", "to": "4.3 m", "kind": "exfiltration"}]}],
 "site": {"air_temperature": "24 C"}, "dig": {"surface": "block"}})";

/// A bore that no packer serves, and a collapse.
constexpr const char* nothing_to_patch = R"({
 "patchwright_job": 1, "reference": "N-0", "title": "Waste pipe", "runs": [
 {"id": "A", "length": "12 m", "bore": "26 mm", "material": "PVC-U", "depth": "1.2 m",
  "defects": [{"id": "A1", "at": "5 m", "kind": "fissure", "size": "2 mm"}, {"id": "A2", "at": "9 m", "kind": "collapse"}]}]})";

constexpr const char* one_patch = R"({"patchwright_job": 1, "reference": "ok", "runs": [
 {"id": "A", "from": "a", "to": "b", "length": "12 m", "bore": "100 mm", "material": "clay", "depth": "1.2 m", "access": ["a", "b"],
  "defects": [{"id": "A1", "at": "5 m", "kind": "fissure", "size": "2 mm"}]}]})";

test::Result run_on(const char* job, std::vector<std::string> arguments) {
    test::Call call;
    arguments.insert(arguments.begin() + 1, "-");
    call.arguments = std::move(arguments);
    call.input = job;
    return run(call);
}

/// "3 h 20 min" or "25 min" in minutes.
double minutes_of(const std::string& text) {
    static const std::regex form{R"(^(?:(\d+) h)?(?: ?(\d+) min)?$)"};
    std::smatch found;
    CAPTURE(text);
    REQUIRE(std::regex_match(text, found, form));
    return (found[1].matched ? 60.0 * std::stod(found[1]) : 0.0) + (found[2].matched ? std::stod(found[2]) : 0.0);
}

/// Times that must be over by then are shown rounded down, times that may not come before rounded up.
int check_times(const json& part) {
    int checked = 0;
    if (!part.contains("shown")) return 0;
    for (const auto& [key, shown] : part.at("shown").items()) {
        const bool up = key == "let_down_min" || key == "without_exotherm_min" || key == "late_let_down_min";
        const bool down = key == "pour_by_min" || key == "inflate_by_min" || key == "crease_by_min" ||
                          key == "gel_min" || key == "working_time_min" || key == "pot_life_min" ||
                          key == "pot_alarm_min" || key == "late_spare_min";
        if (!up && !down) continue;
        const double minutes = part.at(key);
        CAPTURE(key, minutes, shown);
        CHECK(minutes_of(shown) == (up ? std::ceil(minutes - 1e-6) : std::floor(minutes + 1e-6)));
        ++checked;
    }
    return checked;
}

}  // namespace

TEST_CASE("JSON shows times as the sheets do: the latest rounded down, the earliest up", "[program][json]") {
    const auto plan = json::parse(run({"plan", example("demo.json"), "-f", "json", "-q"}).out);
    int checked = 0;
    for (const auto& patch : plan.at("patches")) {
        checked += check_times(patch.at("cure"));
        for (const char* table : {"table", "inflate_table"})
            for (const auto& row : patch.at("cure").at(table)) checked += check_times(row);
    }
    for (const auto& batch : plan.at("batches")) checked += check_times(batch);
    CHECK(checked > 20);
    const auto calc = json::parse(run({"calc", "cure", "--resin", "standard", "--thickness", "3 mm", "--bore", "100 mm",
                                       "--pipe-temperature", "10 C", "--late", "1 min", "-f", "json"})
                                      .out);
    CHECK(check_times(calc.at("results")) >= 9);
}

TEST_CASE("the estimator is told of a price that is no bid; the customer's page is not", "[program]") {
    for (const auto& arguments : {std::vector<std::string>{"quote"}, {"quote", "--inside"}, {"quote", "-f", "json"}}) {
        const auto said = run_on(cheap_to_dig, arguments);
        CAPTURE(arguments, said.err);
        CHECK(said.status == 0);
        CHECK(says(said.err, "warning: price: no bid"));
        if (arguments.size() == 1) CHECK_FALSE(says(said.out, "no bid"));
        auto quiet = arguments;
        quiet.emplace_back("--quiet");
        CHECK(run_on(cheap_to_dig, quiet).err.empty());
    }
}

TEST_CASE("the offer says dig where no sleeve can be placed, and that digging is part of it", "[program]") {
    const auto plan = json::parse(run_on(cheap_to_dig, {"plan", "-f", "json", "-q"}).out);
    REQUIRE(plan.at("patches").size() == 1);  // else the job says nothing about this
    REQUIRE(plan.at("runs")[1].at("unanswered").size() == 1);
    std::string offer = run_on(cheap_to_dig, {"quote", "-q"}).out;
    CHECK(says(offer, "Digging where no patch can help"));
    offer = std::regex_replace(offer, std::regex{"\\s+"}, " ");
    CHECK(says(offer, "Dig. No sleeve can"));
    CHECK(says(offer, "No digging at these places."));
    auto whole = run_on(one_patch, {"quote", "-q"}).out;
    whole = std::regex_replace(whole, std::regex{"\\s+"}, " ");
    CHECK(says(whole, " Patch. "));
    CHECK(says(whole, "No digging. "));
    CHECK_FALSE(says(whole, "No sleeve can"));
}

TEST_CASE("a cut size is the same on every sheet, and never short", "[program]") {
    for (const char* units : {"metric", "us"}) {
        CAPTURE(units);
        const auto plan = json::parse(run_on(cheap_to_dig, {"plan", "-f", "json", "-q", "--units", units}).out);
        const auto load = run_on(cheap_to_dig, {"daysheet", "-q", "--units", units}).out;
        const auto picks = run_on(cheap_to_dig, {"picklist", "-q", "--units", units}).out;
        int pieces = 0;
        for (const auto& patch : plan.at("patches")) {
            for (const auto& piece : patch.at("liner").at("pieces")) {
                const std::string length = piece.at("shown").at("length_mm"), width = piece.at("shown").at("width_mm");
                CAPTURE(length, width);
                CHECK(says(load, ": " + length + " x " + width));
                CHECK(says(picks, ": " + length + " x " + width));  // to load
                const std::regex row{length + " +" + width + " "};
                CHECK(std::regex_search(picks, row));  // to cut
                if (units == std::string{"metric"}) {
                    CHECK(std::stod(length) >= piece.at("length_mm").get<double>() - 1e-6);
                    CHECK(std::stod(width) >= piece.at("width_mm").get<double>() - 1e-6);
                }
                ++pieces;
            }
        }
        CHECK(pieces > 0);
    }
}

TEST_CASE("a job on which nothing can be patched gets a sheet that says why", "[program]") {
    auto said = run_on(nothing_to_patch, {"daysheet", "-q"});
    CHECK(said.status == 0);
    said.out = std::regex_replace(said.out, std::regex{"\\s+"}, " ");
    CHECK(says(said.out, "Nothing on this job can be patched"));
    CHECK(says(said.out, "A1 fissure"));
    CHECK(says(said.out, "No patch for A1"));
    CHECK(says(said.out, "A2 collapse"));
    CHECK_FALSE(says(said.out, "Load before leaving"));
    const auto pdf = run_on(nothing_to_patch, {"daysheet", "-q", "-f", "pdf"});
    CHECK(pdf.status == 0);
    CHECK(pdf.out.starts_with("%PDF"));
    const auto asked = run_on(nothing_to_patch, {"daysheet", "-q", "--day", "1"});
    CHECK(asked.status == 2);
    CHECK(says(asked.err, "nothing can be patched"));
    const auto picks = run_on(nothing_to_patch, {"picklist", "-q"}).out;
    CHECK(says(picks, "Nothing can be patched"));
    for (const char* words : {"pots", "roller", "Air line", "Load before leaving"}) CHECK_FALSE(says(picks, words));
}
