// The reader of record files, alone and with the names of a plan: a record or errors with places, whatever the bytes.
#include <cstddef>
#include <cstdint>

#include "check.hpp"
#include "patchwright/io/read_record.hpp"

using namespace patchwright;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string_view text{reinterpret_cast<const char*>(data), size};
    const io::RecordNames names{"T", {"A-P1"}, {"A"}};
    for (const io::RecordNames* known : {static_cast<const io::RecordNames*>(nullptr), &names}) {
        const auto record = io::read_record(text, "fuzz.json", known);
        fuzz::must(record.value.has_value() != io::has_errors(record.diagnostics), "either a record or errors");
        for (const auto& diagnostic : record.diagnostics) fuzz::must_be_placed(diagnostic, text);
    }
    return 0;
}
