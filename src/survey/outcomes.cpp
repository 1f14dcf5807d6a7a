#include "patchwright/survey/outcomes.hpp"

#include <cmath>

#include <fmt/core.h>

#include "limits.hpp"
#include "patchwright/survey/verdict.hpp"

namespace patchwright::survey {
namespace {

using job::DefectKind;

/// Puts the greatest figure that a patch mends in place of the one that is missing.
void to_the_limit(Outcomes& o, const job::Run& run, const job::Limits& limits, UnitSystem units) {
    job::Defect& d = o.mended;
    Working off = Working::off();
    const Length bore = run.working_bore();
    const auto up_to = [&](Length limit, std::string_view what) {
        // Said in whole millimetres, never more than the limit.
        d.size = units == UnitSystem::us ? limit : std::floor(limit.in(unit::mm) + 1e-9) * unit::mm;
        o.mended_if = fmt::format("up to {}{}", detail::small_length(*d.size, units), what);
    };
    o.beyond_if = "larger";
    switch (d.kind) {
        case DefectKind::deformation:
            d.size_percent = limits.ovality_most;
            o.mended_if = fmt::format("up to {} out of round", detail::percent_text(limits.ovality_most));
            o.beyond_if = "more";
            break;
        case DefectKind::displaced_joint:
            if (d.code.starts_with("BAJ") && d.code.find('A', 3) != std::string::npos)
                up_to(limits.open_joint_most, " open");
            else
                up_to(detail::step_limit(limits, bore, off), " out of line");
            o.beyond_if = "more";
            break;
        case DefectKind::fracture_break:
            up_to(detail::hole_limit(limits, bore, off), " open");
            break;
        case DefectKind::missing_wall:
            if (!d.size && !d.size_percent)
                up_to(detail::hole_limit(limits, bore, off), " wide, with sound wall round it");
            else
                o.mended_if = "with sound wall round it and no void behind";
            if (d.size || d.size_percent) o.beyond_if = o.mended_if.starts_with("up") ? "larger" : "not";
            d.surrounding_sound = true;
            break;
        case DefectKind::infiltration:
            d.inflow = job::Inflow::dripping;
            o.mended_if = "dripping at most";
            o.beyond_if = "running";
            o.beyond.inflow = job::Inflow::running;
            return;
        default:
            return;
    }
    o.beyond.kind = DefectKind::collapse;  // what is beyond the limit is dug
}

}  // namespace

std::optional<Outcomes> outcomes(const job::Run& run, const job::Defect& defect, const job::Limits& limits,
                                 UnitSystem units) {
    if (judge(run, defect, limits, units).verdict != Verdict::look_again) return std::nullopt;
    Outcomes o{defect, defect, {}, {}};
    to_the_limit(o, run, limits, units);
    if (!wants_patch(judge(run, o.mended, limits, units).verdict)) return std::nullopt;
    return o;
}

}  // namespace patchwright::survey
