#include "commands.hpp"

#include <CLI/CLI.hpp>

namespace patchwright::cli {
namespace {

struct Command {
    const char* name;
    const char* what;
    void (*add)(CLI::App& command, Outcome& outcome);
};

/// In the order of the help text.
constexpr Command commands[] = {
    {"daysheet", "What the crew needs, for one day or all", add_daysheet},
    {"quote", "The customer's offer; with --inside the estimator's view", add_quote},
    {"plan", "The whole plan: text, or JSON for other programs", add_plan},
    {"check", "Everything wrong or doubtful in the job and yard files", add_check},
    {"picklist", "What to load, cut and buy", add_picklist},
    {"draw", "The run to scale, with defects, fittings and patches", add_draw},
    {"why", "The working of any figure: formula, values, source", add_why},
    {"whatif", "What would change the job most, each worked out as a whole plan", add_whatif},
    {"week", "Several jobs on days, crews and drives; one pick list, day sheets, a calendar", add_week},
    {"city", "What a stream of plans comes to: patch, dig, look again, money, days, worst jobs", add_city},
    {"calc", "One calculation from the command line, with its working", add_calc},
    {"import", "A job file from a survey: EN 13508-2 text or XML, or a table with named columns", add_import},
    {"new", "A starter job file to fill in", add_new},
    {"now", "At the hole: limits and the rest of the day from what really happened so far", add_now},
    {"record", "What was done beside what was planned; with --new a blank record to fill in", add_record},
    {"learn", "What the yard's own durations and rates should be, from records", add_learn},
    {"completion", "Completion for your shell, as a script on standard output", add_completion},
};

}  // namespace

void add_commands(CLI::App& program, Outcome& outcome) {
    for (const auto& command : commands) {
        auto* added = program.add_subcommand(command.name, command.what);
        added->preparse_callback([&command, &outcome, added](std::size_t) { command.add(*added, outcome); });
    }
}

void add_all_options(CLI::App& program, Outcome& outcome) {
    for (const auto& command : commands) {
        auto* added = program.get_subcommand(command.name);
        if (!added->parsed()) command.add(*added, outcome);
    }
}

}  // namespace patchwright::cli
