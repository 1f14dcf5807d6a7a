// Coverage-guided fuzzing of both readers: build with -DPATCHWRIGHT_FUZZ=ON and clang, then
//   fuzz_job -max_len=20000 CORPUS examples
#include <cstddef>
#include <cstdint>
#include <cstdlib>

#include "patchwright/job/read.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using namespace patchwright::job;
    const std::string_view text{reinterpret_cast<const char*>(data), size};
    const auto job = read_job(text, "fuzz.json");
    if (job.value.has_value() == has_errors(job.diagnostics)) std::abort();
    for (const Diagnostic& diagnostic : job.diagnostics)
        if (patchwright::job::text(diagnostic).empty()) std::abort();
    if (job) cross_check(*job.value, builtin_yard());
    const auto yard = read_yard(text, "fuzz.json");
    if (yard.value.has_value() == has_errors(yard.diagnostics)) std::abort();
    return 0;
}
