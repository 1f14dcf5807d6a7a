#include <array>

#include "patchwright/schedule/day.hpp"

namespace patchwright::schedule {

std::string_view word(What w) {
    constexpr std::array<std::string_view, 17> words{
        "travel",   "set up",  "clean",  "survey", "flow control", "cut",       "bench test", "wet-out", "load",
        "position", "inflate", "crease", "cure",   "let down",     "re-survey", "reopen",     "pack up"};
    return words[static_cast<std::size_t>(w)];
}

std::string_view word(Machine m) {
    constexpr std::array<std::string_view, machine_kinds> words{"jetter", "camera", "cutter"};
    return words[static_cast<std::size_t>(m)];
}

std::optional<Machine> machine_for(What what) {
    switch (what) {
        case What::clean:
            return Machine::jetter;
        case What::survey:
        case What::re_survey:
            return Machine::camera;
        case What::reopen:
            return Machine::cutter;
        default:
            return std::nullopt;
    }
}

}  // namespace patchwright::schedule
