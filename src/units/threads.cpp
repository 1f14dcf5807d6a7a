#include "patchwright/units/threads.hpp"

#include <future>
#include <utility>

#ifdef __linux__
#include <sched.h>

#include <pthread.h>
#endif

namespace patchwright {

std::jthread start_beside(std::function<void()> work) {
    std::jthread thread{std::move(work)};
#ifdef __linux__
    cpu_set_t cores;
    CPU_ZERO(&cores);
    const int here = ::sched_getcpu();
    if (here >= 0 && ::sched_getaffinity(0, sizeof cores, &cores) == 0 && CPU_COUNT(&cores) > 1) {
        CPU_CLR(static_cast<std::size_t>(here), &cores);
        ::pthread_setaffinity_np(thread.native_handle(), sizeof cores, &cores);  // if not, it is only later
    }
#endif
    return thread;
}

struct Helper::Task {
    explicit Task(std::function<void()> what) : work{std::move(what)} {}
    std::function<void()> work;
    std::atomic<bool> claimed{false};  ///< by the thread that begins it, or by who calls it off
    std::promise<void> done;
};

Helper::Helper(std::function<void()> work) : task_{std::make_shared<Task>(std::move(work))} {
    start_beside([task = task_] {
        if (task->claimed.exchange(true)) return;
        task->work();
        task->done.set_value();
    }).detach();
}

bool Helper::call_off() {
    const auto task = std::move(task_);
    if (!task || !task->claimed.exchange(true)) return true;
    task->done.get_future().wait();
    return false;
}

}  // namespace patchwright
