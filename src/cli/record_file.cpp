#include "record_file.hpp"

#include <utility>

#include "patchwright/io/read_record.hpp"
#include "patchwright/plan/plan.hpp"
#include "patchwright/sheet/record.hpp"

namespace patchwright::cli {

job::Record load_record(const Common& options, const std::string& file, const Loaded& loaded, const plan::Plan& plan) {
    io::RecordNames names{loaded.job.reference, {}, {}};
    for (const auto& patch : plan.patches) names.patches.push_back(patch.id);
    for (const auto& run : loaded.job.runs) names.runs.push_back(run.id);
    auto read = io::read_record(read_all(file), file == "-" ? "standard input" : file, &names);
    tell(read.diagnostics, options.quiet);
    if (!read) throw Stop{bad_input};
    return sheet::with_card_notes(std::move(*read.value), loaded.units);
}

}  // namespace patchwright::cli
