#pragma once
#include "patchwright/working/working.hpp"

namespace patchwright::test {

/// For tests that do not look at the working.
inline Working off = Working::off();

}  // namespace patchwright::test

using patchwright::test::off;
