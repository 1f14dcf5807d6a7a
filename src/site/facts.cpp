// What was told and noted, put together and held against itself: everything that is wrong comes in one go.
#include <algorithm>
#include <array>
#include <cmath>
#include <set>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "parts.hpp"
#include "patchwright/units/format.hpp"

namespace patchwright::site {
namespace {

using job::PatchRecord;
using Clock = std::optional<ClockTime>;

/// A step of a sleeve, in the order in which it comes.
struct Field {
    std::string_view option, key, words;
    Clock PatchRecord::*member;
};
constexpr std::array fields{Field{"--mixed", "mixed_at", "mixed", &PatchRecord::mixed_at},
                            Field{"--poured", "poured_at", "poured", &PatchRecord::poured_at},
                            Field{"--inflated", "inflated_at", "inflated", &PatchRecord::inflated_at},
                            Field{"--creased", "creased_at", "checked for wrinkles", &PatchRecord::creased_at},
                            Field{"--deflated", "deflated_at", "deflated", &PatchRecord::deflated_at}};

struct Warmth {
    std::string_view option;
    std::optional<Temperature> PatchRecord::*member;
};
constexpr std::array warmths{Warmth{"--pipe", &PatchRecord::pipe_temperature},
                             Warmth{"--resin", &PatchRecord::resin_temperature},
                             Warmth{"--air", &PatchRecord::air_temperature}};

class FactsReader {
public:
    FactsReader(const plan::Plan& plan, const job::Record& record, const std::vector<Told>& told, Minute at,
                std::optional<int> day, bool as_planned)
        : job_{*plan.job}, yard_{*plan.yard}, plan_{plan}, record_{record}, told_{told}, facts_{reading_.facts} {
        facts_.at = at;
        day_given_ = day.has_value();
        facts_.day = day.value_or(last_noted_day());
        facts_.as_planned = as_planned;
        facts_.record.job = record.job;
    }

    Reading read() {
        take_record();
        for (const Told& told : told_)
            if (told.option == "--lost") take_lost(told);
        for (const Told& told : told_) take(told);
        for (std::size_t i = 0; i < plan_.patches.size(); ++i)
            if (is_today(i)) facts_.patches.push_back(i);
        measure_everywhere();
        check_times();
        if (reading_.good()) {
            auto& errors = told_.empty() ? reading_.record_errors : reading_.told_errors;
            errors = in_each_others_way(plan_, facts_);
        }
        if (reading_.good()) take_as_planned(plan_, facts_);
        return std::move(reading_);
    }

private:
    // ---- names and texts -----------------------------------------------------------------------------------------

    template <class... Args>
    void wrong(const Told& told, fmt::format_string<Args...> text, Args&&... args) {
        reading_.told_errors.push_back(
            fmt::format("{} {}: {}", told.option, told.text, fmt::format(text, std::forward<Args>(args)...)));
    }

    /// The patch of that name, or the only one whose name ends so.
    std::optional<std::size_t> patch_of(const Told& told, std::string_view name) {
        std::vector<std::size_t> ends;
        std::vector<std::string> all;
        for (std::size_t i = 0; i < plan_.patches.size(); ++i) {
            const std::string& id = plan_.patches[i].id;
            if (id == name) return of_day(told, i);
            all.push_back(id);
            if (!name.empty() && id.ends_with(fmt::format("-{}", name))) ends.push_back(i);
        }
        if (ends.size() == 1) return of_day(told, ends.front());
        if (ends.empty()) {
            wrong(told, "the plan has no patch \"{}\"; it has {}", name, fmt::join(all, ", "));
        } else {
            std::vector<std::string> list;
            for (const std::size_t i : ends) list.push_back(plan_.patches[i].id);
            wrong(told, "\"{}\" may be {}", name, fmt::join(list, " or "));
        }
        return std::nullopt;
    }
    /// Who names no day means this one's patches.
    std::optional<std::size_t> of_day(const Told& told, std::size_t patch) {
        const int planned = plan_.schedule.patches[patch].day;
        if (day_given_ || planned == facts_.day || from_yesterday(plan_, patch, facts_.day)) return patch;
        wrong(told, "is planned for day {}: give --day {}, or --day {} if it is made on that day", planned + 1,
              planned + 1, facts_.day + 1);
        return std::nullopt;
    }
    template <class T>
    std::optional<T> value_of(const Told& told, const Parsed<T>& parsed) {
        if (parsed) return *parsed;
        wrong(told, "{}", parsed.error().message);
        return std::nullopt;
    }

    // ---- what was noted ------------------------------------------------------------------------------------------

    /// The day that an entry is of: by its date, else by the plan.
    int day_of(const PatchRecord& r) const {
        const auto date = r.date ? std::find(plan_.dates.begin(), plan_.dates.end(), *r.date) : plan_.dates.end();
        if (date != plan_.dates.end()) return static_cast<int>(date - plan_.dates.begin());
        for (std::size_t i = 0; i < plan_.patches.size(); ++i)
            if (plan_.patches[i].id == r.id) return plan_.schedule.patches[i].day;
        return -1;
    }
    int last_noted_day() const {
        int last = 0;
        for (const auto& r : record_.patches)
            if (r.mixed_at) last = std::max(last, day_of(r));
        return std::min(last, static_cast<int>(plan_.schedule.days.size()) - 1);
    }
    void take_record() {
        for (const auto& r : record_.patches) {
            std::size_t patch = 0;
            while (patch < plan_.patches.size() && plan_.patches[patch].id != r.id) ++patch;
            const bool overnight =
                patch < plan_.patches.size() && from_yesterday(plan_, patch, facts_.day) && day_of(r) == facts_.day - 1;
            const bool blank =
                !r.mixed_at && !r.outcome && !r.pipe_temperature && !r.resin_temperature && !r.air_temperature;
            if ((day_of(r) == facts_.day || overnight) && !blank) facts_.record.patches.push_back(r);
        }
    }
    PatchRecord& entry_for(std::size_t patch) { return open_entry(facts_.record, plan_.patches[patch].id); }

    // ---- what was told -------------------------------------------------------------------------------------------

    struct Lost {
        std::size_t patch = 0;
        Clock at;
        std::size_t entry = 0;  ///< its sleeve's place in the record
    };
    void take_lost(const Told& told) {
        const auto equals = told.text.find('=');
        const auto patch = patch_of(told, std::string_view{told.text}.substr(0, equals));
        Clock at;
        if (equals != std::string::npos) at = value_of(told, parse_clock_time(told.text.substr(equals + 1)));
        if (!patch || (equals != std::string::npos && !at)) return;
        if (at && at->minutes > facts_.at) return wrong(told, "lies after --at {}", clock_words(facts_.at));
        if (lost_of(*patch) != nullptr) return wrong(told, "told twice");
        PatchRecord& sleeve = entry_for(*patch);
        sleeve.outcome = job::SleeveOutcome::stripped;
        lost_.push_back({*patch, at, static_cast<std::size_t>(&sleeve - facts_.record.patches.data())});
    }
    const Lost* lost_of(std::size_t patch) const {
        const auto found =
            std::find_if(lost_.begin(), lost_.end(), [patch](const Lost& lost) { return lost.patch == patch; });
        return found == lost_.end() ? nullptr : &*found;
    }
    /// The sleeve that a moment belongs to: the lost one before it was lost, the next one after.
    PatchRecord& sleeve_at(std::size_t patch, ClockTime at) {
        const Lost* lost = lost_of(patch);
        if (lost != nullptr && (!lost->at || at <= *lost->at)) return facts_.record.patches[lost->entry];
        return entry_for(patch);
    }

    void take(const Told& told) {
        if (told.option == "--lost") return;
        for (const Field& field : fields)
            if (told.option == field.option) return take_time(told, field);
        for (const Warmth& warmth : warmths)
            if (told.option == warmth.option) return take_warmth(told, warmth);
        if (told.option == "--reading") return take_reading(told);
        if (told.option == "--ready") return take_ready(told);
        if (told.option == "--packer-lost") return take_packer(told);
        if (told.option == "--persons") return take_persons(told);
        if (told.option == "--late") return take_late(told);
        wrong(told, "no such option");
    }
    /// "PATCH=VALUE".
    std::optional<std::pair<std::size_t, std::string>> patch_and_value(const Told& told) {
        const auto equals = told.text.find('=');
        if (equals == std::string::npos) {
            wrong(told, "say of which patch: PATCH=VALUE, such as {}={}",
                  plan_.patches.empty() ? "A-P1" : plan_.patches.front().id, told.text.empty() ? "10:40" : told.text);
            return std::nullopt;
        }
        const auto patch = patch_of(told, std::string_view{told.text}.substr(0, equals));
        if (!patch) return std::nullopt;
        return std::pair{*patch, told.text.substr(equals + 1)};
    }
    void take_time(const Told& told, const Field& field) {
        const auto parts = patch_and_value(told);
        if (!parts) return;
        const auto at = value_of(told, parse_clock_time(parts->second));
        if (!at) return;
        const bool yesterday = from_yesterday(plan_, parts->first, facts_.day);
        if (at->minutes > facts_.at && !yesterday) return wrong(told, "lies after --at {}", clock_words(facts_.at));
        PatchRecord& sleeve = sleeve_at(parts->first, *at);
        if (!told_times_.insert({static_cast<std::size_t>(&sleeve - facts_.record.patches.data()), field.key}).second)
            return wrong(told, "told twice");
        sleeve.*field.member = *at;
    }
    void take_warmth(const Told& told, const Warmth& warmth) {
        const auto equals = told.text.find('=');
        const auto value =
            value_of(told, parse_temperature(equals == std::string::npos ? told.text : told.text.substr(equals + 1)));
        if (value && (value->in_celsius() < -30.0 || value->in_celsius() > 60.0))
            return wrong(told, "is no temperature that a pipe, a resin or the air of a working day has");
        if (equals == std::string::npos) {
            auto& everywhere = everywhere_[static_cast<std::size_t>(&warmth - warmths.data())];
            if (value && everywhere) return wrong(told, "told twice");
            everywhere = value;
            return;
        }
        const auto patch = patch_of(told, std::string_view{told.text}.substr(0, equals));
        if (!patch || !value) return;
        PatchRecord& sleeve = entry_for(*patch);
        const auto place = static_cast<std::size_t>(&sleeve - facts_.record.patches.data());
        if (!told_times_.insert({place, warmth.option}).second) return wrong(told, "told twice");
        sleeve.*warmth.member = *value;
    }
    void take_reading(const Told& told) {
        const auto parts = patch_and_value(told);
        if (!parts) return;
        const auto blank = parts->second.find(' ');
        const auto at = value_of(told, parse_clock_time(parts->second.substr(0, blank)));
        const auto value = value_of(
            told, parse_temperature(blank == std::string::npos ? std::string{} : parts->second.substr(blank + 1)));
        if (!at || !value) return;
        if (at->minutes > facts_.at) return wrong(told, "lies after --at {}", clock_words(facts_.at));
        entry_for(parts->first).temperatures.push_back({*at, *value, job::Probe::pipe});
    }
    void take_ready(const Told& told) {
        const auto equals = told.text.find('=');
        const auto name = told.text.substr(0, equals);
        const auto run =
            std::find_if(job_.runs.begin(), job_.runs.end(), [&](const job::Run& r) { return r.id == name; });
        if (run == job_.runs.end()) return wrong(told, "the job has no run \"{}\"", name);
        const Clock since = equals == std::string::npos
                                ? Clock{ClockTime{facts_.at}}
                                : Clock{value_of(told, parse_clock_time(told.text.substr(equals + 1)))};
        if (!since) return;
        if (since->minutes > facts_.at) return wrong(told, "lies after --at {}", clock_words(facts_.at));
        const auto place = job::run_place(static_cast<int>(run - job_.runs.begin()));
        if (std::any_of(facts_.ready.begin(), facts_.ready.end(), [&](const auto& r) { return r.run == place; }))
            return wrong(told, "told twice");
        facts_.ready.push_back({place, since->minutes});
    }
    void take_packer(const Told& told) {
        std::vector<std::string> names;
        for (const auto& packer : yard_.packers) names.push_back(packer.id);
        for (const auto& chassis : yard_.chassis) names.push_back(chassis.id);
        if (std::find(names.begin(), names.end(), told.text) == names.end())
            return wrong(told, "the yard has no such packer; it has {}", fmt::join(names, ", "));
        facts_.lost_packers.push_back(told.text);
    }
    void take_persons(const Told& told) {
        const bool digit = told.text.size() == 1 && told.text[0] >= '1' && told.text[0] <= '4';
        if (!digit) return wrong(told, "a crew has 1 to 4 persons");
        if (facts_.persons) return wrong(told, "told twice");
        facts_.persons = told.text[0] - '0';
    }
    void take_late(const Told& told) {
        const auto late = value_of(told, parse_duration(told.text));
        if (!late) return;
        if (*late < Duration{} || *late > 12.0 * unit::h) return wrong(told, "must be from 0 min to 12 h");
        facts_.late = static_cast<Minute>(std::ceil(late->in(unit::minute)-1e-9));
        facts_.as_planned = true;
    }

    /// What was measured of no patch in particular holds for each that has nothing of its own.
    void measure_everywhere() {
        for (std::size_t w = 0; w < warmths.size(); ++w) {
            if (!everywhere_[w]) continue;
            for (const std::size_t i : facts_.patches) {
                auto& own = entry_for(i).*warmths[w].member;
                if (!own) own = everywhere_[w];
            }
            // A lost sleeve's next one, too, is mixed in what was measured.
            for (auto& r : facts_.record.patches)
                if (is_lost(r) && !(r.*warmths[w].member)) r.*warmths[w].member = everywhere_[w];
        }
    }

    // ---- checks --------------------------------------------------------------------------------------------------

    bool is_today(std::size_t i) const {
        const auto& list = facts_.record.patches;
        return plan_.schedule.patches[i].day == facts_.day || from_yesterday(plan_, i, facts_.day) ||
               std::any_of(list.begin(), list.end(), [&](const PatchRecord& r) { return r.id == plan_.patches[i].id; });
    }
    void check_times() {
        for (std::size_t k = 0; k < facts_.record.patches.size(); ++k) {
            const PatchRecord& r = facts_.record.patches[k];
            const Field* last = nullptr;
            for (const Field& field : fields) {
                const Clock& at = r.*field.member;
                if (!at) continue;
                const bool told = told_times_.contains({k, field.key});
                auto& errors = told ? reading_.told_errors : reading_.record_errors;
                const auto where = told ? fmt::format("{} {}={}", field.option, r.id, format(*at))
                                        : fmt::format("{}: {} {}", r.id, field.key, format(*at));
                if (!r.mixed_at) {
                    errors.push_back(where + ": say when it was mixed too, --mixed PATCH=CLOCK");
                    break;
                }
                if (since_mixing(r, *at) > since_mixing(r, ClockTime{facts_.at}))
                    errors.push_back(fmt::format("{}: lies after --at {}", where, clock_words(facts_.at)));
                else if (last != nullptr && since_mixing(r, *at) < since_mixing(r, *(r.*last->member)))
                    errors.push_back(
                        fmt::format("{}: lies before it was {} at {}", where, last->words, format(*(r.*last->member))));
                last = &field;
            }
        }
    }
    /// Minutes; a sleeve of the day before is mixed before midnight.
    Minute since_mixing(const PatchRecord& r, ClockTime at) const {
        Minute minutes = at.minutes - r.mixed_at->minutes;
        const bool overnight = std::any_of(facts_.patches.begin(), facts_.patches.end(), [&](std::size_t i) {
            return plan_.patches[i].id == r.id && from_yesterday(plan_, i, facts_.day);
        });
        if (overnight && minutes < 0) minutes += whole_day;
        return minutes;
    }

    const job::Job& job_;
    const job::Yard& yard_;
    const plan::Plan& plan_;
    const job::Record& record_;
    const std::vector<Told>& told_;
    Reading reading_;
    Facts& facts_;
    bool day_given_ = false;
    std::vector<Lost> lost_;
    std::set<std::pair<std::size_t, std::string_view>> told_times_;
    std::array<std::optional<Temperature>, warmths.size()> everywhere_;
};

}  // namespace

Reading read_facts(const plan::Plan& plan, const job::Record& record, const std::vector<Told>& told, Minute at,
                   std::optional<int> day, bool as_planned) {
    return FactsReader{plan, record, told, at, day, as_planned}.read();
}

}  // namespace patchwright::site
