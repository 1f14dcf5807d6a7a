#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "patchwright/schedule/day.hpp"
#include "patchwright/units/parse.hpp"

namespace patchwright::week {

/// A stop of a week that was given out earlier.
struct KeptStop {
    std::string job;  ///< its reference
    int part = 0;
    Date date{};
    int crew = 1;
    schedule::Minute arrive = 0, leave = 0;
    bool promised = true;
    int revision = 0;
};
struct Kept {
    std::vector<KeptStop> stops;
    const KeptStop* find(std::string_view job, int part) const;
};

/// Reads the JSON of `week -f json`; what it does not need of it is not looked at. Throws InputError that names every
/// fault with its place.
Kept read_kept(std::string_view text, const std::string& file);

}  // namespace patchwright::week
