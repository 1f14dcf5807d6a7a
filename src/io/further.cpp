#include "further.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <utility>

#include "source.hpp"

namespace patchwright::io {
namespace {

constexpr std::size_t max_kinds = 20;     ///< that are counted one by one
constexpr std::size_t longest_kind = 40;  ///< characters of a key that are shown

/// "/runs/3/defects/0/kind": the key that the value stands at, "kind"; of an entry of a list, the list's.
std::string_view key_of(std::string_view pointer) {
    while (!pointer.empty()) {
        const auto slash = pointer.rfind('/');
        const std::string_view last = pointer.substr(slash == std::string_view::npos ? 0 : slash + 1);
        if (last.find_first_not_of("0123456789") != std::string_view::npos) return last;
        if (slash == std::string_view::npos) break;
        pointer = pointer.substr(0, slash);
    }
    return {};
}

}  // namespace

bool FurtherFaults::in_full(Severity severity, std::string_view key) {
    Counts& counts = counts_[severity == Severity::error ? 0 : 1];
    if (static_cast<std::size_t>(++counts.count) <= told_in_full) return true;
    const auto known = counts.further.find(key);
    if (known != counts.further.end())
        ++known->second;
    else if (!key.empty() && counts.further.size() < max_kinds)
        counts.further.emplace(key, 1);
    else
        ++counts.elsewhere;
    return false;
}

void FurtherFaults::tell(std::string_view file, std::vector<Diagnostic>& list) const {
    for (const Severity severity : {Severity::error, Severity::warning}) {
        const Counts& counts = of(severity);
        const std::int64_t more = counts.count - static_cast<std::int64_t>(told_in_full);
        if (more <= 0) continue;
        std::vector<std::pair<std::int64_t, std::string>> kinds;
        for (const auto& [key, count] : counts.further) kinds.emplace_back(count, quoted(key, longest_kind));
        std::stable_sort(kinds.begin(), kinds.end(), [](const auto& a, const auto& b) { return a.first > b.first; });
        std::string words;
        for (const auto& [count, key] : kinds)
            words += fmt::format("{}{} at \"{}\"", words.empty() ? "" : ", ", count, key);
        if (counts.elsewhere > 0) words += fmt::format("{}{} elsewhere", words.empty() ? "" : ", ", counts.elsewhere);
        Diagnostic& diagnostic = list.emplace_back();
        diagnostic.severity = severity;
        diagnostic.file = file;
        diagnostic.count = more;
        diagnostic.message = fmt::format("{} more {}{}: {}", more, severity == Severity::error ? "error" : "warning",
                                         more == 1 ? "" : "s", words);
    }
}

void Faults::add(Fault fault) {
    if (further_.in_full(fault.warning ? Severity::warning : Severity::error, fault.key))
        list_.push_back(std::move(fault));
}

void Faults::in_order_of_place() {
    std::stable_sort(list_.begin(), list_.end(), [](const Fault& a, const Fault& b) { return a.offset < b.offset; });
}

void Faults::name(std::size_t from, std::size_t to, std::string_view name) {
    for (Fault& fault : list_)
        if (fault.offset >= from && fault.offset < to) fault.message.insert(0, name);
}

void Findings::add(Severity severity, std::string pointer, std::string message) {
    if (!further_.in_full(severity, key_of(pointer))) return;
    Diagnostic& diagnostic = found_.emplace_back();
    diagnostic.severity = severity;
    diagnostic.pointer = std::move(pointer);
    diagnostic.message = std::move(message);
}

std::vector<Diagnostic> Findings::take() {
    further_.tell({}, found_);
    return std::move(found_);
}

}  // namespace patchwright::io
