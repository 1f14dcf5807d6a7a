#include "rules.hpp"

#include <algorithm>
#include <cctype>
#include <cmath>

#include <fmt/format.h>

#include "patchwright/price/price.hpp"

namespace patchwright::plan {
namespace {

using layout::Centimetre;
using layout::Span;

// A survey counter reads whole centimetres; the slack keeps 4.40 m from becoming 441 cm.
Centimetre down(Length l) { return static_cast<Centimetre>(std::floor(l.in(unit::cm) + 1e-6)); }
Centimetre up(Length l) { return static_cast<Centimetre>(std::ceil(l.in(unit::cm)-1e-6)); }

Span widened(Length from, Length to, Length by, Length run_length) {
    return {down(std::max(Length{}, from - by)), up(std::min(run_length, to + by))};
}

void add_fitting_keep_outs(const PlanContext& context, const job::Run& run, std::vector<Span>& spans) {
    const auto& limits = context.yard.limits;
    for (const auto& fitting : run.fittings) {
        const auto extent = packer::extent(fitting, run);
        const bool live = fitting.kind == job::FittingKind::junction && fitting.live;
        const Length clear = (live ? limits.live_keep_out : Length{}) + limits.tolerance;
        spans.push_back(widened(extent.from, extent.to, clear, run.length));
    }
}

/// Between pipes shorter than the keep-outs of their joints no end could stand anywhere.
bool joints_leave_room(const PlanContext& context, const job::Run& run) {
    return 2.0 * (context.yard.limits.joint_keep_out + context.yard.limits.tolerance) < *run.joint_spacing;
}

/// Joints at multiples of the pipe length from `from`, where the survey gives it.
void add_joint_keep_outs(const PlanContext& context, const job::Run& run, std::vector<Span>& spans) {
    if (!run.joint_spacing || !joints_leave_room(context, run)) return;
    const Length clear = context.yard.limits.joint_keep_out + context.yard.limits.tolerance;
    const auto joints = static_cast<int>(std::floor(run.length / *run.joint_spacing - 1e-9));
    for (int i = 1; i <= joints; ++i) {
        const Length at = static_cast<double>(i) * *run.joint_spacing;
        spans.push_back(widened(at, at, clear, run.length));
    }
}

std::vector<Span> merged(std::vector<Span> spans) {
    std::sort(spans.begin(), spans.end(),
              [](Span a, Span b) { return a.from != b.from ? a.from < b.from : a.to < b.to; });
    std::vector<Span> result;
    for (const Span span : spans) {
        // Spans that only touch stay apart: an end may stand exactly between them.
        if (!result.empty() && span.from < result.back().to) {
            result.back().to = std::max(result.back().to, span.to);
        } else if (span.from < span.to) {
            result.push_back(span);
        }
    }
    return result;
}

std::vector<Span> end_keep_outs(const PlanContext& context, const job::Run& run) {
    std::vector<Span> spans;
    const auto& limits = context.yard.limits;
    for (const auto& defect : run.defects) {
        spans.push_back(widened(defect.at, defect.to, limits.defect_keep_out + limits.tolerance, run.length));
    }
    add_fitting_keep_outs(context, run, spans);
    add_joint_keep_outs(context, run, spans);
    return merged(std::move(spans));
}

layout::Cost reopening_cost(const PlanContext& context) {
    Working off = Working::off();
    const auto& rates = context.yard.rates;
    return (cost(price::crew_hour(rates, off), context.yard.durations.reopen.likely)).in_cents();
}

void add_connections(const PlanContext& context, const job::Run& run, RunRules& rules) {
    for (std::size_t i = 0; i < run.fittings.size(); ++i) {
        const auto& fitting = run.fittings[i];
        if (fitting.kind != job::FittingKind::junction || !fitting.live) continue;
        layout::Connection connection;
        connection.opening = {down(fitting.at - fitting.bore / 2.0), up(fitting.at + fitting.bore / 2.0)};
        if (run.reopening_allowed) connection.reopening = reopening_cost(context);
        rules.problem.connections.push_back(connection);
        rules.connection_fitting.push_back(static_cast<int>(i));
    }
}

bool serves(const packer::Option& option, Length bore) {
    return option.packer.bore_min <= bore && bore <= option.packer.bore_max;
}

std::optional<layout::Carrier> carrier(const PlanContext& context, const Designer& designer, int index) {
    const auto& run = designer.run();
    const auto& option = context.packers[static_cast<std::size_t>(index)];
    if (!serves(option, run.working_bore())) return std::nullopt;
    const auto& packer = option.packer;
    layout::Carrier carrier;
    carrier.packer = index;
    carrier.length_min = up(packer.usable_min);
    carrier.length_max = down(std::min(packer.usable_max, context.yard.limits.longest_sleeve));
    if (carrier.length_max < carrier.length_min) return std::nullopt;
    // A packer that stands built reaches further past a short sleeve: its shortest one sets the tail for all.
    carrier.tail = up(packer::tail(option, packer.usable_min));
    carrier.restraint_at_mouths = context.yard.limits.restraint_sleeve;
    for (const auto& reach : packer::reach(run, context.yard, option, designer.felt_allowance())) {
        carrier.reach.push_back({up(reach.from), down(reach.to)});
    }
    Working off = Working::off();
    for (const auto& fitting : run.fittings) {
        if (fitting.kind == job::FittingKind::junction) {
            const bool piece = packer.shape != job::PackerShape::straight && fitting.live;
            if (piece) carrier.anchors.push_back(down(fitting.at + 0.5 * unit::cm));
            continue;
        }
        if (packer::passage(run, context.yard.limits, fitting, packer, designer.felt_allowance(), off).may_lie_across)
            continue;
        const auto extent = packer::extent(fitting, run);
        carrier.may_not_cross.push_back(widened(extent.from, extent.to, context.yard.limits.tolerance, run.length));
    }
    const bool junction_piece = packer.shape != job::PackerShape::straight;
    if (carrier.reach.empty() || (junction_piece && carrier.anchors.empty())) return std::nullopt;
    return carrier;
}

}  // namespace

RunRules run_rules(const PlanContext& context, const Designer& designer, const std::vector<Verdict>& verdicts) {
    const auto& run = designer.run();
    const auto& limits = context.yard.limits;
    RunRules rules;
    auto& problem = rules.problem;
    problem.run_length = down(run.length);
    problem.overlap = up(limits.overlap);
    problem.tolerance = up(limits.tolerance);
    problem.gap = up(limits.gap);
    problem.lap = up(limits.lap);
    problem.end_keep_outs = end_keep_outs(context, run);
    if (run.joint_spacing && !joints_leave_room(context, run)) {
        rules.remarks.push_back(fmt::format(
            "Joints every {} stand closer than their keep-out of {} on either side: ends of sleeves may stand on one.",
            format(Show::tape, *run.joint_spacing, context.job.units),
            format(Show::tape, limits.joint_keep_out + limits.tolerance, context.job.units)));
    }
    add_connections(context, run, rules);

    for (std::size_t i = 0; i < run.defects.size(); ++i) {
        const auto verdict = verdicts[i].assessment.verdict;
        if (!survey::wants_patch(verdict)) continue;
        const auto& defect = run.defects[i];
        problem.targets.push_back({down(defect.at), std::min(problem.run_length, up(defect.to)), static_cast<int>(i),
                                   verdict == survey::Verdict::junction_piece});
    }
    std::stable_sort(problem.targets.begin(), problem.targets.end(),
                     [](const auto& a, const auto& b) { return a.from != b.from ? a.from < b.from : a.to < b.to; });
    for (const auto& target : problem.targets) rules.target_defects.push_back(target.defect);

    for (std::size_t i = 0; i < context.packers.size(); ++i) {
        if (auto c = carrier(context, designer, static_cast<int>(i))) {
            problem.carriers.push_back(std::move(*c));
            rules.carrier_option.push_back(static_cast<int>(i));
        }
    }
    return rules;
}

namespace {

std::string lifted_by(const PlanContext& context, const Designer& designer, const RunRules& rules,
                      const layout::Obstacle& obstacle) {
    const auto units = context.job.units;
    const auto bore = format(Show::tape, designer.run().working_bore(), units);
    if (!obstacle.if_lifted) return {};
    const auto& wanted = *obstacle.if_lifted;
    const auto length = format(Show::run_distance, static_cast<double>(wanted.end - wanted.start) * unit::cm, units);
    const auto& option =
        context.packers[static_cast<std::size_t>(rules.carrier_option[static_cast<std::size_t>(wanted.carrier)])];
    const auto material = job::word(option.packer.material);
    switch (obstacle.rules.front()) {
        case layout::Rule::length:
            return fmt::format("A {} packer for a sleeve of {} in {} would.", material, length, bore);
        case layout::Rule::reach:
            return "Access at the other end, or a packer that passes the fittings on the way, would.";
        case layout::Rule::bend:
            return "A soft bladder that may lie across the bend would, or a sleeve on each side of it.";
        case layout::Rule::connection:
            return "Allowing the connection to be cut open again would (\"reopening_allowed\").";
        case layout::Rule::mouth:
            return fmt::format("A restraint sleeve at the mouth would, on a sleeve of {}.", length);
        case layout::Rule::end_keep_out:
            return "More sound wall for the ends would: they stand on a defect, joint or fitting.";
        case layout::Rule::gap:
            return "A smaller gap between neighbours would.";
        case layout::Rule::price:
        case layout::Rule::none:
            return {};
    }
    return {};
}

std::string rule_words(layout::Rule rule) {
    switch (rule) {
        case layout::Rule::length:
            return "no packer of the yard carries a sleeve of the length needed";
        case layout::Rule::reach:
            return "no packer reaches it from an access";
        case layout::Rule::bend:
            return "the sleeve would lie across a fitting that its bladder may not cross";
        case layout::Rule::connection:
            return "the sleeve would cover a live connection";
        case layout::Rule::mouth:
            return "the packer would stick out of the pipe's mouth, where it balloons";
        case layout::Rule::end_keep_out:
            return "the sleeve's ends would not stand on sound wall";
        case layout::Rule::gap:
            return "there is no room between the neighbouring patches";
        case layout::Rule::price:
            return "no design of felt, resin and pressure holds there";
        case layout::Rule::none:
            return "several rules stand in the way at once";
    }
    return {};
}

}  // namespace

namespace {

/// A reason as a sentence of its own.
std::string sentence(std::string words) {
    if (words.empty()) return words;
    words.front() = static_cast<char>(std::toupper(static_cast<unsigned char>(words.front())));
    if (words.back() != '.') words += '.';
    return words;
}

bool connection_at(const RunRules& rules, const layout::Target& target) {
    return std::any_of(rules.problem.connections.begin(), rules.problem.connections.end(), [&](const auto& connection) {
        return connection.opening.from <= target.to && target.from <= connection.opening.to;
    });
}

/// Why no packer for this bore has lines enough for a sleeve over the target; empty when one has.
std::string short_line_words(const PlanContext& context, const Designer& designer, const RunRules& rules,
                             const layout::Target& target) {
    const auto& run = designer.run();
    const auto& problem = rules.problem;
    const auto aside = problem.overlap + problem.tolerance;
    const Length start = static_cast<double>(std::max(0, target.from - aside)) * unit::cm;
    const Length end = static_cast<double>(std::min(problem.run_length, target.to + aside)) * unit::cm;
    std::optional<packer::ShortLines> least;
    for (const auto& option : context.packers) {
        if (!serves(option, run.working_bore())) continue;
        auto lines = packer::short_lines(run, context.yard, option, start, end);
        if (!lines) continue;
        if (lines->lines.empty()) return {};
        if (!least || lines->wanting() < least->wanting()) least = std::move(lines);
    }
    if (!least) return {};
    const auto length = [&](Length l) { return format(Show::run_distance, l, context.job.units); };
    std::vector<std::string> names, amounts;
    bool straps = false;
    for (const auto& line : least->lines) {
        names.emplace_back(line.what);
        amounts.push_back(fmt::format("{} of {}, {} wanted", length(line.length),
                                      line.what.substr(line.what.find(' ') + 1), length(line.needed)));
        straps = straps || line.what == "straps";
    }
    return fmt::format("the {} do{} not reach from {}: {} ({}{} depth, {} above ground). Longer ones would{}.",
                       fmt::join(names, " and the "), names.size() == 1 && names.front().back() != 's' ? "es" : "",
                       least->from, fmt::join(amounts, "; "),
                       straps ? "straps lie through the whole run; " : "far end of the sleeve, ", length(run.depth),
                       length(context.yard.limits.reach_slack), straps ? "" : ", or access nearer to it");
}

/// That no packer for this bore turns in from the run's chambers; empty when one does.
std::string narrow_opening_words(const PlanContext& context, const Designer& designer) {
    const auto& run = designer.run();
    const packer::Option* best = nullptr;
    Length wanted{};
    for (const auto& option : context.packers) {
        if (!serves(option, run.working_bore())) continue;
        if (packer::goes_in(run, option, designer.felt_allowance())) return {};
        const Length its = packer::opening_wanted(run, option, designer.felt_allowance());
        if (!best || its < wanted) best = &option, wanted = its;
    }
    if (!best) return {};
    return fmt::format(
        "the stiff part of {}, {} long, does not turn into the pipe from a chamber {} wide; one of {} "
        "would do, or a packer with a shorter stiff part.",
        best->packer.id, format(Show::tape, best->packer.rigid_length, context.job.units),
        format(Show::tape, *run.chamber_opening, context.job.units), format(Show::tape, wanted, context.job.units));
}

/// What stands in the way of one target, and what would lift it.
std::string reason(const PlanContext& context, const Designer& designer, const RunRules& rules,
                   const layout::Obstacle& obstacle) {
    const auto& target = rules.problem.targets[static_cast<std::size_t>(obstacle.target)];
    if (auto words = short_line_words(context, designer, rules, target); !words.empty()) return words;
    if (auto words = narrow_opening_words(context, designer); rules.problem.carriers.empty() && !words.empty())
        return words;
    if (rules.problem.carriers.empty()) {
        return fmt::format("no packer of the yard serves a bore of {} from this access.",
                           format(Show::tape, designer.run().working_bore(), context.job.units));
    }
    if (target.needs_piece && !connection_at(rules, target)) {
        return "only a packer with a branch seals a connection, and the job file has no live junction where this "
               "defect lies. Its distance, or a junction there, would.";
    }
    const auto rule = obstacle.rules.empty() ? layout::Rule::none : obstacle.rules.front();
    auto words = rule_words(rule) + ".";
    if (rule == layout::Rule::price || rule == layout::Rule::none) {
        if (const auto reasons = designer.obstacles(); !reasons.empty()) words += " " + sentence(reasons.front());
    }
    if (!obstacle.rules.empty()) {
        if (auto lift = lifted_by(context, designer, rules, obstacle); !lift.empty()) words += " " + lift;
    }
    return words;
}

}  // namespace

std::vector<Verdict> verdicts_of(const job::Run& run, const job::Limits& limits, UnitSystem units) {
    std::vector<Verdict> verdicts;
    for (const auto& defect : run.defects) verdicts.push_back({defect.id, survey::judge(run, defect, limits, units)});
    return verdicts;
}

std::vector<std::string> obstacle_words(const PlanContext& context, const Designer& designer, const RunRules& rules,
                                        const std::vector<layout::Obstacle>& obstacles) {
    std::vector<std::pair<std::string, std::string>> by_reason;  // reason, ids
    for (const auto& obstacle : obstacles) {
        const auto target = static_cast<std::size_t>(obstacle.target);
        const auto& id = designer.run().defects[static_cast<std::size_t>(rules.target_defects[target])].id;
        auto words = reason(context, designer, rules, obstacle);
        const auto same =
            std::find_if(by_reason.begin(), by_reason.end(), [&](const auto& row) { return row.first == words; });
        if (same == by_reason.end())
            by_reason.emplace_back(std::move(words), id);
        else
            same->second += ", " + id;
    }
    std::vector<std::string> lines;
    for (const auto& [words, ids] : by_reason) lines.push_back(fmt::format("{}: {}", ids, words));
    return lines;
}

}  // namespace patchwright::plan
