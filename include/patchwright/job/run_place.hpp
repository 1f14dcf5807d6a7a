#pragma once
#include <cstddef>
#include <cstdint>

namespace patchwright::job {

/// A run's place in Job::runs. A type of its own, so that its place in another list is never taken for it.
enum class RunPlace : std::int32_t {};

constexpr RunPlace run_place(std::size_t i) { return static_cast<RunPlace>(i); }
constexpr RunPlace run_place(int i) { return static_cast<RunPlace>(i); }
constexpr std::size_t index(RunPlace run) { return static_cast<std::size_t>(run); }

}  // namespace patchwright::job
