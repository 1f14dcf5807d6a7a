#include "stream.hpp"

#include <algorithm>
#include <atomic>
#include <fstream>
#include <iostream>
#include <thread>

#include "output.hpp"
#include "patchwright/job/read.hpp"
#include "patchwright/plan/plan.hpp"
#include "patchwright/units/error.hpp"

namespace patchwright::cli {
namespace {

/// Jobs that are read before the next ones are asked for: enough to keep every core busy, little enough to hold.
constexpr std::size_t window_per_thread = 64;

struct Slot {
    std::string line;
    std::size_t number = 0;
    std::string plan;
    bool good = false;
};

/// A diagnostic without its excerpt: an error object is one line of JSON.
std::string headline(const job::Diagnostic& d) {
    const auto whole = job::text(d);
    return whole.substr(0, whole.find('\n'));
}

/// The job itself stands on the line, not the name of its file.
bool is_inline(const std::string& line) {
    const auto first = line.find_first_not_of(" \t");
    return first != std::string::npos && line[first] == '{';
}

void answer(Slot& slot, const job::Yard& yard, const Common& options) {
    const auto failed_with = [&](const std::string& message) {
        slot.plan = sheet::error_json(message, slot.number);
        slot.good = false;
    };
    try {
        const bool inline_job = is_inline(slot.line);
        const std::string name = inline_job ? "line " + std::to_string(slot.number) : slot.line;
        auto job = job::read_job(inline_job ? slot.line : read_file(slot.line), name);
        std::string errors;
        const auto add = [&](const std::vector<job::Diagnostic>& list) {
            for (const auto& d : list) {
                if (d.severity == job::Severity::error) errors += (errors.empty() ? "" : "\n") + headline(d);
            }
        };
        add(job.diagnostics);
        if (job) add(job::cross_check(*job.value, yard));
        if (!errors.empty()) return failed_with(errors);
        const auto units = options.units.empty()   ? job.value->units
                           : options.units == "us" ? UnitSystem::us
                                                   : UnitSystem::metric;
        job.value->units = units;
        plan::Options planning;
        planning.working = false;  // only `why` asks
        const auto plan = plan::make_plan(*job.value, yard, planning);
        slot.plan = sheet::plan_json({&*job.value, &yard, &plan, units}, true);
        slot.good = plan.everything_patched;
    } catch (const std::exception& error) {
        failed_with(error.what());
    }
}

void answer_all(std::vector<Slot>& slots, std::size_t count, unsigned threads, const job::Yard& yard,
                const Common& options) {
    std::atomic<std::size_t> next{0};
    const auto work = [&] {
        for (std::size_t i = next++; i < count; i = next++) answer(slots[i], yard, options);
    };
    std::vector<std::thread> team;
    for (unsigned t = 1; t < threads; ++t) team.emplace_back(work);
    work();
    for (auto& thread : team) thread.join();
}

}  // namespace

int run_stream(const Common& options, unsigned threads) {
    refuse_overwriting(options);
    const auto yard = load_yard(options);
    if (threads == 0) threads = std::max(1U, std::thread::hardware_concurrency());
    std::ifstream file;
    if (!options.job.empty() && options.job != "-") {
        file.open(options.job);
        if (!file) throw IoError(options.job + ": cannot read");
    }
    std::istream& in = file.is_open() ? file : std::cin;
    std::vector<Slot> slots(window_per_thread * threads);
    std::size_t number = 0;
    bool all_good = true;
    std::string kept;  // only when a file is written: it is written whole or not at all
    const bool to_file = !options.output.empty() && options.output != "-";
    for (bool more = true; more;) {
        std::size_t count = 0;
        while (count < slots.size() && (more = static_cast<bool>(std::getline(in, slots[count].line)))) {
            ++number;
            auto& line = slots[count].line;
            if (!line.empty() && line.back() == '\r') line.pop_back();
            if (line.find_first_not_of(" \t") == std::string::npos) continue;
            if (to_file && !is_inline(line)) refuse_overwriting(options, {line});
            slots[count++].number = number;
        }
        answer_all(slots, count, threads, yard, options);
        std::string out;
        for (std::size_t i = 0; i < count; ++i) {
            out += slots[i].plan;
            out += '\n';
            all_good = all_good && slots[i].good;
        }
        if (to_file)
            kept += out;
        else
            write_stdout(out);
    }
    if (to_file) write_file(options.output, kept);
    return options.strict && !all_good ? not_all_patched : done;
}

}  // namespace patchwright::cli
