#include "hints.hpp"

#include <string_view>

#include <fmt/format.h>
#include <CLI/CLI.hpp>

#include "patchwright/io/nearest.hpp"

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
    return std::string{io::nearest(typed, {names.begin(), names.end()})};
}

/// "; did you mean --yard?" for the first option that nothing took, where a known one is near.
std::string near_option(const CLI::App& at, const std::vector<std::string>& arguments) {
    const auto options = known_options(at);
    for (const auto& argument : arguments) {
        const auto name = argument.substr(0, argument.find('='));
        const bool option = name.starts_with("--") && name.size() > 2;
        if (!option || std::find(options.begin(), options.end(), name) != options.end()) continue;
        const auto near = nearest_to(name, options);
        return near.empty() ? std::string{} : fmt::format("; did you mean {}?", near);
    }
    return {};
}

/// What stands in the place of a command and is not one; empty when nothing does.
std::string unknown_command(const CLI::App& app, const CLI::App& at, const std::vector<std::string>& arguments) {
    const auto names = known_commands(at);
    if (names.empty()) return {};
    auto from = arguments.begin();
    if (&at != &app) from = std::next(std::find(from, arguments.end(), at.get_name()));
    const auto word = std::find_if(from, arguments.end(), [](const auto& a) { return !a.starts_with("-"); });
    if (word == arguments.end() || std::find(names.begin(), names.end(), *word) != names.end()) return {};
    const auto near = nearest_to(*word, names);
    const char* what = &at == &app ? "command" : "calculation";
    return fmt::format("\"{}\" is not a {}{}; there are {}", *word, what,
                       near.empty() ? std::string{} : fmt::format("; did you mean \"{}\"?", near),
                       fmt::join(names, ", "));
}

}  // namespace

std::string usage_message(const CLI::App& app, const CLI::ParseError& error,
                          const std::vector<std::string>& arguments) {
    const auto& at = reached(app);
    std::string what = unknown_command(app, at, arguments);
    if (what.empty()) what = error.what() + near_option(at, arguments);
    // "--output: At Most 1 required but received 2"
    if (const auto most = what.find(": At Most 1 "); most != std::string::npos) {
        const auto times = what.substr(what.find_last_of(' ') + 1);
        what =
            what.substr(0, most) + " is given " + (times == "2" ? "twice" : times + " times") + ": leave one of them";
    }
    while (!what.empty() && (what.back() == '\n' || what.back() == '.')) what.pop_back();
    std::string command = "patchwright";
    for (const CLI::App* on_the_way = &app; !on_the_way->get_subcommands().empty();) {
        on_the_way = on_the_way->get_subcommands().back();
        command += " " + on_the_way->get_name();
    }
    return fmt::format("{}\nTry: {} --help", what, command);
}

}  // namespace patchwright::cli
