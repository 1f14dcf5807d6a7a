#pragma once
#include <cmath>
#include <vector>

#include "patchwright/price/risk.hpp"

/// What a trial draws by, and the sums taken over trials.
namespace patchwright::price {

inline constexpr std::size_t causes = 4;

/// Inverse triangular with its constants worked out once.
struct Inverse {
    explicit Inverse(const job::Spread<double>& s)
        : low{s.low},
          high{s.high},
          left{(s.high - s.low) * (s.likely - s.low)},
          right{(s.high - s.low) * (s.high - s.likely)},
          split{s.high > s.low ? (s.likely - s.low) / (s.high - s.low) : 2.0},
          mean{triangular(s).mean} {}
    double operator()(double u) const {
        return u < split ? low + std::sqrt(u * left) : high - std::sqrt((1.0 - u) * right);
    }
    double low, high, left, right, split, mean;
};

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
