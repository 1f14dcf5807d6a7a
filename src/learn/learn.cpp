#include "patchwright/learn/learn.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "materials.hpp"

namespace patchwright::learn {
namespace {

using job::Durations;
using job::StepKind;

/// A duration of the yard by the task that is noted for it.
struct Row {
    std::string_view key;
    StepKind what;
    job::Spread<Duration> (*of)(const Durations&);
    double (*units)(Length);  ///< how many of it a length is; nullptr: one, whatever the length
};
double per_10_m(Length length) { return length / (10.0 * unit::m); }

constexpr Row rows[] = {
    {"travel", StepKind::travel, [](const Durations& d) { return d.travel; }, nullptr},
    {"set_up", StepKind::set_up, [](const Durations& d) -> job::Spread<Duration> { return d.set_up; }, nullptr},
    {"open_access", StepKind::open_access, [](const Durations& d) -> job::Spread<Duration> { return d.open_access; },
     nullptr},
    {"clean_per_10_m", StepKind::clean, [](const Durations& d) -> job::Spread<Duration> { return d.clean_per_10_m; },
     per_10_m},
    {"clean_roots_per_10_m", StepKind::clean_roots,
     [](const Durations& d) -> job::Spread<Duration> { return d.clean_roots_per_10_m; }, per_10_m},
    {"flush", StepKind::flush, [](const Durations& d) -> job::Spread<Duration> { return d.flush; }, nullptr},
    {"survey", StepKind::survey, [](const Durations& d) -> job::Spread<Duration> { return d.survey; }, nullptr},
    {"flow_control", StepKind::flow_control, [](const Durations& d) -> job::Spread<Duration> { return d.flow_control; },
     nullptr},
    {"cut", StepKind::cut, [](const Durations& d) -> job::Spread<Duration> { return d.cut; }, nullptr},
    {"build", StepKind::build, [](const Durations& d) -> job::Spread<Duration> { return d.build; }, nullptr},
    {"bench_test", StepKind::bench_test, [](const Durations& d) -> job::Spread<Duration> { return d.bench_test; },
     nullptr},
    {"load", StepKind::load, [](const Durations& d) -> job::Spread<Duration> { return d.load; }, nullptr},
    {"position", StepKind::position, [](const Durations& d) -> job::Spread<Duration> { return d.position; }, nullptr},
    {"inflate", StepKind::inflate, [](const Durations& d) -> job::Spread<Duration> { return d.inflate; }, nullptr},
    {"crease", StepKind::crease, [](const Durations& d) -> job::Spread<Duration> { return d.crease; }, nullptr},
    {"let_down", StepKind::let_down, [](const Durations& d) -> job::Spread<Duration> { return d.let_down; }, nullptr},
    {"re_survey", StepKind::re_survey, [](const Durations& d) -> job::Spread<Duration> { return d.re_survey; },
     nullptr},
    {"reopen", StepKind::reopen, [](const Durations& d) -> job::Spread<Duration> { return d.reopen; }, nullptr},
    {"pack_up", StepKind::pack_up, [](const Durations& d) -> job::Spread<Duration> { return d.pack_up; }, nullptr},
    {"dry", StepKind::dry, [](const Durations& d) { return d.dry; }, nullptr},
};

/// 10 % and 90 % points of the triangular distribution, as a standard deviation of the logarithm.
double log_sd(const job::Spread<Duration>& s) {
    const double a = s.low.si(), c = s.likely.si(), b = s.high.si();
    if (!(b > a) || !(a > 0.0)) return 0.05;
    const double split = (c - a) / (b - a);
    const auto quantile = [&](double p) {
        return p < split ? a + std::sqrt(p * (b - a) * (c - a)) : b - std::sqrt((1.0 - p) * (b - a) * (b - c));
    };
    constexpr double one_in_ten = 1.2815515655446004;
    return std::max(0.05, std::log(quantile(0.9) / quantile(0.1)) / (2.0 * one_in_ten));
}

/// What the records say of one task: logarithms of noted over likely.
std::vector<double> ratios(const std::vector<job::Record>& records, StepKind what,
                           const std::vector<std::pair<Duration, double (*)(Length)>>& parts, Learned& learned) {
    std::vector<double> list;
    for (const auto& record : records)
        for (const auto& day : record.days)
            for (const auto& step : day.steps) {
                if (step.what != what) continue;
                Duration expected{};
                bool known = true;
                for (const auto& [likely, units] : parts) {
                    known = known && (units == nullptr || step.length);
                    expected += (units != nullptr && step.length ? units(*step.length) : 1.0) * likely;
                }
                if (known && expected > Duration{})
                    list.push_back(std::log(step.took() / expected));
                else
                    learned.unused.push_back(fmt::format("{}, {} at {}: without a length it says nothing", record.job,
                                                         word(what), format(step.from)));
            }
    return list;
}

void add(std::string_view key, const job::Spread<Duration>& before, const std::vector<double>& noted,
         Learned& learned) {
    if (noted.empty()) return;
    const LogNormal prior{0.0, log_sd(before), durations_count_as, durations_count_as};
    const LogNormal after = prior.with(noted);
    const double shift = std::exp(after.mean), narrower = after.of_next() / prior.of_next();
    const auto bent = [&](Duration end) { return std::pow(end / before.likely, narrower) * shift * before.likely; };
    learned.durations.push_back({key,
                                 before,
                                 {bent(before.low), shift * before.likely, bent(before.high)},
                                 static_cast<int>(noted.size()),
                                 std::exp(after.mean_quantile(0.1)) * before.likely,
                                 std::exp(after.mean_quantile(0.9)) * before.likely});
}

void add_rate(const job::Risk& risk, int happened, int sleeves, Learned& learned) {
    if (sleeves == 0) return;
    const double before = risk.probability.as_double();
    if (!(before > 0.0)) return;
    const GammaRate after = GammaRate{before * rates_count_as, rates_count_as}.with(happened, sleeves);
    learned.rates.push_back(
        {risk.id, before, after.mean(), happened, sleeves, after.quantile(0.1), after.quantile(0.9)});
}

void add_rates(const std::vector<job::Record>& records, const job::Yard& yard, Learned& learned) {
    int set = 0, failed = 0, drawn = 0, stuck = 0;
    std::map<std::string, int> uses;
    for (const auto& record : records)
        for (const auto& patch : record.patches) {
            // Left out it is done; but a form that was not filled in says nothing.
            const bool lay = patch.lies_in_pipe() && (patch.outcome || patch.deflated_after());
            const bool bad = patch.outcome == job::SleeveOutcome::failed;
            set += lay || bad ? 1 : 0;
            failed += bad ? 1 : 0;
            drawn += patch.stuck ? 1 : 0;
            stuck += patch.stuck == job::YesNo::yes ? 1 : 0;
            if (!patch.packer.empty()) ++uses[patch.packer];
        }
    for (const auto& risk : yard.risks) {
        if (risk.of_dig) continue;
        if (risk.consequence == job::Risk::Consequence::redo) add_rate(risk, failed, set, learned);
        if (risk.consequence == job::Risk::Consequence::dig) add_rate(risk, stuck, drawn, learned);
    }
    for (const auto& [id, count] : uses) {
        const auto packer = std::find_if(yard.packers.begin(), yard.packers.end(),
                                         [&, &name = id](const auto& p) { return p.id == name; });
        learned.packers.push_back(
            {id, count, packer == yard.packers.end() ? 0 : std::max(packer->count, 1) * packer->expected_uses});
    }
}

}  // namespace

Learned learn(const std::vector<job::Record>& records, const job::Yard& yard, const std::vector<plan::Plan>& plans) {
    Learned learned;
    learned.records = static_cast<int>(records.size());
    const auto& d = yard.durations;
    for (const Row& row : rows) {
        if (row.what == StepKind::load) {  // before it in the yard's order: what hangs on two figures at once
            const auto metres = [](Length length) { return length.in(unit::m); };
            const auto noted = ratios(records, StepKind::wet_out,
                                      {{d.wet_out.likely, nullptr}, {d.wet_out_per_m.likely, metres}}, learned);
            add("wet_out", d.wet_out, noted, learned);
            add("wet_out_per_m", d.wet_out_per_m, noted, learned);
        }
        const auto before = row.of(d);
        add(row.key, before, ratios(records, row.what, {{before.likely, row.units}}, learned), learned);
    }
    add_rates(records, yard, learned);
    add_materials(records, yard, plans, learned);
    return learned;
}

}  // namespace patchwright::learn
