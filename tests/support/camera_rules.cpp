#include "support/camera_rules.hpp"

#include <algorithm>
#include <map>
#include <vector>

namespace patchwright::test {
namespace {

using namespace schedule;

const Task* task_of(const Day& day, int patch, What what) {
    for (const Task& t : day.tasks)
        if (t.patch == patch && t.what == what) return &t;
    return nullptr;
}

bool goes_on(const DayWork& work, int patch) {
    return std::any_of(work.under_way.begin(), work.under_way.end(),
                       [&](const auto& step) { return step.patch == patch && step.what == What::re_survey; });
}

/// All sleeves of a run that come out today are looked at in one go; what is under way at the start goes by itself.
struct Look {
    Labour labour{0, 1};
    Minute after = 0;
    std::vector<int> patches;
};

std::map<bool, Look> looks_expected(const DayWork& work, const Day& day, const RunWork& run) {
    std::map<bool, Look> looks;  // by being under way
    for (int i = 0; i < static_cast<int>(work.patches.size()); ++i) {
        const PatchWork& p = work.patches[static_cast<std::size_t>(i)];
        if (p.run != run.place || p.overnight || p.re_survey.minutes == 0) continue;
        Look& look = looks[goes_on(work, i)];
        look.labour = {std::max(look.labour.minutes, p.re_survey.minutes),
                       std::max(look.labour.persons, p.re_survey.persons)};
        if (const Task* out = task_of(day, i, What::let_down)) look.after = std::max(look.after, out->finish);
        look.patches.push_back(i);
    }
    return looks;
}

void check_looks(const DayWork& work, const Day& day, const RunWork& run, Faults& faults) {
    const auto expected = looks_expected(work, day, run);
    std::vector<const Task*> tasks;
    for (const Task& t : day.tasks)
        if (t.run == run.place && t.what == What::re_survey) tasks.push_back(&t);
    faults.unless(tasks.size() == expected.size(), "run {}: looked at {} times", run.id, tasks.size());
    for (const auto& [under_way, look] : expected) {
        const auto found = std::find_if(tasks.begin(), tasks.end(), [&look = look, &work](const Task* t) {
            return !t->patch && t->start >= look.after && t->finish - t->start == look.labour.minutes &&
                   t->persons == std::min(look.labour.persons, work.persons);
        });
        faults.unless(found != tasks.end(), "run {}: not looked at when its sleeves are out", run.id);
        if (found == tasks.end()) continue;
        for (const int i : look.patches)
            if (const Task* cut = task_of(day, i, What::reopen))
                faults.unless(cut->start >= (*found)->finish, "{}: reopened before it is looked at",
                              work.patches[static_cast<std::size_t>(i)].id);
    }
}

}  // namespace

void check_cameras(const DayWork& work, const Day& day, Faults& faults) {
    for (const RunWork& run : work.runs) check_looks(work, day, run, faults);
    const auto flushed = [&](const Task& t) {
        return t.what == What::clean && t.run && std::any_of(work.runs.begin(), work.runs.end(), [&](const RunWork& r) {
                   return r.place == *t.run && r.prepared;
               });
    };
    for (Minute minute = work.start; minute < day.finish; ++minute) {
        int jetters = 0, cameras = 0, cutters = 0;
        for (const Task& t : day.tasks) {
            if (t.start > minute || minute >= t.finish) continue;
            jetters += t.what == What::clean ? 1 : 0;
            cameras += t.what == What::survey || t.what == What::re_survey || flushed(t) ? 1 : 0;
            cutters += t.what == What::reopen ? 1 : 0;
        }
        faults.unless(jetters <= work.machines[0], "{} jetters at {}", jetters, minute);
        faults.unless(cameras <= work.machines[1], "{} cameras at {}", cameras, minute);
        faults.unless(cutters <= work.machines[2], "{} cutters at {}", cutters, minute);
    }
}

}  // namespace patchwright::test
