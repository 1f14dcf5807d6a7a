// `patchwright week`: several jobs, one yard, its crews and dates.
#include <algorithm>
#include <filesystem>
#include <memory>

#include <fmt/format.h>
#include <CLI/CLI.hpp>

#include "commands.hpp"
#include "patchwright/plan/plan.hpp"
#include "patchwright/sheet/week.hpp"
#include "patchwright/units/error.hpp"
#include "patchwright/week/week.hpp"
#include "platform.hpp"

namespace patchwright::cli {
namespace {

const Parts week_parts{Part::sheets, Part::json, Part::csv, Part::calendar};

struct WeekOptions {
    Common common;
    std::vector<std::string> jobs;
    std::string from, drive, keep, share, day, folder;
    int days = 5, crews = 0, crew = 0;
    bool weekends = false;
};

[[noreturn]] void wrong(const std::string& message) {
    complain(message);
    throw Stop{wrong_usage};
}

Date date_of(const std::string& option, const std::string& text) {
    const auto date = parse_date(text);
    if (!date) wrong(fmt::format("{} {}: {}", option, text, date.error().message));
    return *date;
}

std::optional<Share> share_of(const std::string& text) {
    if (text.empty()) return std::nullopt;
    const auto percent = parse_percent(text);
    if (!percent) wrong(fmt::format("--share {}: {}", text, percent.error().message));
    if (*percent < 0.0 || *percent > 100.0) wrong(fmt::format("--share {}: give 0 % to 100 %", text));
    return Share::percent(*percent);
}

week::DriveTable read_drive_table(const WeekOptions& options) {
    if (options.drive.empty()) return {};
    auto read = week::read_drives(read_all(options.drive), options.drive);
    tell(read.diagnostics);
    if (io::has_errors(read.diagnostics)) throw Stop{bad_input};
    return std::move(read.table);
}

/// Everything that can be wrong with the options, before a file is read.
week::Input asked(const WeekOptions& options) {
    week::Input input;
    input.from = date_of("--from", options.from);
    input.dates = options.days;
    if (options.crews > 0) input.crews = options.crews;
    input.weekends = options.weekends;
    input.tables = !options.day.empty() || !options.folder.empty();
    input.threads = usual_planning().threads;
    return input;
}

sheet::WeekContext context_of(const week::Week& week, const week::Input& input, Form form, const WeekOptions& options) {
    const auto& units = options.common.units;
    const auto system = units.empty() ? input.jobs.front().units : units == "us" ? UnitSystem::us : UnitSystem::metric;
    return {&week, &input.yard, system, shows_drawings(form), share_of(options.share)};
}

/// The crews' days of --day and --crew.
std::vector<const week::CrewDay*> chosen_days(const week::Week& week, const WeekOptions& options) {
    std::vector<const week::CrewDay*> list;
    for (const auto& day : week.days)
        if ((options.day.empty() || format(day.date) == options.day) && (options.crew == 0 || day.crew == options.crew))
            list.push_back(&day);
    if (list.empty())
        wrong(fmt::format("--day {}{}: no crew is out then", options.day,
                          options.crew > 0 ? fmt::format(" --crew {}", options.crew) : ""));
    return list;
}

std::vector<sheet::Sheet> sheets_of(const sheet::WeekContext& context, const std::vector<const week::CrewDay*>& days) {
    std::vector<sheet::Sheet> sheets;
    for (const auto* day : days)
        for (auto& sheet : sheet::crew_day_sheets(context, *day)) sheets.push_back(std::move(sheet));
    return sheets;
}

/// A file for each crew and day.
void write_folder(const WeekOptions& options, const week::Week& week, Form form, sheet::WeekContext context) {
    const bool as_sheet =
        form == Form::pdf || form == Form::html || (form == Form::text && options.common.format == "text");
    const Form kind = as_sheet ? form : printed_form();
    const char* extension = kind == Form::pdf ? "pdf" : kind == Form::html ? "html" : "txt";
    context.drawings = shows_drawings(kind);
    std::error_code failure;
    std::filesystem::create_directories(path_of(options.folder), failure);
    if (failure)
        throw IoError(
            fmt::format("{}: cannot make the folder: {}", options.folder, failure.default_error_condition().message()));
    for (const auto& day : week.days) {
        Common to = options.common;
        to.output =
            name_of(path_of(options.folder) / fmt::format("{}-crew-{}.{}", format(day.date), day.crew, extension));
        Result result{day.date, context.units};
        result.sheets = [&] { return sheet::crew_day_sheets(context, day); };
        write_result(to, kind, result);
    }
}

void run_week(const WeekOptions& options, Outcome& outcome) {
    const auto& common = options.common;
    auto input = asked(options);
    share_of(options.share);
    if (!options.day.empty()) date_of("--day", options.day);
    if (options.crew > 0 && options.day.empty()) wrong("--crew goes with --day");
    const auto form = chosen_form(common, week_parts);
    const bool as_sheets = form == Form::text || form == Form::html || form == Form::pdf;
    if (!options.day.empty() && !as_sheets) wrong("--day prints day sheets: text, html or pdf");
    auto inputs = options.jobs;
    inputs.insert(inputs.end(), {options.drive, options.keep});
    refuse_overwriting(common, inputs);
    auto loaded = load_jobs(common, options.jobs);
    input.jobs = std::move(loaded.jobs);
    input.yard = std::move(loaded.yard);
    input.drives = read_drive_table(options);
    if (!options.keep.empty()) input.kept = week::read_kept(read_all(options.keep), options.keep);
    const auto week = week::plan_week(input);
    const auto context = context_of(week, input, form, options);
    Result result{input.from, context.units};
    result.sheets = [&] {
        return options.day.empty() ? sheet::week_sheets(context) : sheets_of(context, chosen_days(week, options));
    };
    result.json = [&] { return sheet::week_json(context); };
    result.csv = [&] { return sheet::week_csv(context); };
    result.calendar = [&] { return sheet::week_ics(context); };
    write_result(common, form, result);
    if (!options.folder.empty()) write_folder(options, week, form, context);
    if (!as_sheets && !common.quiet)
        for (const auto& words : week.warnings) complain(words);
    outcome.status = common.strict && !week.everything_placed ? not_all_patched : done;
}

}  // namespace

void add_week(CLI::App& command, Outcome& outcome) {
    auto options = std::make_shared<WeekOptions>();
    command.add_option("JOB", options->jobs, "Job files; - is standard input")->required()->check(file_name());
    add_common_but_job(command, options->common, week_parts);
    command.add_option("--from", options->from, "First day, such as 2026-07-13")->type_name("DATE")->required();
    command.add_option("--days", options->days, "Days that are planned; 5 unless given")
        ->type_name("N")
        ->check(CLI::Range(1, 60));
    command.add_option("--crews", options->crews, "Crews; unless given those of the yard's limits")
        ->type_name("N")
        ->check(CLI::Range(1, 100));
    command.add_flag("--weekends", options->weekends, "Saturdays and Sundays are worked too");
    command
        .add_option("--drive", options->drive, "Table of drives: place,place,minutes; a job by its reference, \"yard\"")
        ->type_name("FILE")
        ->check(file_name());
    command.add_option("--keep", options->keep, "A week given out earlier (its JSON): what it promised stays")
        ->type_name("FILE")
        ->check(file_name());
    command
        .add_option("--share", options->share, "Take that part of what sharing saves off the offers, such as \"50 %\"")
        ->type_name("PERCENT");
    command.add_option("--day", options->day, "The day sheets of that date in place of the week")->type_name("DATE");
    command.add_option("--crew", options->crew, "With --day: only that crew's")
        ->type_name("N")
        ->check(CLI::Range(1, 100));
    command.add_option("--daysheets", options->folder, "Write the day sheets too, a file for each crew and day")
        ->type_name("FOLDER")
        ->check(file_name());
    command.footer(
        "Examples:\n  patchwright week jobs/*.json --from 2026-07-13 --yard ours.json -o week.pdf\n"
        "  patchwright week jobs/*.json --from 2026-07-13 --crews 2 -f json -o week.json\n"
        "  patchwright week jobs/*.json new.json --from 2026-07-15 --keep week.json\n"
        "  patchwright week jobs/*.json --from 2026-07-13 --daysheets monday-to-friday -o week.ics");
    command.callback([options, &outcome] { run_week(*options, outcome); });
}

}  // namespace patchwright::cli
