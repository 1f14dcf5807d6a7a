#pragma once
#include <string>

#include "patchwright/learn/learn.hpp"
#include "patchwright/sheet/model.hpp"

namespace patchwright::sheet {

/// Before and after, with what stands behind each.
Sheet learned_sheet(const learn::Learned& learned, const job::Yard& yard);
/// The yard file with the figures that were learned in it, and nothing else changed. `yard_text`: JSON that was read
/// without errors; empty: a file on top of the built-in yard.
std::string learned_yard(const learn::Learned& learned, const std::string& yard_text);

}  // namespace patchwright::sheet
