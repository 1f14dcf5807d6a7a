// What was not told, taken from the sheet of the day.
#include <algorithm>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "parts.hpp"

namespace patchwright::site {
namespace {

using job::PatchRecord;

/// From mixing until it is out; of one that lies, until after now.
struct Stay {
    Minute from = 0, to = 0;
};
std::optional<Stay> stay_of(const plan::Plan& plan, const Facts& facts, std::size_t patch) {
    const PatchRecord* r = facts.record.last_of(plan.patches[patch].id);
    if (r == nullptr || !r->mixed_at || is_lost(*r)) return std::nullopt;
    const Minute mixed = r->mixed_at->minutes - (from_yesterday(plan, patch, facts.day) ? whole_day : 0);
    return Stay{mixed, r->deflated_at ? r->deflated_at->minutes : facts.at + 1};
}

class AsPlanned {
public:
    AsPlanned(const plan::Plan& plan, Facts& facts, std::size_t patch)
        : plan_{plan},
          facts_{facts},
          patch_{patch},
          times_{plan.schedule.patches[patch]},
          yesterday_{from_yesterday(plan, patch, facts.day)} {}

    void take() {
        const std::string& id = plan_.patches[patch_].id;
        const PatchRecord* known = facts_.record.last_of(id);
        if (known != nullptr && known->outcome == job::SleeveOutcome::not_done) return;
        // The sheet knows of no second sleeve.
        if (was_lost(facts_.record, id) && (known == nullptr || is_lost(*known) || !known->mixed_at)) return;
        // A sleeve that is told to be mixed late goes on so much later.
        late_ = yesterday_ ? 0 : facts_.late;
        if (known != nullptr && known->mixed_at && !yesterday_) late_ = known->mixed_at->minutes - times_.mix;
        if (!is_over(times_.mix) || pipe_is_taken()) return;
        PatchRecord& r = open_entry(facts_.record, id);
        const bool told_later = r.deflated_at || r.creased_at;
        note(r.mixed_at, "mixed", times_.mix);
        if (!told_later) note(r.inflated_at, "inflated", times_.inflate);
        if (r.inflated_at)
            note(r.creased_at, "wrinkle check over", times_.inflate + plan_.work.patches[patch_].crease.minutes);
        if (r.inflated_at && facts_.as_planned && !r.deflated_at) {
            note(r.deflated_at, "air out", times_.let_down);
            if (r.deflated_at) facts_.taken_deflated.push_back(patch_);
        }
        if (!words_.empty()) facts_.taken.push_back(fmt::format("{} {}", id, fmt::join(words_, ", ")));
    }

private:
    /// By what was told another sleeve lies where this one would have to pass it.
    bool pipe_is_taken() const {
        return std::any_of(facts_.patches.begin(), facts_.patches.end(), [&](std::size_t other) {
            const auto stay = stay_of(plan_, facts_, other);
            return other != patch_ && stay && stay->to > moment(times_.mix) &&
                   schedule::must_pass(plan_.work.patches[patch_], plan_.work.patches[other]);
        });
    }
    /// A moment of the sheet, by the clock of this day.
    Minute moment(Minute when) const { return when + late_ - (yesterday_ ? whole_day : 0); }
    bool is_over(Minute when) const { return moment(when) <= facts_.at; }
    void note(std::optional<ClockTime>& to, std::string_view what, Minute when) {
        if (to || !is_over(when)) return;
        to = ClockTime{(when + late_ + whole_day) % whole_day};
        words_.push_back(fmt::format("{} {}", what, format(*to)));
    }

    const plan::Plan& plan_;
    Facts& facts_;
    std::size_t patch_;
    const schedule::PatchTimes& times_;
    bool yesterday_;
    Minute late_ = 0;
    std::vector<std::string> words_;
};

}  // namespace

bool is_lost(const PatchRecord& r) {
    return r.outcome == job::SleeveOutcome::stripped || r.outcome == job::SleeveOutcome::failed;
}

bool was_lost(const job::Record& record, const std::string& id) {
    return std::any_of(record.patches.begin(), record.patches.end(),
                       [&](const PatchRecord& r) { return r.id == id && is_lost(r); });
}

PatchRecord& open_entry(job::Record& record, const std::string& id) {
    auto& list = record.patches;
    const auto found = std::find_if(list.rbegin(), list.rend(), [&](const PatchRecord& r) { return r.id == id; });
    if (found != list.rend() && !is_lost(*found)) return *found;
    list.emplace_back().id = id;
    return list.back();
}

std::vector<std::string> in_each_others_way(const plan::Plan& plan, const Facts& facts) {
    std::vector<std::string> errors;
    for (const std::size_t i : facts.patches)
        for (const std::size_t k : facts.patches) {
            const auto a = stay_of(plan, facts, i), b = stay_of(plan, facts, k);
            const auto& work = plan.work.patches;
            if (i >= k || !a || !b || a->from >= b->to || b->from >= a->to) continue;
            if (!schedule::must_pass(work[i], work[k])) continue;
            const std::size_t first = a->from <= b->from ? i : k;
            errors.push_back(fmt::format(
                "{} and {} cannot lie in their pipe at once: tell when {} was out, --deflated or --lost {}=CLOCK",
                plan.patches[i].id, plan.patches[k].id, plan.patches[first].id, plan.patches[first].id));
        }
    return errors;
}

void take_as_planned(const plan::Plan& plan, Facts& facts) {
    for (const std::size_t patch : facts.patches) {
        const bool yesterday = from_yesterday(plan, patch, facts.day);
        const bool today = plan.schedule.patches[patch].day == facts.day;
        if (yesterday || (today && facts.as_planned)) AsPlanned{plan, facts, patch}.take();
    }
}

}  // namespace patchwright::site
