#pragma once
#include <optional>
#include <vector>

#include "common.hpp"

namespace patchwright::cli {

/// The firm's sign, or why there is none: where in the yard file it is named, and what is wrong with its file.
struct Logo {
    std::optional<sheet::Image> image;
    std::vector<io::Diagnostic> faults;
};
/// From the file that the yard names, looked for beside the yard file. A yard without a logo has neither.
Logo read_logo(const Common& options, const job::Yard& yard);

/// The name of the yard file in messages, and its text for their places; none of what came through a pipe.
std::string yard_name(const Common& options);
std::string yard_text(const Common& options);

}  // namespace patchwright::cli
