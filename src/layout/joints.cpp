// Where sleeves may have to meet their neighbours, and where the run falls into parts.
#include <algorithm>

#include "generate.hpp"

namespace patchwright::layout {

std::vector<Generator::Extent> Generator::extents() const {
    const auto& needs = needs_.essential;
    const Centimetre minimum = exhaustive_ ? longest_ : longest_minimum_;
    std::vector<Extent> extents(needs.size());
    for (std::size_t i = 0; i < needs.size(); ++i) {
        auto& extent = extents[i];
        const Centimetre in = wall_.at_or_after(needs[i].last_start + minimum);
        extent.drawn_in = std::max(needs[i].first_end, in == nowhere ? problem_.run_length : in);
        extent.drawn_up = std::min(needs[i].last_start, std::max(0, wall_.at_or_before(needs[i].first_end - minimum)));
        extent.furthest_end = extent.drawn_in;
        extent.nearest_start = extent.drawn_up;
    }
    for (const auto& sleeve : anchored_) {
        const auto last = std::upper_bound(needs.begin(), needs.end(), sleeve.end,
                                           [](Centimetre e, const auto& need) { return e < need.end; });
        const auto first = std::lower_bound(needs.begin(), needs.end(), sleeve.start,
                                            [](const auto& need, Centimetre s) { return need.start < s; });
        if (last != needs.begin()) {
            auto& end = extents[static_cast<std::size_t>(last - needs.begin()) - 1].furthest_end;
            end = std::max(end, sleeve.end);
        }
        if (first != needs.end()) {
            auto& start = extents[static_cast<std::size_t>(first - needs.begin())].nearest_start;
            start = std::min(start, sleeve.start);
        }
    }
    return extents;
}

void Generator::find_joints(std::vector<Extent>& extents) {
    for (const auto& need : needs_.essential) {
        first_joint_.push_back(exhaustive_ ? 0 : need.last_start);
        last_joint_.push_back(exhaustive_ ? problem_.run_length : need.first_end);
    }
    const std::size_t count = extents.size();
    for (bool changed = true; changed;) {
        for (std::size_t i = 1; i < count; ++i) {
            extents[i].furthest_end = std::max(extents[i].furthest_end, extents[i - 1].furthest_end);
        }
        for (std::size_t i = count; i-- > 1;) {
            extents[i - 1].nearest_start = std::min(extents[i - 1].nearest_start, extents[i].nearest_start);
        }
        changed = !exhaustive_ && widen_joints(extents);
    }
}

/// One round of "Joints" in docs/methods/layout.md; false when nothing grew any more.
bool Generator::widen_joints(std::vector<Extent>& extents) {
    const auto& needs = needs_.essential;
    const std::size_t count = needs.size();
    bool changed = false;
    for (std::size_t m = 0; m < count; ++m) {
        Centimetre low = needs[m].last_start;
        Centimetre clear = extents[m].drawn_up - problem_.gap;  // an end up to here leaves the gap
        for (std::size_t l = m; l-- > 0 && extents[l].furthest_end > clear;) {
            low =
                std::min(low, std::max(0, wall_.at_or_before(std::max(needs[l].first_end, clear + 1) - problem_.lap)));
            clear = std::min(clear, low - problem_.gap);
        }
        changed |= low < first_joint_[m];
        first_joint_[m] = std::min(first_joint_[m], low);
        extents[m].nearest_start = std::min(extents[m].nearest_start, first_joint_[m]);
    }
    for (std::size_t l = 0; l < count; ++l) {
        Centimetre high = needs[l].first_end;
        Centimetre clear = extents[l].drawn_in + problem_.gap;  // a start from here on leaves the gap
        for (std::size_t m = l + 1; m < count && extents[m].nearest_start < clear; ++m) {
            const Centimetre end = wall_.at_or_after(std::min(needs[m].last_start, clear - 1) + problem_.lap);
            high = std::max(high, end == nowhere ? problem_.run_length : end);
            clear = std::max(clear, high + problem_.gap);
        }
        changed |= high > last_joint_[l];
        last_joint_[l] = std::max(last_joint_[l], high);
        extents[l].furthest_end = std::max(extents[l].furthest_end, last_joint_[l]);
    }
    for (std::size_t i = count; i-- > 1;) first_joint_[i - 1] = std::min(first_joint_[i - 1], first_joint_[i]);
    for (std::size_t i = 1; i < count; ++i) last_joint_[i] = std::max(last_joint_[i], last_joint_[i - 1]);
    return changed;
}

void Generator::find_parts() {
    auto extents = this->extents();
    find_joints(extents);
    const auto& needs = needs_.essential;
    parts_.assign(needs.size(), true);
    for (std::size_t l = 0; l + 1 < needs.size(); ++l) {
        bool parts = extents[l].furthest_end + problem_.gap <= extents[l + 1].nearest_start;
        for (int c = 0; parts && c < static_cast<int>(rules_.size()); ++c) {
            const bool ordinary = problem_.carriers[static_cast<std::size_t>(c)].anchors.empty();
            parts = !ordinary || largest_end(c, needs[l].last_start) < needs[l + 1].first_end;
        }
        parts_[l] = parts;
    }
    // An anchored sleeve over both is longer than the room between them.
    for (const auto& sleeve : anchored_) {
        auto l = std::lower_bound(needs.begin(), needs.end(), sleeve.start,
                                  [](const auto& need, Centimetre s) { return need.start < s; });
        for (; l != needs.end() && l + 1 != needs.end() && (l + 1)->end <= sleeve.end; ++l) {
            parts_[static_cast<std::size_t>(l - needs.begin())] = false;
        }
    }
}

}  // namespace patchwright::layout
