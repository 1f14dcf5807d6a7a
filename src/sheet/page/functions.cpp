#include <exception>
#include <utility>

#include "patchwright/sheet/page.hpp"
#include "patchwright/units/error.hpp"

namespace patchwright::sheet {
namespace {

/// Calls a page function and keeps what it throws.
template <auto function, class T, class... Arguments>
Made<T> caught(const Arguments&... arguments) noexcept {
    Made<T> made;
    try {
        made.value = function(arguments...);
    } catch (const IoError& error) {
        made.fault = Fault::io;
        made.why = error.what();
    } catch (const RangeError& error) {
        made.fault = Fault::range;
        made.why = error.what();
    } catch (const std::exception& error) {
        made.fault = Fault::other;
        made.why = error.what();
    }
    return made;
}

constexpr PageFunctions functions{
    &caught<&pdf, Pages, std::vector<Sheet>, PageOptions>,
    &caught<&svg, std::string, Drawing>,
    &caught<&png, std::string, Drawing, double>,
    &caught<&drawing_pdf, std::string, std::vector<Drawing>, PageOptions>,
};

}  // namespace
}  // namespace patchwright::sheet

extern "C" __attribute__((visibility("default"))) const patchwright::sheet::PageFunctions*
patchwright_page_functions() {
    return &patchwright::sheet::functions;
}
