// From starts to tasks on the clock, with the times that each patch must keep.
#include "write_day.hpp"

#include <fmt/core.h>

#include "patchwright/schedule/if_missed.hpp"

namespace patchwright::schedule {
namespace {

constexpr Minute midnight = 1440;

class Writer {
public:
    Writer(const Model& model, const std::vector<Partial::Start>& starts, Day& day)
        : model_{model},
          work_{*model.work},
          starts_{starts},
          day_{day},
          crew_{share_out(model, starts)},
          latest_{latest_starts(model, starts, crew_, day.finish)} {}

    void write() {
        if (work_.travel_out.value_or(1) > 0) add_travel(work_.start, work_.travel_out.value_or(work_.travel));
        for (std::size_t k = 0; k < starts_.size(); ++k) write_job(k);
        add_cures();
        const Minute packing = day_.finish - model_.home;
        if (work_.pack_up.minutes > 0)
            add({{},
                 {},
                 What::pack_up,
                 packing,
                 packing + work_.pack_up.minutes,
                 model_.clip(work_.pack_up.persons),
                 everybody(model_.clip(work_.pack_up.persons)),
                 0,
                 true});
        add_travel(day_.finish - work_.travel, work_.travel);
        std::stable_sort(day_.tasks.begin(), day_.tasks.end(),
                         [](const Task& a, const Task& b) { return a.start < b.start; });
        block_runs();
        if (!work_.ready_in_yard) return;
        for (const PatchWork& p : work_.patches)
            if (!p.lying && !p.ready_on_site)
                for (const Labour& labour : {p.cut, p.bench_test})
                    day_.yard_minutes += labour.minutes * model_.clip(labour.persons);
    }

private:
    static std::vector<int> everybody(int persons) {
        std::vector<int> lanes;
        for (int k = 1; k <= persons; ++k) lanes.push_back(k);
        return lanes;
    }
    void add(Task task) { day_.tasks.push_back(std::move(task)); }
    void add_travel(Minute start, Minute minutes) {
        add({{}, {}, What::travel, start, start + minutes, model_.persons, everybody(model_.persons), 0, true});
    }
    std::vector<int> lanes_of(std::size_t k, int persons) const {
        std::vector<int> lanes;
        for (const int who : crew_.lanes[k])
            if (static_cast<int>(lanes.size()) < persons) lanes.push_back(who + 1);
        std::sort(lanes.begin(), lanes.end());
        return lanes;
    }

    void write_job(std::size_t k) {
        const Partial::Start& start = starts_[k];
        const Job& job = model_.jobs[at(start.job)];
        const Minute tight_until = start.at + latest_.tight_until[at(start.job)];
        std::optional<job::RunPlace> run;
        if (of_run(job.piece)) run = work_.runs[at(job.index)].place;
        if (start.opening > 0)
            add({{},
                 run,
                 What::set_up,
                 start.at,
                 start.at + start.opening,
                 job.opening_persons,
                 lanes_of(k, job.opening_persons),
                 0,
                 start.at < tight_until});
        for (const Segment& segment : model_.segments_of(job)) {
            Task task{{},
                      run,
                      segment.what,
                      start.at + start.opening + segment.offset,
                      0,
                      segment.persons,
                      lanes_of(k, segment.persons),
                      0,
                      false};
            task.critical = task.start < tight_until;
            task.finish = task.start + segment.minutes;
            if (segment.patch >= 0) {
                task.patch = segment.patch;
                task.run = work_.patches[at(segment.patch)].run;
            }
            add(std::move(task));
        }
        if (job.piece == Piece::mix) write_mix(job, start);
        if (job.piece == Piece::let_down) {
            PatchTimes& times = day_.patches[at(job.index)];
            times.day = 0;
            times.let_down = start.at;
            times.last_let_down = latest_.in_time[at(start.job)];
        }
    }

    void write_mix(const Job& job, const Partial::Start& start) {
        const Mix& mix = work_.mixes[at(job.index)];
        for (const auto& sleeve : model_.orders[at(job.index)].sleeves) {
            const PatchWork& p = work_.patches[at(sleeve.patch)];
            PatchTimes& times = day_.patches[at(sleeve.patch)];
            times.day = 0;
            times.mix = start.at;
            times.latest_mix = latest_.in_time[at(start.job)];
            times.pour = start.at + sleeve.wet_out + p.pour;
            times.pour_by = start.at + mix.pour_by;
            times.inflate = start.at + sleeve.crease;
            times.inflate_by = start.at + p.inflate_by;
            times.crease_by = start.at + p.crease_by;
            if (p.overnight) times.let_down = std::max(start.at + p.mix_to_let_down, midnight + work_.start);
            if (p.overnight) times.last_let_down = times.let_down;
            times.if_missed = if_missed(p, mix, times);
            day_.order.push_back(sleeve.patch);
        }
    }

    void add_cures() {
        for (std::size_t i = 0; i < model_.patches.size(); ++i) {
            const PatchJobs& patch = model_.patches[i];
            const PatchTimes& times = day_.patches[i];
            if (model_.cures_at_start(i) && times.let_down > work_.start)
                add({static_cast<int>(i),
                     work_.patches[i].run,
                     What::cure,
                     work_.start,
                     times.let_down,
                     patch.watch >= 0 ? 1 : 0,
                     {},
                     0,
                     latest_.same_finish[at(patch.let_down)] == times.let_down &&
                         times.let_down == work_.patches[i].lying});
            if (patch.mix < 0) continue;
            const auto& sleeves = model_.orders[at(model_.jobs[at(patch.mix)].index)].sleeves;
            const auto sleeve = std::find_if(sleeves.begin(), sleeves.end(),
                                             [&](const auto& s) { return s.patch == static_cast<int>(i); });
            const bool critical = latest_.same_finish[at(patch.mix)] == times.mix && patch.let_down >= 0 &&
                                  latest_.same_finish[at(patch.let_down)] == times.let_down &&
                                  times.let_down == times.mix + patch.out_after_mixing;
            add({static_cast<int>(i),
                 work_.patches[i].run,
                 What::cure,
                 times.mix + sleeve->creased,
                 times.let_down,
                 patch.watch >= 0 ? 1 : 0,
                 {},
                 0,
                 critical});
        }
    }

    void block_runs() {
        for (const RunWork& run : work_.runs) {
            Blocked blocked{run.place, 0, never, 0, true};
            for (std::size_t i = 0; i < work_.patches.size(); ++i) {
                const PatchWork& p = work_.patches[i];
                if (p.run != run.place || p.flow_through) continue;
                if (p.lying) blocked.from = work_.start;
                blocked.to = std::max(blocked.to, day_.patches[i].let_down + (p.overnight ? 0 : p.let_down.minutes));
            }
            if (blocked.to == 0) continue;
            for (const Task& task : day_.tasks)
                if (task.run == run.place && (task.what == What::flow_control || task.what == What::position))
                    blocked.from = std::min(blocked.from, task.start);
            blocked.holds = !run.storage || blocked.to - blocked.from <= *run.storage;
            day_.blocked.push_back(blocked);
        }
    }

    const Model& model_;
    const DayWork& work_;
    const std::vector<Partial::Start>& starts_;
    Day& day_;
    const Crew crew_;
    const Latest latest_;
};

}  // namespace

std::string clock(Minute minute) {
    const Minute days = minute >= 0 ? minute / midnight : -1;
    const Minute m = minute - midnight * days;
    return fmt::format("{:02}:{:02}{}", m / 60, m % 60, days == 0 ? "" : days > 0 ? " next day" : " the day before");
}

std::string span(Minute minutes) {
    if (minutes < 60) return fmt::format("{} min", minutes);
    return minutes % 60 == 0 ? fmt::format("{} h", minutes / 60)
                             : fmt::format("{} h {} min", minutes / 60, minutes % 60);
}

std::string if_missed(const PatchWork& p, const Mix& mix, const PatchTimes& times) {
    const Minute again = times.inflate_by + p.let_down.minutes + p.cut.minutes;
    const std::string lost = fmt::format("{}{}", mix.id.empty() ? "the mix" : mix.id,
                                         mix.worth.empty() ? "" : fmt::format(" ({})", mix.worth));
    const std::string shared = mix.patches.size() > 1 ? " with every sleeve of it not yet inflated" : "";
    if (again <= times.latest_mix)
        return fmt::format(
            "{} is lost{}: take the sleeve out, cut and mix again; mixed by {} the day still closes "
            "(ready to mix at {})",
            lost, shared, clock(times.latest_mix), clock(again));
    return fmt::format(
        "{} is lost{}: take the sleeve out; the day does not close with a second mix (ready at {}, "
        "latest {}), another day is needed",
        lost, shared, clock(again), clock(times.latest_mix));
}

void write_day(const Model& model, const std::vector<Partial::Start>& starts, Day& day) {
    Writer{model, starts, day}.write();
}

}  // namespace patchwright::schedule
