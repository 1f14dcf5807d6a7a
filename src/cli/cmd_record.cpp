// `patchwright record`: what was done beside what was planned, or a blank record to fill in.
#include <iostream>
#include <memory>

#include <CLI/CLI.hpp>

#include "commands.hpp"
#include "patchwright/plan/plan.hpp"
#include "patchwright/sheet/record.hpp"
#include "record_file.hpp"

namespace patchwright::cli {
namespace {

const Parts record_parts{Part::sheets, Part::json};

struct RecordCommand {
    Common common;
    std::string record;
    bool blank = false, guarantee = false;
};

plan::Plan plan_of(const Loaded& loaded, bool tables) {
    auto planning = usual_planning();
    planning.price = false;
    planning.tables = tables;
    return plan::make_plan(loaded.job, loaded.yard, planning);
}

void write_blank(const RecordCommand& options) {
    if (const auto form = asked_form(options.common); form && form != Form::json) {
        complain("--new writes json");
        throw Stop{wrong_usage};
    }
    refuse_overwriting(options.common);
    const auto loaded = load(options.common);
    const auto plan = plan_of(loaded, false);
    write_result(options.common, sheet::record_starter({&plan, loaded.units, false}));
}

void run_record(const RecordCommand& options, Outcome& outcome) {
    const auto form = chosen_form(options.common, record_parts);
    refuse_overwriting(options.common, {options.record});
    const auto loaded = load(options.common);
    const auto plan = plan_of(loaded, true);
    const auto record = load_record(options.common, options.record, loaded, plan);
    const auto built = record::as_built(plan, record);
    const sheet::Context context{&plan, loaded.units, shows_drawings(form)};
    const sheet::Recorded recorded{&record, &built};
    Result result{loaded.job.date, loaded.units};
    result.sheets = [&] {
        return options.guarantee ? std::vector{sheet::guarantee_sheet(context, recorded)}
                                 : sheet::as_built_sheets(context, recorded);
    };
    result.json = [&] {
        return options.guarantee ? sheet::guarantee_json(context, recorded) : sheet::as_built_json(context, recorded);
    };
    write_result(options.common, form, result);
    if (options.common.strict && !built.nothing_missed()) outcome.status = not_all_patched;
}

}  // namespace

void add_record(CLI::App& command, Outcome& outcome) {
    auto options = std::make_shared<RecordCommand>();
    add_common(command, options->common, record_parts);
    command.get_option("--strict")->description("Exit with 4 when a limit was missed");
    command.add_option("RECORD", options->record, "Record file; - is standard input")->check(file_name());
    command.add_flag("--new", options->blank, "Write a blank record of the job's plan, to fill in (json)");
    command.add_flag("--guarantee", options->guarantee,
                     "The customer's page: what lies where since when, and what is guaranteed");
    command.footer(
        "Examples:\n  patchwright record --new job.json -o record.json\n"
        "  patchwright record job.json record.json\n  patchwright record job.json record.json -o as-built.pdf\n"
        "  patchwright record job.json record.json --guarantee -o guarantee.pdf");
    command.callback([options, &outcome] {
        if (options->blank && !options->record.empty()) throw CLI::ExcludesError("--new", "RECORD");
        if (!options->blank && options->record.empty()) throw CLI::RequiredError("RECORD");
        if (options->blank) return write_blank(*options);
        run_record(*options, outcome);
    });
}

}  // namespace patchwright::cli
