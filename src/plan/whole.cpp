#include "whole.hpp"

#include <algorithm>
#include <cstdint>
#include <map>
#include <string>
#include <string_view>
#include <utility>

#include <fmt/format.h>

#include "felt_cutting.hpp"
#include "mixes.hpp"
#include "work.hpp"

namespace patchwright::plan {
namespace {

/// One way to share the mixes, with the days that it takes.
struct Way {
    Mixes mixes;
    schedule::Problem work;
    schedule::Outline days;
};

Way timed(Setting& setting, const PatchList& patches, Mixes mixes, std::int64_t steps) {
    Way way;
    way.mixes = std::move(mixes);
    way.work = day_work(setting, patches, way.mixes);
    way.days = schedule::outline_days(way.work, steps, setting.days);
    return way;
}

bool better(const Way& a, const Way& b) {
    const auto rank = [](const Way& way) {
        const auto& days = way.days;
        const auto finish = days.finishes.empty() ? 0 : days.finishes.back();
        return std::tuple{days.impossible.size(), days.finishes.size(), way.mixes.purchase.in_cents(), finish};
    };
    return rank(a) < rank(b);
}

Way best_way(Setting& setting, const PatchList& patches, std::int64_t steps) {
    Way best = timed(setting, patches, plan_mixes(setting, patches, false), steps);
    if (patches.size() < 2 || setting.yard.limits.air_lines < 2) return best;
    Mixes shared = plan_mixes(setting, patches, true);
    if (shared.mixes.size() >= best.mixes.mixes.size()) return best;  // none is shared
    Way other = timed(setting, patches, std::move(shared), steps);
    return better(other, best) ? other : best;
}

/// Places in the order of work; what no day can hold comes last.
std::vector<std::size_t> order_of(const Way& way, std::size_t patches) {
    std::vector<std::size_t> order;
    order.reserve(patches);
    std::vector<bool> placed(patches, false);
    for (const int patch : way.days.order) {
        order.push_back(static_cast<std::size_t>(patch));
        placed[order.back()] = true;
    }
    for (std::size_t i = 0; i < patches; ++i) {
        if (!placed[i]) order.push_back(i);
    }
    return order;
}

PatchList in_order(const PatchList& patches, const std::vector<std::size_t>& order) {
    PatchList sorted;
    sorted.reserve(order.size());
    for (const std::size_t old : order) sorted.push_back(patches[old]);
    return sorted;
}

/// Everything that counts the patches, renumbered by their order of work.
void reorder(const std::vector<std::size_t>& order, Way& way, schedule::Schedule& schedule) {
    std::vector<int> new_place(order.size());
    std::vector<schedule::PatchWork> work;
    std::vector<schedule::PatchTimes> times;
    for (std::size_t i = 0; i < order.size(); ++i) {
        new_place[order[i]] = static_cast<int>(i);
        work.push_back(way.work.patches[order[i]]);
        times.push_back(schedule.patches[order[i]]);
    }
    const auto renumber = [&](std::vector<int>& list) {
        for (int& p : list) p = new_place[static_cast<std::size_t>(p)];
    };
    for (auto& mix : way.mixes.mixes) renumber(mix.batch.patches);
    for (auto& batch : way.work.batches) renumber(batch.patches);
    for (auto& day : schedule.days) {
        for (auto& task : day.tasks) {
            if (task.patch) task.patch = new_place[static_cast<std::size_t>(*task.patch)];
        }
    }
    for (auto& item : work) renumber(item.after);
    renumber(schedule.impossible);
    renumber(schedule.order);
    way.work.patches = std::move(work);
    schedule.patches = std::move(times);
}

std::vector<Batch> batches_of(const Mixes& mixes, const schedule::Schedule& schedule) {
    std::vector<Batch> batches;
    for (const auto& mix : mixes.mixes) {
        Batch batch;
        batch.batch = mix.batch;
        batch.resin = mix.resin;
        const auto& times = schedule.patches[static_cast<std::size_t>(mix.batch.patches.front())];
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

/// Jobs that are only compared need no words, and words are most of the work.
enum class Detail : std::uint8_t { amounts, words };

void add_felt_money(Setting& setting, const PatchList& patches, Detail detail, price::PatchWorks& works) {
    for (const auto& cut : felt_bills(setting, patches)) {
        const auto& felt = setting.yard.felts[static_cast<std::size_t>(cut.felt)];
        const Money amount = cut.cost + share_of(cut.cost, setting.yard.rates.felt_waste);
        std::string words;
        if (detail == Detail::words) {
            words = fmt::format("Felt {}, {} piece{}, waste included", felt.id, cut.pieces, cut.pieces == 1 ? "" : "s");
        }
        works.materials.push_back({std::move(words), 1.0, "lot", amount, amount});
    }
}

void add_resin_money(const Setting& setting, const Mixes& mixes, Detail detail, price::PatchWorks& works) {
    for (const auto& opened : mixes.opened) {
        const auto& resin = setting.yard.resins[static_cast<std::size_t>(opened.resin)];
        for (const auto& [mass, count] : opened.kits) {
            const Money each = resin::price_of(resin.kits, {{mass, 1}});
            std::string words;
            if (detail == Detail::words)
                words = fmt::format("Resin {}, kit of {}", resin.id, format(Show::big_mass, mass, setting.job.units));
            works.materials.push_back({std::move(words), static_cast<double>(count), "kit", each, each * count});
        }
    }
}

/// Team time over its likely value when every task of the job is quick, and when every one is slow. What the team's day
/// holds besides (cures, waits) takes its time for certain.
job::Spread<double> time_factor(const Setting& setting, const PatchList& patches, const Way& way, Duration team_time) {
    const auto& d = setting.yard.durations;
    job::Spread<Duration> sum;
    const auto add = [&](const job::Spread<Duration>& task, double times) {
        sum.low += times * task.low;
        sum.likely += times * task.likely;
        sum.high += times * task.high;
    };
    for (const Patch* p : patches) {
        for (const auto* task : {&d.cut, &d.bench_test, &d.wet_out, &d.load, &d.position, &d.inflate, &d.crease,
                                 &d.let_down, &d.re_survey}) {
            add(*task, 1.0);
        }
        add(d.wet_out_per_m, p->length().in(unit::m));
        add(d.reopen, static_cast<double>(p->reopened.size()));
    }
    for (const auto& run : way.work.runs) {
        add(d.set_up, 1.0);
        add(d.survey, 1.0);
        add(d.flow_control, 1.0);
        add(d.clean_per_10_m,
            d.clean_per_10_m.likely > Duration{} ? run.clean * unit::minute / d.clean_per_10_m.likely : 0.0);
    }
    add(d.travel, 2.0 * static_cast<double>(way.days.finishes.size()));
    if (sum.likely <= Duration{}) return {};
    const Duration certain = std::max(Duration{}, team_time - sum.likely);
    const Duration likely = sum.likely + certain;
    return {(sum.low + certain) / likely, 1.0, (sum.high + certain) / likely};
}

/// `patches` in order of work.
price::PatchWorks works_of(Setting& setting, const PatchList& patches, const Way& way, Detail detail) {
    price::PatchWorks works;
    const auto& finishes = way.days.finishes;
    works.days = static_cast<int>(finishes.size());
    works.visits = works.days;
    // Patches that no day holds cost nothing: they are left out of the plan, and the warnings say so.
    works.patches = static_cast<int>(patches.size() - way.days.impossible.size());
    schedule::Minute minutes = 0;
    for (const auto finish : finishes) minutes += finish - way.work.start;
    works.crew_time = static_cast<double>(minutes) * unit::minute * static_cast<double>(std::max(1, way.work.crews));
    works.overnight = way.work.overnight && std::any_of(finishes.begin(), finishes.end(),
                                                        [](schedule::Minute finish) { return finish > 1440; });
    works.time_factor = time_factor(setting, patches, way, works.crew_time);
    works.materials.reserve(2 * patches.size());  // felt and kits, or film beside them; seldom more
    works.redo_cost.reserve(patches.size());
    add_felt_money(setting, patches, detail, works);
    add_resin_money(setting, way.mixes, detail, works);
    std::map<std::string_view, std::pair<int, Money>> wear;
    for (const Patch* patch : patches) {
        const Patch& p = *patch;
        const auto& packer = p.option.packer;
        const auto& resin = setting.yard.resins[static_cast<std::size_t>(p.resin)];
        if (packer::contact(packer.material, resin.kind) == packer::Contact::film_needed) {
            const Length film = packer::overall_length(p.option, p.length());
            std::string words = detail == Detail::words ? fmt::format("Separating film for {}", p.id) : "";
            works.materials.push_back({std::move(words), film.in(unit::m), "m", setting.yard.rates.film.amount,
                                       cost(setting.yard.rates.film, film)});
        }
        auto& row = wear[packer.id];
        ++row.first;
        row.second += packer::wear(setting.yard, p.option, p.length());
        works.cutter_needed = works.cutter_needed || !p.reopened.empty() || !p.preparations.empty();
        works.redo_cost.push_back(p.redo);
    }
    for (const auto& [id, row] : wear) {
        std::string words = detail == Detail::words ? fmt::format("Packer {}, wear", id) : "";
        works.wear.push_back(
            {std::move(words), static_cast<double>(row.first), "use", scaled(row.second, 1.0 / row.first), row.second});
    }
    return works;
}

}  // namespace

Sketch sketch(Setting& setting, const PatchList& patches, std::int64_t steps) {
    const Way way = best_way(setting, patches, steps);
    Sketch sketch;
    sketch.days = static_cast<int>(way.days.finishes.size());
    sketch.impossible = way.days.impossible.size();
    sketch.proven_optimal = way.days.proven_optimal;
    sketch.works = works_of(setting, in_order(patches, order_of(way, patches.size())), way, Detail::amounts);
    return sketch;
}

Whole compose(Setting& setting, const PatchList& patches, std::int64_t steps) {
    Way way = best_way(setting, patches, steps);
    name_mixes(setting, patches, way.mixes, way.work);
    Whole whole;
    whole.schedule = schedule::plan_days(way.work, steps, setting.days);
    const auto order = order_of(way, patches.size());
    const PatchList sorted = in_order(patches, order);
    reorder(order, way, whole.schedule);
    for (const Patch* patch : sorted) whole.patches.push_back(*patch);
    whole.batches = batches_of(way.mixes, whole.schedule);
    whole.kits_to_buy = way.mixes.kits_to_buy;
    whole.purchase = way.mixes.purchase;
    whole.cutting = cut_felts(setting, sorted);
    whole.works = works_of(setting, sorted, way, Detail::words);
    whole.flows = flow_plans(setting, whole.patches, way.work, whole.schedule);
    whole.work = std::move(way.work);
    whole.warnings = way.mixes.warnings;
    whole.warnings.insert(whole.warnings.end(), whole.schedule.warnings.begin(), whole.schedule.warnings.end());
    whole.warnings.insert(whole.warnings.end(), whole.schedule.why_impossible.begin(),
                          whole.schedule.why_impossible.end());
    return whole;
}

}  // namespace patchwright::plan
