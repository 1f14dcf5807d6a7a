// `patchwright now`: limits and the rest of the day from what really happened so far.
#include <iostream>
#include <memory>

#include <fmt/format.h>
#include <CLI/CLI.hpp>

#include "commands.hpp"
#include "patchwright/plan/plan.hpp"
#include "patchwright/sheet/now.hpp"
#include "record_file.hpp"

namespace patchwright::cli {
namespace {

const Parts now_parts{Part::words, Part::sheets, Part::json};

struct Option {
    const char *name, *what, *type;
};
/// What can be told; each may be repeated.
constexpr Option told_options[] = {
    {"--mixed", "A met B at that time", "PATCH=CLOCK"},
    {"--poured", "Its pot was empty", "PATCH=CLOCK"},
    {"--inflated", "It stood at pressure", "PATCH=CLOCK"},
    {"--creased", "Its wrinkle check was over", "PATCH=CLOCK"},
    {"--deflated", "Its air was out", "PATCH=CLOCK"},
    {"--lost", "The sleeve came out, or is spoilt; with the time, what is told after it is of the next one",
     "PATCH[=CLOCK]"},
    {"--pipe", "Wall of the pipe as measured: of all, or of one patch", "[PATCH=]TEMPERATURE"},
    {"--resin", "Resin as measured before mixing", "[PATCH=]TEMPERATURE"},
    {"--air", "Air as measured where the sleeve is wet out", "[PATCH=]TEMPERATURE"},
    {"--reading", "A temperature noted in the pipe while it cures", "PATCH=CLOCK TEMPERATURE"},
    {"--ready", "The run is open, clean, looked at and shut since then", "RUN[=CLOCK]"},
    {"--packer-lost", "A packer, or set of end fittings, that cannot be used any more", "NAME"},
};

struct NowOptions {
    Common common;
    std::string at, day, record, persons, late;
    bool as_planned = false, order = false;
    std::vector<std::pair<std::string, std::vector<std::string>>> told;
};

/// A day's place from its number or its date; nothing where none is named. Without a day there is no now.
std::optional<int> day_of(const std::string& asked, const plan::Plan& plan) {
    const auto days = plan.schedule.days.size();
    if (days == 0) {
        complain("nothing can be patched, so the plan has no day");
        throw Stop{bad_input};
    }
    if (asked.empty()) return std::nullopt;
    for (std::size_t d = 0; d < days; ++d) {
        if (asked == std::to_string(d + 1) || (d < plan.dates.size() && asked == format(plan.dates[d])))
            return static_cast<int>(d);
    }
    complain(fmt::format("--day {}: the plan has {} day{}, give a number from 1 to {} or one of their dates", asked,
                         days, days == 1 ? "" : "s", days));
    throw Stop{wrong_usage};
}

job::Record noted(const NowOptions& options, const Loaded& loaded, const plan::Plan& plan) {
    job::Record record;
    record.job = loaded.job.reference;
    if (options.record.empty()) return record;
    return load_record(options.common, options.record, loaded, plan);
}

std::vector<site::Told> told_by(const NowOptions& options) {
    std::vector<site::Told> told;
    for (const auto& [name, texts] : options.told)
        for (const auto& text : texts) told.push_back({name, text});
    if (!options.persons.empty()) told.push_back({"--persons", options.persons});
    if (!options.late.empty()) told.push_back({"--late", options.late});
    return told;
}

/// Everything that is wrong with what was told, in one go: wrong use, or a record that does not hold.
site::Facts facts_of(const NowOptions& options, const Loaded& loaded, const plan::Plan& plan) {
    const auto at = parse_clock_time(options.at);
    const auto day = day_of(options.day, plan);
    const auto record = noted(options, loaded, plan);
    auto reading =
        site::read_facts(plan, record, told_by(options), at ? at->minutes : 24 * 60 - 1, day, options.as_planned);
    if (!at) complain(fmt::format("--at {}: {}", options.at, at.error().message));
    for (const auto& error : reading.told_errors) complain(error);
    for (const auto& error : reading.record_errors) complain(fmt::format("{}: {}", options.record, error));
    if (!reading.record_errors.empty()) throw Stop{bad_input};
    if (!at || !reading.good()) throw Stop{wrong_usage};
    return std::move(reading.facts);
}

void run_now(const NowOptions& options, Outcome& outcome) {
    const auto form = chosen_form(options.common, now_parts);
    refuse_overwriting(options.common, {options.record});
    const auto loaded = load(options.common);
    auto planning = usual_planning();
    planning.price = planning.tables = false;
    const auto plan = plan::make_plan(loaded.job, loaded.yard, planning);
    const auto facts = facts_of(options, loaded, plan);
    const auto now = site::now(plan, facts);
    const sheet::Context context{&plan, loaded.units, shows_drawings(form)};
    Result result{loaded.job.date, loaded.units};
    result.words = [&] { return sheet::now_text(context, now, text_style(options.common), options.order); };
    result.sheets = [&] { return std::vector{sheet::now_sheet(context, now)}; };
    result.json = [&] { return sheet::now_json(context, now); };
    write_result(options.common, form, result);
    const bool all =
        std::all_of(now.sleeves.begin(), now.sleeves.end(), [](const auto& s) { return s.another_day.empty(); });
    if (options.common.strict && !all) outcome.status = not_all_patched;
}

}  // namespace

void add_now(CLI::App& command, Outcome& outcome) {
    auto options = std::make_shared<NowOptions>();
    add_common(command, options->common, now_parts);
    command.get_option("--strict")->description("Exit with 4 when a patch of the day is left for another day");
    command.add_option("--at", options->at, "The time now")->type_name("CLOCK")->required();
    command.add_option("--day", options->day, "Which day of the plan: its number, or its date")->type_name("DAY");
    command.add_option("--record", options->record, "Record file with what was noted; - is standard input")
        ->type_name("FILE")
        ->check(file_name());
    options->told.reserve(std::size(told_options));
    for (const auto& option : told_options) {
        auto& texts = options->told.emplace_back(option.name, std::vector<std::string>{}).second;
        command.add_option(option.name, texts, fmt::format("{}; may be repeated", option.what))
            ->type_name(option.type)
            ->take_all()
            ->expected(1);
    }
    command.add_option("--persons", options->persons, "Persons of the crew from now on")->type_name("NUMBER");
    command.add_flag("--as-planned", options->as_planned, "What is not told went as planned");
    command.add_option("--late", options->late, "What is not told went as planned, but so much later")
        ->type_name("DURATION");
    command.add_flag("--order", options->order, "In text: the rest of the day task by task, too");
    command.footer(
        "Examples:\n  patchwright now job.json --at 11:10 --mixed P1=10:40 --inflated P1=11:02 --pipe \"7 C\"\n"
        "  patchwright now job.json --at 10:50 --late \"12 min\" --order\n"
        "  patchwright now job.json --at 11:10 --day 2 --record today.json --packer-lost R100-10 --persons 1\n"
        "  patchwright now job.json --at 11:40 --lost P1=11:15 --mixed P1=11:35 -f json");
    command.callback([options, &outcome] { run_now(*options, outcome); });
}

}  // namespace patchwright::cli
