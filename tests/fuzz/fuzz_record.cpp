// The reader of record files, alone and with the names of a plan: a record or errors with places, whatever the bytes.
#include <cstddef>
#include <cstdint>

#include "check.hpp"
#include "patchwright/job/read_record.hpp"

using namespace patchwright;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string_view text{reinterpret_cast<const char*>(data), size};
    const job::RecordNames names{"T", {"A-P1"}, {"A"}};
    for (const job::RecordNames* known : {static_cast<const job::RecordNames*>(nullptr), &names}) {
        const auto record = job::read_record(text, "fuzz.json", known);
        fuzz::must(record.value.has_value() != job::has_errors(record.diagnostics), "either a record or errors");
        for (const auto& diagnostic : record.diagnostics) fuzz::must_be_placed(diagnostic, text);
    }
    return 0;
}
