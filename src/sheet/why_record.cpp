#include "why_record.hpp"

#include <algorithm>
#include <span>

#include <fmt/format.h>

#include "recorded.hpp"
#include "words.hpp"

/// What was done, for who asks why.
namespace patchwright::sheet {
namespace {

/// "soft when deflated" as "soft-when-deflated".
std::string slug(std::string_view what) {
    std::string name{what};
    std::replace(name.begin(), name.end(), ' ', '-');
    std::transform(name.begin(), name.end(), name.begin(), [](char letter) {
        return letter >= 'A' && letter <= 'Z' ? static_cast<char>(letter + 32) : letter;
    });
    return name;
}

std::string words_of(const CheckText& text) {
    std::string words = text.done.empty() ? std::string{} : "done " + text.done;
    for (const auto& part : {text.limit.empty() ? std::string{} : "limit " + text.limit, text.verdict})
        if (!part.empty()) words += (words.empty() ? "" : "; ") + part;
    return words;
}

void add_checks(const Context& c, const std::string& owner, std::span<const record::Check> checks,
                std::vector<AskedDone>& list) {
    for (const auto& check : checks) {
        if (!check.least && !check.most) continue;  // held to no figure
        const auto from = check.working.empty() && !check.limit_from.empty()
                              ? fmt::format("Limit: {}.", check.limit_from)
                              : std::string{};
        list.push_back({fmt::format("{}.{}", owner, slug(check.what)), std::string{check.what}, check.show, check.done,
                        words_of(check_text(c, check)), from, &check.working, limit_figures(c, check)});
    }
}

void add_cure_again(const Context& c, const std::string& owner, const record::Patch& built,
                    std::vector<AskedDone>& list) {
    if (!built.cure) return;
    const auto soft = std::find_if(built.checks.begin(), built.checks.end(),
                                   [](const record::Check& check) { return check.as == record::As::chance; });
    if (soft == built.checks.end()) return;
    list.push_back({owner + ".degree-of-cure",
                    "degree of cure when deflated",
                    Show::conversion,
                    built.cure->conversion,
                    format(Show::conversion, built.cure->conversion, c.units),
                    {},
                    &soft->working,
                    {}});
    if (!is_finite(built.cure->hard)) return;
    list.push_back({owner + ".hard",
                    "likely hard",
                    Show::span,
                    built.cure->hard.si(),
                    earliest(c, built.cure->hard),
                    {},
                    &soft->working,
                    {}});
}

}  // namespace

std::vector<AskedDone> asked_done(const Context& c) {
    std::vector<AskedDone> list;
    if (c.recorded == nullptr) return list;
    const auto& all = *c.recorded->built;
    for (std::size_t d = 0; d < all.days.size(); ++d) {
        const auto owner = fmt::format("day-{}", d + 1);
        add_checks(c, owner, {&all.left[d], 1}, list);
        add_checks(c, owner, {&all.days[d], 1}, list);
    }
    for (const auto& built : all.patches) {
        const auto owner = c.plan->patches[built.patch].id + ".done";
        add_checks(c, owner, built.checks, list);
        add_cure_again(c, owner, built, list);
    }
    for (const auto& test : all.tests)
        add_checks(c, fmt::format("{}.{}", test.record->run, job::word(test.record->method)), test.checks, list);
    return list;
}

}  // namespace patchwright::sheet
