// `patchwright whatif`: what would change the job most, each worked out as a whole plan.
#include <memory>

#include <CLI/CLI.hpp>

#include "commands.hpp"
#include "patchwright/plan/plan.hpp"
#include "patchwright/sheet/whatif.hpp"
#include "patchwright/units/error.hpp"
#include "patchwright/whatif/whatif.hpp"

namespace patchwright::cli {
namespace {

const Parts whatif_parts{Part::sheets, Part::json, Part::csv};

struct WhatIfOptions {
    Common common;
    std::vector<std::string> tries;
};

/// A change that cannot be made, or that the reader refuses, is wrong use: the files are as they should be.
whatif::WhatIf try_changes(const WhatIfOptions& options, const whatif::Files& files, const plan::Options& planning,
                           const plan::Plan& made) {
    try {
        return whatif::what_if_tried(files, options.tries, planning, made);
    } catch (const InputError& error) {
        complain(error.what());
        throw Stop{wrong_usage};
    }
}

void run_whatif(const WhatIfOptions& options, Outcome& outcome) {
    const auto& common = options.common;
    const auto form = chosen_form(common, whatif_parts);
    const auto loaded = load(common);
    auto planning = usual_planning();
    planning.trials = 0;
    planning.tables = false;
    const auto plan = plan::make_plan(loaded.job, loaded.yard, planning);
    const whatif::Files files{loaded.job_text, loaded.yard_text, loaded.units};
    const auto whatif =
        options.tries.empty() ? whatif::what_if(files, planning, plan) : try_changes(options, files, planning, plan);
    const sheet::Context context{&plan, loaded.units, shows_drawings(form)};
    Result result{loaded.job.date, loaded.units};
    result.sheets = [&] { return std::vector{sheet::whatif_sheet(context, whatif)}; };
    result.json = [&] { return sheet::whatif_json(context, whatif); };
    result.csv = [&] { return sheet::whatif_csv(context, whatif); };
    write_result(common, form, result);
    outcome.status = status_of(common, plan);
}

}  // namespace

void add_whatif(CLI::App& command, Outcome& outcome) {
    auto options = std::make_shared<WhatIfOptions>();
    add_common(command, options->common, whatif_parts);
    command
        .add_option("--try", options->tries,
                    "Plan with this key of job or yard set to that value; may be repeated, and then all together too")
        ->type_name("KEY=VALUE")
        ->take_all()
        ->expected(1);
    command.footer(
        "Examples:\n  patchwright whatif job.json\n  patchwright whatif job.json --yard ours.json -o whatif.csv\n"
        "  patchwright whatif job.json --try site.finish=18:00 --try limits.helpers=1\n"
        "  patchwright whatif job.json --try runs.A.resin=slow --try runs.A.defects.A2=null");
    command.callback([options, &outcome] { run_whatif(*options, outcome); });
}

}  // namespace patchwright::cli
