// `patchwright completion SHELL`: what a shell needs to complete commands, options and their values.
#include <memory>

#include <CLI/CLI.hpp>

#include "commands.hpp"
#include "completion.hpp"
#include "output.hpp"
#include "patchwright/version.hpp"

namespace patchwright::cli {
namespace {

void run_completion(CLI::App& program, Outcome& outcome, const std::string& shell) {
    add_all_options(program, outcome);
    const CommandNode tree = option_tree(program);
    if (shell == "man") return write_stdout(man_page(tree, version));
    write_stdout(shell == "bash"  ? bash_completion(tree)
                 : shell == "zsh" ? zsh_completion(tree)
                                  : fish_completion(tree));
}

}  // namespace

void add_completion(CLI::App& command, Outcome& outcome) {
    auto shell = std::make_shared<std::string>();
    // "man" is for the build: the page is written from the same tree.
    auto* operand = command.add_option("SHELL", *shell, "bash|zsh|fish")->required();
    operand->type_name("")->check(CLI::IsMember({"bash", "zsh", "fish", "man"}).description("{bash,zsh,fish}"));
    command.footer(
        "Examples:\n"
        "  source <(patchwright completion bash)\n"
        "  patchwright completion zsh > ~/.zfunc/_patchwright\n"
        "  patchwright completion fish > ~/.config/fish/completions/patchwright.fish");
    command.callback([&command, &outcome, shell] { run_completion(*command.get_parent(), outcome, *shell); });
}

}  // namespace patchwright::cli
