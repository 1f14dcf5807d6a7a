#pragma once
#include <map>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "import_text.hpp"

/// Surveys taken apart into header fields and observations, but not yet understood. Internal to the import.
namespace patchwright::intake {

using FieldMap = std::map<std::string, Placed, std::less<>>;

struct Observation {
    Placed start;  ///< of the line or element
    FieldMap fields;
    bool told = false;  ///< that its list lacks a needed field was an error already
};

struct Survey {
    Placed start;
    FieldMap header;
    std::vector<Placed> remarks;  ///< field ADE, which may stand more than once
    std::vector<Observation> seen;
    std::vector<Placed> unread;  ///< lines that could not be taken apart, whole
    std::vector<std::pair<Placed, std::string>> doubts;
    std::string decimal_mark = ".";
    std::string edition;  ///< year of the form, field A6
};

/// The field, or nullptr when it is absent or empty.
const Placed* find(const FieldMap& fields, std::string_view code);

/// Takes the values into the header. Of a field that stands twice the first value is taken; another one is a doubt.
void add_header(Survey& survey, const std::vector<std::pair<std::string, Placed>>& values);

/// Takes a field into the observation. Of one that stands twice the first value is taken; another one is a doubt.
void add_field(Survey& survey, Observation& seen, const std::string& field, const Placed& value);

/// The text form: EN 13508-2, Annex B.2.
std::vector<Survey> read_exchange(std::string_view bytes, Faults& faults);

}  // namespace patchwright::intake
