// `patchwright learn`: what the yard's own durations, rates and resins should be, from records.
#include <algorithm>
#include <memory>

#include <CLI/CLI.hpp>

#include "commands.hpp"
#include "patchwright/io/read_record.hpp"
#include "patchwright/sheet/learn.hpp"
#include "patchwright/sheet/record.hpp"

namespace patchwright::cli {
namespace {

const Parts learn_parts{Part::sheets, Part::json};

struct LearnCommand {
    Common common;
    std::vector<std::string> records, jobs;
};

/// All of them, with every fault of every one told before it stops.
std::vector<job::Record> read_records(const LearnCommand& options) {
    std::vector<job::Record> records;
    bool good = true;
    for (const auto& file : options.records) {
        auto read = io::read_record(read_all(file), file == "-" ? "standard input" : file);
        tell(read.diagnostics, options.common.quiet);
        if (read)
            records.push_back(std::move(*read.value));
        else
            good = false;
    }
    if (!good) throw Stop{bad_input};
    return records;
}

std::vector<plan::Plan> plans_of(const LoadedJobs& loaded) {
    auto planning = usual_planning();
    planning.price = false;
    planning.tables = false;
    planning.conditions = false;
    std::vector<plan::Plan> plans;
    for (const auto& job : loaded.jobs) plans.push_back(plan::make_plan(job, loaded.yard, planning));
    return plans;
}

/// With what the page in a browser noted by the labels of its lines; without the job in metric units.
void read_card_notes(std::vector<job::Record>& records, const std::vector<job::Job>& jobs) {
    for (auto& record : records) {
        const auto job =
            std::find_if(jobs.begin(), jobs.end(), [&](const job::Job& j) { return j.reference == record.job; });
        record = sheet::with_card_notes(std::move(record), job == jobs.end() ? UnitSystem::metric : job->units);
    }
}

void run_learn(const LearnCommand& options) {
    const auto form = chosen_form(options.common, learn_parts);
    auto inputs = options.records;
    inputs.insert(inputs.end(), options.jobs.begin(), options.jobs.end());
    refuse_overwriting(options.common, inputs);
    const auto loaded = load_jobs(options.common, options.jobs);
    auto records = read_records(options);
    read_card_notes(records, loaded.jobs);
    const auto learned = learn::learn(records, loaded.yard, plans_of(loaded));
    Result result{{}, UnitSystem::metric};
    result.sheets = [&] { return std::vector{sheet::learned_sheet(learned, loaded.yard)}; };
    result.json = [&] { return sheet::learned_yard(learned, loaded.yard_text); };
    write_result(options.common, form, result);
}

}  // namespace

void add_learn(CLI::App& command, Outcome&) {
    auto options = std::make_shared<LearnCommand>();
    command.add_option("RECORD", options->records, "Record files; - is standard input")->required()->check(file_name());
    command
        .add_option("--jobs", options->jobs,
                    "Job files of these records, for what hangs on their plans: gel times, resin left over")
        ->type_name("FILE")
        ->check(file_name());
    command.add_option("--yard", options->common.yard, "Yard file; without it the demonstration yard")
        ->type_name("FILE")
        ->check(file_name());
    add_output(command, options->common, learn_parts);
    command.footer(
        "Examples:\n  patchwright learn records/*.json --yard ours.json\n"
        "  patchwright learn records/*.json --jobs jobs/*.json --yard ours.json\n"
        "  patchwright learn records/*.json --jobs jobs/*.json --yard ours.json -o learned.json");
    command.callback([options] { run_learn(*options); });
}

}  // namespace patchwright::cli
