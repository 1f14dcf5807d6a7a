// What became of the day's sleeves: state, limits by the clock, verdict.
#include <algorithm>

#include <fmt/format.h>

#include "parts.hpp"

namespace patchwright::site {

using schedule::What;

std::string_view word(State s) {
    switch (s) {
        case State::done:
            return "done";
        case State::in_pipe:
            return "in pipe";
        case State::in_hand:
            return "in hand";
        case State::lost:
            return "lost";
        case State::to_do:
            break;
    }
    return "to do";
}

std::string_view word(Verdict v) {
    switch (v) {
        case Verdict::go:
            return "go";
        case Verdict::strip:
            return "strip";
        case Verdict::wait:
            return "wait";
        case Verdict::none:
            break;
    }
    return "";
}

std::string clock_words(Minute minute) { return format(ClockTime{((minute % whole_day) + whole_day) % whole_day}); }

bool from_yesterday(const plan::Plan& plan, std::size_t patch, int day) {
    const auto& times = plan.schedule.patches[patch];
    return times.day == day - 1 && times.let_down >= whole_day;
}

const plan::Batch& Site::mix_of(std::size_t i) const {
    return *std::find_if(plan.batches.begin(), plan.batches.end(), [&](const plan::Batch& b) {
        const auto& list = b.batch.patches;
        return std::find(list.begin(), list.end(), static_cast<int>(i)) != list.end();
    });
}

const schedule::Task* Site::task(std::size_t patch, What what) const {
    // A re-survey is of the whole run, on the day on which the patch comes out.
    const bool of_run = what == What::re_survey;
    for (const auto& sheet : plan.schedule.days) {
        const schedule::Task *own = nullptr, *of_its_run = nullptr;
        for (const auto& t : sheet.tasks) {
            if (t.patch == static_cast<int>(patch) && t.what == (of_run ? What::let_down : what)) own = &t;
            if (t.run == work(patch).run && t.what == what) of_its_run = &t;
        }
        if (own != nullptr) return of_run ? of_its_run : own;
    }
    return nullptr;
}

int Site::crew_of(std::size_t patch) const {
    const auto* wet = task(patch, What::wet_out);
    return wet != nullptr && times(patch).day == facts.day ? wet->crew : 0;
}

namespace {

/// A step by its sheet, from mixing.
struct Step {
    Minute start = 0, finish = 0;
};
Step step_of(const Site& site, std::size_t patch, What what) {
    const auto* task = site.task(patch, what);
    const Minute mix = site.times(patch).mix;
    return task == nullptr ? Step{} : Step{task->start - mix, task->finish - mix};
}

/// What is left of the hands-on work by the likely durations. Who is behind them has at least the air still to do.
HandsLeft hands_left(const Site& site, const Sleeve& sleeve) {
    const auto& r = *sleeve.noted;
    const auto& work = site.work(sleeve.patch);
    const Minute at = site.facts.at;
    HandsLeft left;
    if (sleeve.inflated) {
        if (!r.creased_at) left.crease = std::max(0, *sleeve.inflated + work.crease.minutes - at);
        return left;
    }
    const Minute elapsed = at - *sleeve.mixed;
    Minute behind = 0;
    if (const auto poured = r.after_mixing(r.poured_at))
        behind = std::max(0, whole_minutes(*poured) - step_of(site, sleeve.patch, What::wet_out).start - work.pour);
    const auto rest = [&](What what) {
        const Step step = step_of(site, sleeve.patch, what);
        return std::max(0, step.finish + behind - std::max(elapsed, step.start + behind));
    };
    left = {rest(What::wet_out), rest(What::load), rest(What::position), rest(What::inflate), rest(What::crease)};
    if (left.to_inflated() == 0) left.inflate = work.inflate.minutes;
    if (left.inflate == work.inflate.minutes) left.crease = work.crease.minutes;
    return left;
}

/// When it is inflated by its sheet's order, or by what is left of its own work.
Minute expected_inflated(const Site& site, const Sleeve& sleeve) {
    return std::max(*sleeve.mixed + step_of(site, sleeve.patch, What::inflate).finish,
                    site.facts.at + sleeve.left.to_inflated());
}

void judge_in_hand(const Site& site, Sleeve& sleeve) {
    const Minute at = site.facts.at;
    const Minute inflated = expected_inflated(site, sleeve);
    const Minute crease_by = *sleeve.mixed + whole_minutes(sleeve.limits.crease_by);
    sleeve.verdict = Verdict::strip;
    if (sleeve.limits.refused)
        sleeve.words = *sleeve.limits.refused;
    else if (at > *sleeve.inflate_by)
        sleeve.words = fmt::format("it was to be inflated by {}, {} min ago", clock_words(*sleeve.inflate_by),
                                   at - *sleeve.inflate_by);
    else if (inflated > *sleeve.inflate_by || inflated + sleeve.left.crease > crease_by)
        sleeve.words = fmt::format("{} min of work are left before it is inflated, and {} min of time", inflated - at,
                                   *sleeve.inflate_by - at);
    else
        sleeve.verdict = Verdict::go;
}

void judge_in_pipe(const Site& site, Sleeve& sleeve) {
    const Minute at = site.facts.at;
    const Minute late = *sleeve.inflated - *sleeve.inflate_by;
    const Minute gels = *sleeve.mixed + whole_minutes(sleeve.limits.gel);
    sleeve.verdict = Verdict::wait;
    if (sleeve.limits.refused) {
        sleeve.words = *sleeve.limits.refused + ": no time holds for it, the witness alone tells; ring the office";
    } else if (late > 0 && at < gels) {
        sleeve.verdict = Verdict::strip;
        sleeve.words = fmt::format("it was inflated {} min after its limit, {}", late, clock_words(*sleeve.inflate_by));
    } else {
        if (late > 0)
            sleeve.words = fmt::format(
                "inflated {} min after its limit and gelled since {}: hold the pressure, look at it with the camera "
                "after, it may have to be cut out",
                late, clock_words(gels));
        const bool soft = sleeve.noted->witness.hard == job::YesNo::no;
        if (soft && at >= *sleeve.let_down) sleeve.words = "the witness was not hard: hold until it is";
        if (at >= *sleeve.let_down && !soft) sleeve.verdict = Verdict::go;
    }
}

State state_of(const job::PatchRecord* r) {
    if (r == nullptr) return State::to_do;
    if (is_lost(*r)) return State::lost;
    if (r->outcome == job::SleeveOutcome::not_done || !r->mixed_at) return State::to_do;
    if (r->deflated_at) return State::done;
    return r->inflated_at ? State::in_pipe : State::in_hand;
}

Sleeve sleeve_of(const Site& site, std::size_t patch, LimitBook& limits) {
    Sleeve sleeve;
    sleeve.patch = patch;
    sleeve.noted = site.facts.record.last_of(site.patch(patch).id);
    sleeve.state = state_of(sleeve.noted);
    if (sleeve.state == State::to_do && was_lost(site.facts.record, site.patch(patch).id)) sleeve.state = State::lost;
    sleeve.overnight = site.from_yesterday(patch);
    const auto& planned = site.times(patch);
    sleeve.planned_let_down = planned.let_down - (sleeve.overnight ? whole_day : 0);
    sleeve.limits = limits.of(patch, site.patch(patch), sleeve.noted);
    if (sleeve.noted == nullptr) return sleeve;
    const auto& r = *sleeve.noted;
    if (r.outcome == job::SleeveOutcome::not_done) sleeve.another_day = "noted as not done";
    if (sleeve.state == State::lost || sleeve.state == State::to_do) return sleeve;
    sleeve.mixed = r.mixed_at->minutes - (sleeve.overnight ? whole_day : 0);
    const auto clock = [&](const std::optional<ClockTime>& at) -> std::optional<Minute> {
        if (!at) return std::nullopt;
        return *sleeve.mixed + whole_minutes(*r.after_mixing(at));
    };
    sleeve.inflated = clock(r.inflated_at);
    sleeve.deflated = clock(r.deflated_at);
    sleeve.inflate_by = *sleeve.mixed + whole_minutes(sleeve.limits.inflate_by);
    if (!sleeve.limits.refused) sleeve.let_down = *sleeve.mixed + whole_minutes(sleeve.limits.let_down);
    const auto& taken = site.facts.taken_deflated;
    const bool only_taken = std::find(taken.begin(), taken.end(), patch) != taken.end();
    if (only_taken && (!sleeve.let_down || *sleeve.let_down > *sleeve.deflated)) {
        // Nobody lets down by a sheet that what was measured has put off.
        const bool since = sleeve.let_down && *sleeve.let_down <= site.facts.at;
        if (!since) sleeve.state = State::in_pipe;
        sleeve.deflated = since ? sleeve.let_down : std::nullopt;
    }
    if (sleeve.state == State::done) return sleeve;
    sleeve.left = hands_left(site, sleeve);
    if (sleeve.state == State::in_hand)
        judge_in_hand(site, sleeve);
    else
        judge_in_pipe(site, sleeve);
    return sleeve;
}

}  // namespace

std::vector<Sleeve> sleeves_of(const Site& site, LimitBook& limits) {
    std::vector<Sleeve> list;
    for (const std::size_t patch : site.facts.patches) list.push_back(sleeve_of(site, patch, limits));
    return list;
}

}  // namespace patchwright::site
