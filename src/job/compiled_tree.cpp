#include "compiled_tree.hpp"

namespace patchwright::job {
namespace {

std::string_view within_quotes(std::string_view text, std::size_t start, std::size_t end) {
    return text.substr(start + 1, end - start - 2);
}

/// Fills `node` from the front of `nodes`; what is left of them follows it in the tree.
void unfold(std::string_view text, std::span<const CompiledNode>& nodes, Node& node) {
    const CompiledNode& from = nodes.front();
    nodes = nodes.subspan(1);
    node.kind = from.kind;
    node.boolean = from.boolean;
    node.number = from.number;
    node.start = from.start;
    node.end = from.end;
    node.key_start = from.key_start;
    node.key_end = from.key_end;
    if (from.key_end > 0) node.key = within_quotes(text, from.key_start, from.key_end);
    if (from.kind == NodeKind::string) node.text = within_quotes(text, from.start, from.end);
    node.children.resize(from.children);
    for (Node& child : node.children) unfold(text, nodes, child);
}

}  // namespace

Document unfolded(std::string_view text, std::span<const CompiledNode> nodes) {
    Document document;
    unfold(text, nodes, document.root);
    document.complete = true;
    return document;
}

}  // namespace patchwright::job
