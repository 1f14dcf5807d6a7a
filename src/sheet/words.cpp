#include "words.hpp"

#include <algorithm>
#include <cctype>
#include <cmath>
#include <map>

#include <fmt/format.h>

#include "patchwright/units/calendar.hpp"

namespace patchwright::sheet {

const job::Job& Context::job() const { return *plan->job; }
const job::Yard& Context::yard() const { return *plan->yard; }

std::string clock_text(int minutes) { return format(ClockTime{((minutes % 1440) + 1440) % 1440}); }

std::vector<std::string> filled_lines(std::string_view text) {
    std::vector<std::string> lines;
    while (!text.empty()) {
        const auto end = std::min(text.find('\n'), text.size());
        if (end > 0) lines.emplace_back(text.substr(0, end));
        text.remove_prefix(std::min(end + 1, text.size()));
    }
    return lines;
}

std::string date_text(const Context& c, int day) {
    const auto place = static_cast<std::size_t>(day);
    return place < c.plan->dates.size() ? format(c.plan->dates[place]) : std::string{};
}

std::string day_name(const Context& c, int day) {
    auto date = date_text(c, day);
    return date.empty() ? fmt::format("Day {}", day + 1) : date;
}

namespace {

const Date* date_of(const Context& c, int day) {
    const auto place = static_cast<std::size_t>(day);
    return place < c.plan->dates.size() ? &c.plan->dates[place] : nullptr;
}

}  // namespace

std::string day_with_weekday(const Context& c, int day) {
    const Date* date = date_of(c, day);
    if (date == nullptr) return day_name(c, day);
    return fmt::format("{:.3} {}", weekday_name(weekday(*date)), format(*date));
}

std::string weekend_words(const Context& c, int day) {
    const Date* date = date_of(c, day);
    if (date == nullptr || weekday(*date) < 5) return {};
    return fmt::format("{} is a {}: ask whether work, noise and the office's telephone are possible.", format(*date),
                       weekday_name(weekday(*date)));
}

std::string_view task_word(schedule::What what) {
    if (what == schedule::What::let_down) return "deflate and withdraw";
    if (what == schedule::What::crease) return "wrinkle check";
    return schedule::word(what);
}

std::string one_in(double chance) {
    if (chance < 0.001) return "less than 1 in 1000";
    if (chance > 0.5) return "more than 1 in 2";
    const double whole = std::floor(1.0 / chance + 1e-9);
    const double step = whole >= 100.0 ? 10.0 : whole >= 20.0 ? 5.0 : 1.0;
    return fmt::format("1 in {:.0f}", std::floor(whole / step) * step);
}

const std::string& patch_id(const Context& c, int patch) { return c.plan->patches[static_cast<std::size_t>(patch)].id; }

const plan::Batch& mix_of(const Context& c, std::size_t patch) {
    const auto holds = [&](const plan::Batch& batch) {
        return std::find(batch.batch.patches.begin(), batch.batch.patches.end(), static_cast<int>(patch)) !=
               batch.batch.patches.end();
    };
    return *std::find_if(c.plan->batches.begin(), c.plan->batches.end(), holds);
}

std::string assumption_text(const job::Assumption& a) {
    return fmt::format("{}: {} {} ({})", a.where, a.what, a.value, a.why);
}

namespace {

using Said = std::pair<std::string, std::string>;  ///< "run A", and what is said of it

/// What is said alike of several of a kind, of all of them at once: "runs A, B".
std::vector<Said> of_all_at_once(const std::vector<Said>& list) {
    std::vector<Said> lines;
    std::map<Said, std::size_t> places;  // by kind and what is said
    for (const auto& [where, said] : list) {
        const auto blank = where.find(' ');
        const auto kind = where.substr(0, blank);
        const auto [place, fresh] = places.try_emplace({kind, said}, lines.size());
        if (fresh) {
            lines.emplace_back(where, said);
        } else if (blank != std::string::npos) {
            auto& all = lines[place->second].first;
            if (all.find(',') == std::string::npos) all.insert(kind.size(), "s");
            all += "," + where.substr(blank);
        }
    }
    return lines;
}

}  // namespace

std::vector<std::string> assumption_lines(const std::vector<job::Assumption>& assumptions, bool brief) {
    std::vector<Said> list;
    for (const auto& a : assumptions)
        list.emplace_back(a.where, brief ? a.what + " " + a.value : fmt::format("{} {} ({})", a.what, a.value, a.why));
    std::vector<Said> lines;
    for (const Said& next : of_all_at_once(list)) {
        const auto same =
            std::find_if(lines.begin(), lines.end(), [&](const Said& line) { return line.first == next.first; });
        if (brief && same != lines.end())
            same->second += "; " + next.second;
        else
            lines.push_back(next);
    }
    std::vector<std::string> texts;
    for (const auto& [where, said] : lines) texts.push_back(fmt::format("{}: {}", where, said));
    return texts;
}

bool cleaned_before(const Context& c, job::RunPlace run, int day) {
    const auto& days = c.plan->schedule.days;
    const auto first = static_cast<std::size_t>(std::max(0, day));
    return std::any_of(days.begin(), days.begin() + static_cast<std::ptrdiff_t>(std::min(first, days.size())),
                       [&](const schedule::Day& d) {
                           return std::any_of(d.tasks.begin(), d.tasks.end(), [&](const schedule::Task& task) {
                               return task.what == schedule::What::clean && task.run == run;
                           });
                       });
}

bool cleaned_before(const Context& c, std::size_t patch) {
    return cleaned_before(c, job::run_place(c.plan->patches[patch].run), c.plan->schedule.patches[patch].day);
}

std::string patch_ids(const Context& c, const std::vector<std::size_t>& patches) {
    std::string ids;
    for (const auto i : patches) ids += (ids.empty() ? "" : ", ") + c.plan->patches[i].id;
    return ids;
}

std::string defect_ids(const Context& c, const plan::Patch& patch) {
    std::string ids;
    for (const int defect : patch.defects) {
        if (!ids.empty()) ids += ", ";
        ids += c.plan->run_of(patch).defects[static_cast<std::size_t>(defect)].id;
    }
    return ids;
}

bool cuts(const Context& c, std::size_t place) {
    const auto& patch = c.plan->patches[place];
    return !patch.reopened.empty() ||
           std::any_of(patch.preparations.begin(), patch.preparations.end(), [&](const std::string& preparation) {
               if (preparation == survey::cut_roots) return !cleaned_before(c, place);
               return preparation.starts_with("cut ");
           });
}

bool never_shut_in(const Context& c, const plan::Patch& patch) {
    return c.yard().limits.air == job::AirSupply::regulated && !patch.pressure.shut_in_holds;
}

std::string clock_words(ClockRange clock) {
    return clock.share() >= 1.0 ? std::string{"all round"} : format(clock) + " o'clock";
}

std::string defect_words(const Context& c, const job::Defect& d) {
    auto words = fmt::format("{} {} at {}", d.id, job::word(d.kind), show(c, Show::run_distance, d.at));
    if (d.to > d.at) words += fmt::format(" to {}", show(c, Show::run_distance, d.to));
    if (d.clock) words += ", " + clock_words(*d.clock);
    if (d.size) words += fmt::format(", {}", show(c, Show::tape, *d.size));
    if (d.size_percent) words += fmt::format(", {}", format(Show::percent, *d.size_percent / 100.0, c.units));
    if (!d.remark.empty()) words += fmt::format(". \"{}\"", d.remark);
    return words;
}

std::string fitting_words(const Context& c, const job::Fitting& f) {
    const auto place = show(c, Show::run_distance, f.at);
    std::string words;
    // One without a name of its own is called by its kind and place.
    if (!f.id.ends_with(" at " + place)) words = f.id + ": ";
    if (f.kind == job::FittingKind::junction) words += f.live ? "live " : "dead ";
    words += fmt::format("{} at {}", job::word(f.kind), place);
    if (f.kind == job::FittingKind::bend)
        words += ", " + format(Show::angle, f.angle, c.units);
    else
        words += fmt::format(", {}{}", f.kind == job::FittingKind::size_change ? "bore beyond " : "",
                             show(c, Show::tape, f.bore));
    if (f.radius) words += fmt::format(", radius {}", show(c, Show::tape, *f.radius));
    if (f.clock) words += ", " + clock_words(*f.clock);
    return words;
}

std::string shown(const Context& c, const plan::Patch& patch, std::string_view name) {
    return plan::patch_figure(name).shown(patch, c.units);
}
std::string shown(const Context& c, const plan::Batch& batch, std::string_view name) {
    return plan::batch_figure(name).shown(batch, c.units);
}

bool in_a_patch(const Context& c, std::size_t run, std::size_t defect) {
    return std::any_of(c.plan->patches.begin(), c.plan->patches.end(), [&](const plan::Patch& p) {
        return p.run == static_cast<int>(run) &&
               std::find(p.defects.begin(), p.defects.end(), static_cast<int>(defect)) != p.defects.end();
    });
}

bool in_word(char ch) { return std::isalnum(static_cast<unsigned char>(ch)) != 0 || ch == '-' || ch == '_'; }

bool names(const std::string& text, const std::string& name) {
    for (auto at = text.find(name); at != std::string::npos; at = text.find(name, at + 1)) {
        const bool before = at > 0 && in_word(text[at - 1]);
        const auto end = at + name.size();
        if (!before && (end >= text.size() || !in_word(text[end]))) return true;
    }
    return false;
}

Block heading(std::string text, int level, std::string jump) {
    return {Heading{std::move(text), level, std::move(jump)}};
}
Block paragraph(std::string text, Emphasis emphasis) { return {Paragraph{std::move(text), emphasis}}; }

}  // namespace patchwright::sheet
