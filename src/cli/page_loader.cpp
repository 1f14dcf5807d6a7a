#include "page_loader.hpp"

#include <filesystem>
#include <system_error>

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

}  // namespace

const sheet::PageFunctions& page_functions() {
    static const sheet::PageFunctions* functions = open_page_maker();
    return *functions;
}

}  // namespace patchwright::cli
