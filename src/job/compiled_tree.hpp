#pragma once
#include <cstdint>
#include <span>
#include <string_view>

#include "document.hpp"

namespace patchwright::job {

/// One node of a file that is compiled in, as `parse_document` found it when the program was built. Parents stand
/// before their children, those in the order of the file. Its strings hold no escapes.
struct CompiledNode {
    NodeKind kind = NodeKind::null;
    bool boolean = false;
    std::uint32_t children = 0;
    double number = 0.0;
    std::uint32_t start = 0, end = 0, key_start = 0, key_end = 0;  ///< as in Node
};

/// The tree that parsing `text` would give.
Document unfolded(std::string_view text, std::span<const CompiledNode> nodes);

/// Of data/yard.json; written by compile_tree.cpp.
std::span<const CompiledNode> yard_tree();

}  // namespace patchwright::job
