#include <iostream>
#include <new>
#include <optional>
#include <sstream>
#include <string>
#include <system_error>
#include <thread>
#include <vector>

#include <fmt/format.h>
#include <unistd.h>
#include <CLI/CLI.hpp>

#include "commands.hpp"
#include "hints.hpp"
#include "output.hpp"
#include "patchwright/job/read.hpp"
#include "patchwright/units/error.hpp"
#include "patchwright/units/threads.hpp"
#include "patchwright/version.hpp"

namespace {

using namespace patchwright;

/// --help and --version.
int explain(const CLI::App& app, const CLI::ParseError& error) {
    std::ostringstream text;
    app.exit(error, text, text);
    try {
        cli::write_stdout(text.str());
        return cli::done;
    } catch (const IoError& failure) {
        cli::complain(failure.what());
        return cli::failed;
    }
}

/// The built-in yard, on which nearly every command with an argument stands, is made while the command line is still
/// being read. Who asks for it waits for it, or makes it where no thread got its turn.
std::optional<Helper> make_yard_ahead(int argc) {
    if (argc < 3 || std::thread::hardware_concurrency() < 2) return std::nullopt;
    try {
        return Helper{[] {
            try {
                job::builtin_yard();
            } catch (const std::exception&) {
                // Whoever asks for it is told.
            }
        }};
    } catch (const std::system_error&) {
        return std::nullopt;
    }
}

int run(int argc, char** argv) {
    const auto yard_ahead = make_yard_ahead(argc);
    CLI::App app{
        "Plan patch repairs of small drains: what can be patched, how, when, and what it costs beside digging.",
        "patchwright"};
    app.set_version_flag("-V,--version", std::string{"patchwright "} + version);
    app.footer(
        "Examples:\n"
        "  patchwright daysheet job.json\n"
        "  patchwright quote job.json --yard ours.json -o offer.pdf\n"
        "  patchwright why job.json A-P1.thickness\n"
        "Every command explains itself with --help.");
    app.require_subcommand(1);
    cli::Outcome outcome;
    cli::add_commands(app, outcome);
    if (argc == 1) {
        std::cerr << app.help();
        return cli::wrong_usage;
    }
    try {
        app.parse(argc, argv);
        return outcome.status;
    } catch (const CLI::ParseError& error) {
        if (error.get_exit_code() == 0) return explain(app, error);
        cli::complain(cli::usage_message(app, error, {argv + 1, argv + argc}));
        return cli::wrong_usage;
    } catch (const cli::Stop& stop) {
        return stop.status;
    } catch (const IoError& error) {
        cli::complain(error.what());
        return cli::failed;
    } catch (const Error& error) {
        cli::complain(error.what());
        return cli::bad_input;
    } catch (const std::bad_alloc&) {
        cli::complain("out of memory");
        return cli::failed;
    } catch (const std::exception& error) {
        cli::complain(fmt::format("internal error, please report it: {}", error.what()));
        return cli::failed;
    }
}

}  // namespace

int main(int argc, char** argv) { return run(argc, argv); }
