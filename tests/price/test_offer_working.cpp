// What an offer says of its working, and what it refuses.
#include <catch2/catch.hpp>

#include <algorithm>

#include "patchwright/units/error.hpp"
#include "scenario.hpp"
#include "support/working_off.hpp"

using namespace patchwright;
using namespace patchwright::price;
using scenario::Scenario;

TEST_CASE("the working of an offer names each layer", "[price]") {
    Scenario s({3.9});
    Working w;
    Input in = s.input();
    in.trials = 10;
    static_cast<void>(make_offer(in, w));
    for (const std::string_view id : {"price.crew-hour", "price.labour", "price.overhead", "price.net.markup",
                                      "price.spread", "price.suggested", "trench.volume", "dig.days"}) {
        CAPTURE(id);
        CHECK(std::any_of(w.steps().begin(), w.steps().end(), [id](const Step& x) { return x.formula->id == id; }));
    }
    for (const Step& step : w.steps()) CHECK(step.inputs().size() == step.formula->inputs.size());
}

TEST_CASE("an offer without job or yard is refused", "[price][error]") {
    CHECK_THROWS_AS(make_offer({}, off), InputError);
    CHECK_THROWS_AS(patch_build_up({}, off), InputError);
}
