// docs/walk-through.md: every command in it runs, and says the lines that stand under it.
#include <catch2/catch.hpp>

#include <sstream>

#include "support/program.hpp"
#include "support/project_file.hpp"

using namespace patchwright::test;

TEST_CASE("the walk-through runs as it stands in the document", "[program][docs]") {
    std::istringstream page{project_file("docs/walk-through.md")};
    const std::string indent = "    ", prompt = indent + "$ patchwright ";
    Result last;
    std::string command;
    int commands = 0, lines = 0;
    for (std::string line; std::getline(page, line);) {
        if (line.starts_with(prompt)) {
            command = line.substr(prompt.size());
            std::istringstream words{command};
            std::vector<std::string> arguments;
            for (std::string word; words >> word;)
                arguments.push_back(word.starts_with("examples/") ? std::string{PATCHWRIGHT_SOURCE_DIR} + "/" + word
                                                                  : word);
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
    CHECK(commands >= 8);
    CHECK(lines >= 10);
}
