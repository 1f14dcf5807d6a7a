#pragma once
#include <cstddef>
#include <cstdint>
#include <iterator>
#include <random>
#include <span>

namespace patchwright::test {

/// Random numbers that are the same on every machine: no standard distribution is used.
class Dice {
public:
    explicit Dice(std::uint32_t seed) : engine_{seed} {}
    /// The throws are those of `bytes`, one or two each; when they are used up every throw is the lowest. So that a
    /// fuzzer that changes one byte changes one thing. The bytes must outlive the dice.
    explicit Dice(std::span<const std::uint8_t> bytes) : scripted_{true}, bytes_{bytes} {}
    /// From low to high, both included.
    int between(int low, int high) {
        const auto ways = static_cast<std::uint32_t>(high - low + 1);
        return low + static_cast<int>((scripted_ ? script(ways) : static_cast<std::uint32_t>(engine_())) % ways);
    }
    /// True in `percent` of the cases.
    bool chance(int percent) { return between(1, 100) <= percent; }
    template <class List>
    const auto& one_of(const List& list) {
        return list[static_cast<std::size_t>(between(0, static_cast<int>(std::size(list)) - 1))];
    }

private:
    std::uint32_t script(std::uint32_t ways) {
        std::uint32_t value = 0;
        for (std::uint32_t reach = 1; reach < ways; reach *= 256) value = value * 256 + next();
        return value;
    }
    std::uint32_t next() {
        if (bytes_.empty()) return 0;
        const std::uint32_t byte = bytes_.front();
        bytes_ = bytes_.subspan(1);
        return byte;
    }

    std::mt19937 engine_;
    bool scripted_ = false;
    std::span<const std::uint8_t> bytes_;
};

}  // namespace patchwright::test
