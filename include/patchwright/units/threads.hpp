#pragma once
// Work on several cores. What is computed never hangs on how many there are.
#include <algorithm>
#include <atomic>
#include <cstddef>
#include <exception>
#include <functional>
#include <memory>
#include <system_error>
#include <thread>
#include <vector>

namespace patchwright {

/// Starts a thread on a core other than the one that asks, where the system lets it choose. Linux leaves a new thread
/// on its maker's core until that has been busy for some milliseconds, in virtual machines most of all: longer than a
/// whole plan takes. Throws std::system_error when there is no thread to be had.
std::jthread start_beside(std::function<void()> work);

/// A thread that helps while it can. What it has not begun when its maker is through is called off: on a core that is
/// busy with the work of others it may be milliseconds until a new thread gets its turn.
class Helper {
public:
    /// The work may not throw. Throws std::system_error when there is no thread to be had.
    explicit Helper(std::function<void()> work);
    Helper(Helper&&) = default;
    Helper& operator=(Helper&&) = delete;
    ~Helper() { call_off(); }

    /// True when the work had not begun: then it never will. Otherwise waits for its end, once.
    bool call_off();

private:
    struct Task;
    std::shared_ptr<Task> task_;  // the thread's too, which may come late
};

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
        std::vector<Helper> others;
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
