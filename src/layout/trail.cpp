#include "trail.hpp"

#include <algorithm>
#include <tuple>

namespace patchwright::layout {
namespace {

std::uint64_t mixed(std::uint64_t hash, int value) {
    hash ^= static_cast<std::uint64_t>(static_cast<std::uint32_t>(value)) + 0x9e3779b97f4a7c15ULL + (hash << 6) +
            (hash >> 2);
    return hash * 0xbf58476d1ce4e5b9ULL;
}

}  // namespace

int Trails::extend(int before, const Candidate& sleeve) {
    int place = 0;
    if (free_.empty()) {
        place = static_cast<int>(nodes_.size());
        nodes_.emplace_back();
    } else {
        place = free_.back();
        free_.pop_back();
    }
    const auto kind = nodes_[static_cast<std::size_t>(before)].kind;
    nodes_[static_cast<std::size_t>(place)] = {
        sleeve, before, 1, mixed(mixed(mixed(kind, sleeve.carrier), sleeve.first_target), sleeve.last_target)};
    hold(before);
    return place;
}

void Trails::release(int trail) {
    while (trail != root) {
        auto& node = nodes_[static_cast<std::size_t>(trail)];
        if (--node.holders > 0) return;
        free_.push_back(trail);
        trail = node.before;
    }
}

bool Trails::same_carriers_and_targets(int a, int b) const {
    for (; a != b; a = before(a), b = before(b)) {
        if (a == root || b == root) return false;
        const auto& x = sleeve(a);
        const auto& y = sleeve(b);
        if (std::tie(x.carrier, x.first_target, x.last_target) != std::tie(y.carrier, y.first_target, y.last_target)) {
            return false;
        }
    }
    return true;
}

bool Trails::earlier(int a, int b) const {
    bool result = false;
    for (; a != b && a != root && b != root; a = before(a), b = before(b)) {
        const auto& x = sleeve(a);
        const auto& y = sleeve(b);
        const auto left = std::tie(x.start, x.end, x.carrier);
        const auto right = std::tie(y.start, y.end, y.carrier);
        if (left != right) result = left < right;
    }
    return result;
}

std::vector<Candidate> Trails::sleeves(int trail) const {
    std::vector<Candidate> result;
    for (; trail != root; trail = before(trail)) result.push_back(sleeve(trail));
    std::reverse(result.begin(), result.end());
    return result;
}

}  // namespace patchwright::layout
