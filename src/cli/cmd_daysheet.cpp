// `patchwright daysheet`: what the crew needs, for one day or all.
#include <memory>

#include <fmt/format.h>
#include <CLI/CLI.hpp>

#include "commands.hpp"
#include "patchwright/plan/plan.hpp"
#include "patchwright/whatif/whatif.hpp"

namespace patchwright::cli {
namespace {

const Parts daysheet_parts{Part::sheets, Part::json};

struct DaysheetOptions {
    Common common;
    std::string day;
    bool morning = false;
};

/// A day's place from its number or its date; nullopt for all days.
std::optional<int> day_of(const std::string& asked, const plan::Plan& plan) {
    if (asked.empty()) return std::nullopt;
    const auto days = plan.schedule.days.size();
    for (std::size_t d = 0; d < days; ++d) {
        if (asked == std::to_string(d + 1) || (d < plan.dates.size() && asked == format(plan.dates[d])))
            return static_cast<int>(d);
    }
    complain(days == 0
                 ? fmt::format("--day {}: nothing can be patched, so the plan has no day", asked)
                 : fmt::format("--day {}: the plan has {} day{}, give a number from 1 to {} or one of their dates",
                               asked, days, days == 1 ? "" : "s", days));
    throw Stop{wrong_usage};
}

void run_daysheet(const DaysheetOptions& options, Outcome& outcome) {
    const auto form = chosen_form(options.common, daysheet_parts);
    const auto loaded = load(options.common);
    auto planning = usual_planning();
    planning.price = false;
    const auto plan = plan::make_plan(loaded.job, loaded.yard, planning);
    const auto day = day_of(options.day, plan);
    std::optional<whatif::WhatIf> morning;
    if (options.morning)
        morning = whatif::what_if({loaded.job_text, loaded.yard_text, loaded.units}, planning, plan,
                                  whatif::Rows::this_morning);
    const sheet::Context context{.plan = &plan,
                                 .units = loaded.units,
                                 .drawings = shows_drawings(form),
                                 .morning = morning ? &*morning : nullptr};
    Result result{loaded.job.date, loaded.units};
    result.sheets = [&] { return sheet::day_sheets(context, day); };
    result.json = [&] { return sheet::day_json(context, day); };
    write_result(options.common, form, result);
    outcome.status = status_of(options.common, plan);
}

}  // namespace

void add_daysheet(CLI::App& command, Outcome& outcome) {
    auto options = std::make_shared<DaysheetOptions>();
    add_common(command, options->common, daysheet_parts);
    command.add_option("--day", options->day, "Only this day: its number, or its date")->type_name("DAY");
    command.add_flag("--morning", options->morning,
                     "With what could still be changed this morning, each worked out as a whole plan");
    command.footer("Examples:\n  patchwright daysheet job.json\n  patchwright daysheet job.json --day 1 -o day.pdf");
    command.callback([options, &outcome] { run_daysheet(*options, outcome); });
}

}  // namespace patchwright::cli
