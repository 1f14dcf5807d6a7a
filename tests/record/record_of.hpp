#pragma once
#include "patchwright/job/record.hpp"
#include "sheet/planned.hpp"

namespace patchwright::test {

/// The record of a day on which everything went as it was planned and everything was noted. Made up.
job::Record perfect_day(const Planned& planned);

}  // namespace patchwright::test
