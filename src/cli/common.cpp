#include "common.hpp"

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <iostream>
#include <thread>

#include <fmt/format.h>
#include <CLI/CLI.hpp>

#include "output.hpp"
#include "patchwright/cure/cure.hpp"
#include "patchwright/io/change.hpp"
#include "patchwright/io/placed.hpp"
#include "patchwright/io/read.hpp"
#include "patchwright/plan/plan.hpp"
#include "patchwright/units/error.hpp"
#include "platform.hpp"
#include "progress.hpp"

namespace patchwright::cli {
namespace {

std::string environment(const char* name) {
    const char* value = std::getenv(name);
    return value ? value : "";
}

io::ReadResult<job::Yard> yard_of(const Common& options, const std::string& text) {
    if (options.yard.empty()) return {io::builtin_yard(), {}};
    return io::read_yard(text, options.yard, cure::resin_faults);
}

int cores() { return static_cast<int>(std::max(1U, std::thread::hardware_concurrency())); }

}  // namespace

void tell(const std::vector<io::Diagnostic>& findings, bool quiet) {
    work_ends();
    for (const auto& finding : findings) {
        if (quiet && finding.severity == io::Severity::warning) continue;
        std::cerr << io::text(finding) << '\n';
    }
}

CLI::Validator file_name() {
    const auto check = [](const std::string& name) {
        return name.empty() ? std::string{"a file name cannot be empty"} : std::string{};
    };
    return {check, ""};
}

void add_output(CLI::App& command, Common& options, const Parts& parts) {
    const auto forms = form_names(parts);
    command.add_option("-f,--format", options.format, fmt::format("Form of the result: {}", fmt::join(forms, "|")))
        ->type_name("FORM")
        ->check(CLI::IsMember(forms));
    command.add_option("-o,--output", options.output, "File to write; - is standard output")
        ->type_name("FILE")
        ->check(file_name());
    command.add_flag("-q,--quiet", options.quiet, "No warnings on standard error");
    command.add_option("--color", options.color, "Bold text on a terminal: auto|always|never")
        ->type_name("WHEN")
        ->check(CLI::IsMember({"auto", "always", "never"}));
}

void add_paper(CLI::App& command, Common& options) {
    command.add_option("--paper", options.paper, "Paper of a PDF: a4|letter; without it by the units of the sheets")
        ->type_name("PAPER")
        ->check(CLI::IsMember({"a4", "letter"}));
}

void add_common(CLI::App& command, Common& options, const Parts& parts) {
    command.add_option("JOB", options.job, "Job file; - is standard input")->required()->check(file_name());
    add_common_but_job(command, options, parts);
}

void add_common_but_job(CLI::App& command, Common& options, const Parts& parts) {
    command.add_option("--yard", options.yard, "Yard file; without it the demonstration yard")
        ->type_name("FILE")
        ->check(file_name());
    add_output(command, options, parts);
    command.add_option("--units", options.units, "Units on the sheets: metric|us")
        ->type_name("UNITS")
        ->check(CLI::IsMember({"metric", "us"}));
    command.add_flag("--strict", options.strict, "Exit with 4 when a defect cannot be patched or a check fails");
    if (offers(parts, Form::pdf)) add_paper(command, options);
}

std::string read_all(const std::string& path) {
    if (path == "-" && input_is_terminal())
        throw IoError("standard input is a terminal: give a job file, or - with a pipe");
    return read_file(path);
}

plan::Options usual_planning() {
    plan::Options planning;
    planning.working = false;
    planning.threads = cores();
    planning.days = std::make_shared<schedule::KnownDays>();
    return planning;
}

io::ReadResult<job::Yard> read_yard(const Common& options) {
    return yard_of(options, options.yard.empty() ? std::string{} : read_all(options.yard));
}

job::Yard load_yard(const Common& options) {
    auto yard = read_yard(options);
    tell(yard.diagnostics, options.quiet);
    if (!yard) throw Stop{bad_input};
    return std::move(*yard.value);
}

Loaded load(const Common& options) {
    const std::string name = options.job == "-" ? "standard input" : options.job;
    std::string text = read_all(options.job);  // before the yard: both may come through one pipe
    auto job = io::read_job(text, name);
    tell(job.diagnostics, options.quiet);
    auto yard_text = options.yard.empty() ? std::string{io::builtin_yard_text()} : read_all(options.yard);
    auto yard = yard_of(options, yard_text);
    tell(yard.diagnostics, options.quiet);
    if (!job || !yard) throw Stop{bad_input};
    const auto crossed = io::placed(io::cross_check(*job.value, *yard.value), text, name);
    tell(crossed, options.quiet);
    if (io::has_errors(crossed)) throw Stop{bad_input};
    Loaded loaded{std::move(*job.value), std::move(*yard.value), UnitSystem::metric, std::move(text),
                  std::move(yard_text)};
    loaded.units = options.units.empty()   ? loaded.job.units
                   : options.units == "us" ? UnitSystem::us
                                           : UnitSystem::metric;
    loaded.job.units = loaded.units;
    work_begins(options);
    return loaded;
}

LoadedJobs load_jobs(const Common& options, const std::vector<std::string>& files) {
    struct File {
        std::string name, text;
        io::ReadResult<job::Job> job;
    };
    std::vector<File> read;
    for (const auto& path : files) {
        const std::string name = path == "-" ? "standard input" : path;
        std::string text = read_all(path);
        auto job = io::read_job(text, name);
        tell(job.diagnostics, options.quiet);
        read.push_back({name, std::move(text), std::move(job)});
    }
    LoadedJobs loaded;
    if (!options.yard.empty()) loaded.yard_text = read_all(options.yard);
    auto yard = yard_of(options, loaded.yard_text);
    tell(yard.diagnostics, options.quiet);
    bool good = static_cast<bool>(yard);
    for (auto& [name, text, job] : read) {
        good = good && static_cast<bool>(job);
        if (!job || !yard) continue;
        const auto crossed = io::placed(io::cross_check(*job.value, *yard.value), text, name);
        tell(crossed, options.quiet);
        good = good && !io::has_errors(crossed);
        loaded.jobs.push_back(std::move(*job.value));
        if (!options.units.empty())
            loaded.jobs.back().units = options.units == "us" ? UnitSystem::us : UnitSystem::metric;
    }
    if (!good) throw Stop{bad_input};
    loaded.yard = std::move(*yard.value);
    work_begins(options);
    return loaded;
}

bool same_file(const std::string& a, const std::string& b) {
    std::error_code ignored;
    return std::filesystem::equivalent(path_of(a), path_of(b), ignored);
}

void refuse_overwriting(const Common& options, const std::vector<std::string>& more) {
    const auto& output = options.output;
    std::error_code ignored;
    // Devices and pipes are not replaced: what was read from them is not lost.
    if (output.empty() || output == "-" || !std::filesystem::is_regular_file(path_of(output), ignored)) return;
    std::vector<std::string> inputs{options.job, options.yard};
    inputs.insert(inputs.end(), more.begin(), more.end());
    for (const auto& input : inputs) {
        const bool same = input == "-" ? is_standard_input(output) : !input.empty() && same_file(input, output);
        if (!same) continue;
        complain(fmt::format("-o {}: that is the input {}, which would be lost; give another name", output,
                             input == "-" ? "on standard input" : input));
        throw Stop{wrong_usage};
    }
}

void write_result(const Common& options, std::string_view bytes) {
    work_ends();
    if (options.output.empty() || options.output == "-") {
        write_stdout(bytes);
    } else {
        write_file(options.output, bytes);
    }
}

bool utf8_locale() {
    for (const char* name : {"LC_ALL", "LC_CTYPE", "LANG"}) {
        auto value = environment(name);
        if (value.empty()) continue;
        std::transform(value.begin(), value.end(), value.begin(),
                       [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
        return value.find("utf-8") != std::string::npos || value.find("utf8") != std::string::npos;
    }
    return utf8_unless_said();
}

bool wants_color(const Common& options) {
    if (options.color == "always") return true;
    if (options.color == "never" || !environment("NO_COLOR").empty() || environment("TERM") == "dumb") return false;
    return (options.output.empty() || options.output == "-") && output_shows_bold();
}

sheet::TextStyle text_style(const Common& options) { return {utf8_locale(), wants_color(options), 80}; }

int status_of(const Common& options, const plan::Plan& plan) {
    return options.strict && !plan.everything_patched ? not_all_patched : done;
}

void complain(std::string_view message) {
    work_ends();
    // Line breaks are ours; whatever else acts on a screen was typed or read.
    std::string text;
    for (std::size_t start = 0; start <= message.size();) {
        const auto end = std::min(message.find('\n', start), message.size());
        text += (start == 0 ? "" : "\n") + io::screen_safe(message.substr(start, end - start));
        start = end + 1;
    }
    std::cerr << "patchwright: " << text << '\n';
}

}  // namespace patchwright::cli
