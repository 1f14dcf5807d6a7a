#pragma once
#include <string>
#include <vector>

namespace CLI {
class App;
}

/// The program's commands and options as plain data, read off the parser itself: what completion scripts and the man
/// page are written from, so that neither can name an option that is not there, or miss one.
namespace patchwright::cli {

struct OptionNode {
    std::vector<std::string> spellings;  ///< "-f", "--format"; for an operand its name alone, "JOB"
    std::string value;                   ///< what stands for the value in help, "FORM"; empty: takes none
    std::vector<std::string> choices;    ///< the only values taken; empty: any
    std::string help;
    bool operand = false;  ///< given by its place, without a name
    bool required = false;
    bool file = false;  ///< the value names a file
};

struct CommandNode {
    std::string path;  ///< "" for the program, "draw", "calc bend"
    std::string name, help, examples;
    std::vector<OptionNode> options;  ///< in the order of the help text
    std::vector<CommandNode> commands;
};

CommandNode option_tree(const CLI::App& program);

/// The command itself, then those under it, depth first.
std::vector<const CommandNode*> every_command(const CommandNode& program);

}  // namespace patchwright::cli
