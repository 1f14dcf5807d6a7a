#include "recorded.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "blocks.hpp"
#include "words.hpp"

namespace patchwright::sheet {
namespace {

using record::As;
using record::Check;
using record::Verdict;

std::string figure(const Context& c, const Check& check, double value, plan::Rounding rounding) {
    switch (check.as) {
        case As::clock:
            return clock_text(static_cast<int>(std::lround(value / 60.0)));
        case As::chance:
            return one_in(value);
        case As::figure:
            break;
    }
    return plan::shown(check.show, rounding, value, c.units);
}

std::string limit_text(const Context& c, const Check& check) {
    const bool clock = check.as == As::clock;
    std::string text;
    if (check.least && check.most)
        text = fmt::format("{} to {}", figure(c, check, *check.least, plan::Rounding::up),
                           figure(c, check, *check.most, plan::Rounding::down));
    else if (check.least)
        text = (clock ? "not before " : "at least ") + figure(c, check, *check.least, plan::Rounding::up);
    else if (check.most)
        text = (clock ? "not after " : "at most ") + figure(c, check, *check.most, plan::Rounding::down);
    if (check.limit_words.empty()) return text;
    return text.empty() ? check.limit_words : fmt::format("{}, {}", text, check.limit_words);
}

std::string verdict_text(const Context& c, const Check& check) {
    if (check.verdict != Verdict::missed) return std::string{record::word(check.verdict)};
    if (check.missed_by <= 0.0 || check.as == As::chance) return "MISSED";
    // A difference, so never as a point on the thermometer's scale.
    const Show show = check.as == As::clock             ? Show::span
                      : check.show == Show::temperature ? Show::temperature_step
                                                        : check.show;
    return "MISSED by " + format(show, check.missed_by, c.units);
}

}  // namespace

CheckText check_text(const Context& c, const Check& check) {
    CheckText text{check.planned_words, check.done_words, limit_text(c, check), verdict_text(c, check)};
    const auto beside = [](std::string figure, const std::string& words) {
        return words.empty() ? figure : fmt::format("{} ({})", figure, words);
    };
    // What was to be set is rounded as on the card.
    const auto planned = check.show == Show::gauge_pressure ? plan::Rounding::up : plan::Rounding::nearest;
    if (check.planned) text.planned = beside(figure(c, check, *check.planned, planned), check.planned_words);
    if (check.done) text.done = beside(figure(c, check, *check.done, plan::Rounding::nearest), check.done_words);
    return text;
}

std::vector<std::pair<double, std::string>> limit_figures(const Context& c, const Check& check) {
    std::vector<std::pair<double, std::string>> list;
    if (check.least) list.emplace_back(*check.least, figure(c, check, *check.least, plan::Rounding::up));
    if (check.most) list.emplace_back(*check.most, figure(c, check, *check.most, plan::Rounding::down));
    return list;
}

plan::Plan as_lies(const Context& c, const Recorded& recorded) {
    plan::Plan plan = *c.plan;
    for (const auto& built : recorded.built->patches) {
        if (built.record == nullptr) continue;
        auto& patch = plan.patches[built.patch];
        patch.start = built.record->starts_at.value_or(patch.start);
        patch.end = std::max(built.record->ends_at.value_or(patch.end), patch.start);
    }
    return plan;
}

std::string test_words(job::LeakMethod method) {
    if (method == job::LeakMethod::f1417) return "air test by ASTM F1417";
    if (method == job::LeakMethod::w) return "water test by EN 1610, method W";
    return fmt::format("air test by EN 1610, method {}", job::word(method));
}

void draw_runs(const Context& c, const plan::Plan& lies, bool packers, Sheet& sheet) {
    if (!c.drawings) return;
    Context built = c;
    built.plan = &lies;
    for (std::size_t r = 0; r < c.job().runs.size(); ++r) {
        const int run = static_cast<int>(r);
        const bool patched =
            std::any_of(lies.patches.begin(), lies.patches.end(), [run](const plan::Patch& p) { return p.run == run; });
        if (patched) sheet.blocks.push_back({Picture{drawn(built, [&] { return draw_run(built, run, packers); }), {}}});
    }
}

}  // namespace patchwright::sheet
