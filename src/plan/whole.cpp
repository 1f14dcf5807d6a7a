#include "whole.hpp"

#include <algorithm>
#include <map>
#include <utility>

#include <fmt/format.h>

#include "felt_cutting.hpp"
#include "mixes.hpp"
#include "work.hpp"

namespace patchwright::plan {
namespace {

struct Timed {
    Mixes mixes;
    schedule::Problem work;
    schedule::Schedule schedule;
};

Timed timed(const Setting& setting, const std::vector<Patch>& patches, Mixes mixes, std::int64_t steps) {
    Timed t;
    t.mixes = std::move(mixes);
    t.work = day_work(setting, patches, t.mixes);
    t.schedule = schedule::plan_days(t.work, steps);
    return t;
}

bool better(const Timed& a, const Timed& b) {
    const auto rank = [](const Timed& t) {
        const auto& s = t.schedule;
        const auto finish = s.days.empty() ? 0 : s.days.back().finish;
        return std::tuple{s.impossible.size(), s.days.size(), t.mixes.purchase.in_cents(), finish};
    };
    return rank(a) < rank(b);
}

/// The patches in order of work, with everything that counts them renumbered.
void reorder(std::vector<Patch>& patches, Timed& t) {
    auto order = t.schedule.order;
    for (std::size_t i = 0; i < patches.size(); ++i) {  // what no day can hold comes last
        if (std::find(order.begin(), order.end(), static_cast<int>(i)) == order.end())
            order.push_back(static_cast<int>(i));
    }
    std::vector<int> new_place(patches.size());
    std::vector<Patch> sorted;
    std::vector<schedule::PatchWork> work;
    std::vector<schedule::PatchTimes> times;
    for (std::size_t i = 0; i < order.size(); ++i) {
        const auto old = static_cast<std::size_t>(order[i]);
        new_place[old] = static_cast<int>(i);
        sorted.push_back(std::move(patches[old]));
        work.push_back(t.work.patches[old]);
        times.push_back(t.schedule.patches[old]);
    }
    const auto renumber = [&](std::vector<int>& list) {
        for (int& p : list) p = new_place[static_cast<std::size_t>(p)];
    };
    for (auto& mix : t.mixes.mixes) renumber(mix.batch.patches);
    for (auto& batch : t.work.batches) renumber(batch.patches);
    for (auto& day : t.schedule.days) {
        for (auto& task : day.tasks) {
            if (task.patch) task.patch = new_place[static_cast<std::size_t>(*task.patch)];
        }
    }
    for (auto& item : work) renumber(item.after);
    renumber(t.schedule.impossible);
    renumber(t.schedule.order);
    patches = std::move(sorted);
    t.work.patches = std::move(work);
    t.schedule.patches = std::move(times);
}

std::vector<Batch> batches_of(const Timed& t) {
    std::vector<Batch> batches;
    for (const auto& mix : t.mixes.mixes) {
        Batch batch;
        batch.batch = mix.batch;
        batch.resin = mix.resin;
        const auto& times = t.schedule.patches[static_cast<std::size_t>(mix.batch.patches.front())];
        batch.day = times.day;
        batch.mix_at = {times.mix};
        batches.push_back(std::move(batch));
    }
    std::stable_sort(batches.begin(), batches.end(), [](const Batch& a, const Batch& b) {
        return std::pair{a.day, a.mix_at} < std::pair{b.day, b.mix_at};
    });
    for (std::size_t i = 0; i < batches.size(); ++i) batches[i].id = fmt::format("M{}", i + 1);
    return batches;
}

void add_felt_money(const Setting& setting, const Whole& whole, price::PatchWorks& works) {
    for (const auto& cut : whole.cutting) {
        const auto& felt = setting.yard.felts[static_cast<std::size_t>(cut.felt)];
        const Money amount = cut.cost + share_of(cut.cost, setting.yard.rates.felt_waste);
        works.materials.push_back({fmt::format("Felt {}, {} piece{}, waste included", felt.id, cut.pieces.size(),
                                               cut.pieces.size() == 1 ? "" : "s"),
                                   1.0, "lot", amount, amount});
    }
}

void add_resin_money(const Setting& setting, const Mixes& mixes, price::PatchWorks& works) {
    for (const auto& opened : mixes.opened) {
        const auto& resin = setting.yard.resins[static_cast<std::size_t>(opened.resin)];
        for (const auto& [mass, count] : opened.kits) {
            const Money each = resin::price_of(resin.kits, {{mass, 1}});
            works.materials.push_back(
                {fmt::format("Resin {}, kit of {}", resin.id, format(Show::big_mass, mass, setting.job.units)),
                 static_cast<double>(count), "kit", each, each * count});
        }
    }
}

/// Team time over its likely value when every task of the job is quick, and when every one is slow.
job::Spread<double> time_factor(const Setting& setting, const Whole& whole) {
    const auto& d = setting.yard.durations;
    job::Spread<Duration> sum;
    const auto add = [&](const job::Spread<Duration>& task, double times) {
        sum.low += times * task.low;
        sum.likely += times * task.likely;
        sum.high += times * task.high;
    };
    for (const auto& p : whole.patches) {
        for (const auto* task : {&d.cut, &d.bench_test, &d.wet_out, &d.load, &d.position, &d.inflate, &d.crease,
                                 &d.let_down, &d.re_survey}) {
            add(*task, 1.0);
        }
        add(d.wet_out_per_m, p.length().in(unit::m));
        add(d.reopen, static_cast<double>(p.reopened.size()));
    }
    for (const auto& run : whole.work.runs) {
        add(d.set_up, 1.0);
        add(d.survey, 1.0);
        add(d.flow_control, 1.0);
        add(d.clean_per_10_m,
            d.clean_per_10_m.likely > Duration{} ? run.clean * unit::minute / d.clean_per_10_m.likely : 0.0);
    }
    add(d.travel, 2.0 * static_cast<double>(whole.schedule.days.size()));
    if (sum.likely <= Duration{}) return {};
    return {sum.low / sum.likely, 1.0, sum.high / sum.likely};
}

price::PatchWorks works_of(const Setting& setting, const Whole& whole, const Mixes& mixes) {
    price::PatchWorks works;
    works.days = static_cast<int>(whole.schedule.days.size());
    works.visits = works.days;
    // Patches that no day holds cost nothing: they are left out of the plan, and the warnings say so.
    works.patches = static_cast<int>(whole.patches.size() - whole.schedule.impossible.size());
    schedule::Minute minutes = 0;
    for (const auto& day : whole.schedule.days) minutes += day.finish - whole.work.start;
    works.crew_time = static_cast<double>(minutes) * unit::minute * static_cast<double>(std::max(1, whole.work.crews));
    works.overnight = whole.work.overnight && std::any_of(whole.schedule.days.begin(), whole.schedule.days.end(),
                                                          [](const auto& day) { return day.finish > 1440; });
    works.time_factor = time_factor(setting, whole);
    add_felt_money(setting, whole, works);
    add_resin_money(setting, mixes, works);
    std::map<std::string, std::pair<int, Money>> wear;
    for (const auto& p : whole.patches) {
        const auto& packer = p.option.packer;
        const auto& resin = setting.yard.resins[static_cast<std::size_t>(p.resin)];
        if (packer::contact(packer.material, resin.kind) == packer::Contact::film_needed) {
            const Length film = packer::overall_length(p.option, p.length());
            works.materials.push_back({fmt::format("Separating film for {}", p.id), film.in(unit::m), "m",
                                       setting.yard.rates.film.amount, cost(setting.yard.rates.film, film)});
        }
        auto& row = wear[packer.id];
        ++row.first;
        row.second += packer::wear(setting.yard, p.option, p.length());
        works.cutter_needed = works.cutter_needed || !p.reopened.empty() || !p.preparations.empty();
        works.redo_cost.push_back(p.redo);
    }
    for (const auto& [id, row] : wear) {
        works.wear.push_back({fmt::format("Packer {}, wear", id), static_cast<double>(row.first), "use",
                              scaled(row.second, 1.0 / row.first), row.second});
    }
    return works;
}

}  // namespace

Whole compose(Setting& setting, std::vector<Patch> patches, std::int64_t steps) {
    Timed best = timed(setting, patches, plan_mixes(setting, patches, false), steps);
    if (patches.size() > 1 && setting.yard.limits.air_lines > 1) {
        Mixes shared = plan_mixes(setting, patches, true);
        if (shared.mixes.size() < best.mixes.mixes.size()) {  // else none is shared
            Timed other = timed(setting, patches, std::move(shared), steps);
            if (better(other, best)) best = std::move(other);
        }
    }
    reorder(patches, best);
    Whole whole;
    whole.patches = std::move(patches);
    whole.batches = batches_of(best);
    whole.kits_to_buy = best.mixes.kits_to_buy;
    whole.purchase = best.mixes.purchase;
    whole.cutting = cut_felts(setting, whole.patches);
    whole.work = std::move(best.work);
    whole.schedule = std::move(best.schedule);
    whole.flows = flow_plans(setting, whole.patches, whole.work, whole.schedule);
    whole.works = works_of(setting, whole, best.mixes);
    whole.warnings = best.mixes.warnings;
    whole.warnings.insert(whole.warnings.end(), whole.schedule.warnings.begin(), whole.schedule.warnings.end());
    whole.warnings.insert(whole.warnings.end(), whole.schedule.why_impossible.begin(),
                          whole.schedule.why_impossible.end());
    return whole;
}

}  // namespace patchwright::plan
