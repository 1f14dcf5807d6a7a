// `patchwright check`: everything wrong or doubtful in the job and yard files, nothing else.
#include <memory>

#include <fmt/format.h>
#include <CLI/CLI.hpp>

#include "commands.hpp"
#include "logo.hpp"
#include "patchwright/io/placed.hpp"
#include "patchwright/io/read.hpp"
#include "patchwright/plan/plan.hpp"
#include "patchwright/units/error.hpp"
#include "progress.hpp"

namespace patchwright::cli {
namespace {

const Parts check_parts{Part::words, Part::json};

struct CheckOptions {
    Common common;
};

std::string findings_text(const std::vector<io::Diagnostic>& findings, bool quiet) {
    std::string text;
    for (const auto& d : findings) {
        if (quiet && d.severity == io::Severity::warning) continue;
        text += io::text(d);
        text += '\n';
    }
    std::int64_t errors = 0, warnings = 0;
    for (const auto& d : findings) (d.severity == io::Severity::error ? errors : warnings) += d.count;
    text +=
        fmt::format("{} error{}, {} warning{}\n", errors, errors == 1 ? "" : "s", warnings, warnings == 1 ? "" : "s");
    return utf8_locale() ? text : sheet::ascii(text);
}

void run_check(const CheckOptions& options, Outcome& outcome) {
    const auto& common = options.common;
    const auto form = chosen_form(common, check_parts);
    std::vector<io::Diagnostic> findings;
    const auto add = [&](const std::vector<io::Diagnostic>& list) {
        findings.insert(findings.end(), list.begin(), list.end());
    };
    const std::string name = common.job == "-" ? "standard input" : common.job;
    const std::string read = read_all(common.job);
    auto job = io::read_job(read, name);
    add(job.diagnostics);
    auto yard = read_yard(common);
    add(yard.diagnostics);
    if (yard) add(read_logo(common, *yard.value).faults);
    if (job && yard) {
        if (!common.units.empty()) job.value->units = common.units == "us" ? UnitSystem::us : UnitSystem::metric;
        add(io::placed(io::cross_check(*job.value, *yard.value), read, name));
        std::vector<io::Diagnostic> of_job, of_yard;
        for (auto& question : io::offer_questions(*job.value, *yard.value)) {
            const bool yards = question.pointer == "/firm" || question.pointer == "/demonstration";
            (yards ? of_yard : of_job).push_back(std::move(question));
        }
        add(io::placed(std::move(of_job), read, name));
        add(io::placed(std::move(of_yard), yard_text(common), yard_name(common)));
        if (!io::has_errors(findings)) {
            const auto tell = [&](io::Severity severity, const std::string& words) {
                findings.push_back({severity, name, 0, 0, words, "", "", "", 1});
            };
            try {
                work_begins(common);
                auto planning = usual_planning();
                planning.tables = false;
                const auto plan = plan::make_plan(*job.value, *yard.value, planning);
                for (const auto& words : plan.warnings) tell(io::Severity::warning, words);
                if (!plan.everything_patched && common.strict) outcome.status = not_all_patched;
            } catch (const Error& error) {
                tell(io::Severity::error, error.what());
            }
        }
    }
    if (io::has_errors(findings)) outcome.status = bad_input;
    Result result{{}, UnitSystem::metric};
    result.words = [&] { return findings_text(findings, common.quiet); };
    result.json = [&] { return sheet::findings_json(findings); };
    write_result(common, form, result);
}

}  // namespace

void add_check(CLI::App& command, Outcome& outcome) {
    auto options = std::make_shared<CheckOptions>();
    add_common(command, options->common, check_parts);
    command.footer("Examples:\n  patchwright check job.json\n  patchwright check job.json --yard ours.json -f json");
    command.callback([options, &outcome] { run_check(*options, outcome); });
}

}  // namespace patchwright::cli
