#pragma once
#include <string>

#include "patchwright/learn/learn.hpp"
#include "patchwright/sheet/model.hpp"

namespace patchwright::sheet {

/// Before and after, with what stands behind each.
Sheet learned_sheet(const learn::Learned& learned, const job::Yard& yard);
/// The figures that were learned as a yard file on top of the built-in yard, or to be taken over into the firm's own.
std::string learned_yard(const learn::Learned& learned, const job::Yard& yard);

}  // namespace patchwright::sheet
