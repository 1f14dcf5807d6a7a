#pragma once
#include "common.hpp"

namespace patchwright::cli {

/// Adds every subcommand by name and description. Its options follow when the arguments reach it: those of all the
/// others are half a millisecond that nobody should wait for.
void add_commands(CLI::App& program, Outcome& outcome);
/// Adds the options of the subcommands that were not reached too: for those who read them all off the parser.
void add_all_options(CLI::App& program, Outcome& outcome);

// One function a subcommand: gives it its options and what it runs.
void add_daysheet(CLI::App& command, Outcome& outcome);
void add_quote(CLI::App& command, Outcome& outcome);
void add_plan(CLI::App& command, Outcome& outcome);
void add_check(CLI::App& command, Outcome& outcome);
void add_picklist(CLI::App& command, Outcome& outcome);
void add_draw(CLI::App& command, Outcome& outcome);
void add_why(CLI::App& command, Outcome& outcome);
void add_whatif(CLI::App& command, Outcome& outcome);
void add_calc(CLI::App& command, Outcome& outcome);
void add_import(CLI::App& command, Outcome& outcome);
void add_new(CLI::App& command, Outcome& outcome);
void add_now(CLI::App& command, Outcome& outcome);
void add_record(CLI::App& command, Outcome& outcome);
void add_learn(CLI::App& command, Outcome& outcome);
void add_week(CLI::App& command, Outcome& outcome);
void add_city(CLI::App& command, Outcome& outcome);
void add_completion(CLI::App& command, Outcome& outcome);

}  // namespace patchwright::cli
