// What a crew finds at the moment, as the scheduler's work.
#include "items.hpp"

#include <algorithm>
#include <utility>

namespace patchwright::site {

using schedule::PatchWork;
using schedule::What;

CrewItems::CrewItems(const Site& site, Now& now, int of_crew) : crew{of_crew}, site_{site}, now_{now} {
    for (std::size_t i = 0; i < now.sleeves.size(); ++i)
        (site.crew_of(patch(i)) == crew ? mine_ : others_).push_back(i);
    make_frame();
    for (const std::size_t i : mine_) add(i);
    have_what_is_used();
    for (const std::size_t i : mine_)
        if (sleeve(i).again || (sleeve(i).state == State::to_do && sleeve(i).another_day.empty())) add_to_make(i);
}

void CrewItems::make_frame() {
    const auto& facts = site_.facts;
    frame = site_.plan.work;
    frame.patches.clear();
    frame.mixes.clear();
    frame.runs.clear();
    const Minute left = frame.start + facts.late, arrival = left + frame.travel;
    const bool seen =
        std::any_of(now_.sleeves.begin(), now_.sleeves.end(), [](const Sleeve& s) { return s.mixed && !s.overnight; });
    const bool there = facts.at >= arrival || seen || !facts.ready.empty();
    frame.start = there ? facts.at : std::max(facts.at, left);
    frame.travel_out = there ? 0 : arrival - frame.start;
    frame.persons = persons();
    for (auto& kind : frame.packers) {
        const auto lost = std::count(facts.lost_packers.begin(), facts.lost_packers.end(), kind.id);
        kind.count = std::max(0, kind.count - static_cast<int>(lost));
    }
    // What other crews have is not there for this one.
    for (const std::size_t i : others_)
        if (sleeve(i).state != State::done) take_off(i);
}

void CrewItems::take_off(std::size_t i) {
    auto& kind = frame.packers[static_cast<std::size_t>(site_.work(patch(i)).packer)];
    kind.count = std::max(0, kind.count - 1);
    frame.air_lines = std::max(0, frame.air_lines - 1);
}

/// What holds a sleeve is there, whatever was lost.
void CrewItems::have_what_is_used() {
    for (std::size_t k = 0; k < frame.packers.size(); ++k) {
        const auto used = std::count_if(fixed.begin(), fixed.end(),
                                        [k](const Item& i) { return i.work.packer == static_cast<int>(k); });
        frame.packers[k].count = std::max(frame.packers[k].count, static_cast<int>(used));
    }
    for (std::size_t k = 0; k < frame.heaters.size(); ++k) {
        const auto used = std::count_if(fixed.begin(), fixed.end(),
                                        [k](const Item& i) { return i.work.heater == static_cast<int>(k); });
        frame.heaters[k].count = std::max(frame.heaters[k].count, static_cast<int>(used));
    }
    frame.air_lines = std::max(frame.air_lines, static_cast<int>(fixed.size()));
}

int CrewItems::persons() const {
    if (site_.facts.persons) return *site_.facts.persons;
    int most = 0;  // a helper may be hired for the day
    for (const auto& task : site_.today().tasks)
        if (task.crew == crew && task.what == What::travel) most = std::max(most, task.persons);
    return most > 0 ? most : site_.plan.work.persons;
}

Item CrewItems::item(std::size_t i) const {
    Item item;
    item.sleeve = i;
    item.work = site_.work(patch(i));
    item.after = std::exchange(item.work.after, {});
    return item;
}

int CrewItems::mix_place(std::size_t i) const {
    return static_cast<int>(&site_.mix_of(patch(i)) - site_.plan.batches.data());
}

void CrewItems::add(std::size_t i) {
    const Sleeve& s = sleeve(i);
    if (s.verdict == Verdict::strip)
        add_stripping(i);
    else if (s.state == State::done)
        add_done(i);
    else if (s.state != State::in_pipe && s.state != State::in_hand)
        return;
    else if (s.limits.refused)
        hold(i);
    else if (s.left.sum() > 0)
        add_in_hand(i);
    else
        add_lying(i);
}

void CrewItems::add_lying(std::size_t i) {
    Item lies = item(i);
    lies.work.lying = *sleeve(i).let_down;
    lies.work.watched = !sleeve(i).overnight;
    fixed.push_back(std::move(lies));
}

/// No time is known of it: its packer, its line and its pipe stay as they are.
void CrewItems::hold(std::size_t i) {
    take_off(i);
    held_.push_back(site_.work(patch(i)).run);
}

/// It comes out now; nothing more is done to it.
void CrewItems::add_stripping(std::size_t i) {
    Item strips = item(i);
    strips.work.lying = frame.start;
    strips.work.re_survey.minutes = strips.work.reopen.minutes = 0;
    strips.under_way = {What::let_down};
    fixed.push_back(std::move(strips));
}

void CrewItems::add_in_hand(std::size_t i) {
    const Sleeve& s = sleeve(i);
    Item goes = item(i);
    PatchWork& w = goes.work;
    w.wet_out.minutes = s.left.wet_out;
    w.load.minutes = s.left.load;
    w.position.minutes = s.left.position;
    w.inflate.minutes = s.left.inflate;
    w.crease.minutes = s.left.crease;
    w.pour = 0;
    // That it goes on is judged already; the sheet has its limits.
    w.inflate_by = w.crease_by = whole_day;
    w.mix_to_let_down = std::max(1, *s.let_down - frame.start);
    goes.in_hand = mix_place(i);
    fixed.push_back(std::move(goes));
}

/// Of the sleeves in the same run that come out today by the plan, the last.
std::size_t CrewItems::last_out(std::size_t i) const {
    std::size_t last = i;
    for (const std::size_t k : mine_) {
        if (site_.work(patch(k)).run != site_.work(patch(i)).run) continue;
        const auto *out = site_.task(patch(k), What::let_down), *latest = site_.task(patch(last), What::let_down);
        if (out != nullptr && latest != nullptr && out->start > latest->start) last = k;
    }
    return last;
}

/// Deflated: what is left of pulling out, looking at it and cutting it open, as its sheet has them after it.
void CrewItems::add_done(std::size_t i) {
    const Sleeve& s = sleeve(i);
    const auto* planned = site_.task(patch(i), What::let_down);
    if (planned == nullptr || !s.deflated) return;
    Item rest = item(i);
    const auto left = [&](What what) {
        const auto* task = site_.task(patch(i), what);
        if (task == nullptr) return 0;
        const std::size_t after = what == What::let_down ? i : last_out(i);
        if (!sleeve(after).deflated) return task->finish - task->start;  // nothing is looked at before that
        const Minute shift = *sleeve(after).deflated - site_.task(patch(after), What::let_down)->start;
        const Minute minutes = task->finish + shift - std::max(frame.start, task->start + shift);
        if (task->start + shift < frame.start && minutes > 0) rest.under_way.push_back(what);
        return std::max(0, minutes);
    };
    rest.work.lying = frame.start;
    rest.work.let_down.minutes = left(What::let_down);
    rest.work.re_survey.minutes = left(What::re_survey);
    rest.work.reopen.minutes = left(What::reopen);
    if (rest.work.let_down.minutes + rest.work.re_survey.minutes + rest.work.reopen.minutes > 0)
        fixed.push_back(std::move(rest));
}

void CrewItems::add_to_make(std::size_t i) {
    Sleeve& s = sleeve(i);
    Item made = item(i);
    PatchWork& w = made.work;
    if (std::find(held_.begin(), held_.end(), w.run) != held_.end()) {
        s.another_day = "a sleeve in its run is still to get hard";
        s.again = false;
        return;
    }
    w.inflate_by = std::max(1, whole_minutes(s.next.inflate_by));
    w.crease_by = std::max(1, whole_minutes(s.next.crease_by));
    w.mix_to_let_down = std::max(1, whole_minutes(s.next.let_down));
    w.overnight = site_.times(patch(i)).day == site_.facts.day && site_.times(patch(i)).let_down >= whole_day;
    w.ready_on_site = s.again || s.on_other.has_value();
    // Cut and tested on site by the sheet: what is left of it.
    const auto left = [&](What what, schedule::Labour& labour) {
        const auto* task = site_.task(patch(i), what);
        if (s.again || task == nullptr || site_.times(patch(i)).day != site_.facts.day) return;
        const Minute start = task->start + site_.facts.late, end = task->finish + site_.facts.late;
        labour.minutes = std::max(0, end - std::max(start, frame.start));
    };
    left(What::cut, w.cut);
    if (s.on_other && frame.ready_in_yard) w.cut.minutes = 0;
    if (!s.on_other) left(What::bench_test, w.bench_test);
    if (s.on_other) take_packer(s, w);
    made.mix = s.again ? static_cast<int>(site_.plan.batches.size() + i) : mix_place(i);
    to_make.push_back(std::move(made));
}

void CrewItems::take_packer(const Sleeve& s, PatchWork& w) {
    const auto& on = *s.on_other;
    auto known = std::find_if(frame.packers.begin(), frame.packers.end(),
                              [&](const schedule::Packers& p) { return p.id == s.other_kind.id; });
    if (known == frame.packers.end()) known = frame.packers.insert(known, s.other_kind);
    w.packer = static_cast<int>(known - frame.packers.begin());
    const Length tail = packer::tail(on.option, on.length());
    w.at_start = on.start - tail;
    w.at_end = on.end + tail;
    w.from_far_end = on.rigging.from == site_.job.runs[static_cast<std::size_t>(on.run)].to;
    w.flow_through = on.option.packer.flow_through;
}

}  // namespace patchwright::site
