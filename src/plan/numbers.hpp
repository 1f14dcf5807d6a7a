#pragma once
#include <bit>
#include <cstddef>
#include <cstdint>
#include <unordered_map>
#include <vector>

namespace patchwright::plan {

/// All the numbers that an answer follows from; none of them is NaN.
using Numbers = std::vector<double>;
struct NumbersHash {
    std::size_t operator()(const Numbers& numbers) const {
        std::uint64_t hash = numbers.size();
        for (const double number : numbers) {
            hash = (hash ^ std::bit_cast<std::uint64_t>(number + 0.0)) * 0x9e3779b97f4a7c15ULL;  // -0 is 0
            hash ^= hash >> 32;
        }
        return static_cast<std::size_t>(hash);
    }
};
template <class Answer>
using ByNumbers = std::unordered_map<Numbers, Answer, NumbersHash>;

}  // namespace patchwright::plan
