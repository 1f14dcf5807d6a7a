#include "done.hpp"

#include <iostream>

#include <fmt/format.h>

#include "common.hpp"
#include "output.hpp"
#include "patchwright/city/line.hpp"

namespace patchwright::cli {

DoneLines::DoneLines(const std::string& path, const std::string& yard) {
    constexpr int max_told = 20;
    int faults = 0;
    LineReader in{path};
    std::string text;
    for (std::size_t number = 1; in.next(text); ++number) {
        half = !in.ended();
        if (half) break;
        whole += text.size() + 1;
        std::string fault;
        try {
            const std::string_view line{text.data(), text.size() - (text.ends_with('\r') ? 1 : 0)};
            const auto head = city::head_of(line);
            if (head.error_line > 0) {
                errors += error_lines_.insert(head.error_line).second ? 1 : 0;
            } else if (head.yard == yard) {
                ++plans_[head.reference];
                ++remaining;
            } else {
                fault = fmt::format("planned with the yard \"{}\", this run has \"{}\"", head.yard, yard);
            }
        } catch (const city::LineFault& error) {
            fault = error.what();
        }
        if (fault.empty()) continue;
        if (++faults <= max_told)
            std::cerr << io::screen_safe(fmt::format("{}:{}: error: {}", path, number, fault)) << '\n';
    }
    remaining += errors;
    if (faults > max_told) complain(fmt::format("and {} more", faults - max_told));
    if (faults > 0) throw Stop{bad_input};
}

bool DoneLines::take(std::size_t line, const std::optional<std::string>& reference) {
    bool done = error_lines_.erase(line) > 0;
    if (!done && reference) {
        const auto plan = plans_.find(*reference);
        done = plan != plans_.end();
        if (done && --plan->second == 0) plans_.erase(plan);
    }
    if (done) --remaining;
    return done;
}

std::string DoneLines::first_remaining() const {
    if (!plans_.empty()) return plans_.begin()->first;
    return error_lines_.empty() ? "" : fmt::format("line {}", *error_lines_.begin());
}

}  // namespace patchwright::cli
