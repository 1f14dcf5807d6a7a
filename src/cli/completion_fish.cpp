// The fish script: one `complete` an option, each bound to the command that has it.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include "completion.hpp"

namespace patchwright::cli {
namespace {

constexpr std::string_view helper = R"(
# True when the commands typed so far are exactly these.
function __patchwright_at
    set -l typed (commandline -opc)
    set -l at ''
    for word in $typed[2..-1]
        set -l longer (string trim -- "$at $word")
        contains -- "$longer" $__patchwright_commands; and set at $longer
    end
    test "$at" = "$argv"
end

)";

std::string fish_text(std::string_view text) {
    std::string out = "'";
    for (const char c : text) {
        if (c == '\'' || c == '\\') out += '\\';
        out += c;
    }
    return out + "'";
}

std::string start(const CommandNode& command) {
    return fmt::format("complete -c patchwright -n {}",
                       fish_text(command.path.empty() ? "__patchwright_at" : "__patchwright_at " + command.path));
}

std::string values(const OptionNode& option) {
    if (!option.choices.empty()) return fmt::format(" -x -a '{}'", fmt::join(option.choices, " "));
    return option.file ? " -r -F" : " -x";
}

std::string option_line(const CommandNode& command, const OptionNode& option) {
    std::string line = start(command);
    for (const auto& spelling : option.spellings) {
        line += spelling.starts_with("--") ? " -l " + spelling.substr(2) : " -s " + spelling.substr(1);
    }
    if (!option.value.empty()) line += values(option);
    return line + " -d " + fish_text(option.help) + "\n";
}

std::string operand_line(const CommandNode& command, const OptionNode& option) {
    if (!option.choices.empty()) {
        return fmt::format("{} -a '{}' -d {}\n", start(command), fmt::join(option.choices, " "),
                           fish_text(option.help));
    }
    return option.file ? start(command) + " -F\n" : "";
}

}  // namespace

std::string fish_completion(const CommandNode& program) {
    std::string text =
        "# fish completion for patchwright, written by: patchwright completion fish\nset -g __patchwright_commands";
    for (const auto* command : every_command(program)) {
        if (!command->path.empty()) text += " " + fish_text(command->path);
    }
    text += helper;
    text += "complete -c patchwright -f\n";
    for (const auto* command : every_command(program)) {
        for (const auto& sub : command->commands) {
            text += fmt::format("{} -a {} -d {}\n", start(*command), sub.name, fish_text(sub.help));
        }
        for (const auto& option : command->options) {
            text += option.operand ? operand_line(*command, option) : option_line(*command, option);
        }
    }
    return text;
}

}  // namespace patchwright::cli
