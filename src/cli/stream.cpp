#include "stream.hpp"

#include <algorithm>
#include <filesystem>
#include <new>
#include <optional>
#include <thread>
#include <utility>

#include <fmt/format.h>

#include "done.hpp"
#include "output.hpp"
#include "patchwright/city/line.hpp"
#include "patchwright/io/read.hpp"
#include "patchwright/plan/plan.hpp"
#include "patchwright/units/error.hpp"
#include "patchwright/units/threads.hpp"
#include "patchwright/units/utf8.hpp"
#include "platform.hpp"
#include "progress.hpp"

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
std::string headline(const io::Diagnostic& d) {
    const auto whole = io::text(d);
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
    while (end > 0 && is_utf8_continuation(line[end])) --end;
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
        auto job = io::read_job(inline_job ? slot.line : read_file(slot.line, name), name);
        std::string errors;
        const auto add = [&](const std::vector<io::Diagnostic>& list) {
            for (const auto& d : list) {
                if (d.severity == io::Severity::error) errors += (errors.empty() ? "" : "\n") + headline(d);
            }
        };
        add(job.diagnostics);
        if (job) add(io::cross_check(*job.value, yard));
        if (!errors.empty()) return failed_with(errors);
        const auto units = options.units.empty()   ? job.value->units
                           : options.units == "us" ? UnitSystem::us
                                                   : UnitSystem::metric;
        job.value->units = units;
        plan::Options planning;
        planning.working = false;  // only `why` asks
        const auto plan = plan::make_plan(*job.value, yard, planning);
        slot.plan = form.line({&plan, units, false});
        slot.good = plan.everything_patched;
    } catch (const std::bad_alloc&) {
        throw;  // the machine's trouble, not the job's: its line is planned when the stream is gone on with
    } catch (const std::exception& error) {
        failed_with(error.what());
    }
}

/// Where the lines go: standard output, a file written whole, or the file that holds what is done already.
class Output {
public:
    Output(const Common& options, const std::string& done_file) : options_{options}, done_file_{done_file} {
        const auto& name = options.output;
        if (name.empty() || name == "-") return;
        if (!done_file.empty() && (name == done_file || same_file(name, done_file)))
            growing_.emplace(name);
        else
            whole_.emplace(name);
    }
    bool to_file() const { return whole_ || growing_; }
    /// Makes room behind the whole lines of the file that holds what is done.
    void go_on_behind(const DoneLines& done) {
        if (!done.half) return;
        const bool here = growing_ || (!whole_ && is_standard_output(done_file_));
        if (growing_) growing_->cut(done.whole);
        if (here && !growing_) cut_standard_output(done.whole);
        if (!options_.quiet)
            complain(fmt::format("{}: its last line is half written; {}", done_file_,
                                 here ? "done again" : "done again, so cut it off before the two are put together"));
    }
    void write(const std::string& lines) {
        if (whole_)
            whole_->write(lines);
        else if (growing_)
            growing_->write(lines);
        else
            write_stdout(lines);
    }
    void finish() {
        if (whole_) whole_->finish();
        if (growing_) growing_->finish();
    }

private:
    const Common& options_;
    const std::string& done_file_;
    std::optional<WholeFile> whole_;
    std::optional<GrowingFile> growing_;
};

/// The jobs of a stream, a windowful at a time, without those that are done.
class Jobs {
public:
    Jobs(const Common& options, const StreamOptions& stream, const Output& output, DoneLines* done)
        : options_{options},
          in_{options.job.empty() ? "-" : options.job},
          number_{stream.first_line - 1},
          output_{output},
          done_{done} {}

    /// Fills the slots from the first on; returns how many. None: the end.
    std::size_t next(std::vector<Slot>& slots) {
        std::size_t count = 0;
        while (count < slots.size() && in_.next(slots[count].line)) {
            auto& line = slots[count].line;
            ++number_;
            if (std::exchange(at_start_, false) && line.starts_with("\xEF\xBB\xBF")) line.erase(0, 3);
            if (line.ends_with('\r')) line.pop_back();
            if (line.find_first_not_of(" \t") == std::string::npos) continue;
            if (output_.to_file() && !is_inline(line)) refuse_overwriting(options_, {line});
            if (done_ != nullptr && is_done(line)) continue;
            slots[count++].number = number_;
        }
        return count;
    }
    /// A job that was done already stands behind one that was not: its number, 0 if there is none.
    std::size_t out_of_order() const { return out_of_order_; }

private:
    bool is_done(const std::string& line) {
        const bool done = done_->take(number_, reference_of(line));
        if (done && left_ && out_of_order_ == 0) out_of_order_ = number_;
        left_ = left_ || !done;
        return done;
    }
    static std::optional<std::string> reference_of(const std::string& line) {
        if (is_inline(line)) return city::reference_in(line);
        try {
            return city::reference_in(read_file(line));
        } catch (const IoError&) {
            return std::nullopt;  // said in its place
        }
    }

    const Common& options_;
    LineReader in_;
    std::size_t number_;
    const Output& output_;
    DoneLines* done_;
    bool at_start_ = true, left_ = false;
    std::size_t out_of_order_ = 0;
};

/// What is odd about the file with what is done, once the stream has ended.
void tell_oddities(const std::string& file, const DoneLines& done, const Jobs& jobs) {
    if (jobs.out_of_order() > 0)
        complain(
            fmt::format("warning: {}: line {} of the stream was done, one before it was not: the plans put together "
                        "are not in the order of the jobs",
                        file, jobs.out_of_order()));
    if (done.remaining > 0)
        complain(fmt::format("warning: {}: {} of its lines {} of no job of this stream, such as {}", file,
                             done.remaining, done.remaining == 1 ? "is" : "are", done.first_remaining()));
}

}  // namespace

StreamForm plans_as_json() {
    return {{}, [](const sheet::Context& context) { return sheet::plan_json(context, true); }, sheet::error_json};
}

int run_stream(const Common& options, const StreamForm& form, const StreamOptions& stream) {
    refuse_overwriting(options);
    const auto yard = load_yard(options);
    const unsigned cores = std::max(1U, std::thread::hardware_concurrency());
    const unsigned threads = stream.threads == 0 ? cores : std::min(stream.threads, cores);  // more only take memory
    Output output{options, stream.skip_done};
    std::optional<DoneLines> done;
    if (!stream.skip_done.empty()) {
        done.emplace(stream.skip_done, yard.name);
        output.go_on_behind(*done);
    }
    bool all_good = !done || done->errors == 0;
    Jobs jobs{options, stream, output, done ? &*done : nullptr};
    std::vector<Slot> slots(window_per_thread * threads);
    if (!form.header.empty()) output.write(form.header + "\n");
    if (output.to_file() || !output_is_terminal()) work_begins(options);  // else the lines themselves tell
    for (std::size_t count = slots.size(); count == slots.size();) {
        count = jobs.next(slots);
        in_parallel(static_cast<int>(threads), count, [&](std::size_t i) {
            answer(slots[i], yard, form, options);
            work_counts();
        });
        std::string out;
        for (std::size_t i = 0; i < count; ++i) {
            out += slots[i].plan;
            out += '\n';
            all_good = all_good && slots[i].good;
        }
        output.write(out);
    }
    output.finish();
    work_ends();
    if (done && !options.quiet) tell_oddities(stream.skip_done, *done, jobs);
    return options.strict && !all_good ? not_all_patched : static_cast<int>(Exit::done);
}

}  // namespace patchwright::cli
