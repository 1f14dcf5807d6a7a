#pragma once
#include <string>
#include <string_view>
#include <vector>

namespace patchwright::io {

/// The known name nearest to `name` by insertions, deletions, replacements and swaps of neighbours, capitals and
/// `_`, `-`, blank alike; empty when none is within a third of its length.
std::string_view nearest(std::string_view name, const std::vector<std::string_view>& known);

}  // namespace patchwright::io
