#pragma once
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

/// Jobs and yards made so that some key of theirs counts: for the walk over every key.
namespace patchwright::test {

struct Case {
    std::string name;
    nlohmann::json job, yard;
};

/// A situation that some keys need, and no case above holds.
struct Situation {
    Case base;
    std::vector<std::string> keys;
};

const std::vector<Situation>& situations();

/// Without the keys that only explain.
nlohmann::json without_help(nlohmann::json value);

}  // namespace patchwright::test
