#pragma once
#include "common.hpp"

/// One function a subcommand: adds it to the program with its options and what it runs.
namespace patchwright::cli {

void add_daysheet(CLI::App& app, Outcome& outcome);
void add_quote(CLI::App& app, Outcome& outcome);
void add_plan(CLI::App& app, Outcome& outcome);
void add_check(CLI::App& app, Outcome& outcome);
void add_picklist(CLI::App& app, Outcome& outcome);
void add_draw(CLI::App& app, Outcome& outcome);
void add_why(CLI::App& app, Outcome& outcome);
void add_calc(CLI::App& app, Outcome& outcome);
/// The tree under `calc`, built only when it is asked for: by a call of `calc`, or here for help and completion.
void add_calculations(CLI::App& calc);
void add_import(CLI::App& app, Outcome& outcome);
void add_new(CLI::App& app, Outcome& outcome);
void add_completion(CLI::App& app, Outcome& outcome);

}  // namespace patchwright::cli
