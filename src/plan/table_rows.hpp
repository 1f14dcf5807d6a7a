#pragma once
#include <vector>

#include "patchwright/job/job.hpp"
#include "patchwright/job/yard.hpp"

namespace patchwright::plan {

/// The temperatures for which the site's tables have rows, coldest first: what is expected, round steps that a
/// thermometer can tell apart round it, and the warmest that a day may bring, 28 °C (82 °F).
struct TableRows {
    std::vector<Temperature> pipes;
    std::vector<Temperature> resins, airs;  ///< each with each
};
TableRows table_rows(const job::Job& job, const job::Limits& limits);

}  // namespace patchwright::plan
