#include "page_loader.hpp"

#include <filesystem>
#include <stdexcept>
#include <system_error>
#include <utility>

#include <dlfcn.h>
#include <fmt/format.h>

#include "patchwright/units/error.hpp"

namespace patchwright::cli {
namespace {

using Entry = const sheet::PageFunctions* (*)();

const sheet::PageFunctions* open_page_maker() {
    std::error_code error;
    const auto program = std::filesystem::read_symlink("/proc/self/exe", error);
    const auto folder = program.parent_path();
    std::string reasons;
    // Beside the program in a build tree, under lib when installed.
    for (const auto& place :
         {folder / PATCHWRIGHT_PAGE_FILE, folder / PATCHWRIGHT_PAGE_FROM_BIN / PATCHWRIGHT_PAGE_FILE}) {
        void* object = dlopen(place.c_str(), RTLD_NOW | RTLD_LOCAL);
        if (object == nullptr) {
            reasons += fmt::format("\n  {}", dlerror());
            continue;
        }
        if (const auto entry = reinterpret_cast<Entry>(dlsym(object, "patchwright_page_functions"))) return entry();
        reasons += fmt::format("\n  {}", dlerror());
    }
    throw IoError("the page maker for PDF, SVG and PNG cannot be loaded:" + reasons);
}

const sheet::PageFunctions& functions() {
    static const sheet::PageFunctions* found = open_page_maker();
    return *found;
}

template <class T>
T taken(sheet::Made<T> made) {
    switch (made.fault) {
        case sheet::Fault::none:
            return std::move(made.value);
        case sheet::Fault::io:
            throw IoError(made.why);
        case sheet::Fault::range:
            throw RangeError(made.why);
        case sheet::Fault::other:
            break;
    }
    throw std::runtime_error(made.why);
}

}  // namespace

namespace page {

sheet::Pages pdf(const std::vector<sheet::Sheet>& sheets, const sheet::PageOptions& options) {
    return taken(functions().pdf(sheets, options));
}

std::string svg(const sheet::Drawing& drawing) { return taken(functions().svg(drawing)); }

std::string png(const sheet::Drawing& drawing, double dots_per_inch) {
    return taken(functions().png(drawing, dots_per_inch));
}

std::string drawing_pdf(const std::vector<sheet::Drawing>& drawings, const sheet::PageOptions& options) {
    return taken(functions().drawing_pdf(drawings, options));
}

}  // namespace page

}  // namespace patchwright::cli
