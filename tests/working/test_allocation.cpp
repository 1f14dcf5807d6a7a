// A working costs nothing that is not asked for: counted at operator new itself.
#include <catch2/catch.hpp>

#include <cstdlib>
#include <new>

#include "sample.hpp"

namespace {
std::size_t allocations = 0;
}

void* operator new(std::size_t size) {
    ++allocations;
    if (void* memory = std::malloc(size == 0 ? 1 : size)) return memory;
    throw std::bad_alloc{};
}
void operator delete(void* memory) noexcept { std::free(memory); }
void operator delete(void* memory, std::size_t) noexcept { std::free(memory); }

using namespace patchwright;

TEST_CASE("recording allocates only the vector's own room", "[working]") {
    Working off = Working::off();
    std::size_t before = allocations;
    for (int i = 0; i < 1000; ++i) off.add(sample::ring, {0.1, 0.2}, 0.3);
    CHECK(allocations == before);

    Working on;
    before = allocations;
    for (int i = 0; i < 1000; ++i) on.add(sample::ring, {0.1, 0.2}, 0.3);
    CHECK(allocations - before <= 12);  // a doubling vector reaches 1000 in 11
    CHECK(on.steps().size() == 1000);
}
