// Where the patches lie, and that every defect is answered.
#include <algorithm>
#include <cmath>
#include <map>

#include "support/faults.hpp"
#include "support/plan_rules.hpp"

namespace patchwright::test {
namespace {

constexpr Length hair = 1e-6 * unit::m;  ///< for sums of metres in binary

const job::Run& run_of(const job::Job& job, const plan::Patch& p) { return job.runs[static_cast<std::size_t>(p.run)]; }

/// Lies inside the open span, and not at a mouth of the run.
bool stands_in(Length end, Length from, Length to, const job::Run& run) {
    if (end <= hair || end >= run.length - hair) return false;
    return end > from + hair && end < to - hair;
}

void check_cover(const job::Run& run, const job::Limits& limits, const plan::Patch& p, Faults& faults) {
    const Length reach = limits.overlap + limits.tolerance;
    for (const int d : p.defects) {
        const auto& defect = run.defects[static_cast<std::size_t>(d)];
        const Length from = std::max(Length{}, defect.at - reach);
        const Length to = std::min(run.length, defect.to + reach);
        // Positions are whole centimetres: a mouth that is none is met to the centimetre.
        faults.unless(p.start <= from + hair && p.end >= to - 1.0 * unit::cm - hair, "{} does not cover {}", p.id,
                      defect.id);
        faults.unless(to >= run.length - hair || p.end >= to - hair, "{} does not cover the end of {}", p.id,
                      defect.id);
    }
}

void check_ends(const job::Run& run, const job::Limits& limits, const plan::Patch& p, Faults& faults) {
    for (const Length end : {p.start, p.end}) {
        const double at = end.in(unit::m);
        for (const auto& defect : run.defects) {
            const Length clear = limits.defect_keep_out + limits.tolerance;
            faults.unless(!stands_in(end, defect.at - clear, defect.to + clear, run), "{}: end at {} m on defect {}",
                          p.id, at, defect.id);
        }
        for (const auto& fitting : run.fittings) {
            Length half{};
            if (fitting.kind == job::FittingKind::bend && fitting.radius)
                half = *fitting.radius * fitting.angle.si() / 2.0;
            if (fitting.kind == job::FittingKind::junction) {
                half = fitting.bore / 2.0 + (fitting.live ? limits.live_keep_out : Length{});
            }
            half = half + limits.tolerance;
            faults.unless(!stands_in(end, fitting.at - half, fitting.at + half, run),
                          "{}: end at {} m in the fitting at {} m", p.id, at, fitting.at.in(unit::m));
        }
        const Length clear = limits.joint_keep_out + limits.tolerance;
        if (!run.joint_spacing || 2.0 * clear >= *run.joint_spacing) continue;
        const double joint = std::round(end / *run.joint_spacing);
        const Length joint_at = joint * *run.joint_spacing;
        if (joint < 1.0 || joint_at > run.length - hair) continue;
        faults.unless(!stands_in(end, joint_at - clear, joint_at + clear, run), "{}: end at {} m on a joint", p.id, at);
    }
}

/// Hose, and rods or straps, reach down the chamber and along the pipe. Geometry.
void check_lines(const job::Run& run, const job::Limits& limits, const plan::Patch& p, Faults& faults) {
    const bool from_start = p.rigging.from == run.from;
    const Length far_end = from_start ? p.end : run.length - p.start;
    const Length above = run.depth + limits.reach_slack;
    faults.unless(p.option.packer.hose_length >= far_end + above - hair, "{}: the air hose does not reach", p.id);
    const bool push = p.rigging.method == packer::Method::push;
    faults.unless(push ? limits.push_reach >= far_end + above - hair : limits.strap_length >= run.length + above - hair,
                  "{}: the {} do not reach", p.id, push ? "rods" : "straps");
}

void check_fittings(const job::Run& run, const job::Limits& limits, const plan::Patch& p, Faults& faults) {
    const bool piece = p.option.packer.shape != job::PackerShape::straight;
    int live_inside = 0;
    for (std::size_t i = 0; i < run.fittings.size(); ++i) {
        const auto& fitting = run.fittings[i];
        if (fitting.kind == job::FittingKind::junction && fitting.live) {
            const bool covered =
                p.start < fitting.at + fitting.bore / 2.0 - hair && p.end > fitting.at - fitting.bore / 2.0 + hair;
            const bool reopened =
                std::find(p.reopened.begin(), p.reopened.end(), static_cast<int>(i)) != p.reopened.end();
            live_inside += covered ? 1 : 0;
            faults.unless(!covered || piece || reopened, "{} covers a live connection and does not open it again",
                          p.id);
            faults.unless(!reopened || run.reopening_allowed, "{} opens a connection again, which the job forbids",
                          p.id);
        }
        if (fitting.kind == job::FittingKind::bend && p.start < fitting.at && fitting.at < p.end) {
            const bool soft = p.option.packer.material != job::BladderMaterial::pvc_hose;
            const bool wide =
                fitting.radius && *fitting.radius >= limits.crossing_radius_share * run.working_bore() - hair;
            faults.unless(soft, "{}: a {} bladder lies across a bend", p.id, job::word(p.option.packer.material));
            faults.unless(fitting.angle.si() <= limits.crossing_angle_most.si() + 1e-9 || wide || !fitting.radius,
                          "{}: lies across a bend that is too sharp", p.id);
        }
    }
    faults.unless(!piece || live_inside == 1, "{}: a junction piece over {} live connections", p.id, live_inside);
}

void check_packer(const job::Job& job, const job::Yard& yard, const plan::Patch& p, Faults& faults) {
    const auto& run = run_of(job, p);
    const auto& packer = p.option.packer;
    const Length most = std::min(packer.usable_max, yard.limits.longest_sleeve);
    faults.unless(p.length() >= packer.usable_min - hair && p.length() <= most + hair, "{}: {} m is not for packer {}",
                  p.id, p.length().in(unit::m), packer.id);
    faults.unless(p.bore >= packer.bore_min && p.bore <= packer.bore_max, "{}: bore not for packer {}", p.id,
                  packer.id);
    const bool sticks_out = p.start < packer.projection - hair || p.end > run.length - packer.projection + hair;
    faults.unless(!sticks_out || p.rigging.restraint_sleeve, "{}: the packer sticks out of the pipe unrestrained",
                  p.id);
    faults.unless(std::find(run.access.begin(), run.access.end(), p.rigging.from) != run.access.end(),
                  "{}: goes in at {}, which is no access", p.id, p.rigging.from);
    const Length middle = p.start + p.length() / 2.0;
    const Length mark = p.rigging.from == run.from ? middle : run.length - middle;
    faults.unless(std::abs((p.rigging.mark - mark).si()) <= hair.si(), "{}: mark {} m, sleeve's middle at {} m", p.id,
                  p.rigging.mark.in(unit::m), mark.in(unit::m));
}

/// Two sleeves of one run leave the gap, or lap by enough.
void check_neighbours(const job::Job& job, const job::Yard& yard, const plan::Plan& plan, Faults& faults) {
    for (const auto& a : plan.patches) {
        for (const auto& b : plan.patches) {
            if (a.run != b.run || a.start > b.start || &a == &b) continue;
            if (a.start == b.start) faults.unless(a.id == b.id, "{} and {} start together", a.id, b.id);
            const Length apart = b.start - a.end;
            faults.unless(apart >= yard.limits.gap - hair || -apart >= yard.limits.lap - hair,
                          "{} and {} are {} m apart in run {}", a.id, b.id, apart.in(unit::m), run_of(job, a).id);
        }
    }
}

/// Every defect that wants a patch is in one, or the plan says why not; no other defect is.
void check_all_answered(const job::Job& job, const plan::Plan& plan, Faults& faults) {
    std::map<std::pair<int, int>, int> covered;
    for (const auto& p : plan.patches) {
        for (const int d : p.defects) ++covered[{p.run, d}];
    }
    for (std::size_t r = 0; r < plan.runs.size(); ++r) {
        const auto& run = plan.runs[r];
        faults.unless(run.verdicts.size() == job.runs[r].defects.size(), "run {}: a defect without verdict", run.id);
        for (std::size_t d = 0; d < run.verdicts.size(); ++d) {
            const auto& verdict = run.verdicts[d];
            const bool wanted = survey::wants_patch(verdict.assessment.verdict);
            const int times = covered[{static_cast<int>(r), static_cast<int>(d)}];
            faults.unless(!verdict.assessment.reasons.empty(), "run {}: {} without a reason", run.id, verdict.defect);
            faults.unless(wanted || times == 0, "run {}: {} is patched but its verdict is {}", run.id, verdict.defect,
                          survey::word(verdict.assessment.verdict));
            const bool said = std::any_of(run.unanswered.begin(), run.unanswered.end(), [&](const std::string& words) {
                return words.substr(0, words.find(':')).find(verdict.defect) != std::string::npos;
            });
            faults.unless(!wanted || times == 1 || said || run.no_day,
                          "run {}: {} is in {} patches and nothing is said", run.id, verdict.defect, times);
            faults.unless(times == 1 || !plan.everything_patched, "run {}: {} is not patched but all is called patched",
                          run.id, verdict.defect);
        }
    }
}

void check_layout_cost(const plan::Plan& plan, Faults& faults) {
    std::int64_t patches = 0, candidates = 0;
    std::size_t chosen = 0;
    for (const auto& p : plan.patches) {
        patches += p.cost.in_cents();
        faults.unless(p.cost.in_cents() > 0, "{} costs nothing", p.id);
    }
    for (const auto& run : plan.runs) {
        for (const int k : run.chosen) {
            const auto& candidate = run.solution.candidates.at(static_cast<std::size_t>(k));
            candidates += candidate.cost;
            ++chosen;
            const bool stands = std::any_of(plan.patches.begin(), plan.patches.end(), [&](const plan::Patch& p) {
                return plan.runs[static_cast<std::size_t>(p.run)].id == run.id &&
                       std::lround(p.start.in(unit::cm)) == candidate.start &&
                       std::lround(p.end.in(unit::cm)) == candidate.end &&
                       p.option.packer.id == run.carrier_packers[static_cast<std::size_t>(candidate.carrier)];
            });
            faults.unless(stands, "run {}: no patch at the chosen candidate {} to {} cm", run.id, candidate.start,
                          candidate.end);
        }
    }
    faults.unless(chosen == plan.patches.size(), "{} candidates chosen, {} patches", chosen, plan.patches.size());
    faults.unless(patches == plan.layout.cost.in_cents(), "layout cost {}, patches {}", plan.layout.cost.in_cents(),
                  patches);
    faults.unless(candidates == patches, "candidates {}, patches {}", candidates, patches);
}

}  // namespace

std::vector<std::string> broken_layout_rules(const job::Job& job, const job::Yard& yard, const plan::Plan& plan) {
    Faults faults;
    for (const auto& p : plan.patches) {
        const auto& run = run_of(job, p);
        faults.unless(Length{} <= p.start && p.start < p.end && p.end <= run.length + hair, "{} not in its run", p.id);
        faults.unless(!p.defects.empty(), "{} covers nothing", p.id);
        check_cover(run, yard.limits, p, faults);
        check_ends(run, yard.limits, p, faults);
        check_fittings(run, yard.limits, p, faults);
        check_lines(run, yard.limits, p, faults);
        check_packer(job, yard, p, faults);
    }
    check_neighbours(job, yard, plan, faults);
    check_all_answered(job, plan, faults);
    check_layout_cost(plan, faults);
    return faults.list;
}

}  // namespace patchwright::test
