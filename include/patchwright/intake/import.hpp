#pragma once
#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "patchwright/intake/draft.hpp"
#include "patchwright/io/diagnostic.hpp"

/// Survey files turned into the draft of a job. What is read and how it is mapped: docs/import.md.
namespace patchwright::intake {

struct ImportOptions {
    std::string reference;   ///< of the job; a survey has none
    std::string depth;       ///< quantity text for every run without one, "1.2 m"; empty: not known
    bool with_flow = false;  ///< runs seen against the flow: distances from the upstream end, clock positions mirrored
};

struct Imported {
    Draft draft;
    /// In order of place. Errors: malformed lines and fields; what they say stands in the draft as text that begins
    /// with "?". Warnings: content that is understood but has no place in a job, or is doubtful; also in the remarks
    /// and notes of the draft.
    std::vector<io::Diagnostic> diagnostics;
    std::size_t observations = 0;  ///< lines that were looked at as observations
};

/// Reads the text form of EN 13508-2 (first line begins with '#'), its XML form (begins with '<'), or a table with
/// named columns. `file` is only used in messages. Never throws for anything in `bytes`.
/// Source of the forms, the codes and the header fields: EN 13508-2:2003+A1:2011, as published in code tables and a
/// sample file by a public water-research centre; what is from memory is marked so in docs/import.md.
[[nodiscard]] Imported import_survey(std::string_view bytes, std::string_view file, const ImportOptions& options);

}  // namespace patchwright::intake
