#include "patchwright/survey/verdict.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/core.h>

#include "case.hpp"
#include "patchwright/units/error.hpp"

namespace patchwright::survey {
namespace {

using detail::Case;
using detail::junction_at;
using job::DefectKind;
using job::Inflow;

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
    for (const job::Fitting& fitting : detail::fittings_near(c.run, c.defect.at, c.defect.to)) {
        const bool inside =
            fitting.kind == job::FittingKind::size_change && fitting.at > c.defect.at && fitting.at < c.defect.to;
        if (!inside) continue;
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

std::span<const job::Fitting> detail::fittings_near(const job::Run& run, Length from, Length to) {
    const Length reach = 1.0 * unit::m;  // no branch of a small drain is wider than twice this
    const auto before = [](const job::Fitting& fitting, Length place) { return fitting.at < place; };
    const auto first = std::lower_bound(run.fittings.begin(), run.fittings.end(), from - reach, before);
    const auto last = std::lower_bound(first, run.fittings.end(), to + reach, before);
    return {first, last};
}

const job::Fitting* detail::junction_at(const job::Run& run, const job::Defect& defect, Length slack) {
    for (const job::Fitting& fitting : fittings_near(run, defect.at, defect.to)) {
        if (fitting.kind != job::FittingKind::junction) continue;
        const Length half = fitting.bore / 2.0 + slack;
        if (fitting.at + half >= defect.at && fitting.at - half <= defect.to) return &fitting;
    }
    return nullptr;
}

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

Assessment judge(const job::Run& run, const job::Defect& defect, const job::Limits& limits, UnitSystem units) {
    refuse_bad_figures(run, defect);
    Assessment out;
    Case c{run, defect, limits, units, run.working_bore(), out};
    detail::judge_kind(c);
    judge_water(c);
    judge_connection_beside(c);
    judge_size_change(c);
    if (!wants_patch(out.verdict)) {  // nothing is prepared or designed for what no sleeve will mend
        out.preparations.clear();
        out.wall_missing = false;
        out.ovality_percent.reset();
    }
    note_host(c);
    return out;
}

}  // namespace patchwright::survey
