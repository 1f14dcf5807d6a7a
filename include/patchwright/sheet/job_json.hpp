#pragma once
#include <string>

#include "patchwright/intake/draft.hpp"

namespace patchwright::sheet {

/// Whether the file explains itself: "_help" keys, which the reader of job files skips.
enum class Help : unsigned char { none, starter };

/// A draft as a job file: JSON, two spaces a level, the keys in the order of docs/job-file.md, a line feed at the end.
/// What is not known is not written. Same draft, same bytes.
std::string job_json(const intake::Draft& draft, Help help = Help::none);

}  // namespace patchwright::sheet
