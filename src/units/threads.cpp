#include "patchwright/units/threads.hpp"

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

}  // namespace patchwright
