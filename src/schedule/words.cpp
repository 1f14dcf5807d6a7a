#include <array>

#include "patchwright/schedule/day.hpp"

namespace patchwright::schedule {

std::string_view word(What w) {
    constexpr std::array<std::string_view, 17> words{
        "travel",   "set up",  "clean",  "survey", "flow control", "cut",       "bench test", "wet-out", "load",
        "position", "inflate", "crease", "cure",   "let down",     "re-survey", "reopen",     "pack up"};
    return words[static_cast<std::size_t>(w)];
}

}  // namespace patchwright::schedule
