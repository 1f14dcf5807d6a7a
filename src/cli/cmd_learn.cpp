// `patchwright learn`: what the yard's own durations and rates should be, from records.
#include <memory>

#include <CLI/CLI.hpp>

#include "commands.hpp"
#include "patchwright/io/read_record.hpp"
#include "patchwright/sheet/learn.hpp"

namespace patchwright::cli {
namespace {

const Parts learn_parts{Part::sheets, Part::json};

struct LearnCommand {
    Common common;
    std::vector<std::string> records;
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

void run_learn(const LearnCommand& options) {
    const auto form = chosen_form(options.common, learn_parts);
    refuse_overwriting(options.common, options.records);
    const auto yard = load_yard(options.common);
    const auto learned = learn::learn(read_records(options), yard);
    Result result;
    result.sheets = [&] { return std::vector{sheet::learned_sheet(learned, yard)}; };
    result.json = [&] { return sheet::learned_yard(learned, yard); };
    write_result(options.common, form, result);
}

}  // namespace

void add_learn(CLI::App& command, Outcome&) {
    auto options = std::make_shared<LearnCommand>();
    command.add_option("RECORD", options->records, "Record files; - is standard input")->required()->check(file_name());
    command.add_option("--yard", options->common.yard, "Yard file; without it the demonstration yard")
        ->type_name("FILE")
        ->check(file_name());
    add_output(command, options->common, learn_parts);
    command.footer(
        "Examples:\n  patchwright learn records/*.json --yard ours.json\n"
        "  patchwright learn records/*.json --yard ours.json -f json -o learned.json");
    command.callback([options] { run_learn(*options); });
}

}  // namespace patchwright::cli
