#pragma once
#include <cstddef>

#include "patchwright/sheet/sheets.hpp"

namespace patchwright::test {

/// Makes every sheet of a plan in every form that needs no paper, and every drawing. Returns how many bytes they are.
std::size_t make_all_sheets(const sheet::Context& context);

/// Of these all but the JSON, whose library ends the program when memory runs out.
std::size_t make_all_pages(const sheet::Context& context);

}  // namespace patchwright::test
