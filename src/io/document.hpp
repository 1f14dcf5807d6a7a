#pragma once
#include <cstddef>
#include <cstdint>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "further.hpp"

/// JSON text as a tree of nodes that know where they stand. Internal to the readers.
namespace patchwright::io {

enum class NodeKind : std::uint8_t { null, boolean, number, string, array, object };

/// One value of the file. Offsets are bytes into the whole text, which must outlive it: keys and strings are seen
/// there.
struct Node {
    NodeKind kind = NodeKind::null;
    bool boolean = false;
    mutable bool faulty = false;  ///< a fault was reported here: later checks keep quiet about it
    double number = 0.0;
    std::size_t start = 0, end = 0;          ///< of the value, end past its last byte
    std::size_t key_start = 0, key_end = 0;  ///< of the key with its quotes, in members of an object
    std::string_view key;
    std::string_view text;  ///< decoded string
    std::vector<Node> children;

    /// Member of an object; nullptr when there is none.
    const Node* find(std::string_view name) const;
};

/// White space between tokens, RFC 8259 section 2.
inline bool is_json_space(char c) { return c == ' ' || c == '\t' || c == '\n' || c == '\r'; }

struct Document {
    Node root;
    std::vector<std::unique_ptr<std::string>> decoded;  ///< keys and strings that stand in the text with escapes
    Faults faults;                                      ///< of syntax and duplicate keys
    bool complete = false;                              ///< the tree is whole
};

/// Deepest nesting of arrays and objects that is read.
inline constexpr int deepest_nesting = 64;

/// Values that a file may hold: some 40,000 defects in one job. Without an end to it, a file of nothing but short
/// values would take sixty times its size as a tree.
inline constexpr std::size_t max_values = 500'000;

/// Strict JSON (RFC 8259) with these refusals on top: a key twice in one object, nesting deeper than
/// `deepest_nesting`, more than `max_values`, a number beyond the range of double, an escaped NUL. A byte order mark
/// is skipped.
Document parse_document(std::string_view text);

/// JSON pointer (RFC 6901) of the innermost value or key that holds the byte at `offset`.
std::string pointer_at(const Node& root, std::size_t offset);

/// One kind of file given for the other: has the key `theirs`, not the key `ours`.
bool is_other_file(const Node& root, std::string_view theirs, std::string_view ours);

/// The member when it is there and no fault was reported at it.
const Node* sound(const Node& object, std::string_view key);
/// The items of a member that is a list; none when there is no such list.
const std::vector<Node>& items(const Node& object, std::string_view key);

/// Offset in the file of a byte of a decoded string, through its escapes.
std::size_t offset_in_string(std::string_view file, const Node& node, std::size_t decoded);

}  // namespace patchwright::io
