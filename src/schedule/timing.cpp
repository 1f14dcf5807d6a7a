// Clock times of an order that is fixed: a longest path forwards, and the same path backwards.
#include <algorithm>
#include <limits>
#include <map>

#include "model.hpp"

namespace patchwright::schedule {
namespace {

std::size_t at(int i) { return static_cast<std::size_t>(i); }

}  // namespace

Minute length_of(const Model& model, const Step& step) {
    switch (step.piece) {
        case Piece::open:
            return model.run(step.index).set_up;
        case Piece::prepare:  // variant 1: opened this morning for what was left curing
            return (step.variant == 1 ? 0 : model.run(step.index).set_up) + model.run(step.index).clean;
        case Piece::look:
            return model.run(step.index).survey + model.run(step.index).flow_control;
        case Piece::cut:
            return model.patch(step.index).cut;
        case Piece::bench:
            return model.patch(step.index).bench_test;
        case Piece::block:
            return model.mixes[at(step.index)].length;
        case Piece::let_down:
            return model.patch(step.index).let_down;
        case Piece::inspect:
            return model.inspect(step.index);
    }
    return 0;
}

Minute clock_steps(const Model& model, const CrewDay& day, std::vector<Step>& steps) {
    const Problem& problem = *model.problem;
    std::map<int, Minute> release, dry_at;
    for (std::size_t k = 0; k < day.carried.size(); ++k) release[day.carried[k]] = day.carried_at[k];
    Minute t = problem.start + problem.travel;
    for (Step& step : steps) {
        Minute start = t;
        if (step.piece == Piece::let_down) start = std::max(t, release.at(step.index));
        if (step.piece == Piece::block) {
            const BlockVariant& v = model.mixes[at(step.index)].variants[at(step.variant)];
            for (std::size_t k = 0; k < v.order.size(); ++k)
                if (const auto dry = dry_at.find(model.patch(v.order[k]).run); dry != dry_at.end())
                    start = std::max(start, dry->second - v.sleeves[k].position);
            for (std::size_t k = 0; k < v.order.size(); ++k)
                release[v.order[k]] = start + std::max(model.patch(v.order[k]).mix_to_let_down, v.sleeves[k].creased);
        }
        step.start = start;
        t = start + length_of(model, step);
        if (step.piece == Piece::prepare) dry_at[step.index] = t + model.run(step.index).dry;
    }
    return t + problem.pack_up + problem.travel;
}

std::vector<Minute> latest_starts(const Model& model, const CrewDay&, const std::vector<Step>& steps, Minute back) {
    std::vector<Minute> latest(steps.size());
    std::map<int, Minute> let_down_by, block_by;  // patch: latest let-down; run: latest time to be dry
    Minute next = back - model.problem->travel - model.problem->pack_up;
    for (std::size_t k = steps.size(); k-- > 0;) {
        const Step& step = steps[k];
        Minute start = next - length_of(model, step);
        if (step.piece == Piece::block) {
            const BlockVariant& v = model.mixes[at(step.index)].variants[at(step.variant)];
            for (std::size_t m = 0; m < v.order.size(); ++m) {
                if (const auto by = let_down_by.find(v.order[m]); by != let_down_by.end())
                    start = std::min(
                        start, by->second - std::max(model.patch(v.order[m]).mix_to_let_down, v.sleeves[m].creased));
            }
            for (std::size_t m = 0; m < v.order.size(); ++m) {
                const int run = model.patch(v.order[m]).run;
                const auto by = block_by.find(run);
                const Minute here = start + v.sleeves[m].position;
                block_by[run] = by == block_by.end() ? here : std::min(by->second, here);
            }
        }
        if (step.piece == Piece::let_down) let_down_by[step.index] = start;
        if (step.piece == Piece::prepare)
            if (const auto by = block_by.find(step.index); by != block_by.end())
                start = std::min(start, by->second - model.run(step.index).dry - length_of(model, step));
        latest[k] = start;
        next = start;
    }
    return latest;
}

Minute WorkDay::finish() const {
    Minute last = 0;
    for (const CrewPlan& plan : plans) last = std::max(last, plan.finish);
    return last;
}

}  // namespace patchwright::schedule
