#include "words.hpp"

#include <algorithm>
#include <cctype>
#include <cmath>

#include <fmt/format.h>

namespace patchwright::sheet {

std::string clock_text(int minutes) { return format(ClockTime{((minutes % 1440) + 1440) % 1440}); }

std::string date_text(const Context& c, int day) {
    const auto place = static_cast<std::size_t>(day);
    return place < c.plan->dates.size() ? format(c.plan->dates[place]) : std::string{};
}

std::string day_name(const Context& c, int day) {
    auto date = date_text(c, day);
    return date.empty() ? fmt::format("Day {}", day + 1) : date;
}

std::string assumption_text(const job::Assumption& a) {
    return fmt::format("{}: {} {} ({})", a.where, a.what, a.value, a.why);
}

const job::Run& run_of(const Context& c, const plan::Patch& patch) {
    return c.job->runs[static_cast<std::size_t>(patch.run)];
}

std::string defect_ids(const Context& c, const plan::Patch& patch) {
    std::string ids;
    for (const int defect : patch.defects) {
        if (!ids.empty()) ids += ", ";
        ids += run_of(c, patch).defects[static_cast<std::size_t>(defect)].id;
    }
    return ids;
}

std::string defect_words(const Context& c, const job::Defect& d) {
    auto words = fmt::format("{} {} at {}", d.id, job::word(d.kind), show(c, Show::run_distance, d.at));
    if (d.to > d.at) words += fmt::format(" to {}", show(c, Show::run_distance, d.to));
    if (d.clock) words += fmt::format(", {} o'clock", format(*d.clock));
    if (d.size) words += fmt::format(", {}", show(c, Show::tape, *d.size));
    if (d.size_percent) words += fmt::format(", {}", format(Show::percent, *d.size_percent / 100.0, c.units));
    return words;
}

std::string latest(const Context& c, Duration time) {
    return show(c, Show::minutes, std::floor(time.in(unit::minute) + 1e-9) * unit::minute);
}
std::string earliest(const Context& c, Duration time) {
    return show(c, Show::span, std::ceil(time.in(unit::minute)-1e-9) * unit::minute);
}

std::string cut_size(const Context& c, Length length) {
    return format_up(Show::tape, std::ceil(length.in(unit::mm)-1e-6) * unit::mm, c.units);
}

bool in_a_patch(const Context& c, std::size_t run, std::size_t defect) {
    return std::any_of(c.plan->patches.begin(), c.plan->patches.end(), [&](const plan::Patch& p) {
        return p.run == static_cast<int>(run) &&
               std::find(p.defects.begin(), p.defects.end(), static_cast<int>(defect)) != p.defects.end();
    });
}

bool names(const std::string& text, const std::string& name) {
    const auto in_word = [](char ch) {
        return std::isalnum(static_cast<unsigned char>(ch)) != 0 || ch == '-' || ch == '_';
    };
    for (auto at = text.find(name); at != std::string::npos; at = text.find(name, at + 1)) {
        const bool before = at > 0 && in_word(text[at - 1]);
        const auto end = at + name.size();
        if (!before && (end >= text.size() || !in_word(text[end]))) return true;
    }
    return false;
}

Block heading(std::string text, int level) { return {Heading{std::move(text), level}}; }
Block paragraph(std::string text, Emphasis emphasis) { return {Paragraph{std::move(text), emphasis}}; }

}  // namespace patchwright::sheet
