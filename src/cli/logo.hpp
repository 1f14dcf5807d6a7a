#pragma once
#include <optional>

#include "common.hpp"

namespace patchwright::cli {

/// The firm's sign from the file that the yard names, looked for beside the yard file. Throws InputError, naming both
/// files, where it cannot be read or drawn.
std::optional<sheet::Image> firm_logo(const Common& options, const job::Yard& yard);

}  // namespace patchwright::cli
