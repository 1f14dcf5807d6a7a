#pragma once
#include <array>
#include <cmath>
#include <vector>

#include "patchwright/price/risk.hpp"

/// Trials side by side: the arrays they are worked in and the sums taken over them.
namespace patchwright::price {

inline constexpr std::size_t block_size = 256;  // trials worked side by side: arrays that stay in the nearest cache
inline constexpr std::size_t causes = 4;
using TrialBlock = std::array<double, block_size>;

/// Inverse triangular with its constants worked out once.
struct Inverse {
    explicit Inverse(const job::Spread<double>& s)
        : low{s.low},
          high{s.high},
          left{(s.high - s.low) * (s.likely - s.low)},
          right{(s.high - s.low) * (s.high - s.likely)},
          split{s.high > s.low ? (s.likely - s.low) / (s.high - s.low) : 2.0},
          mean{triangular(s).mean} {}
    // Both sides are worked out and one is taken, so that the loop over trials has no branch.
    double operator()(double u) const {
        const double rising = low + std::sqrt(u * left);
        const double falling = high - std::sqrt((1.0 - u) * right);
        return u < split ? rising : falling;
    }
    double low, high, left, right, split, mean;
};

/// Four running sums side by side, put together in one fixed order: quick, and the same everywhere.
template <class F>
double sum_of(std::size_t count, F&& value) {
    std::array<double, 4> part{};
    std::size_t t = 0;
    for (; t + 4 <= count; t += 4) {
        for (std::size_t k = 0; k < 4; ++k) part[k] += value(t + k);
    }
    for (; t < count; ++t) part[0] += value(t);
    return (part[0] + part[1]) + (part[2] + part[3]);
}

/// Sums over trials for one method, from which means and shares of variance come.
struct Sums {
    explicit Sums(std::size_t drivers) : driver(drivers, 0.0), driver_total(drivers, 0.0) {}
    double total = 0.0, square = 0.0;
    std::vector<double> driver, driver_total;  ///< of c, of c * total
    void operator+=(const Sums& o) {
        total += o.total;
        square += o.square;
        for (std::size_t i = 0; i < driver.size(); ++i) {
            driver[i] += o.driver[i];
            driver_total[i] += o.driver_total[i];
        }
    }
};

}  // namespace patchwright::price
