#include "patchwright/packer/rigging.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "hair.hpp"
#include "patchwright/job/yard.hpp"
#include "patchwright/packer/passage.hpp"
#include "patchwright/packer/pressure.hpp"
#include "patchwright/units/error.hpp"

namespace patchwright::packer {
namespace {

constexpr std::array<Symbol, 2> mark_inputs{
    {{"s", "sleeve from this mouth to its near end", Show::run_distance}, {"l", "sleeve length", Show::run_distance}}};
constexpr Formula mark_formula{"packer.mark",
                               {"m", "mark from the mouth to the sleeve's middle", Show::run_distance},
                               "m = s + l/2",
                               mark_inputs,
                               "common practice, no source",
                               "packer"};

constexpr std::array<Symbol, 3> line_inputs{
    {{"e", "mouth to the sleeve's far end; for straps the whole run", Show::run_distance},
     {"d", "depth of the run", Show::run_distance},
     {"c", "slack above ground", Show::run_distance}}};
constexpr Formula line_formula{"packer.line",
                               {"w", "rods, or each strap, at least", Show::run_distance},
                               "w = e + d + c",
                               line_inputs,
                               "common practice, no source",
                               "packer"};

constexpr std::array<Symbol, 2> drag_inputs{
    {{"f", "drag of one metre of packer", Show::force}, {"l", "packer, tip to tip", Show::run_distance}}};
constexpr Formula drag_formula{"packer.drag",
                               {"F0", "drag in straight pipe", Show::force},
                               "F0 = f l / 1 m",
                               drag_inputs,
                               "common practice, no source",
                               "packer"};

constexpr std::array<Symbol, 3> capstan_inputs{{{"F0", "strap force before the bends", Show::force},
                                                {"mu", "friction of strap on pipe", Show::ratio},
                                                {"a", "bends together", Show::angle}}};
constexpr Formula capstan_formula{
    "packer.capstan", {"F", "strap force", Show::force},     "F = F0 exp(mu a), a in radians",
    capstan_inputs,   "capstan equation (Euler, Eytelwein)", "packer"};

/// The run seen from one of its accesses: distances count from that mouth.
struct View {
    const job::Run& run;
    bool from_start = true;
    Length near(Length a, Length b) const { return from_start ? std::min(a, b) : run.length - std::max(a, b); }
    Length far(Length a, Length b) const { return from_start ? std::max(a, b) : run.length - std::min(a, b); }
    const std::string& node() const { return from_start ? run.from : run.to; }
};

bool may_go_in(const View& view) { return view.from_start ? view.run.access_at_from() : view.run.access_at_to(); }

/// Fittings in the order in which a packer meets them from that access.
std::vector<const job::Fitting*> in_order(const View& view) {
    std::vector<const job::Fitting*> fittings;
    for (const job::Fitting& fitting : view.run.fittings) fittings.push_back(&fitting);
    std::stable_sort(fittings.begin(), fittings.end(), [&](const job::Fitting* a, const job::Fitting* b) {
        return view.near(a->at, a->at) < view.near(b->at, b->at);
    });
    return fittings;
}

Angle all_bends(const job::Run& run) {
    Angle sum{};
    for (const job::Fitting& fitting : run.fittings) {
        if (fitting.kind != job::FittingKind::bend) continue;
        sum += fitting.angle > Angle{} ? fitting.angle : 90.0 * unit::deg;
    }
    return sum;
}

Length keep_out(const job::Limits& limits) { return limits.restraint_sleeve ? Length{} : limits.chamber_keep_out; }

bool may_be_pushed(const job::Yard& yard, const Option& option, Length sleeve) {
    if (!option.to_build) return true;
    const Length rod = yard.chassis.at(static_cast<std::size_t>(option.chassis)).rod_length;
    // Without its rod to the front fitting a soft bladder folds up when it is pushed from behind.
    return rod == Length{} || sleeve + 2.0 * option.packer.projection <= rod + hair;
}

/// How far into the pipe a line of that length reaches: what hangs down the chamber and lies above ground comes off.
Length into_pipe(Length line, const job::Run& run, const job::Limits& limits) {
    return line - run.depth - limits.reach_slack;
}

bool is_enough(Length line, Length wanted) { return wanted <= line + hair; }

bool rod_reaches(const job::Run& run, const job::Yard& yard, const Option& option, Length sleeve, int bends,
                 Length far_end) {
    return bends <= yard.limits.push_bends_most && may_be_pushed(yard, option, sleeve) &&
           is_enough(yard.limits.push_reach, lines_wanted(run, yard.limits, far_end).rods);
}

std::optional<Force> strap_force(const job::Run& run, const job::Yard& yard, const Option& option, Length sleeve,
                                 Working& working) {
    const Length length = overall_length(option, sleeve);
    const Force drag = yard.limits.strap_drag * length.in(unit::m);
    working.add(drag_formula, {Operand{yard.limits.strap_drag, Origin::yard}, length}, drag);
    const Force force = capstan(drag, yard.limits.strap_friction, all_bends(run), working);
    if (yard.limits.strap_rating > Force{} && force > yard.limits.strap_rating) return std::nullopt;
    return force;
}

bool may_be_pulled(const job::Run& run, const Option& option) {
    return option.packer.shape == job::PackerShape::straight && run.access_at_from() && run.access_at_to();
}

bool can_be_pulled(const job::Run& run, const job::Limits& limits, const Option& option) {
    return may_be_pulled(run, option) && is_enough(limits.strap_length, lines_wanted(run, limits, run.length).straps);
}

int bends_before(const View& view, Length far_end) {
    int bends = 0;
    for (const job::Fitting& fitting : view.run.fittings) {
        const Extent place = extent(fitting, view.run);
        if (fitting.kind == job::FittingKind::bend && view.near(place.from, place.to) < far_end) ++bends;
    }
    return bends;
}

/// Bends that the packer travels through up to `far_end`, or nullopt when a fitting stops it.
std::optional<int> bends_on_the_way(const View& view, const job::Yard& yard, const Option& option, Length far_end,
                                    Length felt, Working& working) {
    int bends = 0;
    for (const job::Fitting& fitting : view.run.fittings) {
        const Extent place = extent(fitting, view.run);
        if (view.near(place.from, place.to) >= far_end) continue;
        if (!passage(view.run, yard.limits, fitting, option.packer, felt, working).passes) return std::nullopt;
        if (fitting.kind == job::FittingKind::bend) ++bends;
    }
    return bends;
}

bool lies_across_something_it_may_not(const job::Run& run, const job::Yard& yard, const Option& option, Length start,
                                      Length end, Length felt) {
    // A packer with a core is stiff over its whole length, so its tails must lie straight as well.
    const Length reach_past = felt_over_rigid(option.packer) ? tail(option, end - start) : Length{};
    Working forget = Working::off();
    return std::any_of(run.fittings.begin(), run.fittings.end(), [&](const job::Fitting& fitting) {
        const Extent place = extent(fitting, run);
        if (place.to <= start - reach_past || place.from >= end + reach_past) return false;
        return !passage(run, yard.limits, fitting, option.packer, felt, forget).may_lie_across;
    });
}

/// The connection on which a T or Y piece is set: nearest to the sleeve's middle, and under the sleeve.
const job::Fitting* connection_under(const job::Run& run, Length start, Length end) {
    const Length middle = (start + end) / 2.0;
    const job::Fitting* best = nullptr;
    for (const job::Fitting& fitting : run.fittings) {
        if (fitting.kind != job::FittingKind::junction || fitting.at < start || fitting.at > end) continue;
        if (!best || abs(fitting.at - middle) < abs(best->at - middle)) best = &fitting;
    }
    return best;
}

std::vector<std::string> notes_for(const Rigging& rigging, const job::PackerShape shape) {
    std::vector<std::string> notes;
    if (rigging.method == Method::pull) {
        notes.push_back(
            "Fix a strap to both ends: one draws the packer in, the other holds it back and brings it out again.");
    }
    if (rigging.bends > 0) notes.push_back("Try the way with the dry packer first.");
    if (shape != job::PackerShape::straight) {
        notes.push_back(rigging.turn_to ? "Turn the rod until the branch looks to the clock position given."
                                        : "The survey gives no clock position for the connection: find it by camera.");
    }
    if (rigging.restraint_sleeve) {
        notes.push_back("Put the restraint sleeve over the bare bladder that would balloon, before any air goes in.");
    }
    return notes;
}

}  // namespace

std::string_view word(Method m) { return m == Method::push ? "push" : "pull"; }

Force capstan(Force before, double friction, Angle total, Working& working) {
    if (!is_finite(before) || before < Force{} || !std::isfinite(friction) || friction < 0.0 || !is_finite(total) ||
        total < Angle{}) {
        throw RangeError("strap force: force, friction and angle must be zero or more");
    }
    const Force after = before * std::exp(friction * total.in(unit::rad));
    working.add(capstan_formula, {before, Operand{friction, Origin::yard}, total}, after);
    return after;
}

Lines lines_wanted(const job::Run& run, const job::Limits& limits, Length far_end) {
    const Length above = run.depth + limits.reach_slack;
    return {far_end + above, far_end + above, run.length + above};
}

Lie lie(const job::Run& run, const job::Yard& yard, const Option& option, Length start, Length end) {
    Lie result;
    const Length past = tail(option, end - start);
    const Length keep = yard.limits.chamber_keep_out;
    if (start - past < keep - hair) {
        result.troubles.push_back("The bladder past the sleeve would reach the mouth at " + run.from + ".");
    }
    if (end + past > run.length - keep + hair) {
        result.troubles.push_back("The bladder past the sleeve would reach the mouth at " + run.to + ".");
    }
    const auto under_a_tail = [&](Length from, Length to) {
        return (to > start - past && from < start) || (to > end && from < end + past);
    };
    for (const job::Fitting& fitting : run.fittings) {
        const Extent place = extent(fitting, run);
        if (fitting.kind == job::FittingKind::junction && under_a_tail(place.from, place.to)) {
            result.troubles.push_back("The bladder past the sleeve would lie over the open " + fitting.id + ".");
        }
    }
    for (const job::Defect& defect : run.defects) {
        if (is_hole(defect) && under_a_tail(defect.at, defect.to)) {
            result.troubles.push_back("The bladder past the sleeve would lie over the hole of defect " + defect.id +
                                      ".");
        }
    }
    result.in_pipe = result.troubles.empty();
    result.restraint_needed = !result.in_pipe && yard.limits.restraint_sleeve;
    return result;
}

std::vector<Rigging> riggings(const job::Run& run, const job::Yard& yard, const Option& option, Length start,
                              Length end, Length felt, Working& working) {
    if (!is_finite(start) || !is_finite(end) || !(start < end)) {
        throw RangeError("rigging: the sleeve's start must lie before its end");
    }
    std::vector<Rigging> ways;
    const Length sleeve = end - start;
    const Lie lying = lie(run, yard, option, start, end);
    if (!lying.in_pipe && !lying.restraint_needed) return ways;
    if (!unfit(option, yard.limits, run.working_bore(), sleeve, felt).empty()) return ways;
    if (!goes_in(run, option, felt)) return ways;
    if (lies_across_something_it_may_not(run, yard, option, start, end, felt)) return ways;

    const bool piece = option.packer.shape != job::PackerShape::straight;
    const job::Fitting* connection = piece ? connection_under(run, start, end) : nullptr;
    if (piece && !connection) return ways;

    std::optional<Force> pull;
    if (can_be_pulled(run, yard.limits, option)) pull = strap_force(run, yard, option, sleeve, working);
    for (const bool from_start : {true, false}) {
        const View view{run, from_start};
        if (!may_go_in(view)) continue;
        const Length far_end = view.far(start, end);
        const Lines lines = lines_wanted(run, yard.limits, far_end);
        if (!is_enough(option.packer.hose_length, lines.hose)) continue;
        const Length near_end = view.near(start, end);
        const Length mark = near_end + sleeve / 2.0;
        const Length front = far_end + tail(option, sleeve);
        const std::optional<int> bends = bends_on_the_way(view, yard, option, front, felt, working);
        if (!bends) continue;
        Rigging way;
        way.from = view.node();
        way.mark = mark;
        way.bends = *bends;
        way.restraint_sleeve = lying.restraint_needed;
        if (connection) way.turn_to = connection->clock;
        const bool push = rod_reaches(run, yard, option, sleeve, *bends, far_end);
        if (push || pull) working.add(mark_formula, {near_end, sleeve}, mark);
        const auto add_way = [&](Method method, Operand along, Length line) {
            way.method = method;
            way.line = line;
            working.add(line_formula,
                        {along, Operand{run.depth, Origin::given}, Operand{yard.limits.reach_slack, Origin::yard}},
                        line);
            way.notes = notes_for(way, option.packer.shape);
            ways.push_back(way);
        };
        if (push) add_way(Method::push, far_end, lines.rods);
        if (pull) {
            way.pull = *pull;
            add_way(Method::pull, {run.length, Origin::given}, lines.straps);
        }
    }
    std::stable_sort(ways.begin(), ways.end(), [](const Rigging& a, const Rigging& b) {
        return a.mark != b.mark ? a.mark < b.mark : a.method < b.method;
    });
    return ways;
}

Length ShortLines::wanting() const {
    Length sum{};
    for (const ShortLine& line : lines) sum += line.needed - line.length;
    return sum;
}

std::optional<ShortLines> short_lines(const job::Run& run, const job::Yard& yard, const Option& option, Length start,
                                      Length end) {
    const job::Limits& limits = yard.limits;
    const Length sleeve = end - start;
    Working forget = Working::off();
    const bool pull = may_be_pulled(run, option) && strap_force(run, yard, option, sleeve, forget);
    std::optional<ShortLines> least;
    for (const bool from_start : {true, false}) {
        const View view{run, from_start};
        if (!may_go_in(view)) continue;
        const Length far_end = view.far(start, end);
        const Lines wanted = lines_wanted(run, limits, far_end);
        const bool push = bends_before(view, far_end + tail(option, sleeve)) <= limits.push_bends_most &&
                          may_be_pushed(yard, option, sleeve);
        if (!push && !pull) continue;
        ShortLines here{view.node(), {}};
        if (!is_enough(option.packer.hose_length, wanted.hose))
            here.lines.push_back({"air hose", option.packer.hose_length, wanted.hose});
        const bool pushed = push && is_enough(limits.push_reach, wanted.rods);
        const bool pulled = pull && is_enough(limits.strap_length, wanted.straps);
        if (push && !pushed && !pulled)
            here.lines.push_back({"push rods", limits.push_reach, wanted.rods});
        else if (pull && !push && !pulled)
            here.lines.push_back({"straps", limits.strap_length, wanted.straps});
        if (here.lines.empty()) return here;
        if (!least || here.wanting() < least->wanting()) least = std::move(here);
    }
    return least;
}

bool has_way(const job::Run& run, const WallIndex& walls, const job::Yard& yard, const Option& option, Length start,
             Length end, Length felt) {
    const Length sleeve = end - start;
    const Length past = tail(option, sleeve);
    if (!yard.limits.restraint_sleeve) {
        const Length keep = yard.limits.chamber_keep_out;
        if (start - past < keep - hair || end + past > run.length - keep + hair) return false;
        if (walls.open_within(start - past, start) || walls.open_within(end, end + past)) return false;
    }
    if (!unfit(option, yard.limits, run.working_bore(), sleeve, felt).empty()) return false;
    if (!goes_in(run, option, felt)) return false;
    if (lies_across_something_it_may_not(run, yard, option, start, end, felt)) return false;
    if (option.packer.shape != job::PackerShape::straight && !connection_under(run, start, end)) return false;
    Working forget = Working::off();
    const auto can_pull = [&] {
        return can_be_pulled(run, yard.limits, option) && strap_force(run, yard, option, sleeve, forget).has_value();
    };
    for (const bool from_start : {true, false}) {
        const View view{run, from_start};
        if (!may_go_in(view)) continue;
        const Length far_end = view.far(start, end);
        if (!is_enough(option.packer.hose_length, lines_wanted(run, yard.limits, far_end).hose)) continue;
        const std::optional<int> bends = bends_on_the_way(view, yard, option, far_end + past, felt, forget);
        if (!bends) continue;
        if (rod_reaches(run, yard, option, sleeve, *bends, far_end) || can_pull()) return true;
    }
    return false;
}

std::vector<Reach> reach(const job::Run& run, const job::Yard& yard, const Option& option, Length felt) {
    std::vector<Reach> spans;
    if (min_bore(option.packer, felt, yard.limits) > run.working_bore() + hair || !goes_in(run, option, felt))
        return spans;
    Working forget = Working::off();
    const Length keep = keep_out(yard.limits);
    const Length shortest = option.packer.usable_min;
    const bool pull =
        can_be_pulled(run, yard.limits, option) && strap_force(run, yard, option, shortest, forget).has_value();
    const Length line = pull ? option.packer.hose_length : std::min(option.packer.hose_length, yard.limits.push_reach);
    const Length max_front = into_pipe(line, run, yard.limits) + tail(option, shortest);
    for (const bool from_start : {true, false}) {
        const View view{run, from_start};
        if (!may_go_in(view)) continue;
        Length limit = std::min(run.length - keep, max_front);
        int bends = 0;
        for (const job::Fitting* fitting : in_order(view)) {
            const bool bend = fitting->kind == job::FittingKind::bend;
            const bool stops = !passage(run, yard.limits, *fitting, option.packer, felt, forget).passes;
            if (bend) ++bends;
            if (!stops && (pull || bends <= yard.limits.push_bends_most)) continue;
            const Extent place = extent(*fitting, run);
            limit = std::min(limit, view.near(place.from, place.to));
            break;
        }
        if (limit <= keep) continue;
        if (view.from_start) {
            spans.push_back({keep, limit, view.node()});
        } else {
            spans.push_back({run.length - limit, run.length - keep, view.node()});
        }
    }
    return spans;
}

}  // namespace patchwright::packer
