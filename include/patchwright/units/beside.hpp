#pragma once
#include <exception>
#include <functional>
#include <optional>
#include <system_error>
#include <thread>
#include <utility>

#include "patchwright/units/threads.hpp"

namespace patchwright {

/// A value that is made on another core while its maker goes on. On one core, and where no thread is to be had or none
/// got its turn, it is made when it is asked for: what comes out is the same.
template <class T>
class Beside {
public:
    explicit Beside(std::function<T()> make) : make_{std::move(make)} {
        if (std::thread::hardware_concurrency() < 2) return;
        try {
            helper_.emplace([this] { run(); });
        } catch (const std::system_error&) {
            // take() does the work.
        }
    }

    /// Waits for the value, once. Throws what making it threw.
    T take() {
        if (!helper_ || helper_->call_off()) run();
        if (failure_) std::rethrow_exception(failure_);
        return std::move(*value_);
    }

private:
    void run() {
        try {
            value_.emplace(make_());
        } catch (...) {
            failure_ = std::current_exception();
        }
    }

    std::function<T()> make_;
    std::optional<T> value_;
    std::exception_ptr failure_;
    std::optional<Helper> helper_;  // last: it has ended before the rest goes
};

}  // namespace patchwright
