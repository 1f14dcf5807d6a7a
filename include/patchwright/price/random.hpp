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
    constexpr std::uint64_t at(std::uint64_t i) const { return mix64(seed_ + offset(i)); }
    /// What the place adds to the seed: `at(i)` is mix64(seed + offset(i)).
    static constexpr std::uint64_t offset(std::uint64_t i) { return (i + 1) * golden_gamma; }

private:
    std::uint64_t seed_;
};

/// Two uniform numbers in the open interval (0, 1) from one word, each half a step of 2^-32 off both ends.
constexpr double upper_half(std::uint64_t word) {
    return (static_cast<double>(static_cast<std::int64_t>(word >> 32)) + 0.5) * 0x1.0p-32;
}
constexpr double lower_half(std::uint64_t word) {
    return (static_cast<double>(static_cast<std::int64_t>(word & 0xFFFFFFFFULL)) + 0.5) * 0x1.0p-32;
}

}  // namespace patchwright::price
