#include <array>

#include "patchwright/schedule/schedule.hpp"

namespace patchwright::schedule {

std::string_view word(What w) {
    constexpr std::array<std::string_view, 17> words{
        "travel",   "set up",  "clean",  "survey", "flow control", "cut",       "bench test", "wet-out", "load",
        "position", "inflate", "crease", "cure",   "let down",     "re-survey", "reopen",     "pack up"};
    return words[static_cast<std::size_t>(w)];
}

int hands(What w) {
    switch (w) {
        case What::survey:
        case What::flow_control:
        case What::cut:
        case What::bench_test:
        case What::cure:
        case What::let_down:
        case What::re_survey:
        case What::reopen:
            return 1;
        default:
            return 2;
    }
}

}  // namespace patchwright::schedule
