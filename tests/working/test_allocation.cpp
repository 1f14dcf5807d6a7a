#include <catch2/catch.hpp>

#include <type_traits>

#include "sample.hpp"

using namespace patchwright;

// A step owns nothing, so recording one can only cost the vector's own growth.
static_assert(std::is_trivially_copyable_v<Step>);

TEST_CASE("a working that is on only grows; one that is off takes no room at all", "[working]") {
    Working off = Working::off();
    for (int i = 0; i < 1000; ++i) off.add(sample::ring, {0.1, 0.2}, 0.3);
    CHECK(off.steps().data() == nullptr);

    Working on;
    int moves = 0;
    const Step* before = nullptr;
    for (int i = 0; i < 1000; ++i) {
        on.add(sample::ring, {0.1, 0.2}, 0.3);
        if (on.steps().data() != before) ++moves;
        before = on.steps().data();
    }
    CHECK(moves <= 11);  // a doubling vector reaches 1000 in 11
    CHECK(on.steps().size() == 1000);
}
