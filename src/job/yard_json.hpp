#pragma once
#include <string_view>

namespace patchwright::job {

/// The text of data/yard.json, compiled in.
std::string_view yard_json();

}  // namespace patchwright::job
