// `patchwright quote`: the customer's offer, or the estimator's view with costs.
#include <memory>
#include <optional>

#include <CLI/CLI.hpp>

#include "commands.hpp"
#include "logo.hpp"
#include "patchwright/plan/outlook.hpp"
#include "patchwright/plan/plan.hpp"
#include "patchwright/sheet/whatif.hpp"
#include "patchwright/whatif/whatif.hpp"
#include "stream.hpp"

namespace patchwright::cli {
namespace {

const Parts quote_parts{Part::sheets, Part::json, Part::csv};

struct QuoteOptions {
    Common common;
    bool inside = false;
    bool stream = false;
    int variant = 1;
    std::string since;  ///< the former job file
    StreamOptions stream_options{};
};

/// A hundred jobs as a table: CSV, or the plans' JSON where that is asked for.
int run_quote_stream(const QuoteOptions& options) {
    const auto form = asked_form(options.common);
    if (form && form != Form::csv && form != Form::json) {
        complain("--stream writes csv or json");
        throw Stop{wrong_usage};
    }
    if (form == Form::json) return run_stream(options.common, plans_as_json(), options.stream_options);
    const StreamForm table{sheet::quote_csv_header(), sheet::quote_csv_row,
                           [](const std::string& message, std::size_t number) {
                               return sheet::quote_csv_error("line " + std::to_string(number) + ": " + message);
                           }};
    return run_stream(options.common, table, options.stream_options);
}

/// The job file of the offer that this one replaces.
job::Job former_job(const std::string& file) {
    auto read = io::read_job(read_all(file), file);
    if (read) return std::move(*read.value);
    tell(read.diagnostics);
    throw Stop{bad_input};
}

plan::Plan variant(int number, const plan::Options& planning, const plan::Plan& made) {
    auto list = plan::variants(planning, made);
    if (number <= static_cast<int>(list.size())) return std::move(list[static_cast<std::size_t>(number) - 1].plan);
    complain(list.size() < 2 ? std::string{"this job has no other way worth offering; leave --variant out"}
                             : "this job has variants 1 to " + std::to_string(list.size()) + "; see quote --inside");
    throw Stop{wrong_usage};
}

void run_quote(const QuoteOptions& options, Outcome& outcome) {
    if (options.stream) {
        outcome.status = run_quote_stream(options);
        return;
    }
    const auto form = chosen_form(options.common, quote_parts);
    const auto loaded = load(options.common);
    const auto former = options.since.empty() ? std::nullopt : std::optional{former_job(options.since)};
    const bool letter = !options.inside && (form == Form::pdf || form == Form::html);
    const auto logo = letter ? read_logo(options.common, loaded.yard) : Logo{};
    tell(logo.faults);
    if (!logo.faults.empty()) throw Stop{bad_input};
    auto planning = usual_planning();
    planning.tables = false;
    auto plan = plan::make_plan(loaded.job, loaded.yard, planning);
    if (options.variant > 1) plan = variant(options.variant, planning, plan);
    if (form != Form::csv) {
        const auto add = options.inside ? plan::add_outlook : plan::add_look_again;
        add(planning, plan);
    }
    if (options.variant > 1) plan.variants.clear();  // they stand beside the plan as made
    // Figures of other plans that stand on the printed view alone.
    std::optional<whatif::WhatIf> whatif;
    if (options.inside && options.variant == 1 && form != Form::csv && form != Form::json)
        whatif = whatif::what_if({loaded.job_text, loaded.yard_text, loaded.units}, planning, plan,
                                 whatif::Rows::that_may_save);
    const sheet::Context context{.plan = &plan,
                                 .units = loaded.units,
                                 .drawings = shows_drawings(form),
                                 .former = former ? &*former : nullptr,
                                 .logo = logo.image ? &*logo.image : nullptr};
    Result result{loaded.job.date, loaded.units};
    result.sheets = [&] {
        return std::vector{options.inside ? sheet::inside_sheet(context, whatif ? &*whatif : nullptr)
                                          : sheet::quote_sheet(context)};
    };
    result.json = [&] { return sheet::quote_json(context, options.inside); };
    result.csv = [&] { return sheet::quote_csv_header() + "\n" + sheet::quote_csv_row(context) + "\n"; };
    write_result(options.common, form, result);
    // The estimator's business; the customer's page never shows them.
    if (!options.common.quiet) {
        for (const auto& warning : plan.offer.warnings) complain("warning: " + warning);
    }
    outcome.status = status_of(options.common, plan);
}

}  // namespace

void add_quote(CLI::App& command, Outcome& outcome) {
    auto options = std::make_shared<QuoteOptions>();
    add_common(command, options->common, quote_parts);
    command.get_option("JOB")->required(false);
    command.add_flag("--inside", options->inside, "Our costs, the bracket and the ranges: not for the customer");
    command.add_option("--since", options->since, "Job file of the former offer: the letter lists what changed")
        ->check(file_name());
    command.add_option("--variant", options->variant, "Offer that way of doing the job, by its number in --inside")
        ->check(CLI::Range(1, 3));
    command.add_flag("--stream", options->stream,
                     "Read one job (or job file name) a line, write a table with a line a job (csv)");
    command.add_option("--threads", options->stream_options.threads, "With --stream: how many at once; 0: all cores")
        ->check(CLI::Range(0, 1024));
    command.footer(
        "Examples:\n  patchwright quote job.json -o offer.pdf\n  patchwright quote job.json --inside --yard ours.json\n"
        "  ls jobs/*.json | patchwright quote --stream > offers.csv");
    command.callback([options, &outcome] {
        if (!options->stream && options->common.job.empty()) throw CLI::RequiredError("JOB");
        run_quote(*options, outcome);
    });
}

}  // namespace patchwright::cli
