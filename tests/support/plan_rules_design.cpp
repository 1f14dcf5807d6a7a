// Felt, pressures, resin and times of each patch, and the mixes.
#include <algorithm>
#include <cmath>
#include <map>

#include "support/faults.hpp"
#include "support/plan_rules.hpp"

namespace patchwright::test {
namespace {

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
    if (p.heater >= 0) {
        const auto& heater = yard.heaters[static_cast<std::size_t>(p.heater)];
        faults.unless(!cure::why_not_heated(heater, p.option.packer.material, p.surroundings.host, resin),
                      "{}: heated beyond what bladder, pipe or resin stand", p.id);
        faults.unless(yard.limits.air == job::AirSupply::regulated, "{}: heated with the air shut in", p.id);
        faults.unless(t.let_down < p.let_down_unheated || p.let_down_unheated == Duration{}, "{}: heated for nothing",
                      p.id);
    }
    faults.unless(*p.conditions.pipe >= resin.application_min, "{}: pipe colder than the resin's limit", p.id);
}

void check_pressure(const job::Yard& yard, const plan::Patch& p, Faults& faults) {
    const auto& w = p.pressure;
    faults.unless(w.holds, "{}: pressure window does not hold", p.id);
    faults.unless(Pressure{} <= w.outside && w.outside < w.minimum && w.minimum <= w.set && w.set <= w.maximum,
                  "{}: pressures out of order: {} {} {} {}", p.id, w.outside.si(), w.minimum.si(), w.set.si(),
                  w.maximum.si());
    faults.unless(w.maximum <= p.option.packer.rated_pressure, "{}: above the bladder's rating", p.id);
    constexpr Pressure mark_hair = 1e-3 * unit::mbar;
    faults.unless(w.relief - w.set >= yard.limits.relief_above_set - mark_hair,
                  "{}: relief too near to the set pressure", p.id);
    faults.unless(w.maximum - w.relief >= yard.limits.limit_above_relief - mark_hair,
                  "{}: limit too near to the relief", p.id);
    faults.unless(w.stored > Energy{}, "{}: no stored energy", p.id);
}

void check_liner(const plan::Patch& p, Faults& faults) {
    faults.unless(p.felt.installed >= p.thickness.design - 1e-9 * unit::mm, "{}: thinner than its design", p.id);
    faults.unless(p.cut.length > p.length() && p.cut.width > Length{}, "{}: cut too small", p.id);
    faults.unless(2.0 * p.felt.installed < p.bore, "{}: no bore left", p.id);
}

}  // namespace

std::vector<std::string> broken_design_rules(const job::Job&, const job::Yard& yard, const plan::Plan& plan) {
    Faults faults;
    for (const auto& p : plan.patches) {
        check_liner(p, faults);
        check_pressure(yard, p, faults);
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

}  // namespace patchwright::test
