#include "stream.hpp"

#include <algorithm>
#include <thread>

#include "output.hpp"
#include "patchwright/job/read.hpp"
#include "patchwright/plan/plan.hpp"
#include "patchwright/units/threads.hpp"

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

/// A line as an error prints it back: a line that was meant as a job may be of any length.
std::string shown(const std::string& line) {
    constexpr std::size_t most = 200;
    if (line.size() <= most) return line;
    std::size_t end = most;
    while (end > 0 && (static_cast<unsigned char>(line[end]) & 0xC0U) == 0x80U) --end;
    return line.substr(0, end) + "...";
}

void answer(Slot& slot, const job::Yard& yard, const StreamForm& form, const Common& options) {
    const auto failed_with = [&](const std::string& message) {
        slot.plan = form.error(message, slot.number);
        slot.good = false;
    };
    try {
        const bool inline_job = is_inline(slot.line);
        const std::string name = inline_job ? "line " + std::to_string(slot.number) : shown(slot.line);
        auto job = job::read_job(inline_job ? slot.line : read_file(slot.line, name), name);
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
        slot.plan = form.line({&*job.value, &yard, &plan, units, false});
        slot.good = plan.everything_patched;
    } catch (const std::exception& error) {
        failed_with(error.what());
    }
}

}  // namespace

StreamForm plans_as_json() {
    return {{}, [](const sheet::Context& context) { return sheet::plan_json(context, true); }, sheet::error_json};
}

int run_stream(const Common& options, const StreamForm& form, unsigned asked) {
    refuse_overwriting(options);
    const auto yard = load_yard(options);
    const unsigned cores = std::max(1U, std::thread::hardware_concurrency());
    const unsigned threads = asked == 0 ? cores : std::min(asked, cores);  // more would only take memory
    LineReader in{options.job.empty() ? "-" : options.job};
    std::vector<Slot> slots(window_per_thread * threads);
    std::size_t number = 0;
    bool all_good = true;
    bool first = true;
    std::string kept;  // only when a file is written: it is written whole or not at all
    const bool to_file = !options.output.empty() && options.output != "-";
    for (bool more = true; more;) {
        std::size_t count = 0;
        while (count < slots.size() && (more = in.next(slots[count].line))) {
            auto& line = slots[count].line;
            if (++number == 1 && line.starts_with("\xEF\xBB\xBF")) line.erase(0, 3);
            if (line.ends_with('\r')) line.pop_back();
            if (line.find_first_not_of(" \t") == std::string::npos) continue;
            if (to_file && !is_inline(line)) refuse_overwriting(options, {line});
            slots[count++].number = number;
        }
        in_parallel(static_cast<int>(threads), count, [&](std::size_t i) { answer(slots[i], yard, form, options); });
        std::string out;
        if (!form.header.empty() && first) out = form.header + "\n";
        first = false;
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
