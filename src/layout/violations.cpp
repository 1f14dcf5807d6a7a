#include <algorithm>
#include <memory>

#include "patchwright/layout/layout.hpp"

// Says the rules once more, each by itself and without the search's notions, so that an error of the one does not
// hide in the other.
namespace patchwright::layout {
namespace {

using Lines = std::vector<std::string>;

std::string text(const char* words) { return words; }
std::string text(const std::string& words) { return words; }
std::string text(Centimetre number) { return std::to_string(number); }

template <class... Parts>
std::string joined(const Parts&... parts) {
    return (text(parts) + ...);
}

std::string name(const Candidate& patch) { return joined("patch ", patch.start, "-", patch.end, " cm"); }

bool anchored_within(const Carrier& carrier, const Candidate& patch, Span span) {
    for (const Centimetre at : carrier.anchors) {
        const Centimetre off = 2 * at - (patch.start + patch.end);  // twice the distance from the middle
        if (off >= -1 && off <= 1 && span.from <= at && at <= span.to) return true;
    }
    return false;
}

bool anchored_at(const Problem& problem, const Carrier& carrier, const Candidate& patch, const Target& target) {
    if (anchored_within(carrier, patch, {target.from, target.to})) return true;
    for (const auto& connection : problem.connections) {
        const bool apart = connection.opening.to < target.from || target.to < connection.opening.from;
        if (!apart && anchored_within(carrier, patch, connection.opening)) return true;
    }
    return false;
}

/// The overlap onto sound wall on both sides, cut off at the mouths.
bool overlaps_enough(const Problem& problem, const Candidate& patch, const Target& target) {
    const Centimetre margin = problem.overlap + problem.tolerance;
    const bool before = patch.start <= target.from - margin || patch.start == 0;
    const bool after = patch.end >= target.to + margin || patch.end == problem.run_length;
    return before && after && patch.start <= target.from && patch.end >= target.to;
}

void check_ends(const Problem& problem, const Candidate& patch, Lines& lines) {
    for (const Centimetre end : {patch.start, patch.end}) {
        for (const Span span : problem.end_keep_outs) {
            if (span.from < end && end < span.to) {
                lines.push_back(
                    joined(name(patch), ": the end at ", end, " lies inside the keep-out ", span.from, "-", span.to));
            }
        }
    }
}

void check_carrier(const Problem& problem, const Carrier& carrier, const Candidate& patch, Lines& lines) {
    const Centimetre length = patch.end - patch.start;
    if (length < carrier.length_min || length > carrier.length_max) {
        lines.push_back(joined(name(patch), ": ", length, " cm is outside the carrier's ", carrier.length_min, "-",
                               carrier.length_max, " cm"));
    }
    Centimetre from = patch.start - carrier.tail;
    Centimetre to = patch.end + carrier.tail;
    if (carrier.restraint_at_mouths) {
        from = std::max(from, 0);
        to = std::min(to, problem.run_length);
    }
    if (from < 0 || to > problem.run_length) lines.push_back(name(patch) + ": the packer sticks out of the pipe");
    const bool reached = std::any_of(carrier.reach.begin(), carrier.reach.end(),
                                     [&](Span span) { return span.from <= from && to <= span.to; });
    if (!reached) lines.push_back(name(patch) + ": the packer cannot get there");
    for (const Span span : carrier.may_not_cross) {
        if (patch.end > span.from && patch.start < span.to) {
            lines.push_back(joined(name(patch), ": crosses ", span.from, "-", span.to, ", which its carrier may not"));
        }
    }
    if (!carrier.anchors.empty() && !anchored_within(carrier, patch, {0, problem.run_length})) {
        lines.push_back(name(patch) + ": its middle does not stand on an anchor");
    }
}

void check_connections(const Problem& problem, const Carrier& carrier, const Candidate& patch, Lines& lines) {
    for (const auto& connection : problem.connections) {
        const Span hole = connection.opening;
        const bool over = patch.end > hole.from && patch.start < hole.to;
        if (over && !connection.reopening && !anchored_within(carrier, patch, hole)) {
            lines.push_back(joined(name(patch), ": closes the live connection at ", hole.from, "-", hole.to));
        }
    }
    for (const auto& target : problem.targets) {
        if (!target.needs_piece || anchored_at(problem, carrier, patch, target)) continue;
        const bool over = patch.end > target.from && patch.start < target.to;
        if (over || overlaps_enough(problem, patch, target)) {
            lines.push_back(joined(name(patch), ": lies over the target at ", target.from, "-", target.to,
                                   ", which needs a piece"));
        }
    }
}

void check_claims(const Problem& problem, const Candidate& patch, std::span<const bool> covered, Lines& lines) {
    if (patch.first_target < 0 || patch.last_target >= static_cast<int>(problem.targets.size()) ||
        patch.first_target > patch.last_target) {
        lines.push_back(name(patch) + ": names targets that do not exist");
        return;
    }
    for (int i = patch.first_target; i <= patch.last_target; ++i) {
        const auto& target = problem.targets[static_cast<std::size_t>(i)];
        // A target that no patch covers is reported as such.
        if (covered[static_cast<std::size_t>(i)] && !overlaps_enough(problem, patch, target)) {
            lines.push_back(joined(name(patch), ": does not cover the target at ", target.from, "-", target.to));
        }
    }
}

void check_neighbours(const Problem& problem, const Candidate& one, const Candidate& other, Lines& lines) {
    const bool in_order = one.start < other.start && one.end < other.end;
    if (!in_order) lines.push_back(joined(name(other), ": out of order with or within ", name(one)));
    const Centimetre between = other.start - one.end;
    if (between < problem.gap && -between < problem.lap) {
        lines.push_back(joined(name(one), " and ", name(other), ": neither a gap of ", problem.gap, " nor a lap of ",
                               problem.lap, " cm"));
    }
}

}  // namespace

std::vector<std::string> violations(const Problem& problem, std::span<const Candidate> patches) {
    Lines lines;
    const auto count = problem.targets.size();
    const auto covered = std::make_unique<bool[]>(count);
    for (const auto& patch : patches) {
        if (patch.carrier < 0 || patch.carrier >= static_cast<int>(problem.carriers.size())) {
            lines.push_back(name(patch) + ": no such carrier");
            continue;
        }
        if (patch.start >= patch.end || patch.start < 0 || patch.end > problem.run_length) {
            lines.push_back(name(patch) + ": is no sleeve inside the run");
        }
        const auto& carrier = problem.carriers[static_cast<std::size_t>(patch.carrier)];
        check_ends(problem, patch, lines);
        check_carrier(problem, carrier, patch, lines);
        check_connections(problem, carrier, patch, lines);
        for (std::size_t i = 0; i < count; ++i) {
            const auto& target = problem.targets[i];
            const bool right_piece = !target.needs_piece || anchored_at(problem, carrier, patch, target);
            if (right_piece && overlaps_enough(problem, patch, target)) covered[i] = true;
        }
    }
    for (const auto& patch : patches) check_claims(problem, patch, {covered.get(), count}, lines);
    for (std::size_t i = 0; i < count; ++i) {
        if (!covered[i]) {
            lines.push_back(
                joined("the target at ", problem.targets[i].from, "-", problem.targets[i].to, " is not covered"));
        }
    }
    for (std::size_t i = 0; i < patches.size(); ++i) {
        for (std::size_t j = i + 1; j < patches.size(); ++j) check_neighbours(problem, patches[i], patches[j], lines);
    }
    return lines;
}

}  // namespace patchwright::layout
