// How `patchwright calc` behaves: missing and wrong options, exit status, forms of output.
#include <algorithm>
#include <catch2/catch.hpp>
#include <sstream>
#include <string>
#include <vector>

#include "cli/calc_program.hpp"
#include "support/says.hpp"

using patchwright::test::calc;
using patchwright::test::run_program;
using patchwright::test::Said;
using patchwright::test::says;

TEST_CASE("a missing option is named with an example", "[cli]") {
    const Said said = run_program(R"(calc bend --bore "100 mm")");
    CHECK(said.status == 2);
    CHECK(said.out.empty());
    CHECK(says(said.err, R"(--radius "150 mm")"));
    CHECK(says(said.err, R"(--diameter "70 mm")"));
    CHECK_FALSE(says(said.err, "--bore is missing"));
}

TEST_CASE("a value that makes no sense is wrong use", "[cli]") {
    const auto arguments =
        GENERATE(as<std::string>{}, R"(bend --bore 100 --radius "150 mm" --diameter "70 mm")",
                 R"(bend --bore "100 kg" --radius "150 mm" --diameter "70 mm")",
                 R"(airtest --bore "100 mm" --length "20 m" --method LX)",
                 R"(watertest --bore "1,5 m" --length "20 m")", "thrust --bore \"100 mm\"", "markup",
                 R"(markup --markup "20 %" --margin "20 %")", R"(felt --bore "100 mm" --length "1 m" --layers 1.5)",
                 R"(cure --resin none --thickness "3 mm" --bore "100 mm" --pipe-temperature "9 C")", "nothing", "",
                 R"(bend --bor "100 mm")");
    CAPTURE(arguments);
    const Said said = run_program("calc " + arguments);
    CHECK(said.status == 2);
    CHECK(said.out.empty());
    CHECK_FALSE(said.err.empty());
}

TEST_CASE("outside the method is status 3", "[cli]") {
    const auto arguments = GENERATE(
        as<std::string>{}, R"(bend --bore "100 mm" --radius "40 mm" --diameter "70 mm")",
        R"(bend --bore "100 mm" --radius "150 mm" --diameter "101 mm")",
        R"(load --bore "100 mm" --cover "1 m" --traffic railway)",
        R"(load --bore "100 mm" --cover "0.3 m" --traffic highway)",
        R"(thickness --bore "100 mm" --head "1 m" --ovality "14 %" --modulus "1724 MPa" --condition "partially deteriorated")",
        R"(cure --resin standard --thickness "3 mm" --bore "100 mm" --pipe-temperature "2 C")",
        R"(trench --width "0.6 m" --length "3 m" --depth "0 m" --slope 0)",
        R"(energy --bore "100 mm" --length "1 m" --pressure="-1 bar")");
    CAPTURE(arguments);
    const Said said = run_program("calc " + arguments);
    CHECK(said.status == 3);
    CHECK(said.out.empty());
    CHECK_FALSE(said.err.empty());
}

namespace {

/// What the help of `calc` lists, and of each what its own help shows as an example.
std::vector<std::string> examples_in_help() {
    std::vector<std::string> found;
    const auto all = run_program("calc --help").out;
    std::istringstream lines{all.substr(all.find("Subcommands:"), all.find("Examples:") - all.find("Subcommands:"))};
    std::string line;
    for (std::getline(lines, line); std::getline(lines, line);) {
        std::istringstream words{line};
        std::string name;
        if (!(words >> name)) continue;
        const auto help = run_program("calc " + name + " --help").out;
        const auto call = "patchwright calc " + name + " -";
        const auto start = help.find(call);
        CAPTURE(name);
        REQUIRE(start != std::string::npos);
        const auto begin = start + std::string{"patchwright calc "}.size();
        found.push_back(help.substr(begin, help.find('\n', begin) - begin));
    }
    return found;
}

void works_in_both_forms(const std::string& arguments) {
    CAPTURE(arguments);
    const auto json = calc(arguments);
    const std::string name = arguments.substr(0, arguments.find(' '));
    CHECK(json["calc"] == name);
    CHECK_FALSE(json["inputs"].empty());
    CHECK(json["results"].size() >= 2);
    CHECK_FALSE(json["steps"].empty());
    for (const auto& step : json["steps"]) {
        CHECK_FALSE(step["formula"].get<std::string>().empty());
        CHECK_FALSE(step["source"].get<std::string>().empty());
        CHECK(step["result"]["value"].is_number());
    }

    const Said text = run_program("calc " + arguments);
    CHECK(text.status == 0);
    CHECK(text.err.empty());
    CHECK(says(text.out, "Working"));
    const Said us = run_program("calc " + arguments + " --units us");
    CHECK(us.status == 0);
    std::size_t widest = 0, column = 0;
    for (const char c : text.out) {
        if ((static_cast<unsigned char>(c) & 0xC0) != 0x80) column = c == '\n' ? 0 : column + 1;
        widest = std::max(widest, column);
    }
    CHECK(widest <= 80);
    const Said help = run_program("calc " + name + " --help");
    CHECK(help.status == 0);
    CHECK(says(help.out, "patchwright calc " + name));
}

}  // namespace

TEST_CASE("every calculation has an example that works, in both forms", "[cli]") {
    const auto examples = examples_in_help();
    CHECK(examples.size() >= 15);
    for (const auto& arguments : examples) works_in_both_forms(arguments);
}

TEST_CASE("cure times stand in their order", "[cli]") {
    const auto results =
        calc(R"(cure --resin fast --thickness "3 mm" --bore "100 mm" --pipe-temperature "10 C")")["results"];
    const auto at = [&](const char* key) { return results[key].get<double>(); };
    CHECK(at("pour_by_min") > 0.0);
    CHECK(at("inflate_by_min") < at("crease_by_min"));
    CHECK(at("crease_by_min") <= at("working_time_min"));
    CHECK(at("working_time_min") < at("gel_min"));
    CHECK(at("gel_min") <= at("let_down_min"));
}

TEST_CASE("text names what was assumed and shows the units asked for", "[cli]") {
    const Said said = run_program(
        R"(calc thickness --bore "4 in" --head "3 ft" --ovality "2 %" --modulus "250000 psi" --condition "partially deteriorated" --units us)");
    CHECK(said.status == 0);
    CHECK(says(said.out, "(assumed)"));
    CHECK(says(said.out, " psi"));
    CHECK_FALSE(says(said.out, " MPa"));
    CHECK(says(said.out, "governing"));
    CHECK(says(said.out, "does not apply"));
}

TEST_CASE("as much of a word as tells it from the others is enough", "[cli]") {
    const auto whole = calc(
        R"(thickness --bore "100 mm" --head "1 m" --ovality "2 %" --modulus "1724 MPa" --condition "fully deteriorated")");
    const auto start =
        calc(R"(thickness --bore "100 mm" --head "1 m" --ovality "2 %" --modulus "1724 MPa" --condition fully)");
    CHECK(whole == start);
    const Said said = run_program(R"(calc cure --resin fast --thickness "3 mm" --bore "100 mm")"
                                  R"( --pipe-temperature "10 C" --material p)");
    CHECK(said.status == 2);  // PVC-U or pitch fibre
}

TEST_CASE("a warm bladder and a late inflation move the times of a sleeve", "[cli]") {
    const std::string sleeve =
        R"(cure --resin fast --thickness "3 mm" --bore "100 mm" --pipe-temperature "10 C" --resin-temperature "15 C")";
    const auto cold = calc(sleeve)["results"];
    const auto warm = calc(sleeve + R"( --warm-air "0 min at 20 C, 20 min at 45 C")")["results"];
    const auto water = calc(sleeve + R"( --warm-water "0 min at 20 C, 20 min at 45 C")")["results"];
    CHECK(warm["let_down_min"].get<double>() < cold["let_down_min"].get<double>());
    CHECK(water["let_down_min"].get<double>() < warm["let_down_min"].get<double>());  // it holds more heat
    CHECK(warm["pour_by_min"].get<double>() <= cold["pour_by_min"].get<double>());
    const auto late = calc(sleeve + R"( --late "10 min")")["results"];
    CHECK(late["late_spare_min"].get<double>() < 0.0);
    CHECK(late["pot_life_min"].get<double>() > cold["pour_by_min"].get<double>());
    const Said both = run_program("calc " + sleeve + R"( --warm-air "0 min at 20 C" --warm-water "0 min at 20 C")");
    CHECK(both.status == 2);
}

TEST_CASE("the chance of being late goes by the hands-on times that are given", "[cli]") {
    const std::string sleeve =
        R"(cure --resin standard --thickness "3 mm" --bore "100 mm" --pipe-temperature "10 C" --length "1 m")";
    const auto late = [&](const std::string& more) {
        return calc(sleeve + more)["results"]["late_percent"].get<double>();
    };
    const double usual = late("");
    CHECK(late(R"( --wet-out "4 min")") < usual);
    CHECK(late(R"( --wet-out "30 min")") > usual + 5.0);
    CHECK(late(R"( --wet-out "60 min")") > late(R"( --wet-out "30 min")") + 20.0);
}

TEST_CASE("temperatures are calculated or measured; the older word for calculated is still read", "[cli]") {
    const std::string sleeve = R"(cure --resin standard --thickness "3 mm" --bore "100 mm" --pipe-temperature "10 C")";
    const auto usual = calc(sleeve)["results"];
    CHECK(calc(sleeve + " --temperatures calculated")["results"] == usual);
    CHECK(calc(sleeve + " --temperatures reckoned")["results"] == usual);
    const auto measured = calc(sleeve + " --temperatures measured")["results"];
    CHECK(measured["inflate_by_min"].get<double>() > usual["inflate_by_min"].get<double>());
    CHECK(measured["let_down_min"].get<double>() < usual["let_down_min"].get<double>());
}

TEST_CASE("the pot in the warmest of air and van", "[cli]") {
    const std::string sleeve =
        R"(cure --resin standard --thickness "3 mm" --bore "100 mm" --pipe-temperature "10 C" --air-temperature "10 C")";
    const auto pot = [&](const std::string& more) {
        return calc(sleeve + more)["results"]["pot_life_min"].get<double>();
    };
    CHECK(pot(R"( --van-temperature "25 C")") < pot(""));
}

TEST_CASE("the result goes to a file whole", "[cli]") {
    const Said said =
        run_program(R"(calc bend --bore "100 mm" --radius "150 mm" --diameter "70 mm" -o /nonexistent-folder/x.json)");
    CHECK(said.status == 1);
    CHECK(said.out.empty());
}
