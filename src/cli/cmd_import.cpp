// `patchwright import`: a job file from a survey file.
#include <memory>

#include <fmt/format.h>
#include <CLI/CLI.hpp>

#include "commands.hpp"
#include "patchwright/intake/import.hpp"
#include "patchwright/io/read.hpp"
#include "patchwright/sheet/job_json.hpp"
#include "platform.hpp"

namespace patchwright::cli {
namespace {

const Parts import_parts{Part::json};

struct ImportCommand {
    Common common;
    std::string depth, reference;
    bool keep_going = false, with_flow = false;
};

std::string plural(std::size_t count, std::string_view noun) {
    return fmt::format("{} {}{}", count, noun, count == 1 ? "" : "s");
}

/// What came out and what `check` will still ask for.
void tell_of(const ImportCommand& options, const intake::Imported& imported, const std::string& json) {
    if (options.common.quiet) return;
    std::size_t defects = 0, fittings = 0;
    bool shallow = false;
    for (const auto& run : imported.draft.runs) {
        defects += run.defects.size();
        fittings += run.fittings.size();
        shallow = shallow || run.depth.empty();
    }
    complain(fmt::format("{}, {}, {} from {}", plural(imported.draft.runs.size(), "run"), plural(defects, "defect"),
                         plural(fittings, "fitting"), plural(imported.observations, "line")));
    if (shallow) complain("a run has no depth: give --depth, or put \"depth\" into the runs of the job file");
    const auto job = io::read_job(json, "job");
    if (!job) complain("the job is not whole yet: \"patchwright check\" tells what to put in");
    if (job && !options.common.yard.empty()) {
        tell(io::cross_check(*job.value, load_yard(options.common)));
    }
}

void run_import(const ImportCommand& options) {
    const auto& common = options.common;
    refuse_overwriting(common);
    if (!options.depth.empty()) {
        const auto depth = parse_length(options.depth);
        if (!depth || *depth <= Length{} || *depth > 50.0 * unit::m) {
            complain(
                fmt::format("--depth: {}", depth ? "a depth lies above zero and up to 50 m" : depth.error().message));
            throw Stop{wrong_usage};
        }
    }
    const bool piped = common.job == "-";
    intake::ImportOptions wanted{options.reference, options.depth, options.with_flow};
    if (wanted.reference.empty()) wanted.reference = piped ? "survey" : name_of(path_of(common.job).stem());
    const auto imported = intake::import_survey(read_all(common.job), piped ? "standard input" : common.job, wanted);
    tell(imported.diagnostics, common.quiet);
    if (imported.draft.runs.empty() || (io::has_errors(imported.diagnostics) && !options.keep_going)) {
        if (!imported.draft.runs.empty())
            complain("nothing written; --keep-going writes all the same, with what could not be read as questions");
        throw Stop{bad_input};
    }
    const auto json = sheet::job_json(imported.draft);
    write_result(common, json);
    tell_of(options, imported, json);
}

}  // namespace

void add_import(CLI::App& command, Outcome&) {
    auto options = std::make_shared<ImportCommand>();
    command.add_option("SURVEY", options->common.job, "Survey file; - is standard input")
        ->required()
        ->check(file_name());
    command
        .add_option("--depth", options->depth,
                    "Ground to invert for every run whose depth the survey does not tell, such as \"1.2 m\"")
        ->type_name("LENGTH");
    command
        .add_option("--reference", options->reference, "Reference of the job; without it the name of the survey file")
        ->type_name("TEXT");
    command.add_flag("--keep-going", options->keep_going,
                     "Write in spite of errors; what could not be read stays in the job file, \"?\" before it, and "
                     "check points at it");
    command.add_flag("--with-flow", options->with_flow,
                     "Turn runs that were surveyed against the flow: distances from the upstream end, clock mirrored");
    command.add_option("--yard", options->common.yard, "Yard file: say what it cannot serve")
        ->type_name("FILE")
        ->check(file_name());
    add_output(command, options->common, import_parts);
    command.footer(
        "Examples:\n  patchwright import survey.txt --depth \"1.2 m\" -o job.json\n"
        "  patchwright import survey.csv --keep-going | patchwright check -");
    command.callback([options] { run_import(*options); });
}

}  // namespace patchwright::cli
