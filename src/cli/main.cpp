#include <cstdlib>
#include <exception>
#include <iostream>
#include <new>
#include <sstream>
#include <string>
#include <vector>

#include <fmt/format.h>
#include <CLI/CLI.hpp>

#include "commands.hpp"
#include "hints.hpp"
#include "output.hpp"
#include "patchwright/units/error.hpp"
#include "patchwright/version.hpp"
#include "platform.hpp"
#include "progress.hpp"

using namespace patchwright;

namespace {

/// --help and --version.
int explain(const CLI::App& app, const CLI::ParseError& error) {
    std::ostringstream text;
    text.exceptions(std::ios::badbit);  // all of it or nothing, when memory runs out
    app.exit(error, text, text);
    cli::write_stdout(text.str());
    return cli::done;
}

int parse_and_run(int argc, char** argv) {
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
    app.allow_windows_style_options(false);  // "/jobs/a.json" is a file on every system
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
    }
}

/// Takes no memory.
int out_of_memory() noexcept {
    try {
        cli::write_all(cli::standard_error, "patchwright: out of memory\n", {});
    } catch (const std::exception&) {  // nobody hears it
    }
    return cli::failed;
}

/// Memory that runs out where no exception can pass, as in the destructor of a JSON value, is told all the same.
[[noreturn]] void end_at_once() {
    cli::drop_temporary();
    try {
        if (const auto reason = std::current_exception()) std::rethrow_exception(reason);
    } catch (const std::bad_alloc&) {
        std::_Exit(out_of_memory());
    } catch (...) {  // a fault of the program
    }
    std::abort();
}

// Before the globals of the command-line parser, which take memory too.
struct Ending {
    Ending() noexcept { std::set_terminate(end_at_once); }
};
[[gnu::init_priority(101)]] const Ending ending;

/// What the command did not answer for itself.
int told(int argc, char** argv) {
    try {
        return parse_and_run(argc, argv);
    } catch (const cli::Stop& stop) {
        return stop.status;
    } catch (const IoError& error) {
        cli::complain(error.what());
        return cli::failed;
    } catch (const Error& error) {
        cli::complain(error.what());
        return cli::bad_input;
    } catch (const std::bad_alloc&) {
        throw;
    } catch (const std::exception& error) {
        cli::complain(fmt::format("internal error, please report it: {}", error.what()));
        return cli::failed;
    }
}

}  // namespace

int cli::run_program(int argc, char** argv) {
    try {
        return told(argc, argv);
    } catch (const std::bad_alloc&) {
        cli::work_ends();
        return out_of_memory();
    }
}
