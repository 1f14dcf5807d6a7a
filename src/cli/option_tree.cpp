#include "option_tree.hpp"

#include <algorithm>
#include <string_view>

#include <CLI/CLI.hpp>

namespace patchwright::cli {
namespace {

/// The words of "FORM:{text,pdf,json}", the parser's way of showing a value that must be one of a list.
std::vector<std::string> choices_of(std::string_view type) {
    std::vector<std::string> choices;
    const auto open = type.find('{'), close = type.rfind('}');
    if (open == std::string_view::npos || close == std::string_view::npos || close < open) return choices;
    for (std::string_view rest = type.substr(open + 1, close - open - 1); !rest.empty();) {
        const auto comma = std::min(rest.find(','), rest.size());
        choices.emplace_back(rest.substr(0, comma));
        rest.remove_prefix(std::min(comma + 1, rest.size()));
    }
    return choices;
}

bool names_a_file(std::string_view word) {
    return word == "FILE" || word == "JOB" || word == "SURVEY" || word == "YARD";
}

OptionNode option_node(const CLI::Option& option) {
    OptionNode node;
    for (const auto& name : option.get_snames()) node.spellings.push_back("-" + name);
    for (const auto& name : option.get_lnames()) node.spellings.push_back("--" + name);
    node.operand = node.spellings.empty();
    if (node.operand) node.spellings.push_back(option.get_name(true));
    const std::string type = option.get_type_name();
    if (option.get_items_expected_max() > 0) {
        node.value = type.substr(0, type.find(':'));
        if (node.value.empty()) node.value = "VALUE";
        node.choices = choices_of(type);
        node.file = names_a_file(node.value) || (node.operand && names_a_file(node.spellings.front()));
    }
    node.help = option.get_description();
    node.required = option.get_required();
    return node;
}

CommandNode command_node(const CLI::App& app, const std::string& path) {
    CommandNode node;
    node.path = path;
    node.name = app.get_name();
    node.help = app.get_description();
    node.examples = app.get_footer();
    for (const auto* option : app.get_options()) {
        const bool hidden = option->get_group().empty();
        if (!hidden) node.options.push_back(option_node(*option));
    }
    for (const auto* command : app.get_subcommands([](const CLI::App* a) { return !a->get_group().empty(); })) {
        const auto& name = command->get_name();
        std::string whole = path;
        if (!whole.empty()) whole += ' ';
        whole += name;
        node.commands.push_back(command_node(*command, whole));
    }
    return node;
}

void collect(const CommandNode& node, std::vector<const CommandNode*>& list) {
    list.push_back(&node);
    for (const auto& command : node.commands) collect(command, list);
}

}  // namespace

CommandNode option_tree(const CLI::App& program) { return command_node(program, ""); }

std::vector<const CommandNode*> every_command(const CommandNode& program) {
    std::vector<const CommandNode*> list;
    collect(program, list);
    return list;
}

}  // namespace patchwright::cli
