// The earliest finish of a day.
#include "search.hpp"
#include "write_day.hpp"

namespace patchwright::schedule {
namespace {

constexpr Verdict no_order{Hindrance::order, -1, 0};

struct Solved {
    Finish finish;
    std::vector<Partial::Start> starts;
};

Solved solve(const Model& model, std::int64_t budget, Minute latest) {
    Solved solved;
    solved.finish.verdict = model.verdict;
    solved.finish.finish = solved.finish.bound = model.on_site + model.home;
    if (model.verdict.hindrance != Hindrance::none) return solved;
    if (model.jobs.empty()) return solved;  // nothing left but to pack up
    Search search{model, latest == no_latest ? never : latest - model.home + 1, budget};
    search.run();
    solved.finish.visited = search.visited();
    if (!search.found() && latest == no_latest) {
        solved.finish.verdict = no_order;
        return solved;
    }
    if (!search.found()) {
        solved.finish.finish = latest + 1;
        solved.finish.bound = search.complete() ? latest + 1 : std::min(latest + 1, search.bound() + model.home);
        solved.finish.proven = search.complete();
        return solved;
    }
    solved.starts = search.best();
    solved.finish.finish = search.end() + model.home;
    solved.finish.bound = search.complete() ? solved.finish.finish : search.bound() + model.home;
    solved.finish.proven = solved.finish.bound == solved.finish.finish;
    return solved;
}

/// Runs that fit in beside the day's work without making it longer.
void prepare_ahead(const DayWork& work, std::int64_t budget, Day& day, Model& model, Solved& solved) {
    std::vector<int> ahead;
    for (const job::RunPlace place : work.prepare_ahead) {
        const auto run =
            std::find_if(work.runs.begin(), work.runs.end(), [&](const RunWork& r) { return r.place == place; });
        auto wanted = ahead;
        wanted.push_back(static_cast<int>(run - work.runs.begin()));
        Model longer{work, wanted};
        Search search{longer, solved.finish.finish - model.home + 1, budget};
        search.run(true);
        if (!search.found()) continue;
        ahead = std::move(wanted);
        day.prepared_ahead.push_back(place);
        solved.starts = search.best();
        model = std::move(longer);
    }
}

}  // namespace

Finish earliest_finish(const DayWork& work, std::int64_t budget, Minute latest) {
    check_input(work);
    check_size(work);
    const Model model{work};
    return solve(model, budget, latest).finish;
}

namespace {

/// When a sheet begins a job; `never` where it does not know it. Of tasks at one time the one that it names first.
std::pair<Minute, std::size_t> on_sheet(const Model& model, const Job& job, const std::vector<Task>& sheet) {
    const DayWork& work = *model.work;
    const auto begins = [&](const Task& task) {
        const bool of_that_run = !task.patch && task.run && of_run(job.piece) &&
                                 *task.run == work.runs[static_cast<std::size_t>(job.index)].place;
        const bool of_patch = task.patch == job.index;
        switch (job.piece) {
            case Piece::open:
            case Piece::prepare:
                return of_that_run && (task.what == What::set_up || task.what == What::clean);
            case Piece::look:
                return of_that_run && (task.what == What::survey || task.what == What::flow_control);
            case Piece::ready:
                return of_patch && (task.what == What::cut || task.what == What::bench_test);
            case Piece::mix: {
                const auto& patches = work.mixes[static_cast<std::size_t>(job.index)].patches;
                return task.patch && task.what == What::wet_out &&
                       std::find(patches.begin(), patches.end(), *task.patch) != patches.end();
            }
            case Piece::let_down:
                return of_patch && task.what == What::let_down;
            case Piece::inspect:
                return of_that_run && task.what == What::re_survey;
            case Piece::reopen:
                return of_patch && task.what == What::reopen;
        }
        return false;
    };
    const auto first = std::find_if(sheet.begin(), sheet.end(), begins);
    return {first == sheet.end() ? never : first->start, static_cast<std::size_t>(first - sheet.begin())};
}

using Order = std::vector<std::tuple<Minute, std::size_t, int>>;  ///< moment, place of equals, job

/// Jobs one after the other in that order, each as soon as it can be.
std::vector<Partial::Start> in_order(const Model& model, Order order) {
    std::sort(order.begin(), order.end());
    Partial day{model};
    while (!day.done()) {
        const auto next = std::find_if(order.begin(), order.end(), [&](const auto& entry) {
            const int job = std::get<2>(entry);
            return !day.started().test(static_cast<std::size_t>(job)) && day.earliest(job) < never;
        });
        if (next == order.end()) return {};
        day.start(std::get<2>(*next), day.earliest(std::get<2>(*next)));
    }
    return day.starts();
}

std::vector<Partial::Start> as_on_sheet(const Model& model, const std::vector<Task>& sheet) {
    Order order;
    for (std::size_t j = 0; j < model.jobs.size(); ++j) {
        const auto [start, place] = on_sheet(model, model.jobs[j], sheet);
        order.emplace_back(start, place, static_cast<int>(j));
    }
    return in_order(model, std::move(order));
}

/// The same order, but what may come out of the pipe comes out before anything new is begun.
std::vector<Partial::Start> out_first(const Model& model, const std::vector<Partial::Start>& starts) {
    Order order;
    for (std::size_t k = 0; k < starts.size(); ++k) {
        const Job& job = model.jobs[static_cast<std::size_t>(starts[k].job)];
        const bool lies =
            job.piece == Piece::let_down && model.work->patches[static_cast<std::size_t>(job.index)].lying;
        order.emplace_back(lies ? std::min(job.release, starts[k].at) : starts[k].at, lies ? 0 : k + 1, starts[k].job);
    }
    return in_order(model, std::move(order));
}

/// Something that is to go on at the start found no hands then.
bool kept_waiting(const Model& model) {
    const Partial day{model};
    return std::any_of(model.begun.begin(), model.begun.end(),
                       [&](int job) { return !day.started().test(static_cast<std::size_t>(job)); });
}

Minute end_of(const Model& model, const std::vector<Partial::Start>& starts) {
    Minute end = model.on_site;
    for (const auto& start : starts)
        end = std::max(end, start.at + start.opening + model.jobs[static_cast<std::size_t>(start.job)].minutes);
    return end;
}

Day day_of(const DayWork& work, std::int64_t budget, const std::vector<Task>* sheet) {
    check_input(work);
    check_size(work);
    check_decided(work);
    Model model{work};
    Solved solved = solve(model, budget, no_latest);
    Day day;
    static_cast<Finish&>(day) = solved.finish;
    day.patches.resize(work.patches.size());
    if (day.verdict.hindrance != Hindrance::none) return day;
    if (!work.prepare_ahead.empty()) prepare_ahead(work, budget, day, model, solved);
    if (sheet != nullptr) {
        const auto kept = as_on_sheet(model, *sheet);
        if (!kept.empty() && end_of(model, kept) + model.home <= day.finish) solved.starts = kept;
        const auto sooner = out_first(model, solved.starts);
        const bool first = kept_waiting(model);
        if (!sooner.empty() && (first || end_of(model, sooner) + model.home <= day.finish)) solved.starts = sooner;
        day.finish = end_of(model, solved.starts) + model.home;
        day.proven = day.proven && day.finish == day.bound;
    }
    write_day(model, solved.starts, day);
    return day;
}

}  // namespace

Day best_day(const DayWork& work, std::int64_t budget) { return day_of(work, budget, nullptr); }

Day best_day_by(const std::vector<Task>& sheet, const DayWork& work, std::int64_t budget) {
    return day_of(work, budget, &sheet);
}

}  // namespace patchwright::schedule
