// `patchwright record`: a blank record of a plan.
#include <memory>

#include <CLI/CLI.hpp>

#include "commands.hpp"
#include "patchwright/plan/plan.hpp"
#include "patchwright/sheet/record.hpp"

namespace patchwright::cli {
namespace {

const Parts parts{Part::json};

struct RecordCommand {
    Common common;
    bool blank = false;
};

void run_record(const RecordCommand& options, Outcome& outcome) {
    chosen_form(options.common, parts);
    const auto loaded = load(options.common);
    auto planning = usual_planning();
    planning.price = false;
    planning.tables = false;
    const auto plan = plan::make_plan(loaded.job, loaded.yard, planning);
    const sheet::Context context{&loaded.job, &loaded.yard, &plan, loaded.units, false};
    write_result(options.common, sheet::record_starter(context));
    outcome.status = status_of(options.common, plan);
}

}  // namespace

void add_record(CLI::App& command, Outcome& outcome) {
    auto options = std::make_shared<RecordCommand>();
    add_common(command, options->common, parts);
    command.add_flag("--new", options->blank, "Write a blank record of the job's plan, to fill in")->required();
    command.footer("Examples:\n  patchwright record --new job.json -o record.json");
    command.callback([options, &outcome] { run_record(*options, outcome); });
}

}  // namespace patchwright::cli
