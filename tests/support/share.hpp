#pragma once
#include <cstdint>

/// How much of a test that goes through many cases is run: everything takes more than ten times as long under the
/// sanitizers.
namespace patchwright::test {

#ifdef PATCHWRIGHT_SANITIZED
inline constexpr bool under_sanitizers = true;
#else
inline constexpr bool under_sanitizers = false;
#endif

/// So many jobs, or days, of a property test; a fifth of them under the sanitizers.
constexpr std::uint32_t of_jobs(std::uint32_t count) { return under_sanitizers ? count / 5 : count; }

}  // namespace patchwright::test
