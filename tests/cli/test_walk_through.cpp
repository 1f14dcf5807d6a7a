// The walks through in docs: every command in them runs, and says the lines that stand under it.
#include <catch2/catch.hpp>

#include <sstream>

#include "support/program.hpp"
#include "support/project_file.hpp"

using namespace patchwright::test;

namespace {

/// A command's words as a shell would have them, without the quotes: files of the project, and of an empty folder for
/// what is written.
std::vector<std::string> words_of(const std::string& command, const Folder& folder) {
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
    for (auto& word : words) {
        if (word.starts_with("examples/")) word = std::string{PATCHWRIGHT_SOURCE_DIR} + "/" + word;
        if (word.starts_with("out/")) word = folder / word.substr(4);
    }
    return words;
}

}  // namespace

TEST_CASE("the walks through run as they stand in the documents", "[program][docs]") {
    struct Page {
        const char* file;
        int commands, lines;
    };
    const auto which = GENERATE(Page{"docs/walk-through.md", 8, 10}, Page{"docs/firm-week.md", 10, 12});
    const Folder folder;
    std::istringstream page{project_file(which.file)};
    const std::string indent = "    ", prompt = indent + "$ patchwright ";
    Result last;
    std::string command;
    int commands = 0, lines = 0;
    for (std::string line; std::getline(page, line);) {
        if (line.starts_with(prompt)) {
            command = line.substr(prompt.size());
            last = run(words_of(command, folder));
            CAPTURE(command, last.err);
            CHECK(last.status == 0);
            ++commands;
        } else if (line.starts_with(indent)) {
            CAPTURE(command, line);
            CHECK(last.out.find(line.substr(indent.size())) != std::string::npos);
            ++lines;
        }
    }
    CHECK(commands >= which.commands);
    CHECK(lines >= which.lines);
}

TEST_CASE("the samples in the README are what the program prints", "[program][docs]") {
    const std::string demo = std::string{PATCHWRIGHT_SOURCE_DIR} + "/examples/demo.json";
    const std::string printed[] = {run({"daysheet", demo}).out, run({"quote", demo}).out};
    std::istringstream page{project_file("README.md")};
    int samples = -1, lines = 0;  // the first fence is that of "What comes out"
    bool inside = false, after_heading = false;
    for (std::string line; std::getline(page, line);) {
        after_heading = after_heading || line == "## What comes out";
        if (line.starts_with("## Commands")) break;
        if (after_heading && line == "```") {
            inside = !inside;
            samples += inside ? 1 : 0;
        } else if (inside) {
            REQUIRE(samples < 2);
            CAPTURE(samples, line);
            CHECK(printed[samples].find(line + "\n") != std::string::npos);
            ++lines;
        }
    }
    CHECK(samples == 1);
    CHECK(lines >= 50);
}
