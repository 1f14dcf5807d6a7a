#pragma once
#include <string_view>
#include <vector>

#include "import_exchange.hpp"

namespace patchwright::intake {

/// The XML form, EN 13508-2:2003+A1:2011, Annex B.3: a root DATA with the form's own fields in ZA, and for each
/// inspection a ZB with the header fields and a ZC for each observation. To the same surveys as the text form.
///
/// Bounded: 8 MB, a million tags, four levels. A document type is refused, and with it entities of its own and
/// parts outside the file.
std::vector<Survey> read_xml(std::string_view bytes, Faults& faults);

}  // namespace patchwright::intake
