#pragma once
// Work on several cores. What is computed never hangs on how many there are.
#include <algorithm>
#include <atomic>
#include <cstddef>
#include <exception>
#include <system_error>
#include <thread>
#include <vector>

namespace patchwright {

/// Calls `work(i)` for every i below `count`, on at most that many threads. The calls may not depend on each other;
/// what the first of them by number throws is thrown again once all have ended, so that the outcome hangs on no thread.
template <class Work>
void in_parallel(int threads, std::size_t count, const Work& work) {
    std::vector<std::exception_ptr> failures(count);
    std::atomic<std::size_t> next{0};
    const auto take = [&] {
        for (std::size_t i = next++; i < count; i = next++) {
            try {
                work(i);
            } catch (...) {
                failures[i] = std::current_exception();
            }
        }
    };
    {
        std::vector<std::jthread> others;
        try {
            for (std::size_t t = 1; t < std::min(static_cast<std::size_t>(std::max(1, threads)), count); ++t)
                others.emplace_back(take);
        } catch (const std::system_error&) {
            // A machine that gives no more threads: those that it gave do the work.
        }
        take();
    }
    for (const auto& failure : failures) {
        if (failure) std::rethrow_exception(failure);
    }
}

}  // namespace patchwright
