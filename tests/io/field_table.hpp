#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "record_fields.hpp"
#include "yard_fields.hpp"

/// The descriptions of all fields of the files as plain rows, and what is made of them: schemas, the page of all
/// fields, the fuzzers' dictionaries.
namespace patchwright::test {

struct FieldRow {
    std::string_view key, words;
    io::Need need;
    io::ValueType type;
    io::Rule rule;
};

/// One object of a file: "packers[]" with the fields of a packer.
struct FieldSection {
    std::string_view name;    ///< "a packer"
    std::string_view place;   ///< in the file: "packers[]"
    std::string_view schema;  ///< JSON pointer to its schema
    std::vector<FieldRow> rows;
};

std::vector<FieldSection> job_sections();
std::vector<FieldSection> yard_sections();
std::vector<FieldSection> record_sections();

/// The schema with every property said as the table says it; what the table does not know stays.
std::string schema_text(const std::string& schema, const std::vector<FieldSection>& sections);
/// docs/fields.md; `yard` is the built-in yard's text, for what stands in when a limit or rate is left out.
std::string page_text(const std::string& yard);
std::string dictionary_text(std::string_view kind, const std::vector<FieldSection>& sections);

}  // namespace patchwright::test
