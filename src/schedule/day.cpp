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

Minute finish_bound(const DayWork& work) {
    check_input(work);
    check_size(work);
    const Model model{work};
    if (model.verdict.hindrance != Hindrance::none) return model.on_site + model.home;
    return Partial{model}.bound(never) + model.home;
}

Day best_day(const DayWork& work, std::int64_t budget) {
    check_input(work);
    check_size(work);
    Model model{work};
    Solved solved = solve(model, budget, no_latest);
    Day day;
    static_cast<Finish&>(day) = solved.finish;
    day.patches.resize(work.patches.size());
    if (day.verdict.hindrance != Hindrance::none) return day;
    if (!work.prepare_ahead.empty()) prepare_ahead(work, budget, day, model, solved);
    write_day(model, solved.starts, day);
    return day;
}

}  // namespace patchwright::schedule
