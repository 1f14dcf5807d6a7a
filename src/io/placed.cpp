#include "patchwright/io/placed.hpp"

#include <charconv>
#include <utility>

#include "document.hpp"
#include "source.hpp"

namespace patchwright::io {
namespace {

/// Member or item of that name; nullptr when there is none. Our keys need no escapes (RFC 6901).
const Node* child_of(const Node& node, std::string_view step) {
    if (node.kind == NodeKind::object) return node.find(step);
    std::size_t number = 0;
    const auto* end = step.data() + step.size();
    if (node.kind != NodeKind::array || std::from_chars(step.data(), end, number).ptr != end) return nullptr;
    return number < node.children.size() ? &node.children[number] : nullptr;
}

const Node& pointed_at(const Node& root, std::string_view pointer) {
    const Node* node = &root;
    while (pointer.starts_with('/')) {
        pointer.remove_prefix(1);
        const auto step = pointer.substr(0, pointer.find('/'));
        const Node* next = child_of(*node, step);
        if (next == nullptr) break;
        node = next;
        pointer.remove_prefix(step.size());
    }
    return *node;
}

}  // namespace

std::vector<Diagnostic> placed(std::vector<Diagnostic> findings, std::string_view text, std::string_view file) {
    const Document document = parse_document(text);
    std::vector<Diagnostic> list, counts;
    Faults faults;
    for (Diagnostic& finding : findings) {
        if (finding.count > 1) {
            finding.file = file;
            counts.push_back(std::move(finding));
            continue;
        }
        const Node& node = pointed_at(document.root, finding.pointer);
        if (&node == &document.root) {
            finding.file = file;
            list.push_back(std::move(finding));
            continue;
        }
        // Of a whole object or list only its first letter is marked.
        const bool large = node.kind == NodeKind::object || node.kind == NodeKind::array;
        faults.add({node.start, large ? 1 : node.end - node.start, finding.severity == Severity::warning,
                    std::move(finding.message), node.key, std::move(finding.pointer)});
    }
    for (Diagnostic& finding : diagnostics_of(text, file, document.root, std::move(faults)))
        list.push_back(std::move(finding));
    for (Diagnostic& finding : counts) list.push_back(std::move(finding));
    return list;
}

}  // namespace patchwright::io
