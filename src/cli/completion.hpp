#pragma once
#include <string>
#include <string_view>

#include "option_tree.hpp"

/// Texts made from the tree of commands and options. The same tree, the same bytes.
namespace patchwright::cli {

std::string bash_completion(const CommandNode& program);
std::string zsh_completion(const CommandNode& program);
std::string fish_completion(const CommandNode& program);
/// patchwright(1) in the man macros.
std::string man_page(const CommandNode& program, std::string_view version);

}  // namespace patchwright::cli
