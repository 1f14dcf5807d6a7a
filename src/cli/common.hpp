#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "forms.hpp"
#include "patchwright/io/read.hpp"
#include "patchwright/job/job.hpp"
#include "patchwright/job/yard.hpp"
#include "patchwright/sheet/sheets.hpp"

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
    std::string paper;             ///< none: Letter for US sheets, else A4
    double dots_per_inch = 144.0;  ///< of a PNG
    bool quiet = false, strict = false;
};

/// Where a subcommand leaves its exit status.
struct Outcome {
    int status = done;
};

/// Refuses "" where a file's name belongs: most often a shell variable that is not set.
CLI::Validator file_name();
/// Adds the common options; `parts` are what this subcommand can give.
void add_common(CLI::App& command, Common& options, const Parts& parts);
/// The same without the job, for subcommands that read several.
void add_common_but_job(CLI::App& command, Common& options, const Parts& parts);
/// Adds -o, -q, --color, -f alone, for subcommands that read no job.
void add_output(CLI::App& command, Common& options, const Parts& parts);

/// Adds --paper, which the subcommands that read a job and give a PDF have already.
void add_paper(CLI::App& command, Common& options);

struct Loaded {
    job::Job job;
    job::Yard yard;
    UnitSystem units = UnitSystem::metric;
    std::string job_text, yard_text;  ///< as they were read; yard: the built-in one where no file is named
};
/// Reads job and yard and prints what is wrong or doubtful on standard error. Throws Stop when there are errors.
Loaded load(const Common& options);
/// Several jobs and their yard, with every fault of every file told before it stops.
struct LoadedJobs {
    std::vector<job::Job> jobs;  ///< in their own units, or in those that the options name
    job::Yard yard;
    std::string yard_text;  ///< as it was read; empty: no file is named
};
LoadedJobs load_jobs(const Common& options, const std::vector<std::string>& files);
/// How a command plans: on every core, and with nothing recorded, since only `why` asks.
plan::Options usual_planning();
/// The yard as it was read: of the file that is named, else the built-in one. Throws IoError.
io::ReadResult<job::Yard> read_yard(const Common& options);
/// The yard alone, with the same words and Stop as `load`.
job::Yard load_yard(const Common& options);
/// Bytes of a file, or of standard input for "-". Throws IoError.
std::string read_all(const std::string& path);

/// Whether two names are one file, by whatever spelling or link.
bool same_file(const std::string& a, const std::string& b);
/// Refuses, with Stop, an output that is one of the inputs: the command's own, or `more`. By whatever spelling or link.
void refuse_overwriting(const Common& options, const std::vector<std::string>& more = {});
/// Writes to standard output, or to a file as a whole or not at all. Throws IoError.
void write_result(const Common& options, std::string_view bytes);
/// Whether text may hold more than ASCII, by LC_ALL, LC_CTYPE and LANG.
bool utf8_locale();
bool wants_color(const Common& options);
sheet::TextStyle text_style(const Common& options);

/// 4 when --strict was given and something could not be patched.
int status_of(const Common& options, const plan::Plan& plan);

/// What was found in files, on standard error; `quiet`: the errors alone.
void tell(const std::vector<io::Diagnostic>& findings, bool quiet = false);
/// The message with "patchwright: " in front, on standard error.
void complain(std::string_view message);

}  // namespace patchwright::cli
