// Layers of the prices, and the working behind every figure.
#include <algorithm>
#include <cmath>

#include "patchwright/plan/figures.hpp"
#include "support/faults.hpp"
#include "support/plan_rules.hpp"

namespace patchwright::test {
namespace {

void check_layers(const price::BuildUp& b, const char* side, Faults& faults) {
    faults.unless((b.direct + b.risk + b.overhead + b.profit).in_cents() == b.net.in_cents(),
                  "{}: layers do not add up", side);
    std::int64_t lines = 0, risks = 0;
    for (const auto& line : b.lines) lines += line.amount.in_cents();
    for (const auto& line : b.risk_lines) risks += line.amount.in_cents();
    faults.unless(lines == b.direct.in_cents(), "{}: lines {} are not the direct cost {}", side, lines,
                  b.direct.in_cents());
    faults.unless(risks == b.risk.in_cents(), "{}: risk lines {} are not the risk {}", side, risks, b.risk.in_cents());
    faults.unless(
        b.direct.in_cents() >= 0 && b.risk.in_cents() >= 0 && b.overhead.in_cents() >= 0 && b.net.in_cents() >= 0,
        "{}: negative money", side);
    faults.unless(b.p10 <= b.p50 && b.p50 <= b.p80 && b.p80 <= b.p90, "{}: quantiles out of order", side);
}

}  // namespace

std::vector<std::string> broken_money_rules(const plan::Plan& plan) {
    Faults faults;
    const auto& offer = plan.offer;
    check_layers(offer.patch, "patch", faults);
    check_layers(offer.dig, "dig", faults);
    check_layers(offer.patching, "patching", faults);
    check_layers(offer.unavoidable_dig, "unavoidable dig", faults);
    const auto& b = offer.bracket;
    faults.unless(plan.patches.empty() || b.suggested <= b.limit, "suggested above the limit");
    faults.unless(b.limit <= b.ceiling, "limit above the ceiling");
    faults.unless(!b.bid || b.floor <= b.suggested, "suggested below the floor");
    faults.unless(b.own.in_cents() == offer.patch.net.in_cents(), "own price is not the patch side's net");
    faults.unless(b.ceiling.in_cents() == offer.dig.net.in_cents(), "ceiling is not the price of digging");
    std::int64_t offered = 0;
    for (const auto& line : offer.offered.lines) {
        offered += line.net.in_cents();
        faults.unless(offer.offered.wished || line.net >= line.floor, "line \"{}\" below its floor", line.words);
    }
    faults.unless(offered == offer.offered.total.in_cents(), "the lines {} are not what is offered, {}", offered,
                  offer.offered.total.in_cents());
    return faults.list;
}

std::vector<std::string> broken_workings(const plan::Plan& plan) {
    Faults faults;
    const auto check = [&](const std::string& name, double value, const Working& working) {
        const auto steps = working.steps();
        faults.unless(!steps.empty(), "{} has no working", name);
        faults.unless(std::isfinite(value), "{} is no number", name);
        const double scale = std::max(1e-9, std::abs(value));
        const bool ends = std::any_of(steps.begin(), steps.end(),
                                      [&](const Step& step) { return std::abs(step.result - value) <= 1e-9 * scale; });
        faults.unless(steps.empty() || ends, "{} = {} is the result of no step of its working", name, value);
        for (const auto& step : steps) {
            faults.unless(std::isfinite(step.result), "{}: a step of {} gives no number", name, step.formula->id);
        }
    };
    const auto check_all = [&](const auto& kinds, const auto& owners) {
        for (const auto& owner : owners) {
            for (const auto& kind : kinds) {
                if (kind.applies_to(owner))
                    check(owner.id + "." + std::string{kind.name}, kind.value(owner), kind.working(owner));
            }
        }
    };
    check_all(plan::patch_figures(), plan.patches);
    check_all(plan::batch_figures(), plan.batches);
    for (const auto& figure : plan.figures) check(figure.name, figure.value, figure.working);
    return faults.list;
}

}  // namespace patchwright::test
