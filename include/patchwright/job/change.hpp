#pragma once
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

/// A change of a job or yard file, as data; `io/change.hpp` makes it.
namespace patchwright::job {

enum class FileKind : std::uint8_t { job, yard };
std::string_view word(FileKind v);  ///< "job", "yard"

/// One key set to another value.
struct Change {
    FileKind file = FileKind::job;
    std::vector<std::string> path;  ///< keys from the top; a thing of a list by its id, else by its place from 0
    std::string value;              ///< JSON; null takes the key, or the thing of a list, out (as RFC 7396)
};

/// A change to a text, as quantities and names are: "18:00", "1.5 m".
Change set_text(FileKind file, std::vector<std::string> path, std::string_view text);

}  // namespace patchwright::job
