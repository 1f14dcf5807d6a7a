#pragma once
#include <vector>

#include "patchwright/job/job.hpp"
#include "patchwright/job/yard.hpp"

namespace patchwright::plan {

/// The temperatures for which the site's tables have rows, coldest first: what is expected, of the pipe with the whole
/// degrees round it (in US units each second one), steps that a thermometer can tell apart, and the warmest that a day
/// may bring, 28 °C (82 °F).
struct TableRows {
    std::vector<Temperature> pipes;
    std::vector<Temperature> airs;
};
TableRows table_rows(const job::Job& job);
/// Rows of the resin, each with each of the air: from what is expected, as it comes or as it is cooled or warmed.
std::vector<Temperature> resin_rows(const job::Job& job, Temperature expected);

}  // namespace patchwright::plan
