#include "limits.hpp"

#include <algorithm>
#include <array>

namespace patchwright::survey::detail {
namespace {

constexpr std::string_view practice = "common practice, no source";
constexpr std::string_view page = "verdicts";

constexpr std::array step_inputs{Symbol{"c", "share of the bore", Show::percent}, Symbol{"D", "bore", Show::tape},
                                 Symbol{"h0", "greatest step in any bore", Show::thickness}};
constexpr Formula step_formula{
    "survey.step_limit", {"h", "step limit", Show::thickness}, "h = min(c D, h0)", step_inputs, practice, page};
constexpr std::array hole_inputs{Symbol{"c", "share of the bore", Show::percent}, Symbol{"D", "bore", Show::tape}};
constexpr Formula hole_formula{
    "survey.hole_limit", {"w", "hole limit", Show::thickness}, "w = c D", hole_inputs, practice, page};
constexpr std::array length_use_inputs{Symbol{"x", "length found by the survey", Show::thickness},
                                       Symbol{"x0", "limit", Show::thickness}};
constexpr Formula length_use{"survey.length_use",
                             {"u", "share of the limit used", Show::percent},
                             "u = x / x0; a patch holds up to 100 %",
                             length_use_inputs,
                             practice,
                             page};
constexpr std::array share_use_inputs{Symbol{"p", "share found by the survey", Show::percent},
                                      Symbol{"p0", "limit", Show::percent}};
constexpr Formula share_use{"survey.share_use",
                            {"u", "share of the limit used", Show::percent},
                            "u = p / p0; a patch holds up to 100 %",
                            share_use_inputs,
                            practice,
                            page};

}  // namespace

Length step_limit(const job::Limits& limits, Length bore, Working& working) {
    const Length limit = std::min(limits.step_share * bore, limits.step_most);
    working.add(step_formula,
                {{limits.step_share, Origin::yard}, {bore, Origin::given}, {limits.step_most, Origin::yard}}, limit);
    return limit;
}

Length hole_limit(const job::Limits& limits, Length bore, Working& working) {
    const Length limit = limits.hole_share * bore;
    working.add(hole_formula, {{limits.hole_share, Origin::yard}, {bore, Origin::given}}, limit);
    return limit;
}

std::optional<Length> as_length(const job::Defect& defect, Length bore) {
    if (defect.size) return defect.size;
    if (defect.size_percent) return *defect.size_percent / 100.0 * bore;
    return std::nullopt;
}

std::optional<double> as_percent(const job::Defect& defect, Length bore) {
    if (defect.size_percent) return defect.size_percent;
    if (defect.size) return 100.0 * (*defect.size / bore);
    return std::nullopt;
}

bool within(double figure, double limit) { return figure <= limit * (1.0 + 1e-9); }

bool within(Length figure, Length limit, Working& working) {
    if (limit > Length{}) working.add(length_use, {{figure, Origin::given}, {limit, Origin::yard}}, figure / limit);
    return within(figure.si(), limit.si());
}

bool share_within(double figure, double limit, Working& working) {
    if (limit > 0.0) working.add(share_use, {{figure, Origin::given}, {limit, Origin::yard}}, figure / limit);
    return within(figure, limit);
}

std::string small_length(Length length, UnitSystem units) {
    std::string text = format(Show::thickness, length, units);
    const std::string whole = ".0 mm";
    if (text.ends_with(whole)) text.replace(text.size() - whole.size(), whole.size(), " mm");
    return text;
}

std::string percent_text(double value) { return format(Show::percent, value / 100.0, UnitSystem::metric); }

}  // namespace patchwright::survey::detail
