#pragma once
#include "common.hpp"

namespace patchwright::cli {

/// One job, or the name of a job file, a line in; one plan a line out, in the same order. A line that holds no job
/// gives
/// {"error": ..., "line": ...} in its place. Memory does not grow with the length of the stream.
/// Returns the exit status: 0 also when lines were bad, as each says so in its place; with --strict 4 if any was.
int run_stream(const Common& options, unsigned threads);

}  // namespace patchwright::cli
