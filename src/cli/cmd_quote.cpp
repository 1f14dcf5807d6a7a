// `patchwright quote`: the customer's offer, or the estimator's view with costs.
#include <memory>

#include <CLI/CLI.hpp>

#include "commands.hpp"
#include "patchwright/plan/plan.hpp"

namespace patchwright::cli {
namespace {

const std::vector<std::string> formats{"text", "pdf", "json", "html"};

struct QuoteOptions {
    Common common;
    bool inside = false;
};

void run_quote(const QuoteOptions& options, Outcome& outcome) {
    const auto format = chosen_format(options.common, formats);
    const auto loaded = load(options.common);
    auto planning = usual_planning();
    planning.tables = false;
    const auto plan = plan::make_plan(loaded.job, loaded.yard, planning);
    const sheet::Context context{&loaded.job, &loaded.yard, &plan, loaded.units, format == "pdf" || format == "html"};
    if (format == "json") {
        write_result(options.common, sheet::quote_json(context, options.inside));
    } else {
        const auto make = [&](std::size_t) {
            return options.inside ? sheet::inside_sheet(context) : sheet::quote_sheet(context);
        };
        write_sheets(options.common, 1, make, format);
    }
    // The estimator's business; the customer's page never shows them.
    if (!options.common.quiet) {
        for (const auto& warning : plan.offer.warnings) complain("warning: " + warning);
    }
    outcome.status = status_of(options.common, plan);
}

}  // namespace

void add_quote(CLI::App& command, Outcome& outcome) {
    auto options = std::make_shared<QuoteOptions>();
    add_common(command, options->common, formats);
    command.add_flag("--inside", options->inside, "Our costs, the bracket and the ranges: not for the customer");
    command.footer(
        "Examples:\n  patchwright quote job.json -o offer.pdf\n  patchwright quote job.json --inside --yard ours.json");
    command.callback([options, &outcome] { run_quote(*options, outcome); });
}

}  // namespace patchwright::cli
