#pragma once
#include <string_view>
#include <vector>

#include "import_run.hpp"

namespace patchwright::intake {

struct CsvRead {
    std::vector<RunInWork> runs;
    bool us_units = false;  ///< inches or feet were used
    std::size_t rows = 0;
};
/// A table with named columns: docs/import.md lists them.
CsvRead read_csv(std::string_view bytes, Faults& faults);

}  // namespace patchwright::intake
