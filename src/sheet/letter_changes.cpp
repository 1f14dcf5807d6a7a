// What a revision changes against the job file of the former offer.
#include <algorithm>

#include <fmt/format.h>

#include "letter.hpp"
#include "words.hpp"

namespace patchwright::sheet {
namespace {

/// Things of one list by their name: gone, come, or different.
template <class T, class Name, class Words, class Same>
void compare(const std::vector<T>& before, const std::vector<T>& now, const Name& name, const Words& words,
             const Same& same, std::vector<std::string>& changes) {
    const auto find = [&](const std::vector<T>& list, const T& item) {
        return std::find_if(list.begin(), list.end(), [&](const T& other) { return name(other) == name(item); });
    };
    for (const T& item : now) {
        const auto old = find(before, item);
        if (old == before.end())
            changes.push_back("Added: " + words(item));
        else if (!same(*old, item))
            changes.push_back(fmt::format("Changed: {}; before: {}", words(item), words(*old)));
    }
    for (const T& item : before)
        if (find(now, item) == now.end()) changes.push_back("Left out: " + words(item));
}

/// "drain A: Crack (A1) at 3.90 m to 4.40 m, 3 mm"
std::string damage_at(const Context& c, const job::Run& run, const job::Defect& d) {
    auto words =
        fmt::format("drain {}: {} ({}) at {}", run.id, damage_words(d.kind), d.id, show(c, Show::run_distance, d.at));
    if (d.to > d.at) words += " to " + show(c, Show::run_distance, d.to);
    if (d.size) words += ", " + show(c, Show::tape, *d.size);
    if (d.size_percent) words += ", " + format(Show::percent, *d.size_percent / 100.0, c.units);
    return words;
}

std::string date_or_none(const std::optional<Date>& date) { return date ? format(*date) : std::string{"open"}; }

}  // namespace

std::vector<std::string> changes_since(const Context& c, const job::Job& former) {
    const auto& job = c.job();
    std::vector<std::string> changes;
    const auto differ = [&](const char* what, const std::string& before, const std::string& now) {
        if (before != now)
            changes.push_back(
                fmt::format("{}: {}; before: {}", what, now.empty() ? "none" : now, before.empty() ? "none" : before));
    };
    differ("Customer", former.customer.name, job.customer.name);
    differ("Site", former.customer.site_address, job.customer.site_address);
    differ("Date of the work", date_or_none(former.date), date_or_none(job.date));
    differ("Surface", std::string{job::word(*former.dig.surface)}, std::string{job::word(*job.dig.surface)});
    const auto run_name = [](const job::Run& run) { return run.id; };
    const auto run_words = [&](const job::Run& run) {
        return fmt::format("drain {}, {} to {}, {} long, bore {}, {} deep", run.id, run.from, run.to,
                           show(c, Show::run_distance, run.length), show(c, Show::tape, run.working_bore()),
                           show(c, Show::run_distance, run.depth));
    };
    compare(
        former.runs, job.runs, run_name, run_words,
        [&](const job::Run& a, const job::Run& b) { return run_words(a) == run_words(b); }, changes);
    for (const job::Run& run : job.runs) {
        const auto old = std::find_if(former.runs.begin(), former.runs.end(),
                                      [&](const job::Run& other) { return other.id == run.id; });
        if (old == former.runs.end()) continue;
        const auto words = [&](const job::Defect& d) { return damage_at(c, run, d); };
        compare(
            old->defects, run.defects, [](const job::Defect& d) { return d.id; }, words,
            [&](const job::Defect& a, const job::Defect& b) {
                return words(a) == words(b) && a.inflow == b.inflow && a.surrounding_sound == b.surrounding_sound;
            },
            changes);
    }
    const auto extra_words = [](const job::Extra& e) {
        return fmt::format("{}, {:g}{}{}", e.words, e.quantity, e.unit.empty() ? "" : " ", e.unit);
    };
    compare(
        former.extras, job.extras, [](const job::Extra& e) { return e.words; }, extra_words,
        [&](const job::Extra& a, const job::Extra& b) { return extra_words(a) == extra_words(b) && a.rate == b.rate; },
        changes);
    return changes;
}

}  // namespace patchwright::sheet
