// `patchwright plan`: the whole plan as text or JSON, of one job or of a stream of jobs.
#include <memory>

#include <CLI/CLI.hpp>

#include "commands.hpp"
#include "patchwright/plan/outlook.hpp"
#include "patchwright/plan/plan.hpp"
#include "stream.hpp"

namespace patchwright::cli {
namespace {

const Parts plan_parts{Part::sheets, Part::json};

struct PlanOptions {
    Common common;
    bool stream = false;
    unsigned threads = 0;
};

void run_plan(const PlanOptions& options, Outcome& outcome) {
    if (options.stream) {
        outcome.status = run_stream(options.common, plans_as_json(), options.threads);
        return;
    }
    const auto form = chosen_form(options.common, plan_parts);
    const auto loaded = load(options.common);
    auto plan = plan::make_plan(loaded.job, loaded.yard, usual_planning());
    if (form == Form::json) plan::add_outlook(loaded.job, loaded.yard, usual_planning(), plan);
    const sheet::Context context{&loaded.job, &loaded.yard, &plan, loaded.units, shows_drawings(form)};
    Result result;
    result.sheets = [&] { return std::vector{sheet::plan_sheet(context)}; };
    result.json = [&] { return sheet::plan_json(context, false); };
    result.date = loaded.job.date;
    write_result(options.common, form, result);
    outcome.status = status_of(options.common, plan);
}

}  // namespace

void add_plan(CLI::App& command, Outcome& outcome) {
    auto options = std::make_shared<PlanOptions>();
    add_common(command, options->common, plan_parts);
    command.get_option("JOB")->required(false);
    command.add_flag("--stream", options->stream,
                     "Read one job (or job file name) a line, write one plan (JSON) a line, in order");
    command
        .add_option("--threads", options->threads,
                    "With --stream: how many at once, at most the machine's cores; 0: all")
        ->check(CLI::Range(0, 1024));
    command.footer(
        "Examples:\n  patchwright plan job.json -f json\n  ls jobs/*.json | patchwright plan --stream > plans.jsonl\n"
        "  parallel --pipe -k patchwright plan --stream < jobs.jsonl > plans.jsonl");
    command.callback([options, &outcome] {
        if (!options->stream && options->common.job.empty()) throw CLI::RequiredError("JOB");
        run_plan(*options, outcome);
    });
}

}  // namespace patchwright::cli
