// The cure followed again: by the sleeve's own model in the pipe as it was measured, or along a probe at the sleeve.
#include <algorithm>
#include <utility>

#include "checks.hpp"
#include "patchwright/cure/followed.hpp"
#include "patchwright/record/measured.hpp"
#include "patchwright/units/error.hpp"
#include "workings.hpp"

namespace patchwright::record {
namespace {

double conversion_at(const std::vector<cure::CurvePoint>& curve, Duration time) {
    const auto after = std::find_if(curve.begin(), curve.end(), [&](const auto& point) { return point.time >= time; });
    if (after == curve.end()) return curve.back().least_conversion;  // a quarter past let-down: little is left to come
    if (after == curve.begin()) return after->least_conversion;
    const auto& before = *std::prev(after);
    const double share = (time - before.time) / (after->time - before.time);
    return before.least_conversion + share * (after->least_conversion - before.least_conversion);
}

Cure along_probe(const job::Resin& resin, std::vector<cure::Note> notes, const job::PatchRecord& r,
                 const plan::Patch& p, Duration let_down, const job::Limits& limits, Working& working) {
    notes = from_mixing(std::move(notes), r, p);
    const auto followed = cure::follow_notes(resin, notes, let_down, limits);
    const auto last = notes.back().temperature;
    working.add(reached_formula, {{let_down, Origin::given}, {last, Origin::given}}, followed.conversion);
    working.add(probe_formula,
                {{static_cast<double>(notes.size()), Origin::given}, {let_down, Origin::given}, followed.hard},
                followed.soft_probability);
    return {followed.conversion, followed.soft_probability, followed.hard, last, notes.size() - 1, true, {}};
}

Cure in_measured_pipe(const job::Resin& resin, const std::vector<cure::Note>& in_pipe, const job::PatchRecord& r,
                      const plan::Patch& p, Duration let_down, const job::Limits& limits, Working& working) {
    const auto conditions = as_measured(r, p, in_pipe, let_down);
    const cure::Model model{resin};
    working.add(mean_formula,
                {{static_cast<double>(in_pipe.size()), Origin::given},
                 {r.after_mixing(r.inflated_at).value_or(Duration{}), Origin::given},
                 {let_down, Origin::given}},
                *conditions.pipe);
    const auto answer = model.answer_without_pot(p.sleeve, p.surroundings, conditions, limits, working);
    if (answer.refused) throw RangeError(*answer.refused);
    const auto curve = model.curve(p.sleeve, p.surroundings, conditions, limits, cure::Side::likely);
    const Operand deflated{let_down, Origin::given};
    const double conversion = conversion_at(curve, let_down), soft = 1.0 - answer.hard.chance_before(let_down);
    working.add(reached_formula, {deflated, conditions.pipe}, conversion);
    working.add(soft_formula, {deflated, answer.hard.likely, answer.hard.log_sd}, soft);
    Cure cure{conversion, soft, answer.hard.likely, *conditions.pipe, in_pipe.size(), false, {}};
    const auto looked = r.after_mixing(r.witness.at);
    // Same wet felt in the same pipe with nothing of the sleeve's own heat: the sleeve's doubt about its own likely
    // time.
    if (r.witness.hard && looked && *looked > Duration{} && p.heater < 0)
        cure.witness_soft = 1.0 - cure::UncertainTime{answer.coupon, answer.hard.log_sd}.chance_before(*looked);
    return cure;
}

}  // namespace

void add_cure(const plan::Plan& plan, Patch& built) {
    const auto& p = plan.patches[built.patch];
    const auto& resin = plan.resin_of(p);
    const auto& limits = plan.yard->limits;
    const auto let_down = built.record != nullptr ? built.record->deflated_after() : std::nullopt;
    Working working;
    if (!let_down || *let_down <= Duration{}) {
        built.why_no_cure = "mixing and deflating were not both noted";
    } else {
        const auto& r = *built.record;
        try {
            const auto probe = temperature_notes(r, *let_down, true);
            built.cure = probe.size() > 1 ? along_probe(resin, probe, r, p, *let_down, limits, working)
                                          : in_measured_pipe(resin, temperature_notes(r, *let_down, false), r, p,
                                                             *let_down, limits, working);
        } catch (const Error& error) {  // outside what the model holds for
            built.why_no_cure = error.what();
        }
    }
    Checks checks{built.checks};
    Check& check = checks.figure("soft when deflated", Show::percent, p.cure.soft_probability,
                                 built.cure ? std::optional{built.cure->soft_probability} : std::nullopt,
                                 {std::nullopt, limits.soft_at_most});
    check.as = As::chance;
    check.limit_words = built.why_no_cure;
    check.limit_from = "soft_at_most of the yard's limits";
    if (built.cure) check.working = std::move(working);
}

}  // namespace patchwright::record
