#include "patchwright/survey/verdict.hpp"

#include <cmath>

#include <fmt/core.h>

#include "limits.hpp"
#include "patchwright/units/error.hpp"

namespace patchwright::survey {
namespace {

using job::DefectKind;
using job::Inflow;

/// One defect while it is being judged.
struct Case {
    const job::Run& run;
    const job::Defect& defect;
    const job::Limits& limits;
    UnitSystem units;
    Length bore;
    Judgement& out;

    void decide(Verdict verdict, std::string reason) {
        out.verdict = verdict;
        out.reasons.insert(out.reasons.begin(), std::move(reason));
    }
    void add(std::string reason) { out.reasons.push_back(std::move(reason)); }
    void prepare(std::string what) { out.preparations.push_back(std::move(what)); }
    std::string show(Length length) const { return detail::small_length(length, units); }
    /// Compares with the working kept; true when a patch holds.
    bool meets(Length figure, Length limit) { return detail::within(figure, limit, out.working); }
    bool meets_percent(double figure, double limit) {
        return detail::share_within(figure / 100.0, limit / 100.0, out.working);
    }
};

bool usable(double value) { return std::isfinite(value) && value >= 0.0; }

void refuse_bad_figures(const job::Run& run, const job::Defect& defect) {
    const double bore = run.working_bore().si();
    if (!usable(bore) || bore == 0.0) throw RangeError("verdict: the bore must be above zero");
    const bool places = usable(defect.at.si()) && usable(defect.to.si()) && defect.to >= defect.at;
    const bool figures =
        (!defect.size || usable(defect.size->si())) && (!defect.size_percent || usable(*defect.size_percent));
    if (!places || !figures)
        throw RangeError(
            fmt::format("verdict: defect {} needs places in order and figures that are not negative", defect.id));
}

/// EN 13508-2 characterisation, the letter after the main code: 'A' in "BAJ A" and "BAJA".
char characterisation(std::string_view code, std::string_view main_code) {
    if (!code.starts_with(main_code)) return '\0';
    const std::size_t letter = code.find_first_not_of(" .-", main_code.size());
    return letter == std::string_view::npos ? '\0' : code[letter];
}

/// A junction whose opening meets the defect; `slack` allows for the survey counter.
const job::Fitting* junction_at(const job::Run& run, const job::Defect& defect, Length slack) {
    for (const job::Fitting& fitting : run.fittings) {
        if (fitting.kind != job::FittingKind::junction) continue;
        const Length half = fitting.bore / 2.0 + slack;
        if (fitting.at + half >= defect.at && fitting.at - half <= defect.to) return &fitting;
    }
    return nullptr;
}

// --- one function a kind; each leaves a verdict and its deciding reason ---

void judge_opening(Case& c, std::string_view what) {
    if (const auto width = detail::as_length(c.defect, c.bore)) {
        const Length limit = detail::hole_limit(c.limits, c.bore, c.out.working);
        if (!c.meets(*width, limit)) {
            c.decide(Verdict::dig,
                     fmt::format("The {} is {} wide; beyond {} ({} of the bore) it counts as missing wall, "
                                 "too much for a sleeve to bridge.",
                                 what, c.show(*width), c.show(limit), c.limits.hole_share));
            return;
        }
        c.decide(Verdict::patch, fmt::format("The {} is {} wide; up to {} ({} of the bore) a sleeve bridges it.", what,
                                             c.show(*width), c.show(limit), c.limits.hole_share));
        return;
    }
    c.decide(Verdict::patch, fmt::format("A {} with its pieces in place is bridged by a sleeve.", what));
}

void judge_deformation(Case& c, std::string_view what) {
    const auto percent = detail::as_percent(c.defect, c.bore);
    if (!percent) {
        c.decide(Verdict::look_again,
                 fmt::format("The survey must still tell the deformation in percent of the bore: up to {} is patched, "
                             "more is dug.",
                             detail::percent(c.limits.ovality_most)));
        return;
    }
    if (!c.meets_percent(*percent, c.limits.ovality_most)) {
        c.decide(
            Verdict::dig,
            fmt::format("The {} has lost {} of its bore; above {} the formulas for a sleeve no longer hold, and the "
                        "pipe may still be moving.",
                        what, detail::percent(*percent), detail::percent(c.limits.ovality_most)));
        return;
    }
    c.out.ovality_percent = *percent;
    c.decide(Verdict::patch,
             fmt::format("The {} has lost {} of its bore, within the limit of {}; the sleeve is designed for that "
                         "deformation.",
                         what, detail::percent(*percent), detail::percent(c.limits.ovality_most)));
}

std::string step_rule(const Case& c) {
    return fmt::format("the smaller of {} of the bore and {}", detail::percent(100.0 * c.limits.step_share),
                       c.show(c.limits.step_most));
}

void judge_step(Case& c, std::string_view what) {
    const Length limit = detail::step_limit(c.limits, c.bore, c.out.working);
    const auto step = detail::as_length(c.defect, c.bore);
    if (!step) {
        c.decide(Verdict::look_again,
                 fmt::format("The survey must still tell the height of the step: up to {} ({}) is patched, more is "
                             "dug.",
                             c.show(limit), step_rule(c)));
        return;
    }
    if (!c.meets(*step, limit)) {
        c.decide(Verdict::dig,
                 fmt::format("The {} stands {} out of line, more than the {} that a sleeve rides over ({}).", what,
                             c.show(*step), c.show(limit), step_rule(c)));
        return;
    }
    c.decide(Verdict::patch, fmt::format("The {} stands {} out of line; up to {} ({}) a sleeve rides over it.", what,
                                         c.show(*step), c.show(limit), step_rule(c)));
}

void judge_joint(Case& c) {
    const char form = characterisation(c.defect.code, "BAJ");
    if (form == 'A') {  // pulled apart lengthwise
        const auto gap = detail::as_length(c.defect, c.bore);
        if (!gap) {
            c.decide(Verdict::look_again,
                     fmt::format("The survey must still tell how far the joint stands open: up to {} is patched.",
                                 c.show(c.limits.open_joint_most)));
            return;
        }
        const bool held = c.meets(*gap, c.limits.open_joint_most);
        c.decide(held ? Verdict::patch : Verdict::dig,
                 held ? fmt::format("The joint stands open by {}; up to {} a sleeve bridges it.", c.show(*gap),
                                    c.show(c.limits.open_joint_most))
                      : fmt::format("The joint stands open by {}, more than the {} that a sleeve bridges.",
                                    c.show(*gap), c.show(c.limits.open_joint_most)));
        return;
    }
    judge_step(c, "joint");
    if (form == 'C') c.add("The joint is bent as well: pass a dry packer through it before the felt is wet.");
}

void judge_break(Case& c) {
    if (!c.defect.size && !c.defect.size_percent) {
        c.decide(Verdict::look_again,
                 "The survey must still tell how far the broken pieces have moved: the step at the edges, or the "
                 "deformation in percent "
                 "of the bore.");
        return;
    }
    if (c.defect.size_percent) judge_deformation(c, "broken pipe");
    if (c.defect.size && !(c.defect.size_percent && c.out.verdict == Verdict::dig)) {
        job::Defect by_step = c.defect;
        by_step.size_percent.reset();
        Case step{c.run, by_step, c.limits, c.units, c.bore, c.out};
        judge_step(step, "broken edge");
    }
}

void judge_missing_wall(Case& c) {
    const Length limit = detail::hole_limit(c.limits, c.bore, c.out.working);
    const auto size = detail::as_length(c.defect, c.bore);
    if (c.defect.surrounding_sound == false) {
        c.decide(Verdict::dig,
                 "A void or broken wall was seen behind the hole: the ground has to be made good from outside.");
        return;
    }
    if (size && !c.meets(*size, limit)) {
        c.decide(Verdict::dig,
                 fmt::format("The hole is {} across, more than the {} ({} of the bore) that a sleeve bridges.",
                             c.show(*size), c.show(limit), c.limits.hole_share));
        return;
    }
    const double missing = c.defect.clock ? c.defect.clock->share() : 0.0;
    if (!detail::share_within(missing, c.limits.missing_circumference_share, c.out.working)) {
        c.decide(Verdict::dig, fmt::format("Wall is missing from {} o'clock, {} of the circumference; the limit is {}.",
                                           format(*c.defect.clock), detail::percent(100.0 * missing),
                                           detail::percent(100.0 * c.limits.missing_circumference_share)));
        return;
    }
    if (!size) {
        c.decide(
            Verdict::look_again,
            fmt::format("The survey must still tell the size of the hole: up to {} ({} of the bore) is patched, more "
                        "is dug.",
                        c.show(limit), c.limits.hole_share));
        return;
    }
    if (!c.defect.surrounding_sound) {
        c.decide(Verdict::look_again,
                 "The survey must still tell if the wall round the hole is sound and no void stands behind it: only "
                 "then does a sleeve hold.");
        return;
    }
    c.out.wall_missing = true;
    c.decide(
        Verdict::patch,
        fmt::format("The hole is {} across with sound wall round it; up to {} ({} of the bore) a sleeve bridges it.",
                    c.show(*size), c.show(limit), c.limits.hole_share));
    c.add(
        "Where wall is missing the sleeve is designed to carry the ground by itself; a void found behind it is filled "
        "first.");
}

/// Roots and deposits: cut away beyond what routine cleaning takes.
void judge_obstacle(Case& c, std::string_view subject, std::string_view verb, double clean_most, std::string_view cut) {
    const auto percent = c.defect.size_percent;
    if (percent && detail::within(*percent, clean_most)) {
        c.decide(Verdict::patch, fmt::format("{} {} {} of the bore; up to {} goes with routine cleaning.", subject,
                                             verb, detail::percent(*percent), detail::percent(clean_most)));
        return;
    }
    const std::string amount = percent ? fmt::format("{} {} {} of the bore", subject, verb, detail::percent(*percent))
                                       : fmt::format("{} stand in the pipe", subject);
    c.decide(Verdict::prepare,
             fmt::format("{}: they are cut away before a sleeve can be pressed to the wall.", amount));
    c.prepare(std::string{cut});
    c.prepare("survey again after cutting: what was hidden may change the verdict");
}

void judge_intruding_connection(Case& c) {
    const auto out = detail::as_length(c.defect, c.bore);
    if (out && detail::within(out->si(), c.limits.protrusion_clean.si())) {
        c.decide(Verdict::patch, fmt::format("The connection stands {} into the pipe; up to {} needs no dressing.",
                                             c.show(*out), c.show(c.limits.protrusion_clean)));
        return;
    }
    c.decide(Verdict::prepare,
             out ? fmt::format("The connection stands {} into the pipe and is cut back flush before a sleeve can pass.",
                               c.show(*out))
                 : "The connection stands into the pipe and is cut back flush before a sleeve can pass.");
    c.prepare("cut the protruding connection back flush with the wall");
}

void judge_defective_connection(Case& c) {
    if (const auto gap = detail::as_length(c.defect, c.bore)) {
        const Length limit = detail::hole_limit(c.limits, c.bore, c.out.working);
        if (!c.meets(*gap, limit)) {
            c.decide(
                Verdict::dig,
                fmt::format("The gap at the connection is {}, more than the {} ({} of the bore) that a sleeve bridges.",
                            c.show(*gap), c.show(limit), c.limits.hole_share));
            return;
        }
    }
    const job::Fitting* junction = junction_at(c.run, c.defect, c.limits.tolerance);
    if (junction != nullptr && !junction->live) {
        c.decide(Verdict::patch, "The connection no longer carries flow: a sleeve across it closes it for good.");
        return;
    }
    c.decide(Verdict::junction_piece,
             "The connection itself leaks or has moved: only a sleeve with a branch seals it and keeps it open.");
    if (junction == nullptr)
        c.add(
            "No connection is listed at this place; it is taken as live until the survey gives its bore, clock "
            "position and use.");
}

void judge_infiltration(Case& c) {
    switch (c.defect.inflow) {
        case Inflow::none:
            c.decide(Verdict::look_again,
                     "The survey must still tell how strongly water comes in: sweating, dripping, running or gushing.");
            return;
        case Inflow::sweating:
            c.decide(Verdict::patch, "Water sweats through the wall; a sleeve seals it.");
            return;
        case Inflow::dripping:
            c.decide(Verdict::patch, "Water drips through the wall; a sleeve seals it.");
            return;
        case Inflow::running:
        case Inflow::gushing:
            c.decide(Verdict::patch, "Water comes through the wall; a sleeve seals it once the water is stopped.");
            return;
    }
}

void judge_kind(Case& c) {
    switch (c.defect.kind) {
        case DefectKind::fissure:
            return judge_opening(c, "fissure");
        case DefectKind::fracture_break:
            return judge_break(c);
        case DefectKind::collapse:
            return c.decide(Verdict::dig, "The pipe has collapsed: there is no wall left to line.");
        case DefectKind::deformation:
            return judge_deformation(c, "pipe");
        case DefectKind::surface_damage:
            return c.decide(Verdict::patch,
                            "Damage to the surface of a wall that still stands is covered by a sleeve.");
        case DefectKind::displaced_joint:
            return judge_joint(c);
        case DefectKind::defective_connection:
            return judge_defective_connection(c);
        case DefectKind::intruding_connection:
            return judge_intruding_connection(c);
        case DefectKind::root_intrusion:
            return judge_obstacle(c, "Roots", "fill", c.limits.root_clean_most,
                                  "cut the roots back flush with the wall");
        case DefectKind::attached_deposit:
            return judge_obstacle(c, "Deposits", "fill", c.limits.deposit_clean_most,
                                  "cut the deposits off down to the wall");
        case DefectKind::infiltration:
            return judge_infiltration(c);
        case DefectKind::exfiltration:
            return c.decide(Verdict::patch, "Water is lost through the wall; a sleeve seals it.");
        case DefectKind::missing_wall:
            return judge_missing_wall(c);
    }
}

// --- what may hold for any kind ---

void judge_water(Case& c) {
    if (!wants_patch(c.out.verdict)) return;
    const Inflow inflow = c.defect.inflow;
    if (inflow == Inflow::running || inflow == Inflow::gushing) {
        c.prepare("stop the water that comes through the defect: seal it with grout or an injected gel");
        std::string reason = fmt::format(
            "Water is {} through the defect: it would wash resin out before it cures, and is stopped first.",
            job::word(inflow));
        if (c.out.verdict == Verdict::patch)
            c.decide(Verdict::prepare, std::move(reason));
        else
            c.add(std::move(reason));
    } else if (inflow == Inflow::dripping) {
        c.add(
            "Water drips in: dry the wall last thing, and use a resin that tolerates damp or a film between wall and "
            "felt.");
    }
}

void judge_connection_beside(Case& c) {
    const bool open_question = c.out.verdict == Verdict::patch || c.out.verdict == Verdict::prepare;
    if (!open_question) return;
    const bool about_connection = c.defect.kind == DefectKind::intruding_connection;
    const job::Fitting* junction = junction_at(c.run, c.defect, about_connection ? c.limits.tolerance : Length{});
    if (junction == nullptr) {
        if (about_connection)
            c.add(
                "If this connection still carries flow, list it as a live junction: a sleeve over it would close it.");
        return;
    }
    const std::string place = format(Show::run_distance, junction->at, c.units);
    if (!junction->live) {
        c.add(fmt::format("The connection at {} carries no flow and is closed by the sleeve.", place));
    } else if (c.run.reopening_allowed) {
        c.add(fmt::format("The live connection at {} is covered and cut open again once the sleeve has cured.", place));
    } else {
        c.decide(Verdict::junction_piece,
                 fmt::format("The defect lies across the live connection at {}: a sleeve with a branch keeps it open.",
                             place));
    }
}

void judge_size_change(Case& c) {
    if (!wants_patch(c.out.verdict)) return;
    for (const job::Fitting& fitting : c.run.fittings) {
        const bool inside =
            fitting.kind == job::FittingKind::size_change && fitting.at > c.defect.at && fitting.at < c.defect.to;
        if (!inside) continue;
        c.out.preparations.clear();
        c.decide(Verdict::dig,
                 fmt::format("The bore changes at {}, inside the defect: a sleeve of one size cannot seat on both.",
                             format(Show::run_distance, fitting.at, c.units)));
        return;
    }
}

void note_host(Case& c) {
    if (!c.out.preparations.empty() && c.run.material == job::Material::asbestos_cement &&
        c.out.verdict != Verdict::dig)
        c.add("The host is asbestos cement: cut nothing dry, and plan the work with whoever is licensed for it.");
    c.out.below_scope = c.bore < c.limits.scope_bore_min;
    if (c.out.below_scope)
        c.add(
            fmt::format("The bore of {} lies below the {} at which the published standards begin: their formulas are "
                        "applied outside "
                        "their scope.",
                        format(Show::tape, c.bore, c.units), format(Show::tape, c.limits.scope_bore_min, c.units)));
}

}  // namespace

std::string_view word(Verdict v) {
    switch (v) {
        case Verdict::patch:
            return "patch";
        case Verdict::prepare:
            return "prepare";
        case Verdict::junction_piece:
            return "junction piece";
        case Verdict::dig:
            return "dig";
        case Verdict::look_again:
            break;
    }
    return "look again";
}

bool wants_patch(Verdict v) { return v == Verdict::patch || v == Verdict::prepare || v == Verdict::junction_piece; }

Judgement judge(const job::Run& run, const job::Defect& defect, const job::Limits& limits, UnitSystem units) {
    refuse_bad_figures(run, defect);
    Judgement out;
    Case c{run, defect, limits, units, run.working_bore(), out};
    judge_kind(c);
    judge_water(c);
    judge_connection_beside(c);
    judge_size_change(c);
    note_host(c);
    return out;
}

}  // namespace patchwright::survey
