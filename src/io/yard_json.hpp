#pragma once
#include <string_view>

namespace patchwright::io {

/// The text of data/yard.json, compiled in.
std::string_view yard_json();

}  // namespace patchwright::io
