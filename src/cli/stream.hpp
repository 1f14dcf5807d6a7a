#pragma once
#include "common.hpp"

namespace patchwright::cli {

/// What becomes of each job.
struct StreamForm {
    std::string header;  ///< first line of the output; empty: none
    std::function<std::string(const sheet::Context&)> line;
    std::function<std::string(const std::string& message, std::size_t number)> error;
};
/// Whole plans as JSON; a line that holds no job gives {"error": ..., "line": ...} in its place.
StreamForm plans_as_json();

struct StreamOptions {
    unsigned threads = 0;        ///< 0: all cores
    std::size_t first_line = 1;  ///< number of the first line, where the stream is a piece of a longer one
    std::string skip_done;       ///< file with what is written already
};

/// One job, or the name of a job file, a line in; one line out for each, in the same order. Memory does not grow with
/// the length of the stream, but for the references of what is done already.
/// Returns the exit status: 0 also when lines were bad, as each says so in its place; with --strict 4 if any was.
int run_stream(const Common& options, const StreamForm& form, const StreamOptions& stream);

}  // namespace patchwright::cli
