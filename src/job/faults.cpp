#include "faults.hpp"

#include <algorithm>
#include <iterator>

#include <fmt/format.h>

namespace patchwright::job {
namespace {

/// The message with what it quotes left out, and its numbers.
std::string kind_of(const std::string& message) {
    std::string kind;
    bool quoted = false;
    for (const char c : message) {
        const bool digit = c >= '0' && c <= '9';
        if (c == '"') {
            kind += quoted ? "...\"" : "\"";
            quoted = !quoted;
        } else if (!quoted && !(digit && kind.ends_with('#'))) {
            kind += digit ? '#' : c;
        }
    }
    return kind;
}

bool stands_before(const Fault& a, const Fault& b) { return a.offset < b.offset; }

}  // namespace

void FaultList::count(Kind kind, Count more) {
    constexpr std::size_t most_kinds = 50;
    if (counted_.size() >= most_kinds && !counted_.contains(kind)) kind.second = "other faults";
    const auto [place, fresh] = counted_.try_emplace(std::move(kind), more);
    if (fresh) return;
    place->second.times += more.times;
    place->second.first = std::min(place->second.first, more.first);
}

void FaultList::add(Fault fault) {
    auto& kept = fault.warning ? warnings_ : errors_;
    if (kept.size() == kept_in_full) {
        if (!stands_before(fault, kept.back()))
            return count({fault.warning, kind_of(fault.message)}, {1, fault.offset});
        count({fault.warning, kind_of(kept.back().message)}, {1, kept.back().offset});
        kept.pop_back();
    }
    kept.insert(std::upper_bound(kept.begin(), kept.end(), fault, stands_before), std::move(fault));
}

void FaultList::add(FaultList&& more) {
    for (auto* list : {&more.errors_, &more.warnings_}) {
        for (Fault& fault : *list) add(std::move(fault));
    }
    for (const auto& [kind, times] : more.counted_) count(kind, times);
}

std::vector<Fault> FaultList::all() const {
    std::vector<Fault> list;
    std::merge(errors_.begin(), errors_.end(), warnings_.begin(), warnings_.end(), std::back_inserter(list),
               stands_before);
    for (const auto& [kind, counted] : counted_)
        list.push_back(
            {counted.first, 1, kind.first, fmt::format("{} more from here on: {}", counted.times, kind.second), ""});
    std::stable_sort(list.begin(), list.end(), stands_before);
    return list;
}

}  // namespace patchwright::job
