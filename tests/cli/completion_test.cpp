// Completion scripts against the program's own help text, and in the shells they are for.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <regex>
#include <set>
#include <sstream>

#include "cli/calc_program.hpp"
#include "support/project_file.hpp"

namespace test = patchwright::test;
using patchwright::test::run_program;

namespace {

std::string said(const std::string& arguments) {
    const auto run = run_program(arguments);
    INFO(arguments << "\n" << run.err);
    REQUIRE(run.status == 0);
    return run.out;
}

/// Words of one part of the help text: its lines' first words, "-f,--format" taken apart.
std::vector<std::string> listed(const std::string& help, const std::string& part) {
    std::vector<std::string> words;
    std::istringstream lines{help};
    bool inside = false;
    for (std::string line; std::getline(lines, line);) {
        if (line.ends_with(':')) inside = line == part + ":";
        if (!inside || line.size() < 3 || !line.starts_with("  ") || line[2] == ' ') continue;
        std::istringstream names{line.substr(2, line.find(' ', 2) - 2)};
        for (std::string name; std::getline(names, name, ',');) words.push_back(name);
    }
    return words;
}

struct Command {
    std::string path;
    std::vector<std::string> options, commands;
};

/// Every command there is, found by asking each for its help.
void ask(const std::string& path, std::vector<Command>& list) {
    const std::string help = said(path + " --help");
    const Command command{path, listed(help, "Options"), listed(help, "Subcommands")};
    list.push_back(command);
    for (const auto& name : command.commands) ask(path.empty() ? name : path + " " + name, list);
}

const std::vector<Command>& all_commands() {
    static const std::vector<Command> list = [] {
        std::vector<Command> found;
        ask("", found);
        return found;
    }();
    return list;
}

std::set<std::string> words_of(const std::string& text) {
    static const std::regex separators{"[\\s'|(){},\\[\\]\"]+"};
    return {std::sregex_token_iterator{text.begin(), text.end(), separators, -1}, {}};
}

/// The script's part that belongs to a command, from the line that opens it to the line that closes it.
std::string part(const std::string& script, const std::string& open, const std::string& close) {
    const auto from = script.find(open);
    INFO("the script has no part that opens with: " << open);
    REQUIRE(from != std::string::npos);
    return script.substr(from, script.find(close, from) - from);
}

/// What a script run by a shell prints, one word a line.
std::set<std::string> run_shell(const std::string& shell, const std::string& script) {
    std::string name = std::filesystem::temp_directory_path() / "patchwright-shell-XXXXXX";
    const int file = mkstemp(name.data());
    REQUIRE(file >= 0);
    std::ofstream{name} << script;
    const auto pipe = popen((shell + " " + name).c_str(), "r");
    REQUIRE(pipe != nullptr);
    std::string out;
    for (int c = fgetc(pipe); c != EOF; c = fgetc(pipe)) out += static_cast<char>(c);
    const int status = pclose(pipe);
    std::filesystem::remove(name);
    INFO(out);
    REQUIRE(status == 0);
    std::set<std::string> lines;
    std::istringstream in{out};
    for (std::string line; std::getline(in, line);) lines.insert(line);
    return lines;
}

/// Completes the last of the words under bash; "FILES" stands for bash's own file names.
std::set<std::string> bash_offers(const std::string& words) {
    return run_shell("bash", said("completion bash") +
                                 "\ncompopt() { echo FILES; }\n"
                                 "COMP_WORDS=(patchwright " +
                                 words +
                                 ")\nCOMP_CWORD=$((${#COMP_WORDS[@]} - 1))\n"
                                 "_patchwright\nprintf '%s\\n' \"${COMPREPLY[@]}\"\n");
}

using Offers = std::set<std::string>;

}  // namespace

TEST_CASE("help names the commands and options that completion is held to", "[cli]") {
    CHECK(all_commands().size() > 20);
    const auto& draw =
        *std::find_if(all_commands().begin(), all_commands().end(), [](auto& c) { return c.path == "draw"; });
    CHECK(std::count(draw.options.begin(), draw.options.end(), "--dpi") == 1);
    CHECK(std::count(draw.options.begin(), draw.options.end(), "-f") == 1);
}

TEST_CASE("the bash script knows every option of every command", "[cli]") {
    const std::string script = said("completion bash");
    for (const auto& command : all_commands()) {
        const auto words = words_of(part(script, "\n        '" + command.path + "')", "            ;;\n"));
        for (const auto& option : command.options) CHECK((words.contains(option) ? "" : command.path + option) == "");
        for (const auto& name : command.commands) CHECK((words.contains(name) ? "" : command.path + name) == "");
    }
}

TEST_CASE("the zsh script knows every option of every command", "[cli]") {
    const std::string script = said("completion zsh");
    for (const auto& command : all_commands()) {
        std::string name = command.path.empty() ? "" : "_" + command.path;
        std::replace_if(
            name.begin(), name.end(), [](char letter) { return letter == ' ' || letter == '-'; }, '_');
        const auto text = part(script, "\n_patchwright" + name + "() {", "\n}\n");
        const auto words = words_of(text);
        for (const auto& option : command.options) CHECK((words.contains(option) ? "" : command.path + option) == "");
        for (const auto& sub : command.commands) CHECK(text.find("'" + sub + ":") != std::string::npos);
    }
}

TEST_CASE("the fish script knows every option of every command", "[cli]") {
    const std::string script = said("completion fish");
    for (const auto& command : all_commands()) {
        const std::string at = "'__patchwright_at" + (command.path.empty() ? "" : " " + command.path) + "'";
        std::string text;
        std::istringstream lines{script};
        for (std::string line; std::getline(lines, line);) {
            if (line.find(at) != std::string::npos) text += line + "\n";
        }
        for (const auto& option : command.options) {
            const bool longer = option.starts_with("--");
            const std::string flag = longer ? " -l " + option.substr(2) + " " : " -s " + option.substr(1) + " ";
            CHECK((text.find(flag) != std::string::npos ? "" : command.path + flag) == "");
        }
        for (const auto& sub : command.commands) CHECK(text.find(" -a " + sub + " ") != std::string::npos);
    }
}

TEST_CASE("the man page knows every option of every command", "[cli]") {
    std::string page = said("completion man");
    page = std::regex_replace(page, std::regex{R"(\\f[BIP])"}, " ");
    page = std::regex_replace(page, std::regex{R"(\\-)"}, "-");
    const std::string first = page.substr(0, page.find("\n.SH COMMANDS"));
    for (const auto& command : all_commands()) {
        const auto text = command.path.empty() ? first : part(page, ".SS \"patchwright " + command.path + "\"", "\n.S");
        const auto words = words_of(text);
        for (const auto& option : command.options) {
            const bool is_long = option.starts_with("--");  // of an option described before, the long name stands
            if (is_long) CHECK((words.contains(option) ? "" : command.path + option) == "");
        }
    }
    for (const char* heading : {"NAME", "SYNOPSIS", "\"EXIT STATUS\"", "ENVIRONMENT", "FILES", "EXAMPLES"}) {
        CHECK(page.find(std::string{"\n.SH "} + heading + "\n") != std::string::npos);
    }
    for (const char* word : {"NO_COLOR", "SOURCE_DATE_EPOCH"}) CHECK(page.find(word) != std::string::npos);
}

TEST_CASE("README and man page name every command, and no other", "[cli][docs]") {
    std::set<std::string> commands, first;
    for (const auto& command : all_commands()) {
        if (command.path.empty()) continue;
        commands.insert(command.path);
        first.insert(command.path.substr(0, command.path.find(' ')));
    }
    const auto named = [](const std::string& text, const std::string& pattern) {
        std::set<std::string> names;
        const std::regex name{pattern};
        for (std::sregex_iterator it{text.begin(), text.end(), name}, end; it != end; ++it) names.insert((*it)[1]);
        return names;
    };
    const auto readme = test::project_file("README.md");
    CHECK(named(part(readme, "## Commands\n", "\n## "), "\n    patchwright ([a-z]+)") == first);
    CHECK(named(said("completion man"), "\n\\.SS \"patchwright ([a-z -]+)\"") == commands);
}

TEST_CASE("bash completes what was begun", "[cli]") {
    CHECK(bash_offers("day") == Offers{"daysheet"});
    CHECK(bash_offers("calc wa") == Offers{"watertest"});
    CHECK(bash_offers("calc bend --rad") == Offers{"--radius"});
    CHECK(bash_offers("draw job.json -f p") == Offers{"pdf", "png"});
    CHECK(bash_offers("draw job.json --format = s") == Offers{"svg"});
    CHECK(bash_offers("draw job.json --format =") == Offers{"pdf", "png", "svg"});
    CHECK(bash_offers("draw -o plan --wh") == Offers{"--what"});
    CHECK(bash_offers("completion ''") == Offers{"bash", "zsh", "fish"});
    CHECK(bash_offers("quote --yard ''") == Offers{"FILES", ""});
    CHECK(bash_offers("quote ''") == Offers{"FILES", ""});
    CHECK(bash_offers("daysheet --day ''") == Offers{""});
    CHECK(bash_offers("nothing --of") == Offers{""});
}

TEST_CASE("a shell that is not known is refused", "[cli]") {
    const auto run = run_program("completion tcsh");
    CHECK(run.status == 2);
    CHECK(run.out.empty());
    CHECK(run.err.find("tcsh not in {bash,zsh,fish") != std::string::npos);
}
