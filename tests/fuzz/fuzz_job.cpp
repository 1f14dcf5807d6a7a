// The reader of job files: a model or errors with places, whatever the bytes.
#include <cstddef>
#include <cstdint>

#include "check.hpp"
#include "patchwright/io/read.hpp"

using namespace patchwright;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string_view text{reinterpret_cast<const char*>(data), size};
    const auto job = io::read_job(text, "fuzz.json");
    fuzz::must(job.value.has_value() != io::has_errors(job.diagnostics), "either a job or errors");
    for (const auto& diagnostic : job.diagnostics) fuzz::must_be_placed(diagnostic, text);
    if (!job) return 0;
    for (const auto& doubt : io::cross_check(*job.value, io::builtin_yard()))
        fuzz::must(!io::text(doubt).empty(), "a doubt can be printed");
    return 0;
}
