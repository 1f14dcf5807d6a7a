// The zsh script: one function a command, each a call of _arguments.
#include <algorithm>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "completion.hpp"

namespace patchwright::cli {
namespace {

std::string function_of(const CommandNode& command) {
    std::string name = "_patchwright";
    if (!command.path.empty()) name += "_" + command.path;
    std::replace(name.begin(), name.end(), ' ', '_');
    std::replace(name.begin(), name.end(), '-', '_');
    return name;
}

/// Text inside single quotes in which _arguments gives `:`, `[` and `]` a meaning.
std::string zsh_text(std::string_view text) {
    std::string out;
    for (const char c : text) {
        if (c == '\'') {
            out += "'\\''";
            continue;
        }
        if (c == ':' || c == '[' || c == ']' || c == '\\') out += '\\';
        out += c;
    }
    return out;
}

std::string action_of(const OptionNode& option) {
    if (!option.choices.empty()) return fmt::format("({})", fmt::join(option.choices, " "));
    return option.file ? "_files" : " ";
}

/// '(-f --format)'{-f,--format}'[Form of the result]:FORM:(text pdf)'
std::string option_spec(const OptionNode& option) {
    std::string spec = option.spellings.size() == 1 ? fmt::format("'{}", option.spellings.front())
                                                    : fmt::format("'({})'{{{}}}'", fmt::join(option.spellings, " "),
                                                                  fmt::join(option.spellings, ","));
    spec += fmt::format("[{}]", zsh_text(option.help));
    if (!option.value.empty()) spec += fmt::format(":{}:{}", zsh_text(option.value), action_of(option));
    return spec + "'";
}

std::string operand_spec(const OptionNode& option, int place) {
    return fmt::format("'{}:{}{}:{}'", place, option.required ? "" : ":", zsh_text(option.spellings.front()),
                       action_of(option));
}

std::string function_text(const CommandNode& command) {
    std::string specs;
    int place = 1;
    for (const auto& option : command.options) {
        specs += " \\\n        " + (option.operand ? operand_spec(option, place++) : option_spec(option));
    }
    if (command.commands.empty())
        return fmt::format("{}() {{\n    _arguments -s{}\n}}\n\n", function_of(command), specs);
    specs += " \\\n        '1:command:->command' '*::rest:->rest'";
    std::string names, cases;
    for (const auto& sub : command.commands) {
        names += fmt::format("                '{}:{}'\n", sub.name, zsh_text(sub.help));
        cases += fmt::format("                {}) {} ;;\n", sub.name, function_of(sub));
    }
    return fmt::format(R"({0}() {{
    local context state state_descr line
    typeset -A opt_args
    _arguments -s -C{1}
    case $state in
        command)
            local -a names=(
{2}            )
            _describe -t commands command names
            ;;
        rest)
            case $line[1] in
{3}            esac
            ;;
    esac
}}

)",
                       function_of(command), specs, names, cases);
}

}  // namespace

std::string zsh_completion(const CommandNode& program) {
    std::string text =
        "#compdef patchwright\n# zsh completion for patchwright, written by: patchwright completion zsh\n\n";
    for (const auto* command : every_command(program)) text += function_text(*command);
    // In a folder of $fpath the file is the function's body; sourced, it must announce itself.
    return text +
           "if [[ $funcstack[1] == _patchwright ]]; then\n    _patchwright \"$@\"\nelse\n"
           "    compdef _patchwright patchwright\nfi\n";
}

}  // namespace patchwright::cli
