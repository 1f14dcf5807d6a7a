#pragma once
#include <array>
#include <span>
#include <vector>

#include "patchwright/job/durations.hpp"
#include "patchwright/job/limits.hpp"
#include "patchwright/units/quantity.hpp"

/// The two promises of a sleeve: shaped in time, hard when it is let down. Chances, not margins.
///
/// Method, sources and limits: docs/methods/cure.md, "Two promises".
namespace patchwright::cure {

/// A time whose logarithm is normally distributed about that of its likely value (the median).
struct UncertainTime {
    Duration likely{};
    double log_sd = 0.0;  ///< standard deviation of ln t

    /// The time that is not yet reached with the chance 1 - p. Throws RangeError unless 0 < p < 1.
    Duration quantile(double p) const;
    /// Chance that it comes before `time`; 0 for `time` zero or negative.
    double chance_before(Duration time) const;
};

/// Hands-on work: a sum of triangular times that share a cause (cold hands, rain, a new crew).
///
/// Each task's time is t = F^-1(Phi(z)), F its triangular distribution (low, likely, high), Phi the standard normal
/// distribution, z = sqrt(c) x + sqrt(1 - c) y: x one standard normal number for all tasks, y one of its own, c the
/// share of the variance that is shared. The sum is found by convolution for given x, on a grid of its whole range, and
/// averaged over x by the trapezoidal rule: no random numbers. Chances within 0.0005 of the exact ones (measured
/// against simulation). Nothing is rounded to minutes.
class Hands {
public:
    Hands() = default;
    /// Throws RangeError unless 0 <= low <= likely <= high, all finite, and 0 <= shared <= 1.
    Hands(std::span<const job::Spread<Duration>> tasks, double shared);

    /// Sum of the likely values: the figure for hands-on work that is planned and printed.
    Duration likely() const { return likely_; }
    Duration mean() const;
    Duration longest() const { return longest_; }
    /// Chance that the work takes longer than `limit`.
    double chance_beyond(Duration limit) const;
    /// Chance that the work takes longer than a limit that is not known exactly.
    double chance_beyond(const UncertainTime& limit) const;

private:
    Duration likely_{}, longest_{};
    Duration first_{}, step_{};   ///< middle of the first cell; width of a cell
    std::vector<double> chance_;  ///< of each cell
};

/// From mixing to shaped: wet-out, load, position, inflate, crease.
using SleeveTasks = std::array<job::Spread<Duration>, 5>;
SleeveTasks sleeve_tasks(const job::Durations& durations, Length sleeve, const job::Limits& limits);

/// Hands from mixing until sleeve `which` is shaped, where the sleeves of one mix go in in that order: all wet-outs
/// first, then each sleeve's load, position, inflate and crease.
Hands hands_in_mix(std::span<const SleeveTasks> sleeves, std::size_t which, const job::Limits& limits);
/// The same for a sleeve with a mix of its own.
Hands hands_of(const SleeveTasks& sleeve, const job::Limits& limits);

}  // namespace patchwright::cure
