#include "patchwright/sheet/page.hpp"

extern "C" __attribute__((visibility("default"))) const patchwright::sheet::PageFunctions*
patchwright_page_functions() {
    using namespace patchwright::sheet;
    static constexpr PageFunctions functions{&pdf, &svg, &png, &drawing_pdf};
    return &functions;
}
