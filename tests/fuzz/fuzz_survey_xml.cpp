// The import of surveys in XML: as it is, and as the inside of one inspection.
#include <cstddef>
#include <cstdint>
#include <string>

#include "survey_check.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string_view bytes{reinterpret_cast<const char*>(data), size};
    if (bytes.starts_with('<'))
        patchwright::fuzz::import_soundly(bytes);
    else
        patchwright::fuzz::import_soundly("<DATA><ZB>" + std::string{bytes} + "</ZB></DATA>");
    return 0;
}
