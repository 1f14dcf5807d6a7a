// The card's times against calc cure.
#include <fmt/format.h>

#include <algorithm>
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "support/program.hpp"
#include "support/project_file.hpp"

using namespace patchwright;
using test::run;

TEST_CASE("the card's times are those that calc cure gives for its inputs", "[program]") {
    // Sleeves of several lengths: their hands-on times differ, and with them the times of the cure by a minute.
    const test::Folder folder;
    folder.write("yard.json", R"({"patchwright_yard": 1, "extends": "builtin", "name": "without heaters",
        "heaters": [{"id": "warm-air", "count": 0}, {"id": "warm-water", "count": 0}]})");
    for (const double length : {0.5, 0.9, 1.3}) {
        folder.write("job.json", fmt::format(R"({{"patchwright_job": 1, "reference": "card", "runs": [
            {{"id": "A", "from": "a", "to": "b", "length": "12 m", "bore": "100 mm", "material": "clay", "depth": "1.2 m",
              "access": ["a", "b"], "ground_temperature": "10 C", "resin": "fast",
              "defects": [{{"id": "A1", "at": "5 m", "to": "{:.2f} m", "kind": "fissure", "size": "2 mm"}}]}}],
            "site": {{"air_temperature": "12 C", "resin_temperature": "15 C", "finish": "20:00"}}}})",
                                             4.7 + length));
        const auto planned = run({"plan", folder / "job.json", "-q", "-f", "json", "--yard", folder / "yard.json"});
        REQUIRE(planned.status == 0);
        const auto patch = nlohmann::json::parse(planned.out).at("patches").at(0);
        const double metres = patch.at("end_m").get<double>() - patch.at("start_m").get<double>();
        const auto told = run({"calc",
                               "cure",
                               "--yard",
                               folder / "yard.json",
                               "--resin",
                               "fast",
                               "--felt",
                               patch.at("liner").at("felt").get<std::string>(),
                               "--thickness",
                               fmt::format("{} mm", patch.at("liner").at("installed_thickness_mm").get<double>()),
                               "--bore",
                               "100 mm",
                               "--pipe-temperature",
                               "10 C",
                               "--resin-temperature",
                               "15 C",
                               "--air-temperature",
                               "12 C",
                               "--length",
                               fmt::format("{:.2f} m", metres),
                               "--mass",
                               fmt::format("{} g", patch.at("resin").at("total_g").get<double>()),
                               "--material",
                               "clay",
                               "--soil",
                               "dry",
                               "-f",
                               "json"});
        CAPTURE(metres, told.err, told.out, planned.out.substr(0, 200));
        REQUIRE(told.status == 0);
        const auto results = nlohmann::json::parse(told.out).at("results");
        for (const char* key : {"inflate_by_min", "crease_by_min", "gel_min", "let_down_min"}) {
            CAPTURE(key);
            CHECK(results.at(key) == patch.at("cure").at(key));
        }
    }
}

TEST_CASE("calc cure gives the card's figures of every patch of the examples, to the minute", "[program]") {
    int heated = 0, unheated = 0;
    for (const auto* file : {"examples/demo.json", "examples/us-slab.json"}) {
        const auto text = test::project_file(file);
        const auto job = nlohmann::json::parse(text);
        const test::Folder folder;
        folder.write("job.json", text);
        const auto plan = nlohmann::json::parse(run({"plan", folder / "job.json", "-q", "-f", "json"}).out);
        for (const auto& patch : plan.at("patches")) {
            const auto& cure = patch.at("cure");
            const auto number = [](const nlohmann::json& value, const char* unit) {
                return fmt::format("{} {}", value.get<double>(), unit);
            };
            const auto& runs = job.at("runs");
            const auto in =
                std::find_if(runs.begin(), runs.end(), [&](const auto& r) { return r.at("id") == patch.at("run"); });
            REQUIRE(in != runs.end());
            const auto pipe = number(cure.at("pipe_temperature_c"), "C");
            double pot = 0.0;
            for (const auto& mix : plan.at("batches"))
                for (const auto& id : mix.at("patches"))
                    if (id == patch.at("id")) pot = mix.at("pot_total_g").get<double>();
            std::vector<std::string> call{
                "calc",
                "cure",
                "-f",
                "json",
                "--resin",
                patch.at("resin").at("id").get<std::string>(),
                "--felt",
                patch.at("liner").at("felt").get<std::string>(),
                "--thickness",
                number(patch.at("liner").at("installed_thickness_mm"), "mm"),
                "--bore",
                number(patch.at("bore_mm"), "mm"),
                "--pipe-temperature",
                pipe,
                "--resin-temperature",
                number(cure.at("resin_temperature_c"), "C"),
                "--air-temperature",
                job.at("site").at("air_temperature").get<std::string>(),
                "--van-temperature",
                job.at("site").at("van_temperature").get<std::string>(),
                "--mass",
                fmt::format("{} g", pot),
                "--length",
                fmt::format("{:.2f} m", patch.at("end_m").get<double>() - patch.at("start_m").get<double>()),
                "--material",
                in->at("material").get<std::string>(),
                "--soil",
                in->contains("water_table") ? "wet" : "dry"};
            if (const auto& heating = cure.at("heating"); !heating.is_null()) {
                // On after inflating (2 min), the wrinkle check (2 min) and connecting (5 min): by then as warm as the
                // pipe.
                call.emplace_back("--warm-air");
                call.push_back(fmt::format("0 min at {0}, 9 min at {0}, {1} min at {2}", pipe,
                                           9 + heating.at("warm_up_min").get<int>(),
                                           number(heating.at("temperature_c"), "C")));
                ++heated;
            } else {
                ++unheated;
            }
            const auto told = run(call);
            CAPTURE(patch.at("id"), told.err);
            REQUIRE(told.status == 0);
            const auto results = nlohmann::json::parse(told.out).at("results");
            for (const char* key :
                 {"pour_by_min", "inflate_by_min", "crease_by_min", "working_time_min", "gel_min", "let_down_min"}) {
                CAPTURE(key);
                CHECK(results.at(key) == cure.at(key));
            }
        }
    }
    CHECK(heated == 2);
    CHECK(unheated == 6);
}
