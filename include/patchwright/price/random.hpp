#pragma once
#include <cstdint>

/// Random numbers that are the same on every machine, and may be drawn in any order.
namespace patchwright::price {

/// The finaliser of SplitMix64: a bijection of 64-bit words whose outputs pass for random.
/// Source: Steele, Lea, Flood, "Fast splittable pseudorandom number generators", OOPSLA 2014, fig. 17 (variant 13 of
/// Stafford's mixers).
constexpr std::uint64_t mix64(std::uint64_t z) {
    z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9ULL;
    z = (z ^ (z >> 27)) * 0x94D049BB133111EBULL;
    return z ^ (z >> 31);
}
inline constexpr std::uint64_t golden_gamma = 0x9E3779B97F4A7C15ULL;

/// One stream of SplitMix64 read by place: `at(i)` is the (i+1)-th number that the generator seeded with `seed` gives.
/// No state: threads may share it, and no draw depends on how many came before it.
class Stream {
public:
    constexpr explicit Stream(std::uint64_t seed) : seed_{seed} {}
    constexpr std::uint64_t at(std::uint64_t i) const { return mix64(seed_ + (i + 1) * golden_gamma); }
    /// Uniform in the open interval (0, 1): the top 52 bits, half a step off both ends.
    constexpr double uniform(std::uint64_t i) const { return (static_cast<double>(at(i) >> 12) + 0.5) * 0x1.0p-52; }
    /// A stream of its own for each trial.
    constexpr Stream child(std::uint64_t i) const { return Stream{at(i)}; }

private:
    std::uint64_t seed_;
};

}  // namespace patchwright::price
