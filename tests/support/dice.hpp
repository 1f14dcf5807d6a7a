#pragma once
#include <cstdint>
#include <random>

namespace patchwright::test {

/// Random numbers that are the same on every machine: no standard distribution is used.
class Dice {
public:
    explicit Dice(std::uint32_t seed) : engine_{seed} {}
    /// From low to high, both included.
    int between(int low, int high) {
        return low + static_cast<int>(engine_() % static_cast<std::uint32_t>(high - low + 1));
    }
    /// True in `percent` of the cases.
    bool chance(int percent) { return between(1, 100) <= percent; }
    template <class List>
    const auto& one_of(const List& list) {
        return list[static_cast<std::size_t>(between(0, static_cast<int>(std::size(list)) - 1))];
    }

private:
    std::mt19937 engine_;
};

}  // namespace patchwright::test
