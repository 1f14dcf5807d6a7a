#pragma once
#include <string>

#include "common.hpp"
#include "patchwright/job/record.hpp"

namespace patchwright::cli {

/// The record of a planned job, its card notes read as keys: patches, runs and job that it names must be the plan's.
/// "-" is standard input. Prints what is wrong or doubtful on standard error; throws Stop when there are errors.
job::Record load_record(const Common& options, const std::string& file, const Loaded& loaded, const plan::Plan& plan);

}  // namespace patchwright::cli
