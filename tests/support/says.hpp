#pragma once
#include <string>
#include <string_view>

namespace patchwright::test {

/// These words stand in the text.
inline bool says(const std::string& text, std::string_view words) { return text.find(words) != std::string::npos; }

}  // namespace patchwright::test
