// `patchwright why`: the working of any figure.
#include <memory>

#include <CLI/CLI.hpp>

#include "commands.hpp"
#include "patchwright/plan/plan.hpp"
#include "patchwright/sheet/record.hpp"
#include "record_file.hpp"

namespace patchwright::cli {
namespace {

const Parts why_parts{Part::sheets, Part::json};

struct WhyOptions {
    Common common;
    std::string what, record;
    bool report = false;
};

void run_why(const WhyOptions& options, Outcome& outcome) {
    const auto form = chosen_form(options.common, why_parts);
    refuse_overwriting(options.common, {options.record});
    const auto loaded = load(options.common);
    auto planning = usual_planning();
    planning.working = true;
    planning.tables = !options.record.empty();  // what was done is held to the card's tables
    const auto plan = plan::make_plan(loaded.job, loaded.yard, planning);
    job::Record record;
    record::AsBuilt built;
    const sheet::Recorded recorded{&record, &built};
    sheet::Context context{&plan, loaded.units};
    if (!options.record.empty()) {
        record = load_record(options.common, options.record, loaded, plan);
        built = record::as_built(plan, record);
        context.recorded = &recorded;
    }
    Result result{loaded.job.date, loaded.units};
    result.sheets = [&] { return std::vector{sheet::why_sheet(context, options.what)}; };
    result.json = [&] { return sheet::why_json(context, options.what); };
    if (options.what.empty() && !options.report && form == Form::text) {
        result.words = [&] {
            std::string names;
            for (const auto& name : sheet::askable(context)) names += name + '\n';
            return names;
        };
    }
    write_result(options.common, form, result);
    outcome.status = status_of(options.common, plan);
}

}  // namespace

void add_why(CLI::App& command, Outcome& outcome) {
    auto options = std::make_shared<WhyOptions>();
    add_common(command, options->common, why_parts);
    command.add_option("WHAT", options->what,
                       "What to explain, such as A-P1.thickness, A-P1, A2.verdict, layout; nothing: a list");
    command
        .add_option("--record", options->record,
                    "Record file: what was done can be asked too, such as A-P1.done.deflated, A.LC.time")
        ->type_name("FILE")
        ->check(file_name());
    command.add_flag("--report", options->report, "Everything, as a calculation report to hand in");
    command.footer(
        "Examples:\n  patchwright why job.json\n  patchwright why job.json A-P1.pressure\n  patchwright why job.json "
        "--report -o report.pdf\n"
        "  patchwright why job.json layout -f json\n"
        "  patchwright why job.json A-P1.done --record record.json");
    command.callback([options, &outcome] { run_why(*options, outcome); });
}

}  // namespace patchwright::cli
