#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "patchwright/job/change.hpp"

/// Changes of a job or yard file by key, before it is read: the ordinary reader then judges what they say.
namespace patchwright::io {

using job::Change;
using job::FileKind;

/// "site.finish=18:00", "runs.A.defects.A1.size=2 mm", "yard:limits.helpers=1". The first key says which file is meant;
/// with "job:" or "yard:" before it, that file. A key with a dot or an equals sign in it stands in double quotes. The
/// value is JSON where it is JSON, else a text. Throws InputError, with near names for a first key that neither file
/// has.
Change parse_change(std::string_view text);
/// As `parse_change` reads it; "yard:" only where it is needed.
std::string text(const Change& change);

/// The text of a job or yard file with those of the changes that are for it, in their order. What the path leads
/// through and the file does not say is put in. In a yard that extends the built-in one, things that only that one has
/// are changed by their ids. `file` is JSON that was read without errors. Throws InputError when a list has no such
/// thing, when the path leads on from a single value, and when what is to be taken out is not there.
[[nodiscard]] std::string with_changes(std::string_view file, FileKind kind, const std::vector<Change>& changes);

/// The demonstration yard as a file, which reads as `builtin_yard()`.
std::string_view builtin_yard_text();

}  // namespace patchwright::io
