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
    StreamOptions stream_options;
};

void run_plan(const PlanOptions& options, Outcome& outcome) {
    if (options.stream) {
        outcome.status = run_stream(options.common, plans_as_json(), options.stream_options);
        return;
    }
    const auto form = chosen_form(options.common, plan_parts);
    const auto loaded = load(options.common);
    const auto planning = usual_planning();
    auto plan = plan::make_plan(loaded.job, loaded.yard, planning);
    if (form == Form::json) plan::add_outlook(planning, plan);
    const sheet::Context context{&plan, loaded.units, shows_drawings(form)};
    Result result{loaded.job.date, loaded.units};
    result.sheets = [&] { return std::vector{sheet::plan_sheet(context)}; };
    result.json = [&] { return sheet::plan_json(context, false); };
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
        .add_option("--threads", options->stream_options.threads,
                    "With --stream: how many at once, at most the machine's cores; 0: all")
        ->check(CLI::Range(0, 1024));
    command
        .add_option("--skip-done", options->stream_options.skip_done,
                    "With --stream: leave out the jobs whose plans stand in that file; as -o too, go on behind them")
        ->type_name("FILE")
        ->check(file_name());
    command
        .add_option("--first-line", options->stream_options.first_line,
                    "With --stream: number of the first line, where it is a piece of a longer stream")
        ->type_name("N")
        ->check(CLI::PositiveNumber);
    command.footer(
        "Examples:\n  patchwright plan job.json -f json\n  ls jobs/*.json | patchwright plan --stream > plans.jsonl\n"
        "  patchwright plan --stream jobs.jsonl -o plans.jsonl --skip-done plans.jsonl\n"
        "  tail -n +501 jobs.jsonl | patchwright plan --stream --first-line 501 >> plans.jsonl");
    command.callback([options, &outcome] {
        const auto& stream = options->stream_options;
        if (!options->stream && (!stream.skip_done.empty() || stream.first_line != 1)) {
            complain("--skip-done and --first-line go with --stream");
            throw Stop{wrong_usage};
        }
        if (!options->stream && options->common.job.empty()) throw CLI::RequiredError("JOB");
        run_plan(*options, outcome);
    });
}

}  // namespace patchwright::cli
