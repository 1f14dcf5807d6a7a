#include <catch2/catch.hpp>

#include "scenario.hpp"

using namespace patchwright;
using namespace patchwright::price;

// Our own output, kept so that it does not change unnoticed between compilers, options and machines. It proves nothing
// about being right: that is for the other files.

TEST_CASE("the same trials everywhere", "[price][risk][regression]") {
    Model m;
    m.correlation = 0.5;
    m.variables = {{"a", {200, 300, 700}, Cause::ground}, {"b", {50, 400, 450}, Cause::ground}};
    m.patch.terms = {{100, 0, -1}, {100, 1, -1}};
    m.dig.terms = {{150, 0, -1}};
    m.risks = {"r"};
    Event e;
    e.probability = 0.1;
    e.cause = Cause::ground;
    e.cost = {1e4, 2e4, 9e4};
    e.of_patch = true;
    m.events = {e};
    const RiskRun run = simulate(m, {}, 2026, 10000);
    const auto cents = [](const std::array<Money, 4>& q) {
        return std::array{q[0].in_cents(), q[1].in_cents(), q[2].in_cents(), q[3].in_cents()};
    };
    CHECK(cents(run.patch_quantiles) == std::array<std::int64_t, 4>{48424, 70434, 87554, 99227});
    CHECK(cents(run.dig_quantiles) == std::array<std::int64_t, 4>{40719, 57413, 74595, 83278});
    CHECK(run.patch_mean.in_cents() == 73958);
    CHECK(run.dig_mean.in_cents() == 59889);
}
