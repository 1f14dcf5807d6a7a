// One function a kind of defect; each leaves a verdict and its deciding reason.
#include <fmt/core.h>

#include "case.hpp"

namespace patchwright::survey::detail {
namespace {

using job::DefectKind;
using job::Inflow;

/// EN 13508-2 characterisation, the letter after the main code: 'A' in "BAJ A" and "BAJA".
char characterisation(std::string_view code, std::string_view main_code) {
    if (!code.starts_with(main_code)) return '\0';
    const std::size_t letter = code.find_first_not_of(" .-", main_code.size());
    return letter == std::string_view::npos ? '\0' : code[letter];
}

void judge_opening(Case& c, std::string_view what) {
    if (const auto width = as_length(c.defect, c.bore)) {
        const Length limit = hole_limit(c.limits, c.bore, c.out.working);
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
    const auto percent = as_percent(c.defect, c.bore);
    if (!percent) {
        c.decide(Verdict::look_again,
                 fmt::format("The survey must still tell the deformation in percent of the bore: up to {} is patched, "
                             "more is dug.",
                             percent_text(c.limits.ovality_most)));
        return;
    }
    if (!c.meets_percent(*percent, c.limits.ovality_most)) {
        c.decide(
            Verdict::dig,
            fmt::format("The {} has lost {} of its bore; above {} the formulas for a sleeve no longer hold, and the "
                        "pipe may still be moving.",
                        what, percent_text(*percent), percent_text(c.limits.ovality_most)));
        return;
    }
    c.out.ovality_percent = *percent;
    c.decide(Verdict::patch,
             fmt::format("The {} has lost {} of its bore, within the limit of {}; the sleeve is designed for that "
                         "deformation.",
                         what, percent_text(*percent), percent_text(c.limits.ovality_most)));
}

std::string step_rule(const Case& c) {
    return fmt::format("the smaller of {} of the bore and {}", percent_text(100.0 * c.limits.step_share),
                       c.show(c.limits.step_most));
}

void judge_step(Case& c) {
    const Length limit = step_limit(c.limits, c.bore, c.out.working);
    const auto step = as_length(c.defect, c.bore);
    if (!step) {
        c.decide(Verdict::look_again,
                 fmt::format("The survey must still tell the height of the step: up to {} ({}) is patched, more is "
                             "dug.",
                             c.show(limit), step_rule(c)));
        return;
    }
    if (!c.meets(*step, limit)) {
        c.decide(Verdict::dig,
                 fmt::format("The joint stands {} out of line, more than the {} that a sleeve rides over ({}).",
                             c.show(*step), c.show(limit), step_rule(c)));
        return;
    }
    c.decide(Verdict::patch, fmt::format("The joint stands {} out of line; up to {} ({}) a sleeve rides over it.",
                                         c.show(*step), c.show(limit), step_rule(c)));
}

void judge_joint(Case& c) {
    const char form = characterisation(c.defect.code, "BAJ");
    if (form == 'A') {  // pulled apart lengthwise
        const auto gap = as_length(c.defect, c.bore);
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
    judge_step(c);
    if (form == 'C') c.add("The joint is bent as well: pass a dry packer through it before the felt is wet.");
}

/// EN 13508-2 measures a break by its length of open wall; a deformation may be given with it.
void judge_break(Case& c) {
    if (c.defect.surrounding_sound == false) {
        c.decide(Verdict::dig,
                 "A void or loose wall was seen round the break: the ground has to be made good from outside.");
        return;
    }
    if (!c.defect.size && !c.defect.size_percent) {
        c.decide(Verdict::look_again,
                 "The survey must still tell how far the break stands open, or the deformation in percent of the bore: "
                 "a sleeve bridges only so much.");
        return;
    }
    if (c.defect.size_percent) judge_deformation(c, "broken pipe");
    if (!c.defect.size || c.out.verdict == Verdict::dig) return;
    const Length limit = hole_limit(c.limits, c.bore, c.out.working);
    if (!c.meets(*c.defect.size, limit)) {
        c.decide(Verdict::dig,
                 fmt::format("The break stands open by {}, more than the {} ({} of the bore) that a sleeve bridges.",
                             c.show(*c.defect.size), c.show(limit), c.limits.hole_share));
        return;
    }
    c.out.wall_missing = *c.defect.size > Length{};
    c.decide(Verdict::patch, fmt::format("The break stands open by {}; up to {} ({} of the bore) a sleeve bridges it.",
                                         c.show(*c.defect.size), c.show(limit), c.limits.hole_share));
    c.add(
        "The loose pieces are counted on for nothing: the sleeve is designed to carry the ground by itself. Dress "
        "edges that stand into the bore.");
    if (!c.defect.surrounding_sound)
        c.add("Look for a void behind the break before any felt is wet; a void is filled first.");
}

void judge_missing_wall(Case& c) {
    const Length limit = hole_limit(c.limits, c.bore, c.out.working);
    const auto size = as_length(c.defect, c.bore);
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
    if (!share_within(missing, c.limits.missing_circumference_share, c.out.working)) {
        c.decide(Verdict::dig, fmt::format("Wall is missing from {} o'clock, {} of the circumference; the limit is {}.",
                                           format(*c.defect.clock), percent_text(100.0 * missing),
                                           percent_text(100.0 * c.limits.missing_circumference_share)));
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
void judge_obstacle(Case& c, std::string_view subject, std::string_view verb, double max_clean, std::string_view cut) {
    const auto percent = c.defect.size_percent;
    if (percent && within(*percent, max_clean)) {
        c.decide(Verdict::patch, fmt::format("{} {} {} of the bore; up to {} goes with routine cleaning.", subject,
                                             verb, percent_text(*percent), percent_text(max_clean)));
        return;
    }
    const std::string amount = percent ? fmt::format("{} {} {} of the bore", subject, verb, percent_text(*percent))
                                       : fmt::format("{} stand in the pipe", subject);
    c.decide(Verdict::prepare,
             fmt::format("{}: they are cut away before a sleeve can be pressed to the wall.", amount));
    c.prepare(std::string{cut});
    c.prepare("survey again after cutting: what was hidden may change the verdict");
}

void judge_intruding_connection(Case& c) {
    const auto out = as_length(c.defect, c.bore);
    if (out && within(out->si(), c.limits.protrusion_clean.si())) {
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
    if (const auto gap = as_length(c.defect, c.bore)) {
        const Length limit = hole_limit(c.limits, c.bore, c.out.working);
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

}  // namespace

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
            return judge_obstacle(c, "Roots", "fill", c.limits.root_clean_most, std::string{cut_roots});
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

}  // namespace patchwright::survey::detail
