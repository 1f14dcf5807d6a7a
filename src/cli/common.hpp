#pragma once
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "patchwright/job/job.hpp"
#include "patchwright/job/read.hpp"
#include "patchwright/job/yard.hpp"
#include "patchwright/sheet/sheets.hpp"
#include "patchwright/units/beside.hpp"

namespace CLI {
class App;
class Validator;
}  // namespace CLI

namespace patchwright::plan {
struct Options;
struct Plan;
}  // namespace patchwright::plan

/// What the subcommands share: options, reading, writing, exit status. No figures are made here.
namespace patchwright::cli {

/// Exit status of the program, as design says.
enum Exit : int { done = 0, failed = 1, wrong_usage = 2, bad_input = 3, not_all_patched = 4 };

/// Thrown by a subcommand that has said on standard error what is wrong.
struct Stop {
    int status = failed;
};

/// Options of every subcommand that reads a job.
struct Common {
    std::string job;             ///< file, or "-" for standard input
    std::string yard;            ///< file; empty: the built-in demonstration yard
    std::string format, output;  ///< empty: by the output's extension, else text; empty: standard output
    std::string units;           ///< empty: as the job file says
    std::string color = "auto";
    std::string paper = "a4";
    bool quiet = false, strict = false;
};

/// Where a subcommand leaves its exit status.
struct Outcome {
    int status = done;
};

/// Refuses "" where a file's name belongs: most often a shell variable that is not set.
CLI::Validator file_name();
/// Adds the common options; `formats` are the ones that this subcommand writes, text first.
void add_common(CLI::App& command, Common& options, const std::vector<std::string>& formats);
/// Adds -o, -q, --color, -f alone, for subcommands that read no job.
void add_output(CLI::App& command, Common& options, const std::vector<std::string>& formats);

struct Loaded {
    job::Job job;
    job::Yard yard;
    UnitSystem units = UnitSystem::metric;
};
/// Reads job and yard and prints what is wrong or doubtful on standard error. Throws Stop when there are errors.
Loaded load(const Common& options);
/// How a command plans: on every core, and with nothing recorded, since only `why` asks.
plan::Options usual_planning();
/// The yard as it was read: of the file that is named, else the built-in one. Throws IoError.
job::ReadResult<job::Yard> read_yard(const Common& options);
/// The same beside other work, where there is a file to read; the built-in yard is on its way from the start.
class YardBeside {
public:
    explicit YardBeside(const Common& options) : options_{options} {
        if (!options.yard.empty()) file_.emplace([this] { return read_yard(options_); });
    }
    job::ReadResult<job::Yard> take() { return file_ ? file_->take() : read_yard(options_); }

private:
    const Common& options_;
    std::optional<Beside<job::ReadResult<job::Yard>>> file_;
};
/// The yard alone, with the same words and Stop as `load`.
job::Yard load_yard(const Common& options);
/// Bytes of a file, or of standard input for "-". Throws IoError.
std::string read_all(const std::string& path);

/// Refuses, with Stop, an output that is one of the inputs: the command's own, or `more`. By whatever spelling or link.
void refuse_overwriting(const Common& options, const std::vector<std::string>& more = {});
/// The format asked for, or the one that the output's name says, or "text". Throws Stop on one that is not offered, on
/// one that a terminal cannot show, and on an output that is an input: nothing is read or written before.
std::string chosen_format(const Common& options, const std::vector<std::string>& formats);

/// Writes to standard output, or to a file as a whole or not at all. Throws IoError.
void write_result(const Common& options, std::string_view bytes);
/// Whether text may hold more than ASCII, by LC_ALL, LC_CTYPE and LANG.
bool utf8_locale();
bool wants_color(const Common& options);
sheet::TextStyle text_style(const Common& options);

/// Makes one of several sheets that do not depend on each other.
using MakeSheet = std::function<sheet::Sheet(std::size_t)>;
/// Writes so many sheets in one of the formats "text" and "pdf". Those for text are made and set side by side.
void write_sheets(const Common& options, std::size_t count, const MakeSheet& make, const std::string& format);
/// Date-time for PDF metadata: SOURCE_DATE_EPOCH, else the job's date, else a fixed day. Never the clock.
std::string created(const std::optional<Date>& date);

/// 4 when --strict was given and something could not be patched.
int status_of(const Common& options, const plan::Plan& plan);

/// The message with "patchwright: " in front, on standard error.
void complain(std::string_view message);

}  // namespace patchwright::cli
