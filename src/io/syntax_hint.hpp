#pragma once
#include <cstddef>
#include <string>
#include <string_view>

#include "document.hpp"

/// Words for what is no JSON. Internal to the readers.
namespace patchwright::io {

/// The fault at the token that begins at `token`; `reached` is the byte at which the parser gave up.
/// `open` is the innermost open bracket, '\0' outside all of them.
Fault syntax_fault(std::string_view text, std::size_t token, std::size_t reached, char open, bool overflow);

/// Names both places of a key that stands twice in one object.
std::string duplicate_key_message(std::string_view text, std::string_view key, std::size_t first);

}  // namespace patchwright::io
