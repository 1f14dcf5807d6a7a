#pragma once
#include <optional>
#include <string>

#include "patchwright/survey/verdict.hpp"

/// The limits of one defect, computed with their working, and how figures are written in sentences.
namespace patchwright::survey::detail {

/// Greatest step that a sleeve rides over: min(step_share * bore, step_most).
Length step_limit(const job::Limits& limits, Length bore, Working& working);
/// Greatest hole that a sleeve bridges: hole_share * bore.
Length hole_limit(const job::Limits& limits, Length bore, Working& working);
/// Length of a figure that the survey gives as a length or as a share of the bore.
std::optional<Length> as_length(const job::Defect& defect, Length bore);
/// The same as percent of the bore.
std::optional<double> as_percent(const job::Defect& defect, Length bore);

/// figure <= limit, with a hair of slack so that 0.3 * 100 mm is met by 30 mm.
bool within(double figure, double limit);

/// The same with the share of the limit that is used written down. Shares are fractions, 0.1 for 10 %.
bool within(Length figure, Length limit, Working& working);
bool share_within(double figure, double limit, Working& working);

std::string small_length(Length length, UnitSystem units);  ///< "8 mm", "0.31 in"
std::string percent_text(double value);                     ///< "12.5 %"

}  // namespace patchwright::survey::detail
