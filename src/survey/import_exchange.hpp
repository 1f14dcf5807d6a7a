#pragma once
#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "import_text.hpp"

/// The text exchange form of EN 13508-2, taken apart but not yet understood. Internal to the import.
namespace patchwright::survey::intake {

using FieldMap = std::map<std::string, Placed, std::less<>>;

struct Observation {
    Placed start;  ///< of the line
    FieldMap fields;
};

struct Survey {
    Placed start;
    FieldMap header;
    std::vector<Observation> seen;
    std::string decimal_mark = ".";
};

/// The field, or nullptr when it is absent or empty.
const Placed* find(const FieldMap& fields, std::string_view code);

std::vector<Survey> read_exchange(std::string_view bytes, Faults& faults);

}  // namespace patchwright::survey::intake
