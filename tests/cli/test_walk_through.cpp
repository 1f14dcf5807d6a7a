// docs/walk-through.md: every command in it runs, and says the lines that stand under it.
#include <catch2/catch.hpp>

#include <sstream>

#include "support/program.hpp"
#include "support/project_file.hpp"

using namespace patchwright::test;

namespace {

/// A command's words as a shell would have them, without the quotes; files by their place.
std::vector<std::string> words_of(const std::string& command) {
    std::vector<std::string> words{""};
    bool quoted = false;
    for (const char c : command) {
        if (c == '"')
            quoted = !quoted;
        else if (c == ' ' && !quoted)
            words.emplace_back();
        else
            words.back() += c;
    }
    for (auto& word : words)
        if (word.starts_with("examples/")) word = std::string{PATCHWRIGHT_SOURCE_DIR} + "/" + word;
    return words;
}

}  // namespace

TEST_CASE("the walk-through runs as it stands in the document", "[program][docs]") {
    std::istringstream page{project_file("docs/walk-through.md")};
    const std::string indent = "    ", prompt = indent + "$ patchwright ";
    Result last;
    std::string command;
    int commands = 0, lines = 0;
    for (std::string line; std::getline(page, line);) {
        if (line.starts_with(prompt)) {
            command = line.substr(prompt.size());
            last = run(words_of(command));
            CAPTURE(command, last.err);
            CHECK(last.status == 0);
            ++commands;
        } else if (line.starts_with(indent)) {
            CAPTURE(command, line);
            CHECK(last.out.find(line.substr(indent.size())) != std::string::npos);
            ++lines;
        }
    }
    CHECK(commands >= 8);
    CHECK(lines >= 10);
}
