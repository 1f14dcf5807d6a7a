// The walks through in docs: every command in them runs, and says the lines that stand under it.
#include <catch2/catch.hpp>

#include <sstream>

#include "support/program.hpp"
#include "support/project_file.hpp"

using namespace patchwright::test;

namespace {

/// A word of a command as the program gets it: files of the project, and of an empty folder for what is written.
std::string placed(const std::string& word, const Folder& folder) {
    if (word.starts_with("examples/")) return std::string{PATCHWRIGHT_SOURCE_DIR} + "/" + word;
    return word.starts_with("out/") ? folder / word.substr(4) : word;
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
            std::istringstream words{command};
            std::vector<std::string> arguments;
            for (std::string word; words >> word;) arguments.push_back(placed(word, folder));
            last = run(arguments);
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
