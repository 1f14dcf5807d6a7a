// Run by the build: reads a JSON file as the program would and writes its tree as a C++ source, so that a file that is
// compiled in need not be parsed each time the program starts.
//   compile_tree FILE FUNCTION > source.cpp
#include <fstream>
#include <iostream>
#include <iterator>
#include <string>

#include <fmt/format.h>

#include "document.hpp"

namespace {

using patchwright::job::Node;

void write(const Node& node) {
    fmt::print("    {{NodeKind{{{}}}, {}, {}, {:a}, {}, {}, {}, {}}},\n", static_cast<int>(node.kind), node.boolean,
               node.children.size(), node.number, node.start, node.end, node.key_start, node.key_end);
    for (const Node& child : node.children) write(child);
}

}  // namespace

int main(int argc, char** argv) {
    if (argc != 3) {
        std::cerr << "usage: compile_tree FILE FUNCTION\n";
        return 2;
    }
    std::ifstream file{argv[1], std::ios::binary};
    const std::string text{std::istreambuf_iterator<char>{file}, {}};
    const auto document = patchwright::job::parse_document(text);
    if (!document.complete || !document.faults.empty() || !document.decoded.empty()) {
        for (const auto& fault : document.faults) std::cerr << argv[1] << ": " << fault.message << '\n';
        std::cerr << argv[1] << ": must be whole JSON without escapes\n";
        return 1;
    }
    fmt::print(
        "#include \"compiled_tree.hpp\"\n\nnamespace patchwright::job {{\nnamespace {{\nconstexpr CompiledNode nodes[] "
        "= "
        "{{\n");
    write(document.root);
    fmt::print(
        "}};\n}}  // namespace\n\nstd::span<const CompiledNode> {}() {{ return nodes; }}\n\n}}  // namespace "
        "patchwright::job\n",
        argv[2]);
    return 0;
}
