#pragma once
#include <string>
#include <vector>

#include "patchwright/sheet/page.hpp"

namespace patchwright::cli {

/// The page maker: a shared object that brings pango and cairo, loaded at the first call, so that text costs nothing of
/// it. Each throws IoError when it is not installed, and what the function of that name in sheet/page.hpp throws.
namespace page {
sheet::Pages pdf(const std::vector<sheet::Sheet>& sheets, const sheet::PageOptions& options);
std::string svg(const sheet::Drawing& drawing);
std::string png(const sheet::Drawing& drawing, double dots_per_inch);
std::string drawing_pdf(const std::vector<sheet::Drawing>& drawings, const sheet::PageOptions& options);
}  // namespace page

}  // namespace patchwright::cli
