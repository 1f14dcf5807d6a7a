// The import of surveys in text and tables, header bytes included.
#include <cstddef>
#include <cstdint>

#include "survey_check.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    patchwright::fuzz::import_soundly({reinterpret_cast<const char*>(data), size});
    return 0;
}
