#pragma once
#include "patchwright/sheet/page.hpp"

namespace patchwright::cli {

/// The page maker: a shared object that brings pango and cairo, loaded at the first call, so that text costs nothing of
/// it. Throws IoError when it is not installed.
const sheet::PageFunctions& page_functions();

}  // namespace patchwright::cli
