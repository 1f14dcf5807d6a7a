// `patchwright picklist`: what to load and buy.
#include <memory>

#include <CLI/CLI.hpp>

#include "commands.hpp"
#include "patchwright/plan/plan.hpp"

namespace patchwright::cli {
namespace {

const std::vector<std::string> formats{"text", "csv", "json", "pdf", "html"};

void run_picklist(const Common& options, Outcome& outcome) {
    const auto format = chosen_format(options, formats);
    const auto loaded = load(options);
    auto planning = usual_planning();
    planning.trials = 0;
    planning.tables = false;
    const auto plan = plan::make_plan(loaded.job, loaded.yard, planning);
    const sheet::Context context{&loaded.job, &loaded.yard, &plan, loaded.units, format == "pdf" || format == "html"};
    if (format == "json") {
        write_result(options, sheet::pick_json(context));
    } else if (format == "csv") {
        write_result(options, sheet::pick_csv(context));
    } else {
        write_sheets(
            options, 1, [&](std::size_t) { return sheet::pick_list(context); }, format);
    }
    outcome.status = status_of(options, plan);
}

}  // namespace

void add_picklist(CLI::App& command, Outcome& outcome) {
    auto options = std::make_shared<Common>();
    add_common(command, *options, formats);
    command.footer("Examples:\n  patchwright picklist job.json\n  patchwright picklist job.json -o list.csv");
    command.callback([options, &outcome] { run_picklist(*options, outcome); });
}

}  // namespace patchwright::cli
