#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <numeric>
#include <random>
#include <set>

#include "patchwright/resin/batch.hpp"
#include "patchwright/units/error.hpp"

using namespace patchwright;
using namespace patchwright::resin;
using Catch::Matchers::Contains;

namespace {

job::Resin resin_with(std::vector<std::pair<double, std::int64_t>> kits, bool splittable = true) {
    job::Resin r;
    r.id = "standard";
    r.parts_a = 2.0;
    r.parts_b = 1.0;
    r.density_a = r.density_b = 1100.0 * unit::kg_m3;
    r.safe_pot_mass = 3.0 * unit::kg;
    for (const auto& [grams, cents] : kits) {
        job::Kit k;
        k.mass = grams * unit::g;
        k.price = Money::cents(cents, Currency{"EUR"});
        k.splittable = splittable;
        r.kits.push_back(k);
    }
    return r;
}
Portion portion(int patch, double grams, double wet_out = 10, double rest = 10, double inflate_by = 90) {
    Portion p;
    p.patch = patch;
    p.mass = grams * unit::g;
    p.wet_out = wet_out * unit::minute;
    p.pour = 4.0 * unit::minute;
    p.to_inflated = rest * unit::minute;
    p.crease = 2.0 * unit::minute;
    p.inflate_by = inflate_by * unit::minute;
    return p;
}
/// A bucket that heats itself: the more, the sooner.
Duration pour_by(Mass m, int /*group*/ = 0) { return (40.0 / (1.0 + m.in(unit::kg))) * unit::minute; }
job::Limits limits() {
    job::Limits l;
    l.fixed_loss = 100.0 * unit::g;
    l.late_at_most = 0.05;
    return l;
}
BatchPlan plan(const job::Resin& r, const std::vector<Portion>& portions) {
    Working working;
    return plan_batches(r, portions, pour_by, limits(), working);
}

/// The rules of one bucket, written down once more.
bool allowed(const job::Resin& r, const std::vector<Portion>& mix) {
    double mass = 100.0;
    for (const Portion& p : mix) mass += p.mass.in(unit::g);
    mass = std::ceil(mass - 1e-6);
    if (mass > r.safe_pot_mass.in(unit::g)) return false;
    double clock = 0;
    for (const Portion& p : mix) {
        if (p.group != mix[0].group || clock + p.pour.in(unit::minute) > pour_by(mass * unit::g).in(unit::minute))
            return false;
        clock += p.wet_out.in(unit::minute);
    }
    for (const Portion& p : mix) {
        clock += p.to_inflated.in(unit::minute);
        if (clock > p.inflate_by.in(unit::minute)) return false;
        clock += p.crease.in(unit::minute);
    }
    return true;
}

/// Every partition, by putting each portion into an earlier mix or a new one.
void partitions(const std::vector<Portion>& all, std::size_t next, std::vector<std::vector<Portion>>& mixes,
                const std::function<void(const std::vector<std::vector<Portion>>&)>& each) {
    if (next == all.size()) {
        each(mixes);
        return;
    }
    for (std::size_t m = 0; m < mixes.size(); ++m) {
        mixes[m].push_back(all[next]);
        partitions(all, next + 1, mixes, each);
        mixes[m].pop_back();
    }
    mixes.push_back({all[next]});
    partitions(all, next + 1, mixes, each);
    mixes.pop_back();
}

}  // namespace

TEST_CASE("two small sleeves share a mix and save one fixed loss", "[resin][batch]") {
    const BatchPlan p = plan(resin_with({{1000, 3000}}), {portion(0, 450), portion(1, 450)});
    REQUIRE(p.batches.size() == 1);
    CHECK(p.batches[0].patches == std::vector<int>{0, 1});
    CHECK(std::lround(p.batches[0].total.in(unit::g)) == 1000);
    CHECK(p.purchase.in_cents() == 3000);
    CHECK(p.proven_optimal);
    CHECK(p.leftover.in(unit::g) == Approx(0.0).margin(1e-6));
}

TEST_CASE("each rule of the bucket and of the sleeve parts a mix", "[resin][batch]") {
    const job::Resin r = resin_with({{1000, 3000}});
    std::vector<Portion> two{portion(0, 450), portion(1, 450)};
    SECTION("group") { two[1].group = 1; }
    SECTION("safe mass") { two[1].mass = 2600.0 * unit::g; }
    SECTION("pour-by") { two[0].wet_out = 17.0 * unit::minute; }  // 17 + 4 > 40 / 2
    SECTION("inflate-by") { two[1].inflate_by = 41.0 * unit::minute; }
    SECTION("crease-by") { two[0].crease_by = 31.0 * unit::minute; }
    SECTION("packer") { two[0].packer = two[1].packer = 3; }
    CHECK_FALSE(why_not_together(r, two, pour_by, limits()).empty());
    CHECK(plan(r, two).batches.size() == 2);
}

TEST_CASE("the limits themselves are allowed", "[resin][batch]") {
    const job::Resin r = resin_with({{1000, 3000}});
    std::vector<Portion> two{portion(0, 450), portion(1, 450)};
    two[0].wet_out = 16.0 * unit::minute;
    two[1].inflate_by = (16.0 + 10.0 + 10.0 + 2.0 + 10.0) * unit::minute;
    two[0].packer = two[1].packer = 3;
    two[0].packer_count = two[1].packer_count = 2;
    CHECK(why_not_together(r, two, pour_by, limits()).empty());
    CHECK(plan(r, two).batches.size() == 1);
}

TEST_CASE("mixes agree with every partition", "[resin][batch][reference]") {
    // Oracle: all set partitions, rules and price written down a second time above.
    std::mt19937 dice{99};
    for (int round = 0; round < 60; ++round) {
        CAPTURE(round);
        const bool whole = round % 3 == 0;
        const job::Resin r = resin_with({{1000, 3100}, {2500, 7000}}, !whole);
        std::vector<Portion> portions;
        const int n = 1 + static_cast<int>(dice() % 7);
        for (int i = 0; i < n; ++i) {
            const auto roll = [&](unsigned low, unsigned range) { return static_cast<double>(low + dice() % range); };
            const double grams = roll(200, 900), wet_out = roll(4, 8), rest = roll(6, 10), inflate_by = roll(40, 60);
            portions.push_back(portion(i, grams, wet_out, rest, inflate_by));
            portions.back().group = static_cast<int>(dice() % 5 == 0);
        }
        std::pair best{std::numeric_limits<std::int64_t>::max(), std::size_t{0}};
        std::vector<std::vector<Portion>> mixes;
        partitions(portions, 0, mixes, [&](const auto& dealt) {
            std::int64_t cents = 0;
            double total = 0;
            for (const auto& mix : dealt) {
                double mass = 100.0;
                for (const Portion& p : mix) mass += p.mass.in(unit::g);
                mass = std::ceil(mass - 1e-6);
                total += mass;
                if (whole) {
                    const auto kits = kits_for(r.kits, mass * unit::g);
                    cents += price_of(r.kits, kits).in_cents();
                    double mixed = 0;
                    for (const auto& [m, count] : kits) mixed += m.in(unit::g)*count;
                    if (mixed > r.safe_pot_mass.in(unit::g)) return;
                    if (mix.front().pour > pour_by(mixed * unit::g)) return;
                    double clock = 0;
                    for (const Portion& p : mix) {
                        if (clock + p.pour.in(unit::minute) > pour_by(mixed * unit::g).in(unit::minute)) return;
                        clock += p.wet_out.in(unit::minute);
                    }
                }
                if (!allowed(r, mix)) return;
            }
            if (!whole) cents = price_of(r.kits, kits_for(r.kits, total * unit::g)).in_cents();
            best = std::min(best, std::pair{cents, dealt.size()});
        });
        const BatchPlan p = plan(r, portions);
        CHECK(std::pair{p.purchase.in_cents(), p.batches.size()} == best);
        std::multiset<int> seen;
        for (const Batch& b : p.batches) {
            CHECK(b.holds);
            CHECK(std::lround(b.part_a.in(unit::g)) + std::lround(b.part_b.in(unit::g)) ==
                  std::lround(b.total.in(unit::g)));
            seen.insert(b.patches.begin(), b.patches.end());
        }
        CHECK(seen.size() == portions.size());
    }
}

TEST_CASE("too much for one bucket is divided, never refused in silence", "[resin][batch][error]") {
    const BatchPlan p = plan(resin_with({{1000, 3000}}), {portion(0, 4000)});
    REQUIRE(p.batches.size() == 1);
    CHECK(p.batches[0].buckets == 2);
    CHECK(std::lround(p.batches[0].total.in(unit::g)) == 4200);
    CHECK_THAT(p.warnings.at(0), Contains("2 buckets"));

    const BatchPlan late = plan(resin_with({{1000, 3000}}), {portion(7, 500, 10, 10, 15)});
    CHECK_FALSE(late.batches[0].holds);
    CHECK_THAT(late.warnings.at(0), Contains("sleeve 7") && Contains("20 min"));
    // Late and heavy: still never more than the safe mass in a bucket.
    CHECK(plan(resin_with({{1000, 3000}}), {portion(7, 4000, 10, 10, 15)}).batches[0].buckets == 2);
}

TEST_CASE("pots of a mix are equal to the gram and add up to it", "[resin][batch]") {
    const auto grams = [](Mass m) { return m.in(unit::g); };
    const auto whole = [&](Mass m) { return std::abs(grams(m) - std::round(grams(m))) < 1e-6; };
    std::mt19937 engine{3};
    std::uniform_real_distribution<double> mass{2600.0, 9000.0}, part{10.0, 100.0};
    int several = 0;
    for (int i = 0; i < 200; ++i) {
        const bool splittable = i % 3 != 0;
        job::Resin r = resin_with({{637, 3000}, {1001, 4200}}, splittable);
        r.parts_b = part(engine);
        r.parts_a = 100.0;
        const double in_sleeve = mass(engine);
        const BatchPlan p = plan(r, {portion(0, in_sleeve)});
        REQUIRE(p.batches.size() == 1);
        const Batch& batch = p.batches[0];
        Working working;
        const Pot pot = pot_of(r, batch, in_sleeve * unit::g, limits(), working);
        const double pots = batch.buckets;
        CAPTURE(in_sleeve, r.parts_b, pots, splittable, grams(batch.total), grams(pot.total));
        several += batch.buckets > 1 ? 1 : 0;
        for (const Mass m : {pot.total, pot.part_a, pot.part_b}) CHECK(whole(m));
        CHECK(grams(pot.part_a + pot.part_b) == Approx(grams(pot.total)).margin(1e-6));
        CHECK(pots * grams(pot.total) == Approx(grams(batch.total)).margin(1e-6));
        CHECK(pots * grams(pot.part_a) == Approx(grams(batch.part_a)).margin(1e-6));
        CHECK(pots * grams(pot.part_b) == Approx(grams(batch.part_b)).margin(1e-6));
        // Enough for the sleeve and what stays in every pot; of kits that may be divided less than a gram a pot more.
        const double least = in_sleeve + pots * 100.0;
        CHECK(grams(batch.total) >= least - 1e-6);
        if (splittable) CHECK(grams(batch.total) < least + pots);
    }
    CHECK(several > 150);
}

TEST_CASE("kits in the yard are not bought again", "[resin][batch]") {
    job::Resin r = resin_with({{1000, 3000}});
    r.kits[0].stock = 1;
    const BatchPlan p = plan(r, {portion(0, 1400)});
    CHECK(p.kits.at(0).count == 2);
    CHECK(p.kits_to_buy.at(0).count == 1);
    CHECK(p.purchase.in_cents() == 6000);
    CHECK(p.leftover.in(unit::g) == Approx(500.0));
}

TEST_CASE("a kit that may not be divided is mixed whole and what is left is said", "[resin][batch]") {
    const BatchPlan p = plan(resin_with({{1000, 3000}}, false), {portion(0, 600)});
    CHECK(std::lround(p.batches.at(0).total.in(unit::g)) == 1000);
    CHECK(p.batches[0].leftover.in(unit::g) == Approx(300.0));
    CHECK_THAT(p.warnings.at(0), Contains("300 g"));
}

TEST_CASE("many sleeves still get mixes, said to be unproven", "[resin][batch]") {
    std::vector<Portion> portions;
    for (int i = 0; i < 14; ++i) portions.push_back(portion(i, 300, 5, 8));
    const BatchPlan p = plan(resin_with({{1000, 3000}}), portions);
    CHECK_FALSE(p.proven_optimal);
    CHECK(p.batches.size() < 14);
    std::size_t count = 0;
    for (const Batch& b : p.batches) count += b.patches.size();
    CHECK(count == 14);
}

TEST_CASE("portions must be sensible", "[resin][batch][error]") {
    const job::Resin r = resin_with({{1000, 3000}});
    Portion p = portion(0, 500);
    p.mass = Mass{};
    CHECK_THROWS_AS(plan(r, {p}), RangeError);
    p = portion(0, 500);
    p.wet_out = std::nan("") * unit::minute;
    CHECK_THROWS_AS(plan(r, {p}), RangeError);
    for (Duration Portion::*part : {&Portion::wet_out, &Portion::pour, &Portion::to_inflated, &Portion::crease,
                                    &Portion::inflate_by, &Portion::crease_by})
        for (const double bad : {-1.0, std::nan("")}) {
            p = portion(0, 500);
            p.*part = bad * unit::minute;
            CHECK_THROWS_AS(plan(r, {p}), RangeError);
        }
    for (const double bad : {-1.0, std::nan("")}) {
        p = portion(0, 500);
        p.mass = bad * unit::g;
        CHECK_THROWS_AS(plan(r, {p}), RangeError);
    }
    CHECK(plan(r, {}).batches.empty());
    CHECK_THROWS_AS(plan(resin_with({}), {portion(0, 500)}), InputError);
}
