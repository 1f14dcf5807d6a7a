// What the sheets and the JSON say agrees, and says it to whom it concerns.
#include <fmt/format.h>

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <nlohmann/json.hpp>
#include <regex>

#include "support/program.hpp"

using namespace patchwright;
using nlohmann::json;
using test::example;
using test::run;
using test::says;

namespace {

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

constexpr const char* one_place = R"({"patchwright_job": 1, "reference": "ok", "runs": [
 {"id": "A", "from": "a", "to": "b", "length": "12 m", "bore": "100 mm", "material": "clay", "depth": "1.2 m", "access": ["a", "b"],
  "defects": [{"id": "A1", "at": "5 m", "kind": "fissure", "size": "2 mm"}]}]})";

test::Result run_on(const char* job, std::vector<std::string> arguments) {
    test::Call call;
    arguments.insert(arguments.begin() + 1, "-");
    call.arguments = std::move(arguments);
    call.input = job;
    return run(call);
}

/// By a firm whose crew days cost so much that digging is cheaper.
test::Result run_dear(const char* job, std::vector<std::string> arguments) {
    arguments.insert(arguments.end(), {"--yard", PATCHWRIGHT_SOURCE_DIR "/tests/cli/dear_yard.json"});
    return run_on(job, std::move(arguments));
}

std::string one_line(const std::string& text) { return std::regex_replace(text, std::regex{"\\s+"}, " "); }
/// A price as the letters print it.
std::string shown(const json& price, const char* key) { return price.at("shown").at(key).get<std::string>(); }

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
        const auto said = run_dear(cheap_to_dig, arguments);
        CAPTURE(arguments, said.err);
        CHECK(said.status == 0);
        CHECK(says(said.err, "warning: price: no bid"));
        if (arguments.size() == 1) CHECK_FALSE(says(said.out, "no bid"));
        auto quiet = arguments;
        quiet.emplace_back("--quiet");
        CHECK(run_dear(cheap_to_dig, quiet).err.empty());
    }
}

TEST_CASE("where digging serves the customer better there is no offer but advice", "[program][quote]") {
    const auto price = json::parse(run_dear(cheap_to_dig, {"plan", "-f", "json", "-q"}).out).at("price");
    CHECK(price.at("bid") == false);
    CHECK(price.at("lines").empty());
    CHECK(price.at("offered") == "0.00");
    const auto letter = one_line(run_dear(cheap_to_dig, {"quote", "-q"}).out);
    CHECK(says(letter, "Advice"));
    CHECK(says(letter, "We advise you to have these places dug up"));
    CHECK(says(letter, "about " + shown(price, "ceiling")));
    for (const char* words : {"Total net", "Accepted", "Offer no."}) CHECK_FALSE(says(letter, words));
    const auto inside = one_line(run_dear(cheap_to_dig, {"quote", "--inside", "-q"}).out);
    CHECK(says(inside, "No bid"));
    CHECK(says(inside, "Suggested none no bid"));
    // In the office's table neither a suggestion nor an offer.
    CHECK(std::regex_search(run_dear(cheap_to_dig, {"quote", "-f", "csv", "-q"}).out,
                            std::regex{"N-04,1,1,[0-9]+,EUR,[0-9.]+,[0-9.]+,,,[0-9.]+,,"}));
    const auto drawn = run_dear(cheap_to_dig, {"draw", "--what", "price", "-f", "svg", "-q"}).out;
    CHECK(says(drawn, "at most "));
    CHECK_FALSE(says(drawn, "suggested"));
}

TEST_CASE("the estimator's word makes an offer all the same, with a warning", "[program][quote]") {
    const std::string job = std::regex_replace(std::string{cheap_to_dig}, std::regex{"\"site\""},
                                               "\"price\": {\"net\": \"900.00 EUR\"}, \"site\"");
    const auto plan = json::parse(run_dear(job.c_str(), {"plan", "-f", "json", "-q"}).out);
    REQUIRE(plan.at("patches").size() == 1);  // else the job says nothing about what follows
    REQUIRE(plan.at("runs")[1].at("unanswered").size() == 1);
    const auto& price = plan.at("price");
    CHECK(price.at("offered") == "900.00");
    CHECK(price.at("wished") == true);
    REQUIRE(price.at("lines").size() == 2);
    CHECK(price.at("lines")[0].at("kind") == "patch");
    CHECK(price.at("lines")[1].at("kind") == "dig");
    const auto said = run_dear(job.c_str(), {"quote"});
    CHECK(says(said.err, "below their cost to us"));
    const auto letter = one_line(said.out);
    CHECK_FALSE(says(letter, "cost to us"));
    CHECK(says(letter, "a patch does not fit here"));
    CHECK(says(letter, "Excavation and new pipe"));
    CHECK(says(letter, "Surface put back"));
}

TEST_CASE("an offer names what the yard's firm gives and leaves nothing but the signature to the pen",
          "[program][quote]") {
    const std::string job = std::regex_replace(
        std::string{one_place}, std::regex{"\"reference\": \"ok\""},
        "\"reference\": \"ok\", \"offer_date\": \"2026-03-30\", \"revision\": 2, \"date\": \"2026-04-20\", "
        "\"customer\": {\"name\": \"A. Person\", \"address\": \"Lane 1\"}, "
        "\"extras\": [{\"words\": \"Root cutting\", \"quantity\": 2}]");
    const auto letter = one_line(run_on(job.c_str(), {"quote", "-q"}).out);
    for (const char* words : {"Offer no.", "ok, revision 2", "2026-03-30", "Valid until", "2026-04-29", "A. Person",
                              "Patch repair", "Root cutting, 2 h", "Total net", "VAT 20 %", "Total incl. VAT",
                              "Payment: 14 days from the invoice", "Guarantee on the patches: 5 years"}) {
        CAPTURE(words);
        CHECK(says(letter, words));
    }
    const auto before_signature = letter.substr(0, letter.find("Accepted by the customer"));
    CHECK_FALSE(says(before_signature, "____"));
}

TEST_CASE("an estimate by telephone is called one, says its range and asks for no signature", "[program][quote]") {
    const std::string job = std::regex_replace(std::string{one_place}, std::regex{"\"reference\""},
                                               "\"certainty\": \"call\", \"reference\"");
    const auto letter = one_line(run_on(job.c_str(), {"quote", "-q"}).out);
    CHECK(says(letter, "This is an estimate from what we were told on the telephone."));
    CHECK(says(letter, "between"));
    for (const char* words : {"Offer", "Accepted", "Valid until"}) {
        CAPTURE(words);
        CHECK_FALSE(says(letter, words));
    }
}

TEST_CASE("discount and minimum charge stand in letter, inside view and JSON alike", "[program][quote]") {
    test::Folder folder;
    folder.write("yard.json", R"({"patchwright_yard": 1, "extends": "builtin", "name": "Ours",
        "rates": {"minimum_charge": "1500.00 EUR", "discount": "10 %"}})");
    const auto with = [&](std::vector<std::string> arguments) {
        arguments.insert(arguments.end(), {"--yard", folder / "yard.json", "-q"});
        return run_on(one_place, arguments).out;
    };
    const auto price = json::parse(with({"plan", "-f", "json"})).at("price");
    CHECK(std::stod(price.at("own").get<std::string>()) >= 1500.0);
    CHECK(std::stod(price.at("offered").get<std::string>()) >= 1500.0);
    const auto letter = one_line(with({"quote"}));
    CHECK(says(letter, shown(price, "offered")));
    const bool discounted = price.at("discount") != "0.00";
    CHECK(says(letter, "Discount") == discounted);
    CHECK(says(one_line(with({"quote", "--inside"})), "Discount"));
    const auto table = with({"quote", "-f", "csv"});
    CHECK(says(table, price.at("offered").get<std::string>()));
}

TEST_CASE("many jobs become a table, a line a job, bad ones with their error", "[program][quote]") {
    test::Call call;
    call.arguments = {"quote", "--stream", "-q"};
    const auto flat = [](std::string job) { return std::regex_replace(job, std::regex{"\n"}, " "); };
    call.input = flat(one_place) + "\n{\"patchwright_job\": 2}\n" + flat(nothing_to_patch) + "\n";
    const auto said = run(call);
    std::vector<std::string> lines;
    std::istringstream in{said.out};
    for (std::string line; std::getline(in, line);) lines.push_back(line);
    REQUIRE(lines.size() == 4);
    CHECK(lines[0] ==
          "reference,patches,digs,days,currency,floor,own,suggested,offered,ceiling,margin,chance_late,"
          "chance_patch_cheaper,error");
    CHECK(lines[1].starts_with("ok,1,0,1,EUR,"));
    CHECK(lines[2].starts_with(",,,,,,,,,,,,,"));
    CHECK(says(lines[2], "version 1 of the job file"));
    CHECK(lines[3].starts_with("N-0,0,"));
    for (const auto& line : {lines[1], lines[3]}) CHECK(std::count(line.begin(), line.end(), ',') == 13);
}

TEST_CASE("a revision lists what changed since the former job file", "[program][quote]") {
    test::Folder folder;
    folder.write("old.json", one_place);
    const std::string job =
        std::regex_replace(std::string{one_place}, std::regex{R"(\{"id": "A1")"},
                           R"({"id": "A0", "at": "8 m", "kind": "fissure", "size": "2 mm"}, {"id": "A1")");
    const auto letter = one_line(run_on(job.c_str(), {"quote", "-q", "--since", folder / "old.json"}).out);
    CHECK(says(letter, "Changes since the former offer"));
    CHECK(says(letter, "Added: drain A: Crack (A0) at 8.00 m"));
    CHECK_FALSE(says(letter, "Left out"));
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
