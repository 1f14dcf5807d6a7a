#pragma once
#include <string>
#include <string_view>
#include <vector>

namespace patchwright::sheet {

/// The name nearest to what was typed, by edit distance, when it is near enough to be meant; else empty.
std::string nearest(std::string_view typed, const std::vector<std::string>& names);

}  // namespace patchwright::sheet
