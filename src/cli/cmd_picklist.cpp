// `patchwright picklist`: what to load and buy.
#include <memory>

#include <CLI/CLI.hpp>

#include "commands.hpp"
#include "patchwright/plan/plan.hpp"

namespace patchwright::cli {
namespace {

const Parts picklist_parts{Part::sheets, Part::csv, Part::json};

void run_picklist(const Common& options, Outcome& outcome) {
    const auto form = chosen_form(options, picklist_parts);
    const auto loaded = load(options);
    auto planning = usual_planning();
    planning.trials = 0;
    planning.tables = false;
    const auto plan = plan::make_plan(loaded.job, loaded.yard, planning);
    const sheet::Context context{&plan, loaded.units, shows_drawings(form)};
    Result result{loaded.job.date, loaded.units};
    result.sheets = [&] { return std::vector{sheet::pick_list(context)}; };
    result.csv = [&] { return sheet::pick_csv(context); };
    result.json = [&] { return sheet::pick_json(context); };
    write_result(options, form, result);
    outcome.status = status_of(options, plan);
}

}  // namespace

void add_picklist(CLI::App& command, Outcome& outcome) {
    auto options = std::make_shared<Common>();
    add_common(command, *options, picklist_parts);
    command.footer("Examples:\n  patchwright picklist job.json\n  patchwright picklist job.json -o list.csv");
    command.callback([options, &outcome] { run_picklist(*options, outcome); });
}

}  // namespace patchwright::cli
