#include "remedies.hpp"

#include <algorithm>
#include <utility>

#include <fmt/format.h>

#include "patchwright/units/format.hpp"

namespace patchwright::plan {
namespace {

using job::Change;
using job::FileKind;
using Kind = Remedy::Kind;

constexpr int max_on_site = 4;
constexpr Duration max_overtime = 12.0 * unit::h;

const job::Run& run_of(const job::Job& job, int run) { return job.runs[static_cast<std::size_t>(run)]; }
std::string degrees(Temperature t) { return fmt::format("{:.1f} C", t.in_celsius()); }
Change site(const char* key, Temperature t) { return job::set_text(FileKind::job, {"site", key}, degrees(t)); }
Change limit(const char* key, std::string json) { return {FileKind::yard, {"limits", key}, std::move(json)}; }

/// The resins that the run's own word leaves.
std::vector<const job::Resin*> resins_for(const job::Job& job, const job::Yard& yard, int run) {
    std::vector<const job::Resin*> list;
    for (const auto& resin : yard.resins)
        if (const auto& named = run_of(job, run).resin; !named || *named == resin.id) list.push_back(&resin);
    return list;
}

Remedy any_resin(const job::Job& job, int run) {
    Remedy remedy{Kind::any_resin, run, {}, {}, "another resin", {}, {}};
    remedy.changes = {{FileKind::job, {"runs", run_of(job, run).id, "resin"}, "null"}};
    return remedy;
}
Remedy pipe_at(const job::Job& job, int run, const char* what, Temperature t) {
    Remedy remedy{Kind::pipe_at, run, t, {}, {}, {}, {}};
    remedy.words = fmt::format("the pipe {} to {}, and held there until the sleeve is hard", what,
                               format(Show::temperature, t, job.units));
    remedy.changes = {job::set_text(FileKind::job, {"runs", run_of(job, run).id, "ground_temperature"}, degrees(t))};
    return remedy;
}

}  // namespace

std::vector<Remedy> remedies_of_resin(const job::Job& job, const job::Yard& yard, int run) {
    std::vector<Remedy> list;
    if (run_of(job, run).resin) list.push_back(any_resin(job, run));
    const Temperature resin = job.site.resin_temperature.value_or(yard.limits.resin_temperature);
    const Temperature air = std::max(*job.site.air_temperature, job.site.van_temperature.value_or(Temperature{}));
    for (const double celsius : {20.0, 15.0, 10.0}) {
        const auto t = Temperature::celsius(celsius);
        if (t >= resin || (yard.conditioning.possible() && t >= yard.conditioning.from)) continue;
        const auto words = fmt::format("the resin at {} when it is mixed", format(Show::temperature, t, job.units));
        list.push_back({Kind::resin_at, run, t, {}, words, {site("resin_temperature", t)}, {}});
    }
    for (const double celsius : {25.0, 20.0, 15.0}) {
        const auto t = Temperature::celsius(celsius);
        if (t >= air) continue;
        const auto words =
            fmt::format("the sleeve wet out, and waiting, at no more than {}", format(Show::temperature, t, job.units));
        list.push_back({Kind::air_at, run, t, {}, words, {site("air_temperature", t), site("van_temperature", t)}, {}});
    }
    const Temperature pipe = *run_of(job, run).ground_temperature;
    std::vector<Temperature> warmer, colder;
    for (const auto* r : resins_for(job, yard, run)) {
        if (r->application_min > pipe) warmer.push_back(r->application_min);
        if (r->application_max < pipe) colder.push_back(r->application_max);
    }
    if (!warmer.empty()) list.push_back(pipe_at(job, run, "warmed", *std::min_element(warmer.begin(), warmer.end())));
    if (!colder.empty()) list.push_back(pipe_at(job, run, "cooled", *std::max_element(colder.begin(), colder.end())));
    return list;
}

std::vector<Remedy> remedies_of_day(const job::Job& job, const job::Yard& yard, int run, schedule::Minute short_by) {
    std::vector<Remedy> list;
    const Duration overtime = yard.limits.overtime + static_cast<double>(short_by) * unit::minute;
    if (overtime <= max_overtime) {
        const auto words = fmt::format("overtime up to {}", format(Show::span, overtime, job.units));
        const auto value = fmt::format("{:.0f} min", overtime.in(unit::minute));
        list.push_back({Kind::overtime,
                        run,
                        {},
                        overtime,
                        words,
                        {job::set_text(FileKind::yard, {"limits", "overtime"}, value)},
                        {}});
    }
    if (!yard.limits.overnight_cure)
        list.push_back(
            {Kind::overnight, run, {}, {}, "the packer left overnight", {limit("overnight_cure", "true")}, {}});
    const int helpers = yard.limits.helpers + 1;
    if (!yard.rates.helper_per_day.is_zero() && yard.rates.crew_size + helpers <= max_on_site)
        list.push_back({Kind::helper,
                        run,
                        {},
                        {},
                        helpers == 1 ? "a helper for the day" : "one helper more",
                        {limit("helpers", fmt::format("{}", helpers))},
                        {}});
    if (run_of(job, run).resin) list.push_back(any_resin(job, run));
    return list;
}

void apply(const Remedy& remedy, job::Job& job, job::Yard& yard) {
    auto& run = job.runs[static_cast<std::size_t>(remedy.run)];
    switch (remedy.kind) {
        case Kind::any_resin:
            run.resin.reset();
            return;
        case Kind::resin_at:
            job.site.resin_temperature = remedy.warmth;
            return;
        case Kind::air_at:
            job.site.air_temperature = {remedy.warmth, Origin::given};
            job.site.van_temperature = remedy.warmth;
            return;
        case Kind::pipe_at:
            run.ground_temperature = {remedy.warmth, Origin::given};
            return;
        case Kind::overtime:
            yard.limits.overtime = remedy.overtime;
            return;
        case Kind::overnight:
            yard.limits.overnight_cure = true;
            return;
        case Kind::helper:
            ++yard.limits.helpers;
            return;
    }
}

}  // namespace patchwright::plan
