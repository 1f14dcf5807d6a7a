// Lines of a stream read back: whose they are, and what a summary counts them as.
#include <catch2/catch.hpp>
#include <string>

#include "patchwright/city/line.hpp"
#include "patchwright/city/summary.hpp"

using namespace patchwright;
using namespace patchwright::city;

namespace {

Line planned(const std::string& reference, int patch, int dig, int look_again, int days = 1) {
    Planned plan;
    plan.reference = reference;
    plan.places[static_cast<std::size_t>(Verdict::patch)] = patch;
    plan.places[static_cast<std::size_t>(Verdict::dig)] = dig;
    plan.places[static_cast<std::size_t>(Verdict::look_again)] = look_again;
    plan.patches = patch;
    plan.days = days;
    plan.currency = Currency{"EUR"};
    return {plan, "", 0};
}

}  // namespace

TEST_CASE("whose a line is stands in its beginning") {
    const std::string plan = R"({"patchwright_plan":1,"job":{"reference":"Q-1","title":"","notes":["reference"]},)"
                             R"("yard":{"name":"Ours","demonstration":false},"runs":[{"id":"A"}]})";
    CHECK(head_of(plan).reference == "Q-1");
    CHECK(head_of(plan).yard == "Ours");
    CHECK(head_of(plan).error_line == 0);
    // What follows is not looked at, but for its end.
    CHECK(head_of(plan.substr(0, plan.find("runs")) + "broken}").reference == "Q-1");
    CHECK_THROWS_AS(head_of(plan.substr(0, plan.size() - 1)), LineFault);
    CHECK(head_of(R"({"error":"line 3: \"job\"","line":3})").error_line == 3);
    for (const char* none :
         {"", "{}", "x", R"({"line":3})", R"({"error":"x"})", R"({"error":"x","line":0})", R"({"error":"x","line":-1})",
          R"({"job":{"title":"Q"},"yard":{"name":"Ours"}})", R"({"runs":[{"reference":"Q"}],"yard":{"name":"Ours"}})",
          R"({"job":[{"reference":"Q"}],"yard":{"name":"Ours"}})",
          R"({"job":{"x":{"reference":"Q"}},"yard":{"name":"Ours"}})"})
        CHECK_THROWS_AS(head_of(none), LineFault);
}

TEST_CASE("a job's reference is its own, not that of something in it") {
    CHECK(reference_in(R"({"runs": [{"reference": "no"}], "price": {"reference": "no"}, "reference": "Ü-1"})") ==
          "Ü-1");
    CHECK(reference_in(R"({"reference": "early", "runs": )") == "early");
    for (const char* none : {"", "{", "[]", R"({"reference": 3})", R"(["reference", "x"])", R"("reference")"})
        CHECK_FALSE(reference_in(none).has_value());
}

TEST_CASE("a job is counted by the first fate that holds of it") {
    Summary city{3};
    city.add(planned("a", 2, 0, 0));
    city.add(planned("b", 2, 1, 0));
    city.add(planned("c", 2, 1, 1));
    city.add(planned("d", 0, 0, 0, 0));
    auto lacks = planned("e", 1, 0, 0);
    lacks.plan->too_long = 1;
    city.add(lacks);
    city.add({std::nullopt, "no job", 6});
    const auto count = [&](Fate fate) { return city.by_fate[static_cast<std::size_t>(fate)]; };
    for (const Fate fate : {Fate::patch, Fate::dig, Fate::look_again, Fate::sound, Fate::too_long, Fate::unread})
        CHECK(count(fate) == 1);
    CHECK(city.jobs == 6);
    CHECK(city.patches == 7);
    CHECK(city.days == 4);
    CHECK(city.unread.front().line == 6);
}

TEST_CASE("the worst are kept in order, of equals the earlier, no more than asked for") {
    Summary city{2};
    for (const auto& [reference, digs] : {std::pair{"a", 1}, {"b", 3}, {"c", 0}, {"d", 3}, {"e", 2}, {"f", 4}})
        city.add(planned(reference, 1, digs, 0));
    const auto& worst = city.worst[static_cast<std::size_t>(WorstBy::dig)];
    REQUIRE(worst.size() == 2);
    CHECK(worst[0].reference == "f");
    CHECK(worst[1].reference == "b");
    CHECK(city.worst[static_cast<std::size_t>(WorstBy::days)].empty());  // a day each
    CHECK(city.repeated == 0);
    city.add(planned("b", 1, 0, 0));
    CHECK(city.repeated == 1);
    CHECK(city.first_repeated == "b");
}
