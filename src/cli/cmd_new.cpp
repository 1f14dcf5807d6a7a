// `patchwright new`: a starter job file to fill in.
#include <iostream>
#include <memory>

#include <fmt/format.h>
#include <CLI/CLI.hpp>

#include "commands.hpp"
#include "patchwright/intake/starter.hpp"
#include "patchwright/io/read.hpp"
#include "patchwright/sheet/job_json.hpp"

namespace patchwright::cli {
namespace {

const Parts new_parts{Part::json};

struct NewCommand {
    Common common;
    intake::StarterOptions starter;
};

void run_new(const NewCommand& options) {
    auto starter = intake::make_starter(options.starter);
    for (const auto& message : starter.errors) complain(message);
    if (!starter.errors.empty()) throw Stop{wrong_usage};
    const auto json = sheet::job_json(starter.draft, sheet::Help::starter);
    const auto job = io::read_job(json, "starter");
    if (!job) {  // values that do not go together: a bore wider than any pipe, a name too long
        for (const auto& d : job.diagnostics)
            if (d.severity == io::Severity::error) std::cerr << io::text(d) << '\n';
        throw Stop{wrong_usage};
    }
    if (!options.common.quiet) {
        for (const auto& hint : starter.hints) complain(hint);
        for (const auto& d : job.diagnostics) std::cerr << io::text(d) << '\n';
    }
    write_result(options.common, json);
}

}  // namespace

void add_new(CLI::App& command, Outcome&) {
    auto options = std::make_shared<NewCommand>();
    auto& starter = options->starter;
    command.add_option("--bore", starter.bore, "Inner diameter of the pipe, such as \"100 mm\" or \"4 in\"")
        ->type_name("LENGTH");
    command.add_option("--length", starter.length, "Length of the run, such as \"21.4 m\" or \"30 ft\"")
        ->type_name("LENGTH");
    command
        .add_option("--material", starter.material, "clay|concrete|cast iron|PVC-U|asbestos cement|pitch fibre|other")
        ->type_name("WORD");
    command.add_option("--depth", starter.depth, "Ground to invert, such as \"1.2 m\"")->type_name("LENGTH");
    command
        .add_option("--defect", starter.defects,
                    "Place, kind, and if known size and clock: \"12 ft fissure 1/8 in 10-2\"; may be repeated")
        ->type_name("TEXT")
        ->allow_extra_args(false);
    command.add_option("--reference", starter.reference, "Your number for the job")->type_name("TEXT");
    command.add_option("--title", starter.title, "What the job is")->type_name("TEXT");
    command.add_option("--units", starter.units, "Units on the sheets: metric|us; without it those of the values")
        ->type_name("UNITS")
        ->check(CLI::IsMember({"metric", "us"}));
    add_output(command, options->common, new_parts);
    command.footer(
        "Examples:\n  patchwright new -o job.json\n"
        "  patchwright new --bore \"4 in\" --length \"30 ft\" --material clay --defect \"12 ft crack\" -o job.json\n"
        "  patchwright new --defect \"3.9 m to 4.4 m fissure 3 mm 10-2\" --defect \"9.1 m displaced joint 8 mm\"");
    command.callback([options] { run_new(*options); });
}

}  // namespace patchwright::cli
