#include "patchwright/job/change.hpp"

#include <fmt/format.h>

namespace patchwright::job {

std::string_view word(FileKind v) { return v == FileKind::job ? "job" : "yard"; }

Change set_text(FileKind file, std::vector<std::string> path, std::string_view text) {
    std::string json = "\"";
    for (const char c : text) {
        if (static_cast<unsigned char>(c) < 0x20)
            json += fmt::format("\\u{:04x}", static_cast<unsigned>(static_cast<unsigned char>(c)));
        else if (c == '"' || c == '\\')
            json += {'\\', c};
        else
            json += c;
    }
    return {file, std::move(path), json + '"'};
}

}  // namespace patchwright::job
