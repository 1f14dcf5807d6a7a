#include "progress.hpp"

#include <atomic>
#include <chrono>
#include <condition_variable>
#include <cstddef>
#include <exception>
#include <mutex>
#include <optional>
#include <string>
#include <system_error>
#include <thread>

#include <fmt/format.h>

#include "common.hpp"
#include "platform.hpp"

namespace patchwright::cli {
namespace {

class Progress {
public:
    Progress() : teller_{[this](const std::stop_token& end) { try_to_tell(end); }} {}
    std::atomic<std::size_t> jobs{0};

private:
    std::string line(int seconds) const {
        const std::size_t done = jobs;
        const auto begun = fmt::format("patchwright: at work, {} s", seconds);
        return done == 0 ? begun : fmt::format("{}, {} job{} done", begun, done, done == 1 ? "" : "s");
    }
    static void show(const std::string& text) { write_all(standard_error, text, "standard error"); }
    /// A terminal that is gone, or no memory for the line, is no reason to stop the work.
    void try_to_tell(const std::stop_token& end) {
        try {
            tell(end);
        } catch (const std::exception&) {
        }
    }
    void tell(const std::stop_token& end) {
        std::size_t shown = 0;
        std::unique_lock lock{mutex_};
        for (int seconds = 1;; ++seconds) {
            ending_.wait_for(lock, end, std::chrono::seconds{1}, [] { return false; });
            if (end.stop_requested()) break;
            const auto text = line(seconds);
            show("\r" + text);
            shown = text.size();
        }
        if (shown > 0) show("\r" + std::string(shown, ' ') + "\r");
    }

    std::mutex mutex_;
    std::condition_variable_any ending_;
    std::jthread teller_;  // the last: it uses the others, and is waited for first
};

std::optional<Progress> progress;

}  // namespace

void work_begins(const Common& options) {
    if (progress || options.quiet || !errors_are_terminal()) return;
    try {
        progress.emplace();
    } catch (const std::system_error&) {  // no thread
    }
}

void work_counts() {
    if (progress) ++progress->jobs;
}

void work_ends() { progress.reset(); }

}  // namespace patchwright::cli
