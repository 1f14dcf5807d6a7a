#include "hints.hpp"

#include <string_view>

#include <fmt/format.h>
#include <CLI/CLI.hpp>

#include "../job/nearest.hpp"

namespace patchwright::cli {
namespace {

/// The subcommand that the arguments reached.
const CLI::App& reached(const CLI::App& app) {
    const CLI::App* at = &app;
    while (!at->get_subcommands().empty()) at = at->get_subcommands().back();
    return *at;
}

std::vector<std::string> known_options(const CLI::App& app) {
    std::vector<std::string> names;
    for (const auto* option : app.get_options()) {
        for (const auto& name : option->get_lnames()) names.push_back("--" + name);
    }
    return names;
}

std::vector<std::string> known_commands(const CLI::App& app) {
    std::vector<std::string> names;
    for (const auto* command : app.get_subcommands([](const CLI::App*) { return true; }))
        names.push_back(command->get_name());
    return names;
}

std::string nearest_to(const std::string& typed, const std::vector<std::string>& names) {
    return std::string{job::nearest(typed, {names.begin(), names.end()})};
}

/// The first argument that nothing took: a mistyped command before any was reached, else a mistyped option.
std::string mistyped(const CLI::App& app, const std::vector<std::string>& arguments) {
    const auto& at = reached(app);
    const auto options = known_options(at);
    const auto commands = known_commands(at);
    for (const auto& argument : arguments) {
        const auto name = argument.substr(0, argument.find('='));
        const bool option = name.starts_with("--") && name.size() > 2;
        if (option && std::find(options.begin(), options.end(), name) == options.end()) {
            const auto near = nearest_to(name, options);
            return near.empty() ? std::string{} : fmt::format("; did you mean {}?", near);
        }
    }
    if (&at == &app || !commands.empty()) {
        for (const auto& argument : arguments) {
            if (argument.starts_with("-")) continue;
            if (std::find(commands.begin(), commands.end(), argument) != commands.end()) break;
            if (argument == at.get_name()) continue;
            const auto near = nearest_to(argument, commands);
            return near.empty() ? std::string{} : fmt::format("; did you mean \"{}\"?", near);
        }
    }
    return {};
}

}  // namespace

std::string usage_message(const CLI::App& app, const CLI::ParseError& error,
                          const std::vector<std::string>& arguments) {
    std::string what = error.what();
    // "--output: At Most 1 required but received 2"
    if (const auto most = what.find(": At Most 1 "); most != std::string::npos) {
        const auto times = what.substr(what.find_last_of(' ') + 1);
        what =
            what.substr(0, most) + " is given " + (times == "2" ? "twice" : times + " times") + ": leave one of them";
    }
    while (!what.empty() && (what.back() == '\n' || what.back() == '.')) what.pop_back();
    std::string command = "patchwright";
    for (const CLI::App* at = &app; !at->get_subcommands().empty();) {
        at = at->get_subcommands().back();
        command += " " + at->get_name();
    }
    return fmt::format("{}{}\nTry: {} --help", what, mistyped(app, arguments), command);
}

}  // namespace patchwright::cli
