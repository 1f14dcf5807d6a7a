#pragma once
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "patchwright/io/diagnostic.hpp"
#include "patchwright/job/job.hpp"
#include "patchwright/job/yard.hpp"

namespace patchwright::io {

/// A model, or every fault found on the way to it. With errors there is no model.
template <class T>
struct [[nodiscard]] ReadResult {
    std::optional<T> value;
    std::vector<Diagnostic> diagnostics;  ///< in order of place
    explicit operator bool() const { return value.has_value(); }
};

/// Finds such faults; `cure::resin_faults` is one.
using ResinCheck = std::function<std::vector<job::ResinFault>(const job::Resin&)>;

/// Reads a job file. `file` is only used in messages. Never throws for anything in `text`.
ReadResult<job::Job> read_job(std::string_view text, std::string_view file);
/// Reads a yard file; `"extends": "builtin"` starts from `builtin_yard()` and replaces what it gives:
/// lists of things with an id are merged by id, single values replaced.
/// `check` is asked about every resin that the file gives or changes, once all of it could be read.
ReadResult<job::Yard> read_yard(std::string_view text, std::string_view file, const ResinCheck& check = {});
/// The demonstration yard compiled into the program from data/yard.json. Prices say so on every sheet.
const job::Yard& builtin_yard();
/// What an offer to the customer still wants: dates, customer, what the ground and the access really are, the firm's
/// own particulars. Warnings.
[[nodiscard]] std::vector<Diagnostic> offer_questions(const job::Job& job, const job::Yard& yard);
/// Checks that need both files, and doubts about possible values: warnings mostly.
[[nodiscard]] std::vector<Diagnostic> cross_check(const job::Job& job, const job::Yard& yard);

}  // namespace patchwright::io
