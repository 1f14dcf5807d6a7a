#pragma once
#include <algorithm>
#include <string>
#include <string_view>
#include <vector>

#include "import_exchange.hpp"
#include "import_run.hpp"

/// One row of a table with named columns. Internal to the import.
namespace patchwright::intake {

struct Column {
    std::string name;     ///< empty: not used
    std::string unit;     ///< "mm" from "bore (mm)"; empty: none given
    std::string heading;  ///< as it stands in the file
};

/// The columns of a table and what they say about numbers without a unit.
struct Columns {
    std::vector<Column> list;
    std::string separator = ",";
    std::vector<std::string> told;  ///< columns whose missing unit was told
    bool us_units = false;          ///< inches or feet were used

    bool has(std::string_view name) const {
        return std::any_of(list.begin(), list.end(), [&](const Column& c) { return c.name == name; });
    }
};

/// A bare number, with the decimal mark that the separator leaves free.
std::optional<double> bare_number(const Columns& columns, const std::string& text);
/// A number without a unit takes the column's, else the usual one; that is told once a column.
std::string with_unit(Columns& columns, const Placed& cell, std::string_view column, std::string_view usual,
                      Faults& faults);

/// A length and, if it is none, why.
struct LengthRead {
    std::optional<Measure<Length>> value;
    std::string wrong;
};
LengthRead read_length(Columns& columns, const Placed& cell, std::string_view column, std::string_view usual,
                       bool zero_allowed, Faults& faults);

/// The row's defect, fitting or remark into the run. What cannot be read stays in it as text that begins with "?".
void add_row(RunInWork& run, const FieldMap& cells, int line, Columns& columns, Faults& faults);

}  // namespace patchwright::intake
