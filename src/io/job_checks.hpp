#pragma once
#include "job_fields.hpp"

/// Checks that need more than one value, and the defaults. Internal to the reader.
namespace patchwright::io {

/// Errors and doubts between values; keeps quiet about values that were faulty by themselves.
void check_job(Reader& reader, const Node& root, const Job& job);
/// Derived values (`to`, names of fittings, the counter's offset), before the checks.
void complete_job(const Node& root, Job& job);
/// Puts the default in where the file says nothing and names it as assumed.
void assume_defaults(const Node& root, Job& job);

}  // namespace patchwright::io
