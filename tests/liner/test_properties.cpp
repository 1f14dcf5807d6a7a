#include <rapidcheck.h>
#include <catch2/catch.hpp>

#include "inputs.hpp"

using namespace patchwright;
using namespace patchwright::liner;

namespace {

/// Any drain that the trade meets, round or oval, dry or wet, host sound or gone.
ThicknessInput any_drain() {
    auto input = *rc::gen::arbitrary<bool>() ? broken_drain() : drain();
    input.bore.value = *rc::gen::inRange(50, 401) * unit::mm;
    input.ovality.value = *rc::gen::inRange(0, 101) * 1e-3;
    input.head_over_invert.value = *rc::gen::inRange(0, 5001) * unit::mm;
    input.wall.modulus.value = *rc::gen::inRange(1500, 9000) * unit::MPa;
    input.wall.flexural_strength.value = *rc::gen::inRange(20, 150) * unit::MPa;
    input.least.value = *rc::gen::inRange(0, 4) * unit::mm;
    if (input.soil) {
        input.soil->cover.value = *rc::gen::inRange(5000, 8000) * unit::mm;
        input.soil->water_over_crown.value = std::max(Length{}, *input.head_over_invert - *input.bore);
        input.soil->soil_unit_weight.value = *rc::gen::inRange(90, 151) * unit::pcf;
        input.soil->soil_modulus.value = *rc::gen::inRange(50, 3001) * unit::psi;
    }
    return input;
}
ThicknessInput with_more_water(ThicknessInput input, Length rise) {
    input.head_over_invert.value += rise;
    if (input.soil)
        input.soil->water_over_crown.value =
            std::min(*input.soil->cover, std::max(Length{}, *input.head_over_invert - *input.bore));
    return input;
}

}  // namespace

TEST_CASE("thicker is never weaker", "[liner][property]") {
    CHECK(rc::check("utilisation falls with thickness, in each check", [] {
        const auto input = any_drain();
        const Length thin = *rc::gen::inRange(10, 80) * 0.1 * unit::mm;
        const Length thick = thin + *rc::gen::inRange(1, 50) * 0.1 * unit::mm;
        const auto weak = utilisation(input, thin), strong = utilisation(input, thick);
        for (std::size_t i = 0; i < weak.size(); ++i) RC_ASSERT(strong[i] <= weak[i]);
    }));
}

TEST_CASE("utilisation and thickness agree on what does", "[liner][property]") {
    CHECK(rc::check("installed >= needed exactly where utilisation <= 1, in each check", [] {
        const auto input = any_drain();
        const Length installed = *rc::gen::inRange(5, 120) * 0.1 * unit::mm;
        const auto design = designed(input);
        const auto used = utilisation(input, installed);
        for (std::size_t i = 0; i < used.size(); ++i) {
            if (!design.checks[i].applies) {
                RC_ASSERT(used[i] == 0.0);
                continue;
            }
            const double margin = installed / design.checks[i].needed;
            if (margin > 1.0 + 1e-9) RC_ASSERT(used[i] < 1.0);
            if (margin < 1.0 - 1e-9) RC_ASSERT(used[i] > 1.0);
        }
    }));
}

TEST_CASE("deeper water never needs less", "[liner][property]") {
    CHECK(rc::check("each check rises with water over the invert", [] {
        const auto input = any_drain();
        const auto wetter = with_more_water(input, *rc::gen::inRange(1, 3000) * unit::mm);
        const auto before = designed(input), after = designed(wetter);
        for (std::size_t i = 0; i < before.checks.size(); ++i)
            RC_ASSERT(after.checks[i].needed >= before.checks[i].needed);
        RC_ASSERT(after.glock >= before.glock);
    }));
}

TEST_CASE("more ovality never needs less", "[liner][property]") {
    CHECK(rc::check("each check rises with ovality", [] {
        const auto input = any_drain();
        auto flatter = input;
        flatter.ovality.value = *input.ovality + *rc::gen::inRange(1, 100) * 1e-3;
        const auto before = designed(input), after = designed(flatter);
        for (std::size_t i = 0; i < before.checks.size(); ++i)
            RC_ASSERT(after.checks[i].needed >= before.checks[i].needed);
    }));
}

TEST_CASE("a stiffer resin or a lower safety factor never needs more", "[liner][property]") {
    CHECK(rc::check("design falls with modulus and strength, rises with N", [] {
        const auto input = any_drain();
        auto stiffer = input;
        stiffer.wall.modulus.value = 1.2 * *input.wall.modulus;
        stiffer.wall.flexural_strength.value = 1.2 * *input.wall.flexural_strength;
        RC_ASSERT(designed(stiffer).design <= designed(input).design);
        auto bolder = input;
        bolder.safety.value = 1.5;
        RC_ASSERT(designed(bolder).design <= designed(input).design);
    }));
}

TEST_CASE("size does not matter, only proportion", "[liner][property]") {
    CHECK(rc::check("without a least thickness t/D is the same in every bore", [] {
        auto input = drain();
        input.least.value = Length{};
        input.head_over_invert.value = *rc::gen::inRange(100, 5000) * unit::mm;
        const double share = designed(input).design / *input.bore;
        input.bore.value = *rc::gen::inRange(50, 1000) * unit::mm;
        RC_ASSERT(std::abs(designed(input).design / *input.bore - share) < 1e-12);
    }));
}
