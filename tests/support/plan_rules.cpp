#include "support/plan_rules.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

namespace patchwright::test {
namespace {

constexpr Length hair = 1e-6 * unit::m;  ///< for sums of metres in binary

struct Faults {
    std::vector<std::string> list;
    template <class... Values>
    void unless(bool holds, fmt::format_string<Values...> words, Values&&... values) {
        if (!holds) list.push_back(fmt::format(words, std::forward<Values>(values)...));
    }
};

const job::Run& run_of(const job::Job& job, const plan::Patch& p) { return job.runs[static_cast<std::size_t>(p.run)]; }

/// Lies inside the open span, and not at a mouth of the run.
bool stands_in(Length end, Length from, Length to, const job::Run& run) {
    if (end <= hair || end >= run.length - hair) return false;
    return end > from + hair && end < to - hair;
}

void check_cover(const job::Run& run, const job::Limits& limits, const plan::Patch& p, Faults& faults) {
    const Length reach = limits.overlap + limits.tolerance;
    for (const int d : p.defects) {
        const auto& defect = run.defects[static_cast<std::size_t>(d)];
        const Length from = std::max(Length{}, defect.at - reach);
        const Length to = std::min(run.length, defect.to + reach);
        // Positions are whole centimetres: a mouth that is none is met to the centimetre.
        faults.unless(p.start <= from + hair && p.end >= to - 1.0 * unit::cm - hair, "{} does not cover {}", p.id,
                      defect.id);
        faults.unless(to >= run.length - hair || p.end >= to - hair, "{} does not cover the end of {}", p.id,
                      defect.id);
    }
}

void check_ends(const job::Run& run, const job::Limits& limits, const plan::Patch& p, Faults& faults) {
    for (const Length end : {p.start, p.end}) {
        const double at = end.in(unit::m);
        for (const auto& defect : run.defects) {
            const Length clear = limits.defect_keep_out + limits.tolerance;
            faults.unless(!stands_in(end, defect.at - clear, defect.to + clear, run), "{}: end at {} m on defect {}",
                          p.id, at, defect.id);
        }
        for (const auto& fitting : run.fittings) {
            Length half{};
            if (fitting.kind == job::FittingKind::bend && fitting.radius)
                half = *fitting.radius * fitting.angle.si() / 2.0;
            if (fitting.kind == job::FittingKind::junction) {
                half = fitting.bore / 2.0 + (fitting.live ? limits.live_keep_out : Length{});
            }
            half = half + limits.tolerance;
            faults.unless(!stands_in(end, fitting.at - half, fitting.at + half, run),
                          "{}: end at {} m in the fitting at {} m", p.id, at, fitting.at.in(unit::m));
        }
        const Length clear = limits.joint_keep_out + limits.tolerance;
        if (!run.joint_spacing || 2.0 * clear >= *run.joint_spacing) continue;
        const double joint = std::round(end / *run.joint_spacing);
        const Length joint_at = joint * *run.joint_spacing;
        if (joint < 1.0 || joint_at > run.length - hair) continue;
        faults.unless(!stands_in(end, joint_at - clear, joint_at + clear, run), "{}: end at {} m on a joint", p.id, at);
    }
}

void check_fittings(const job::Run& run, const job::Limits& limits, const plan::Patch& p, Faults& faults) {
    const bool piece = p.option.packer.shape != job::PackerShape::straight;
    int live_inside = 0;
    for (std::size_t i = 0; i < run.fittings.size(); ++i) {
        const auto& fitting = run.fittings[i];
        if (fitting.kind == job::FittingKind::junction && fitting.live) {
            const bool covered =
                p.start < fitting.at + fitting.bore / 2.0 - hair && p.end > fitting.at - fitting.bore / 2.0 + hair;
            const bool reopened =
                std::find(p.reopened.begin(), p.reopened.end(), static_cast<int>(i)) != p.reopened.end();
            live_inside += covered ? 1 : 0;
            faults.unless(!covered || piece || reopened, "{} covers a live connection and does not open it again",
                          p.id);
            faults.unless(!reopened || run.reopening_allowed, "{} opens a connection again, which the job forbids",
                          p.id);
        }
        if (fitting.kind == job::FittingKind::bend && p.start < fitting.at && fitting.at < p.end) {
            const bool soft = p.option.packer.material != job::BladderMaterial::pvc_hose;
            const bool wide =
                fitting.radius && *fitting.radius >= limits.crossing_radius_share * run.working_bore() - hair;
            faults.unless(soft, "{}: a {} bladder lies across a bend", p.id, job::word(p.option.packer.material));
            faults.unless(fitting.angle.si() <= limits.crossing_angle_most.si() + 1e-9 || wide || !fitting.radius,
                          "{}: lies across a bend that is too sharp", p.id);
        }
    }
    faults.unless(!piece || live_inside == 1, "{}: a junction piece over {} live connections", p.id, live_inside);
}

void check_packer(const job::Job& job, const job::Yard& yard, const plan::Patch& p, Faults& faults) {
    const auto& run = run_of(job, p);
    const auto& packer = p.option.packer;
    const Length most = std::min(packer.usable_max, yard.limits.longest_sleeve);
    faults.unless(p.length() >= packer.usable_min - hair && p.length() <= most + hair, "{}: {} m is not for packer {}",
                  p.id, p.length().in(unit::m), packer.id);
    faults.unless(p.bore >= packer.bore_min && p.bore <= packer.bore_max, "{}: bore not for packer {}", p.id,
                  packer.id);
    const bool sticks_out = p.start < packer.projection - hair || p.end > run.length - packer.projection + hair;
    faults.unless(!sticks_out || p.rigging.restraint_sleeve, "{}: the packer sticks out of the pipe unrestrained",
                  p.id);
    faults.unless(std::find(run.access.begin(), run.access.end(), p.rigging.from) != run.access.end(),
                  "{}: goes in at {}, which is no access", p.id, p.rigging.from);
    const Length middle = p.start + p.length() / 2.0;
    const Length mark = p.rigging.from == run.from ? middle : run.length - middle;
    faults.unless(std::abs((p.rigging.mark - mark).si()) <= hair.si(), "{}: mark {} m, sleeve's middle at {} m", p.id,
                  p.rigging.mark.in(unit::m), mark.in(unit::m));
}

/// Two sleeves of one run leave the gap, or lap by enough.
void check_neighbours(const job::Job& job, const job::Yard& yard, const plan::Plan& plan, Faults& faults) {
    for (const auto& a : plan.patches) {
        for (const auto& b : plan.patches) {
            if (a.run != b.run || a.start > b.start || &a == &b) continue;
            if (a.start == b.start) faults.unless(a.id == b.id, "{} and {} start together", a.id, b.id);
            const Length apart = b.start - a.end;
            faults.unless(apart >= yard.limits.gap - hair || -apart >= yard.limits.lap - hair,
                          "{} and {} are {} m apart in run {}", a.id, b.id, apart.in(unit::m), run_of(job, a).id);
        }
    }
}

/// Every defect that wants a patch is in one, or the plan says why not; no other defect is.
void check_all_answered(const job::Job& job, const plan::Plan& plan, Faults& faults) {
    std::map<std::pair<int, int>, int> covered;
    for (const auto& p : plan.patches) {
        for (const int d : p.defects) ++covered[{p.run, d}];
    }
    for (std::size_t r = 0; r < plan.runs.size(); ++r) {
        const auto& run = plan.runs[r];
        faults.unless(run.verdicts.size() == job.runs[r].defects.size(), "run {}: a defect without verdict", run.id);
        for (std::size_t d = 0; d < run.verdicts.size(); ++d) {
            const auto& verdict = run.verdicts[d];
            const bool wanted = survey::wants_patch(verdict.judgement.verdict);
            const int times = covered[{static_cast<int>(r), static_cast<int>(d)}];
            faults.unless(!verdict.judgement.reasons.empty(), "run {}: {} without a reason", run.id, verdict.defect);
            faults.unless(wanted || times == 0, "run {}: {} is patched but its verdict is {}", run.id, verdict.defect,
                          survey::word(verdict.judgement.verdict));
            const bool said = std::any_of(run.unanswered.begin(), run.unanswered.end(), [&](const std::string& words) {
                return words.substr(0, words.find(':')).find(verdict.defect) != std::string::npos;
            });
            faults.unless(!wanted || times == 1 || said || run.no_day,
                          "run {}: {} is in {} patches and nothing is said", run.id, verdict.defect, times);
            faults.unless(times == 1 || !plan.everything_patched, "run {}: {} is not patched but all is called patched",
                          run.id, verdict.defect);
        }
    }
}

void check_layout_cost(const plan::Plan& plan, Faults& faults) {
    std::int64_t patches = 0, candidates = 0;
    std::size_t chosen = 0;
    for (const auto& p : plan.patches) {
        patches += p.cost.in_cents();
        faults.unless(p.cost.in_cents() > 0, "{} costs nothing", p.id);
    }
    for (const auto& run : plan.runs) {
        for (const int k : run.chosen) {
            const auto& candidate = run.solution.candidates.at(static_cast<std::size_t>(k));
            candidates += candidate.cost;
            ++chosen;
            const bool stands = std::any_of(plan.patches.begin(), plan.patches.end(), [&](const plan::Patch& p) {
                return plan.runs[static_cast<std::size_t>(p.run)].id == run.id &&
                       std::lround(p.start.in(unit::cm)) == candidate.start &&
                       std::lround(p.end.in(unit::cm)) == candidate.end &&
                       p.option.packer.id == run.carrier_packers[static_cast<std::size_t>(candidate.carrier)];
            });
            faults.unless(stands, "run {}: no patch at the chosen candidate {} to {} cm", run.id, candidate.start,
                          candidate.end);
        }
    }
    faults.unless(chosen == plan.patches.size(), "{} candidates chosen, {} patches", chosen, plan.patches.size());
    faults.unless(patches == plan.layout.cost.in_cents(), "layout cost {}, patches {}", plan.layout.cost.in_cents(),
                  patches);
    faults.unless(candidates == patches, "candidates {}, patches {}", candidates, patches);
}

void check_resin(const job::Yard& yard, const plan::Patch& p, Faults& faults) {
    const auto whole = [](Mass m) { return std::abs(m.in(unit::g)-std::round(m.in(unit::g))) < 1e-6; };
    const auto& need = p.need;
    faults.unless(whole(need.total) && whole(need.part_a) && whole(need.part_b), "{}: resin not in whole grams", p.id);
    faults.unless(need.part_a > Mass{} && need.part_b > Mass{}, "{}: a part of the resin weighs nothing", p.id);
    faults.unless(std::lround(need.total.in(unit::g)) ==
                      std::lround(need.part_a.in(unit::g)) + std::lround(need.part_b.in(unit::g)),
                  "{}: parts A and B are not the total", p.id);
    const auto& resin = yard.resins[static_cast<std::size_t>(p.resin)];
    const double share = resin.parts_a / (resin.parts_a + resin.parts_b);
    faults.unless(std::abs(need.part_a.in(unit::g)-share * need.total.in(unit::g)) <= 0.5 + 1e-6, "{}: mix ratio",
                  p.id);
}

void check_cure(const job::Yard& yard, const plan::Patch& p, Faults& faults) {
    const auto& t = p.cure.sheet;
    faults.unless(t.pour_by > Duration{} && t.inflate_by > Duration{}, "{}: no time to pour or to inflate", p.id);
    faults.unless(t.inflate_by < t.crease_by && t.crease_by <= t.working_time && t.working_time < t.let_down,
                  "{}: times out of order: {} {} {} {}", p.id, t.inflate_by.si(), t.crease_by.si(), t.working_time.si(),
                  t.let_down.si());
    faults.unless(!p.tables.let_down.empty(), "{}: no let-down table", p.id);
    const auto& resin = yard.resins[static_cast<std::size_t>(p.resin)];
    Duration last{};
    for (const auto& row : p.tables.let_down) {
        faults.unless(row.pipe >= resin.application_min, "{}: a let-down below the resin's limit", p.id);
        faults.unless(last == Duration{} || row.let_down <= last, "{}: a warmer pipe takes longer", p.id);
        last = row.let_down;
    }
    faults.unless(*p.conditions.pipe >= resin.application_min, "{}: pipe colder than the resin's limit", p.id);
}

void check_pressure(const plan::Patch& p, Faults& faults) {
    const auto& w = p.pressure;
    faults.unless(w.holds, "{}: pressure window does not hold", p.id);
    faults.unless(Pressure{} <= w.outside && w.outside < w.minimum && w.minimum <= w.set && w.set <= w.maximum,
                  "{}: pressures out of order: {} {} {} {}", p.id, w.outside.si(), w.minimum.si(), w.set.si(),
                  w.maximum.si());
    faults.unless(w.maximum <= p.option.packer.rated_pressure, "{}: above the bladder's rating", p.id);
    faults.unless(w.stored > Energy{}, "{}: no stored energy", p.id);
}

void check_liner(const plan::Patch& p, Faults& faults) {
    faults.unless(p.felt.installed >= p.thickness.design - 1e-9 * unit::mm, "{}: thinner than its design", p.id);
    faults.unless(p.cut.length > p.length() && p.cut.width > Length{}, "{}: cut too small", p.id);
    faults.unless(2.0 * p.felt.installed < p.bore, "{}: no bore left", p.id);
}

struct PatchDay {
    int day = -1;
    std::map<schedule::What, schedule::Task> tasks;
};

/// Tasks in order of start for each patch.
std::vector<PatchDay> days_of_patches(const plan::Plan& plan, Faults& faults) {
    std::vector<PatchDay> list(plan.patches.size());
    for (std::size_t d = 0; d < plan.schedule.days.size(); ++d) {
        for (const auto& task : plan.schedule.days[d].tasks) {
            if (!task.patch) continue;
            auto& patch = list[static_cast<std::size_t>(*task.patch)];
            const auto& id = plan.patches[static_cast<std::size_t>(*task.patch)].id;
            faults.unless(patch.day < 0 || patch.day == static_cast<int>(d), "{} on two days", id);
            patch.day = static_cast<int>(d);
            faults.unless(patch.tasks.emplace(task.what, task).second, "{}: {} twice", id, schedule::word(task.what));
        }
    }
    return list;
}

void check_patch_day(const plan::Patch& p, const PatchDay& day, schedule::Minute mix, Faults& faults) {
    using schedule::What;
    constexpr What order[] = {What::cut,     What::bench_test, What::wet_out, What::load,     What::position,
                              What::inflate, What::crease,     What::cure,    What::let_down, What::re_survey};
    schedule::Minute now = 0;
    for (const What what : order) {
        const auto place = day.tasks.find(what);
        const bool must =
            what == What::wet_out || what == What::inflate || what == What::cure || what == What::let_down;
        if (place == day.tasks.end()) {
            faults.unless(!must, "{}: no {}", p.id, schedule::word(what));
            continue;
        }
        faults.unless(place->second.start >= now && place->second.finish >= place->second.start, "{}: {} out of turn",
                      p.id, schedule::word(what));
        now = place->second.finish;
    }
    const auto at = [&](What what) {
        const auto place = day.tasks.find(what);
        return place == day.tasks.end() ? schedule::Task{} : place->second;
    };
    const auto since = [&](schedule::Minute minute) { return static_cast<double>(minute - mix) * unit::minute; };
    constexpr Duration rounding = 1e-3 * unit::s;
    faults.unless(since(at(What::let_down).start) >= p.cure.sheet.let_down - rounding, "{}: let down too early", p.id);
    faults.unless(since(at(What::inflate).finish) <= p.cure.sheet.inflate_by + rounding, "{}: inflated too late", p.id);
    if (day.tasks.contains(What::crease)) {
        faults.unless(since(at(What::crease).finish) <= p.cure.sheet.crease_by + rounding, "{}: creased too late",
                      p.id);
    }
}

/// Travel first and last, nothing outside the working day, no crew with two tasks at a time.
void check_day(const job::Job& job, const job::Yard& yard, const schedule::Day& day, std::size_t number,
               Faults& faults) {
    std::map<int, std::vector<schedule::Task>> crews;
    for (const auto& task : day.tasks) {
        crews[task.crew].push_back(task);
        const bool overnight = yard.limits.overnight_cure && task.what == schedule::What::cure;
        faults.unless(task.start >= job.site.start.minutes && (task.finish <= job.site.finish.minutes || overnight),
                      "day {}: {} from {} to {} outside the working day", number, schedule::word(task.what), task.start,
                      task.finish);
    }
    for (auto& [crew, tasks] : crews) {
        std::stable_sort(tasks.begin(), tasks.end(), [](const auto& a, const auto& b) { return a.start < b.start; });
        const auto last = std::max_element(tasks.begin(), tasks.end(), [](const auto& a, const auto& b) {
            return std::pair{a.finish, a.start} < std::pair{b.finish, b.start};
        });
        faults.unless(tasks.front().what == schedule::What::travel && last->what == schedule::What::travel,
                      "day {}: crew {} does not travel first and last", number, crew);
        faults.unless(last->finish <= day.finish, "day {}: finish before its last task", number);
        schedule::Minute busy_until = 0;
        for (const auto& task : tasks) {
            if (task.what == schedule::What::cure) continue;  // no hands
            faults.unless(task.start >= busy_until, "day {}: crew {} does two things at {}", number, crew, task.start);
            busy_until = std::max(busy_until, task.finish);
        }
    }
}

void check_layers(const price::BuildUp& b, const char* side, Faults& faults) {
    faults.unless((b.direct + b.risk + b.overhead + b.profit).in_cents() == b.net.in_cents(),
                  "{}: layers do not add up", side);
    std::int64_t lines = 0, risks = 0;
    for (const auto& line : b.lines) lines += line.amount.in_cents();
    for (const auto& line : b.risk_lines) risks += line.amount.in_cents();
    faults.unless(lines == b.direct.in_cents(), "{}: lines {} are not the direct cost {}", side, lines,
                  b.direct.in_cents());
    faults.unless(risks == b.risk.in_cents(), "{}: risk lines {} are not the risk {}", side, risks, b.risk.in_cents());
    faults.unless(
        b.direct.in_cents() >= 0 && b.risk.in_cents() >= 0 && b.overhead.in_cents() >= 0 && b.net.in_cents() >= 0,
        "{}: negative money", side);
    faults.unless(b.p10 <= b.p50 && b.p50 <= b.p80 && b.p80 <= b.p90, "{}: quantiles out of order", side);
}

void take(std::vector<std::string>& all, std::vector<std::string> more) {
    all.insert(all.end(), std::make_move_iterator(more.begin()), std::make_move_iterator(more.end()));
}

}  // namespace

std::vector<std::string> broken_layout_rules(const job::Job& job, const job::Yard& yard, const plan::Plan& plan) {
    Faults faults;
    for (const auto& p : plan.patches) {
        const auto& run = run_of(job, p);
        faults.unless(Length{} <= p.start && p.start < p.end && p.end <= run.length + hair, "{} not in its run", p.id);
        faults.unless(!p.defects.empty(), "{} covers nothing", p.id);
        check_cover(run, yard.limits, p, faults);
        check_ends(run, yard.limits, p, faults);
        check_fittings(run, yard.limits, p, faults);
        check_packer(job, yard, p, faults);
    }
    check_neighbours(job, yard, plan, faults);
    check_all_answered(job, plan, faults);
    check_layout_cost(plan, faults);
    return faults.list;
}

std::vector<std::string> broken_design_rules(const job::Job&, const job::Yard& yard, const plan::Plan& plan) {
    Faults faults;
    for (const auto& p : plan.patches) {
        check_liner(p, faults);
        check_pressure(p, faults);
        check_resin(yard, p, faults);
        check_cure(yard, p, faults);
    }
    std::map<int, int> mixed;
    for (const auto& batch : plan.batches) {
        const auto& b = batch.batch;
        Mass sleeves{};
        for (const int p : b.patches) {
            ++mixed[p];
            sleeves += plan.patches[static_cast<std::size_t>(p)].need.in_sleeve();
            faults.unless(plan.patches[static_cast<std::size_t>(p)].resin == batch.resin, "{}: another resin",
                          batch.id);
        }
        faults.unless(
            std::lround(b.total.in(unit::g)) == std::lround(b.part_a.in(unit::g)) + std::lround(b.part_b.in(unit::g)),
            "{}: parts A and B are not the total", batch.id);
        faults.unless(b.total >= sleeves, "{}: less than its sleeves take", batch.id);
    }
    for (std::size_t i = 0; i < plan.patches.size(); ++i) {
        faults.unless(mixed[static_cast<int>(i)] == 1, "{} is in {} mixes", plan.patches[i].id,
                      mixed[static_cast<int>(i)]);
    }
    return faults.list;
}

std::vector<std::string> broken_day_rules(const job::Job& job, const job::Yard& yard, const plan::Plan& plan) {
    Faults faults;
    for (std::size_t d = 0; d < plan.schedule.days.size(); ++d)
        check_day(job, yard, plan.schedule.days[d], d + 1, faults);
    const auto days = days_of_patches(plan, faults);
    for (const auto& batch : plan.batches) {
        for (const int p : batch.batch.patches) {
            const auto i = static_cast<std::size_t>(p);
            faults.unless(days[i].day == batch.day, "{} and its mix on different days", plan.patches[i].id);
            if (days[i].day >= 0) check_patch_day(plan.patches[i], days[i], batch.mix_at.minutes, faults);
        }
    }
    for (std::size_t i = 0; i < days.size(); ++i) {
        const auto& none = plan.schedule.impossible;
        const bool impossible = std::find(none.begin(), none.end(), static_cast<int>(i)) != none.end();
        faults.unless(days[i].day >= 0 || impossible, "{} has no day", plan.patches[i].id);
    }
    take(faults.list, schedule::violations(plan.work, plan.schedule));
    return faults.list;
}

std::vector<std::string> broken_money_rules(const plan::Plan& plan) {
    Faults faults;
    const auto& offer = plan.offer;
    check_layers(offer.patch, "patch", faults);
    check_layers(offer.dig, "dig", faults);
    const auto& b = offer.bracket;
    faults.unless(b.suggested <= b.ceiling && b.saving.in_cents() == (b.ceiling - b.suggested).in_cents(),
                  "saving is not the difference");
    faults.unless(!b.bid || b.floor <= b.suggested, "suggested below the floor");
    faults.unless(b.ceiling.in_cents() == offer.dig.net.in_cents(), "ceiling is not the price of digging");
    return faults.list;
}

std::vector<std::string> broken_workings(const plan::Plan& plan) {
    Faults faults;
    const auto check = [&](const std::string& owner, const plan::Figure& figure) {
        const auto steps = figure.working.steps();
        faults.unless(!steps.empty(), "{}.{} has no working", owner, figure.name);
        faults.unless(std::isfinite(figure.value), "{}.{} is no number", owner, figure.name);
        const double scale = std::max(1e-9, std::abs(figure.value));
        const bool ends = std::any_of(steps.begin(), steps.end(), [&](const Step& step) {
            return std::abs(step.result - figure.value) <= 1e-9 * scale;
        });
        faults.unless(steps.empty() || ends, "{}.{} = {} is the result of no step of its working", owner, figure.name,
                      figure.value);
        for (const auto& step : steps) {
            faults.unless(std::isfinite(step.result), "{}.{}: a step of {} gives no number", owner, figure.name,
                          step.formula->id);
        }
    };
    for (const auto& p : plan.patches) {
        for (const auto& figure : p.figures) check(p.id, figure);
    }
    for (const auto& figure : plan.figures) check("job", figure);
    return faults.list;
}

std::vector<std::string> broken_rules(const job::Job& job, const job::Yard& yard, const plan::Plan& plan,
                                      const std::string& json) {
    std::vector<std::string> all;
    take(all, broken_layout_rules(job, yard, plan));
    take(all, broken_design_rules(job, yard, plan));
    take(all, broken_day_rules(job, yard, plan));
    take(all, broken_money_rules(plan));
    take(all, broken_workings(plan));
    take(all, broken_json(json));
    return all;
}

}  // namespace patchwright::test
