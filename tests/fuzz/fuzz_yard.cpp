// The reader of yard files, alone and on top of the built-in yard: a model or errors with places, whatever the bytes.
#include <cstddef>
#include <cstdint>

#include "check.hpp"
#include "patchwright/io/read.hpp"

using namespace patchwright;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string_view text{reinterpret_cast<const char*>(data), size};
    const auto yard = io::read_yard(text, "fuzz.json");
    fuzz::must(yard.value.has_value() != io::has_errors(yard.diagnostics), "either a yard or errors");
    for (const auto& diagnostic : yard.diagnostics) fuzz::must_be_placed(diagnostic, text);
    return 0;
}
