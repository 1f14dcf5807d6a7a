#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "patchwright/io/read.hpp"
#include "patchwright/job/record.hpp"

namespace patchwright::io {

/// What a record may speak of: names of the plan that it belongs to.
struct RecordNames {
    std::string job;
    std::vector<std::string> patches, runs;
};

/// Reads a record file. As a form it may be left blank in places: what holds an empty text was not noted. With `names`
/// a patch, run or job that is not among them is an error. Never throws for anything in `text`.
ReadResult<job::Record> read_record(std::string_view text, std::string_view file, const RecordNames* names = nullptr);

}  // namespace patchwright::io
