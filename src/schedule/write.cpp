// From steps to tasks on the clock, with the times that each patch must keep.
#include <algorithm>
#include <map>

#include <fmt/core.h>

#include "model.hpp"

namespace patchwright::schedule {
namespace {

std::size_t at(int i) { return static_cast<std::size_t>(i); }

class Clock {
public:
    Clock(const Model& model, Schedule& schedule) : model_{model}, problem_{*model.problem}, schedule_{schedule} {}

    void write(const Allocation& allocation) {
        for (std::size_t d = 0; d < allocation.days.size(); ++d) {
            day_ = static_cast<int>(d);
            schedule_.days.emplace_back();
            const WorkDay& work = allocation.days[d];
            for (std::size_t c = 0; c < work.plans.size(); ++c)
                write_crew(work.crews[c], work.plans[c], static_cast<int>(c));
            Day& day = schedule_.days.back();
            day.finish = work.finish();
            std::stable_sort(day.tasks.begin(), day.tasks.end(), [](const Task& a, const Task& b) {
                return std::pair{a.start, a.crew} < std::pair{b.start, b.crew};
            });
        }
        schedule_.proven_optimal = allocation.proven;
        schedule_.bound = allocation.bound;
        schedule_.fewest_days = allocation.fewest_days;
        schedule_.order = order_of_work(model_, allocation);
        block_runs();
        warn();
    }

private:
    void add(std::optional<int> patch, std::optional<int> run, What what, Minute start, Minute length, bool always) {
        if (length == 0 && !always) return;
        schedule_.days.back().tasks.push_back({patch, run, what, start, start + length, crew_, critical_});
    }

    void write_crew(const CrewDay& day, const CrewPlan& plan, int crew) {
        crew_ = crew;
        critical_ = true;
        const std::vector<Minute> tight = latest_starts(model_, day, plan.steps, plan.finish);
        const std::vector<Minute> latest = latest_starts(model_, day, plan.steps, problem_.finish);
        add({}, {}, What::travel, problem_.start, problem_.travel, true);
        Minute end = problem_.start + problem_.travel;
        for (std::size_t k = 0; k < plan.steps.size(); ++k) {
            const Step& step = plan.steps[k];
            critical_ = tight[k] == step.start;
            write_step(step, latest[k], day, tight, plan, k);
            end = step.start + length_of(model_, step);
        }
        critical_ = true;
        add({}, {}, What::pack_up, end, problem_.pack_up, false);
        add({}, {}, What::travel, end + problem_.pack_up, problem_.travel, true);
    }

    void write_step(const Step& step, Minute latest, const CrewDay& day, const std::vector<Minute>& tight,
                    const CrewPlan& plan, std::size_t place) {
        const Minute t = step.start;
        switch (step.piece) {
            case Piece::open:
                add({}, step.index, What::set_up, t, model_.run(step.index).set_up, false);
                break;
            case Piece::prepare: {
                const RunWork& run = model_.run(step.index);
                const Minute set_up = step.variant == 1 ? 0 : run.set_up;
                add({}, step.index, What::set_up, t, set_up, false);
                add({}, step.index, What::clean, t + set_up, run.clean, false);
                break;
            }
            case Piece::look: {
                const RunWork& run = model_.run(step.index);
                add({}, step.index, What::survey, t, run.survey, false);
                add({}, step.index, What::flow_control, t + run.survey, run.flow_control, false);
                break;
            }
            case Piece::cut:
                patch_task(step.index, What::cut, t, model_.patch(step.index).cut, false);
                break;
            case Piece::bench:
                patch_task(step.index, What::bench_test, t, model_.patch(step.index).bench_test, false);
                break;
            case Piece::block:
                write_block(step, latest, day, tight, plan, place);
                break;
            case Piece::let_down: {
                const PatchWork& p = model_.patch(step.index);
                patch_task(step.index, What::let_down, t, p.let_down, true);
                PatchTimes& times = schedule_.patches[at(step.index)];
                const Minute nights = 1440 * (day_ - times.day);
                times.let_down = t + nights;
                times.last_let_down = latest + nights;
                if (nights > 0) close_night(step.index, times.let_down);
                break;
            }
            case Piece::inspect: {
                const PatchWork& p = model_.patch(step.index);
                patch_task(step.index, What::re_survey, t, p.re_survey, false);
                patch_task(step.index, What::reopen, t + p.re_survey, p.reopen, false);
            }
        }
    }

    void patch_task(int patch, What what, Minute start, Minute length, bool always) {
        add(patch, model_.patch(patch).run, what, start, length, always);
    }

    void write_block(const Step& step, Minute latest, const CrewDay& day, const std::vector<Minute>& tight,
                     const CrewPlan& plan, std::size_t place) {
        const BlockVariant& v = model_.mixes[at(step.index)].variants[at(step.variant)];
        const bool night = std::find(day.overnight.begin(), day.overnight.end(), step.index) != day.overnight.end();
        const bool critical = critical_;
        for (std::size_t k = 0; k < v.order.size(); ++k) {
            const int i = v.order[k];
            const PatchWork& p = model_.patch(i);
            critical_ = critical;
            patch_task(i, What::wet_out, step.start + v.sleeves[k].wet_out, p.wet_out, true);
            patch_task(i, What::load, step.start + v.sleeves[k].load, p.load, true);
            patch_task(i, What::position, step.start + v.sleeves[k].position, p.position, true);
            patch_task(i, What::inflate, step.start + v.sleeves[k].inflate, p.inflate, true);
            patch_task(i, What::crease, step.start + v.sleeves[k].crease, p.crease, true);
            const Minute cured = step.start + v.sleeves[k].creased;
            Minute out = cured;
            critical_ = false;
            for (std::size_t later = place + 1; later < plan.steps.size(); ++later) {
                if (plan.steps[later].piece != Piece::let_down || plan.steps[later].index != i) continue;
                out = plan.steps[later].start;
                critical_ = critical && tight[later] == out && out == step.start + p.mix_to_let_down;
            }
            if (night) night_cure_[i] = {day_, schedule_.days.back().tasks.size()};
            patch_task(i, What::cure, cured, out - cured, true);
            write_times(i, step.start, latest, step.start + v.sleeves[k].crease);
        }
    }

    void write_times(int patch, Minute mix, Minute latest, Minute inflated) {
        const PatchWork& p = model_.patch(patch);
        PatchTimes& times = schedule_.patches[at(patch)];
        times.day = day_;
        times.mix = mix;
        times.latest_mix = latest;
        times.pour_by = mix + problem_.batches[at(p.batch)].pour_by;
        times.inflate = inflated;
        times.inflate_by = mix + p.inflate_by;
        times.crease_by = mix + p.crease_by;
        times.if_missed = missed(patch, mix, latest);
    }

    /// The sleeve comes out, another is cut and mixed: does the day still close?
    std::string missed(int patch, Minute mix, Minute latest) const {
        const PatchWork& p = model_.patch(patch);
        const Mix& batch = problem_.batches[at(p.batch)];
        const Minute again = mix + p.inflate_by + p.let_down + p.cut;
        const std::string lost = batch.worth.empty() ? mix_name(problem_, p.batch)
                                                     : fmt::format("{} ({})", mix_name(problem_, p.batch), batch.worth);
        const std::string shared = batch.patches.size() > 1 ? " with every sleeve of it not yet inflated" : "";
        if (again <= latest)
            return fmt::format(
                "{} is lost{}: take the sleeve out, cut and mix again; mixed by {} the day still closes "
                "(ready to mix at {})",
                lost, shared, clock(latest), clock(again));
        return fmt::format(
            "{} is lost{}: take the sleeve out; the day does not close with a second mix (ready at {}, "
            "latest {}), another day is needed",
            lost, shared, clock(again), clock(latest));
    }

    void close_night(int patch, Minute let_down) {
        const auto cure = night_cure_.find(patch);
        if (cure == night_cure_.end()) return;
        for (Task& task : schedule_.days[at(cure->second.first)].tasks)
            if (task.patch == patch && task.what == What::cure) task.finish = let_down;
    }

    void block_runs() {
        for (std::size_t d = 0; d < schedule_.days.size(); ++d) {
            std::map<int, Blocked> runs;
            for (const Task& task : schedule_.days[d].tasks) {
                if (task.what != What::flow_control && task.what != What::position) continue;
                auto [found, fresh] =
                    runs.try_emplace(*task.run, Blocked{*task.run, static_cast<int>(d), task.start, 0, true});
                if (!fresh) found->second.from = std::min(found->second.from, task.start);
                if (task.what == What::position) {
                    const PatchTimes& times = schedule_.patches[at(*task.patch)];
                    found->second.to = std::max(found->second.to, times.let_down + model_.patch(*task.patch).let_down);
                }
            }
            for (auto& [run, blocked] : runs) {
                const auto& most = model_.run(run).blocked_at_most;
                blocked.holds = !most || blocked.to - blocked.from <= *most;
                schedule_.blocked.push_back(blocked);
            }
        }
    }

    void warn() {
        for (const Blocked& b : schedule_.blocked)
            if (!b.holds)
                schedule_.warnings.push_back(fmt::format(
                    "run {} is shut{} from {} to {} ({}), but its storage lasts {}: pump over, or stop the water "
                    "upstream",
                    model_.run(b.run).id, schedule_.days.size() > 1 ? fmt::format(" on day {}", b.day + 1) : "",
                    clock(b.from), clock(b.to), span(b.to - b.from), span(*model_.run(b.run).blocked_at_most)));
        for (int i : schedule_.order) {
            const PatchTimes& times = schedule_.patches[at(i)];
            if (times.let_down > 1440)
                schedule_.warnings.push_back(
                    fmt::format("patch {} cures overnight, unwatched, until {}: packer, air and stoppers stay in the "
                                "drain, and no water may be used upstream",
                                model_.patch(i).id, clock(times.let_down)));
        }
    }

    const Model& model_;
    const Problem& problem_;
    Schedule& schedule_;
    int day_ = 0, crew_ = 0;
    bool critical_ = false;
    std::map<int, std::pair<int, std::size_t>> night_cure_;
};

}  // namespace

std::vector<int> order_of_work(const Model& model, const Allocation& allocation) {
    std::vector<std::pair<std::pair<std::size_t, Minute>, int>> wet;
    for (std::size_t d = 0; d < allocation.days.size(); ++d)
        for (const CrewPlan& plan : allocation.days[d].plans)
            for (const Step& step : plan.steps) {
                if (step.piece != Piece::block) continue;
                const BlockVariant& v = model.mixes[at(step.index)].variants[at(step.variant)];
                for (std::size_t k = 0; k < v.order.size(); ++k)
                    wet.push_back({{d, step.start + v.sleeves[k].wet_out}, v.order[k]});
            }
    std::sort(wet.begin(), wet.end());
    std::vector<int> order;
    for (const auto& [when, patch] : wet) order.push_back(patch);
    return order;
}

void write_schedule(const Model& model, const Allocation& allocation, Schedule& schedule) {
    Clock{model, schedule}.write(allocation);
}

}  // namespace patchwright::schedule
