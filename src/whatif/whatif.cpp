#include "patchwright/whatif/whatif.hpp"

#include <algorithm>
#include <set>
#include <stdexcept>

#include <fmt/format.h>

#include "levers.hpp"
#include "patchwright/cure/cure.hpp"
#include "patchwright/io/read.hpp"
#include "patchwright/plan/outlook.hpp"
#include "patchwright/units/error.hpp"
#include "patchwright/units/threads.hpp"

namespace patchwright::whatif {
namespace {

struct Inputs {
    job::Job job;
    job::Yard yard;
};

/// What is wrong with changed files. What is only doubtful is doubtful without the change as well, or is what was
/// asked.
std::string errors(const std::vector<io::Diagnostic>& diagnostics) {
    std::string text;
    for (const auto& d : diagnostics) {
        if (d.severity != io::Severity::error) continue;
        text += (text.empty() ? "" : "; ") + d.message;
        if (!d.pointer.empty()) text += fmt::format(" [at {}]", d.pointer);
    }
    return text;
}

job::Job read_job(const Files& files, const std::vector<job::Change>& changes) {
    auto job = io::read_job(io::with_changes(files.job, job::FileKind::job, changes), "the changed job");
    if (!job) throw InputError(errors(job.diagnostics));
    if (files.units) job.value->units = *files.units;
    return std::move(*job.value);
}
job::Yard read_yard(const Files& files, const std::vector<job::Change>& changes) {
    auto yard = io::read_yard(io::with_changes(files.yard, job::FileKind::yard, changes), "the changed yard",
                              cure::resin_faults);
    if (!yard) throw InputError(errors(yard.diagnostics));
    return std::move(*yard.value);
}

/// The files with the changes, as the reader takes them; those without a change are not read again. Throws InputError.
Inputs read_changed(const Files& files, const Inputs& unchanged, const std::vector<job::Change>& changes) {
    const auto concerns = [&](job::FileKind kind) {
        return std::any_of(changes.begin(), changes.end(), [kind](const auto& change) { return change.file == kind; });
    };
    Inputs inputs{concerns(job::FileKind::job) ? read_job(files, changes) : unchanged.job,
                  concerns(job::FileKind::yard) ? read_yard(files, changes) : unchanged.yard};
    const auto wrong = errors(io::cross_check(inputs.job, inputs.yard));
    if (!wrong.empty()) throw InputError(wrong);
    return inputs;
}

/// What came of each alternative: a plan, or why there is none.
struct Worked {
    std::optional<Upshot> upshot;
    std::string why_not;
};
std::vector<Worked> work_out(const Files& files, const Inputs& unchanged, const plan::Options& options,
                             const std::vector<Alternative>& list) {
    std::vector<Worked> worked(list.size());
    in_parallel(options.threads, list.size(), [&](std::size_t i) {
        try {
            const auto inputs = read_changed(files, unchanged, list[i].changes);
            worked[i].upshot = upshot(plan::make_plan(inputs.job, inputs.yard, plan::bare(options)));
        } catch (const InputError& error) {
            worked[i].why_not = error.what();
        } catch (const RangeError& error) {
            worked[i].why_not = error.what();
        }
    });
    return worked;
}

void take(Alternative& alternative, const Worked& worked, const Upshot& as_is) {
    alternative.upshot = *worked.upshot;
    if (!changes_work(alternative.lever)) alternative.places_more = as_is.waiting - worked.upshot->waiting;
    if (alternative.places_more == 0) alternative.saves = as_is.own - worked.upshot->own;
}

/// More places mended; the same places at another price; fewer, or more that are dug; other work.
int rank(const Alternative& a, const Upshot& as_is) {
    if (changes_work(a.lever)) return 3;
    if (a.places_more == 0) return 1;
    return a.places_more > 0 && a.upshot.digs <= as_is.digs ? 0 : 2;
}

/// Different keys can hold together; the same key twice are two ways to set it.
bool hold_together(const std::vector<Alternative>& list) {
    std::set<std::pair<job::FileKind, std::vector<std::string>>> keys;
    for (const auto& one : list)
        if (!keys.insert({one.changes.front().file, one.changes.front().path}).second) return false;
    return list.size() > 1;
}

}  // namespace

std::string_view word(Lever v) {
    switch (v) {
        case Lever::longer_day:
            return "longer day";
        case Lever::earlier_start:
            return "earlier start";
        case Lever::overtime:
            return "overtime";
        case Lever::helper:
            return "helper";
        case Lever::alarm_gauge:
            return "alarm gauge";
        case Lever::packer:
            return "packer";
        case Lever::resin:
            return "resin";
        case Lever::free_resin:
            return "free resin";
        case Lever::resin_temperature:
            return "resin temperature";
        case Lever::access:
            return "access";
        case Lever::overnight:
            return "overnight";
        case Lever::run_less:
            return "run less";
        case Lever::size_unknown:
            return "size unknown";
        case Lever::tried:
            return "tried";
    }
    throw std::logic_error("a lever without a word");
}

bool changes_work(Lever v) { return v == Lever::run_less || v == Lever::size_unknown; }

bool can_still_be_done(Lever v) {
    return v == Lever::longer_day || v == Lever::earlier_start || v == Lever::overtime || v == Lever::helper ||
           v == Lever::resin_temperature;
}

bool adds_freedom(Lever v) {
    return !changes_work(v) && v != Lever::resin && v != Lever::resin_temperature && v != Lever::tried;
}

Upshot upshot(const plan::Plan& plan) {
    Upshot u;
    u.days = static_cast<int>(plan.schedule.days.size());
    u.patches = static_cast<int>(plan.patches.size());
    u.digs = static_cast<int>(plan.offer.unavoidable_works.places);
    for (const auto& run : plan.runs) u.waiting += static_cast<int>(run.waiting.size());
    u.own = plan.offer.bracket.own;
    u.overtime = plan.works.overtime;
    u.helper_days = plan.works.helper_days;
    u.late_probability = late_probability(plan);
    for (const auto& day : plan.schedule.days) u.back.push_back(day.finish);
    return u;
}

WhatIf what_if(const Files& files, const plan::Options& options, const plan::Plan& made, Rows rows) {
    WhatIf result;
    result.as_is = upshot(made);
    const Inputs unchanged{read_job(files, {}), read_yard(files, {})};
    auto list = levers(made, result.not_listed);
    if (rows == Rows::that_may_save)
        std::erase_if(list, [](const auto& a) { return changes_work(a.lever) || a.lever == Lever::resin; });
    if (rows == Rows::this_morning) {
        std::erase_if(list, [](const auto& a) { return !can_still_be_done(a.lever); });
        result.not_listed.clear();
    }
    const auto worked = work_out(files, unchanged, options, list);
    for (std::size_t i = 0; i < list.size(); ++i) {
        if (!worked[i].upshot) {
            result.not_listed.push_back({std::move(list[i].words), worked[i].why_not});
            continue;
        }
        take(list[i], worked[i], result.as_is);
        result.list.push_back(std::move(list[i]));
    }
    std::stable_sort(result.list.begin(), result.list.end(), [&](const Alternative& a, const Alternative& b) {
        const int first = rank(a, result.as_is), second = rank(b, result.as_is);
        return first != second ? first < second : a.upshot.own < b.upshot.own;
    });
    return result;
}

WhatIf what_if_tried(const Files& files, const std::vector<std::string>& given, const plan::Options& options,
                     const plan::Plan& made) {
    WhatIf result;
    result.as_is = upshot(made);
    const Inputs unchanged{read_job(files, {}), read_yard(files, {})};
    std::string wrong;
    const auto refuse = [&](const std::string& what, const std::string& why) {
        wrong += fmt::format("{}--try {}: {}", wrong.empty() ? "" : "\n", what, why);
    };
    for (const auto& text : given) {
        try {
            const auto change = io::parse_change(text);
            read_changed(files, unchanged, {change});
            result.list.push_back({Lever::tried, io::text(change), {change}});
        } catch (const InputError& error) {
            refuse(text, error.what());
        }
    }
    if (!wrong.empty()) throw InputError(wrong);
    if (hold_together(result.list)) {
        std::vector<job::Change> all;
        for (const auto& one : result.list) all.push_back(one.changes.front());
        result.list.push_back({Lever::tried, "all of these together", std::move(all)});
    }
    const auto worked = work_out(files, unchanged, options, result.list);
    for (std::size_t i = 0; i < result.list.size(); ++i) {
        auto& one = result.list[i];
        if (worked[i].upshot)
            take(one, worked[i], result.as_is);
        else if (i < given.size())
            refuse(one.words, worked[i].why_not);
        else  // each is good by itself
            result.not_listed.push_back({one.words, worked[i].why_not});
    }
    if (!result.not_listed.empty()) result.list.pop_back();
    if (!wrong.empty()) throw InputError(wrong);
    return result;
}

}  // namespace patchwright::whatif
