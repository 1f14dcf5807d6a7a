// How far each run is got ready: as it was told, as a sleeve in it shows, else as the sheet of the day has it.
#include <algorithm>

#include <fmt/format.h>

#include "parts.hpp"

namespace patchwright::site {
namespace {

using schedule::Labour;
using schedule::Task;
using schedule::What;

/// A run's own tasks on the sheet, so much later as was told.
class RunSheet {
public:
    RunSheet(const Site& site, job::RunPlace run, Minute start) : late_{site.facts.late}, start_{start} {
        for (const Task& task : site.today().tasks)
            if (!task.patch && task.run == run) tasks_.push_back(&task);
    }
    bool empty() const { return tasks_.empty(); }
    Minute start() const { return start_; }
    std::vector<const Task*> all(What what) const {
        std::vector<const Task*> list;
        std::copy_if(tasks_.begin(), tasks_.end(), std::back_inserter(list),
                     [what](const Task* t) { return t->what == what; });
        return list;
    }
    Minute end(const Task* t) const { return t->finish + late_; }
    Minute left(const Task* t) const { return std::max(0, end(t) - std::max(start_, t->start + late_)); }
    bool begun(const Task* t) const { return t->start + late_ < start_; }
    std::vector<What> under_way() const {
        std::vector<What> list;
        for (const Task* t : tasks_)
            if (begun(t) && left(t) > 0) list.push_back(t->what);
        return list;
    }
    bool is_begun() const {
        return std::any_of(tasks_.begin(), tasks_.end(), [&](const Task* t) { return begun(t); });
    }
    bool over() const {
        return std::all_of(tasks_.begin(), tasks_.end(), [&](const Task* t) { return end(t) <= start_; });
    }
    Minute ended() const {
        Minute last = 0;
        for (const Task* t : tasks_) last = std::max(last, end(t));
        return last;
    }

private:
    std::vector<const Task*> tasks_;
    Minute late_, start_;
};

bool prepared_before(const Site& site, job::RunPlace run) {
    for (int d = 0; d < site.facts.day; ++d)
        for (const Task& task : site.plan.schedule.days[static_cast<std::size_t>(d)].tasks)
            if (!task.patch && task.run == run && task.what == What::clean) return true;
    return false;
}

/// A sleeve was mixed in it today, so it was ready by then.
bool mixed_in(const Site& site, job::RunPlace run) {
    return std::any_of(site.facts.patches.begin(), site.facts.patches.end(), [&](std::size_t i) {
        if (site.work(i).run != run || site.from_yesterday(i)) return false;
        return std::any_of(site.facts.record.patches.begin(), site.facts.record.patches.end(),
                           [&](const job::PatchRecord& r) { return r.id == site.patch(i).id && r.mixed_at; });
    });
}

void open_ends(const Site& site, job::RunPlace run, schedule::RunWork& work) {
    for (const std::size_t i : site.facts.patches)
        if (site.work(i).run == run) (site.work(i).from_far_end ? work.to_open : work.from_open) = true;
}

/// The first access of the day takes the whole set-up; that is behind the crew.
bool site_is_open(const Site& site, Minute start) {
    const auto& tasks = site.today().tasks;
    return std::any_of(tasks.begin(), tasks.end(),
                       [&](const Task& t) { return t.what == What::set_up && t.start + site.facts.late < start; });
}

/// What is left of each task, as the sheet has it.
void take_from_sheet(const Site& site, const RunSheet& sheet, schedule::RunWork& work) {
    for (const Task* t : sheet.all(What::set_up)) {
        const Minute left = sheet.left(t);
        if (left == 0) open_ends(site, work.place, work);
        if (!sheet.begun(t) || left == 0) continue;
        // Halfway through: no end is open yet, and what is left is shared among them.
        auto opened = work;
        open_ends(site, work.place, opened);
        const bool both = opened.from_open && opened.to_open;
        work.set_up.minutes = both ? (left + 1) / 2 : left;
        work.open_access.minutes =
            both && !site_is_open(site, t->start + site.facts.late) ? left / 2 : work.set_up.minutes;
    }
    const auto labour = [&](const std::vector<const Task*>& tasks, std::size_t k) {
        return k < tasks.size() ? Labour{sheet.left(tasks[k]), tasks[k]->persons} : Labour{0, 1};
    };
    const auto clean = sheet.all(What::clean), survey = sheet.all(What::survey), flow = sheet.all(What::flow_control);
    if (work.prepared) {
        work.flush = labour(clean, 0);
    } else {
        work.clean = labour(clean, 0);
        work.roots = labour(clean, 1);
        work.survey = labour(survey, 0);
    }
    work.flow_control = labour(flow, 0);
    if (!clean.empty() && sheet.left(clean.back()) == 0)
        work.dry = std::max(0, sheet.end(clean.back()) + work.dry - sheet.start());
}

/// The room upstream has been filling since the run was shut.
void fill_up(const Site& site, Minute start, schedule::RunWork& work) {
    if (!work.storage) return;
    for (const auto& shut : site.plan.schedule.blocked)
        if (shut.day == site.facts.day && shut.run == work.place && shut.from + site.facts.late < start)
            work.storage = std::max(0, *work.storage - (start - shut.from - site.facts.late));
}

}  // namespace

schedule::RunWork run_work(const Site& site, job::RunPlace run, Minute start, std::vector<std::string>& taken,
                           std::vector<schedule::DayWork::UnderWay>& under_way) {
    const auto& runs = site.plan.work.runs;
    schedule::RunWork work =
        *std::find_if(runs.begin(), runs.end(), [&](const schedule::RunWork& r) { return r.place == run; });
    work.prepared = prepared_before(site, run);
    const RunSheet sheet{site, run, start};
    const auto told = std::find_if(site.facts.ready.begin(), site.facts.ready.end(),
                                   [&](const Facts::Ready& r) { return r.run == run; });
    if (told != site.facts.ready.end()) {
        work.ready = told->since + work.dry;
    } else if (mixed_in(site, run)) {
        work.ready = start;
    } else if (!sheet.empty() && sheet.over()) {
        const auto clean = sheet.all(What::clean);
        work.ready = clean.empty() ? start : sheet.end(clean.back()) + work.dry;
        taken.push_back(fmt::format("run {} ready since {}", work.id, clock_words(sheet.ended())));
    } else {
        if (site_is_open(site, start)) work.set_up.minutes = std::min(work.set_up.minutes, work.open_access.minutes);
        if (!sheet.empty()) take_from_sheet(site, sheet, work);
        for (const auto what : sheet.under_way()) under_way.push_back({std::nullopt, run, what});
        if (sheet.is_begun()) taken.push_back(fmt::format("run {} as far as its sheet has it", work.id));
        return work;
    }
    open_ends(site, run, work);
    fill_up(site, start, work);
    return work;
}

}  // namespace patchwright::site
