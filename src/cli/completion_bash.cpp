// The bash script: one function that finds the command typed so far and offers what may follow.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include "completion.hpp"

namespace patchwright::cli {
namespace {

constexpr std::string_view head = R"(# bash completion for patchwright, written by: patchwright completion bash
_patchwright() {
    local current=${COMP_WORDS[COMP_CWORD]} previous='' path='' options='' commands='' operands='' values='' word
    local -i i end=COMP_CWORD
    COMPREPLY=()
    # Bash may hand over --option=value as three words.
    if [[ $current == '=' ]]; then
        current=''
        end=COMP_CWORD-1
    elif ((COMP_CWORD > 1)) && [[ ${COMP_WORDS[COMP_CWORD-1]} == '=' ]]; then
        end=COMP_CWORD-2
    fi
    if ((end < COMP_CWORD)); then previous=${COMP_WORDS[end]}; else previous=${COMP_WORDS[COMP_CWORD-1]}; fi
    for ((i = 1; i < COMP_CWORD; ++i)); do
        word=${COMP_WORDS[i]}
        case "$path/$word" in
)";

constexpr std::string_view tail = R"(    esac
    if [[ -n $values ]]; then
        :
    elif [[ $current == -* ]]; then
        values=$options
    else
        values="$commands $operands"
    fi
    case $values in
        *'<file>'*) compopt -o default ;; # nothing offered: bash goes on with file names
        *'<any>'*) ;;
        *) COMPREPLY=($(compgen -W "$values" -- "$current")) ;;
    esac
}
complete -F _patchwright patchwright
)";

std::string values_of(const OptionNode& option) {
    if (!option.choices.empty()) return fmt::format("{}", fmt::join(option.choices, " "));
    return option.file ? "<file>" : "<any>";
}

/// What follows an option that takes a value; a flag is followed by anything else.
std::string after_options(const CommandNode& command) {
    std::string text;
    for (const auto& option : command.options) {
        if (option.operand || option.value.empty()) continue;
        text +=
            fmt::format("                {}) values='{}' ;;\n", fmt::join(option.spellings, "|"), values_of(option));
    }
    return text.empty() ? text : "            case $previous in\n" + text + "            esac\n";
}

std::string offers_of(const CommandNode& command) {
    std::vector<std::string> options, commands, operands;
    for (const auto& option : command.options) {
        auto& list = option.operand ? operands : options;
        if (option.operand) {
            list.push_back(values_of(option));
        } else {
            list.insert(list.end(), option.spellings.begin(), option.spellings.end());
        }
    }
    for (const auto& sub : command.commands) commands.push_back(sub.name);
    return fmt::format(
        "        '{}')\n            options='{}'\n            commands='{}' operands='{}'\n{}            ;;\n",
        command.path, fmt::join(options, " "), fmt::join(commands, " "), fmt::join(operands, " "),
        after_options(command));
}

}  // namespace

std::string bash_completion(const CommandNode& program) {
    std::string text{head};
    for (const auto* command : every_command(program)) {
        for (const auto& sub : command->commands) {
            text += fmt::format("            '{}/{}') path='{}' ;;\n", command->path, sub.name, sub.path);
        }
    }
    text += "        esac\n    done\n    case $path in\n";
    for (const auto* command : every_command(program)) text += offers_of(*command);
    return text + std::string{tail};
}

}  // namespace patchwright::cli
