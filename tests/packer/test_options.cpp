#include <algorithm>
#include <catch2/catch.hpp>

#include "packer/yard_support.hpp"
#include "patchwright/packer/packer.hpp"
#include "patchwright/units/error.hpp"

using namespace patchwright;
using namespace patchwright::packer;

namespace {
const Currency euro{"EUR"};

Option built_on(const std::vector<Option>& all, const job::Yard& yard, const char* bladder) {
    const auto found = std::find_if(all.begin(), all.end(), [&](const Option& option) {
        return option.to_build && yard.bladders[static_cast<std::size_t>(option.bladder)].id == bladder;
    });
    REQUIRE(found != all.end());
    return *found;
}
}  // namespace

TEST_CASE("built packers come first, then what can be built", "[packer]") {
    job::Yard yard = test::small_yard();
    const std::vector<Option> all = options(yard);
    REQUIRE(all.size() == 3);
    CHECK(all[0].packer.id == "S100");
    CHECK_FALSE(all[0].to_build);
    CHECK(all[1].to_build);
    CHECK(all[2].to_build);

    yard.packers.front().count = 0;
    CHECK(options(yard).size() == 2);
    yard.chassis.front().count = 0;
    CHECK(options(yard).empty());
}

TEST_CASE("a packer built from parts takes its measures from them", "[packer]") {
    const job::Yard yard = test::small_yard();
    const std::vector<Option> all = options(yard);
    const job::Packer soft = built_on(all, yard, "SI50").packer;
    // 38 mm across the clamp and twice a 2 mm wall.
    CHECK(soft.rigid_diameter.in(unit::mm) == Approx(42.0));
    CHECK(soft.travelling_diameter.in(unit::mm) == Approx(50.0));
    CHECK(soft.bore_min.in(unit::mm) == Approx(62.5));   // 50 / 0.8
    CHECK(soft.bore_max.in(unit::mm) == Approx(120.0));  // 50 * 2.4
    // A 10 m roll less both projections and fold-overs.
    CHECK(soft.usable_max.in(unit::mm) == Approx(10000.0 - 2 * 100.0 - 2 * 60.0));
    CHECK(soft.rated_pressure.in(unit::bar) == Approx(1.0));
    CHECK_FALSE(felt_over_rigid(soft));

    // Calibration hose is used double: half a 20 m roll, and four walls of 0.5 mm across the clamp.
    const job::Packer hose = built_on(all, yard, "CH100").packer;
    CHECK(hose.usable_max.in(unit::mm) == Approx(10000.0 - 320.0));
    CHECK(hose.rigid_diameter.in(unit::mm) == Approx(40.0));
    // Folded it is sqrt(8 * 70 * 0.5 * 2) = 23.7 mm, thinner than the fitting: it travels where that does.
    CHECK(hose.travelling_diameter.in(unit::mm) == Approx(40.0));
    CHECK(hose.bore_min.in(unit::mm) == Approx(50.0));
    CHECK(hose.bore_max.in(unit::mm) == Approx(105.0));
}

TEST_CASE("a bladder that cannot be drawn over the fitting or fills no bore is not offered", "[packer]") {
    job::Yard yard = test::small_yard();
    yard.packers.clear();
    yard.bladders.resize(1);
    yard.bladders[0].diameter = 15.0 * unit::mm;  // stretches to 36 mm, the fitting has 38 mm
    CHECK(options(yard).empty());
    yard.bladders[0].diameter = 50.0 * unit::mm;
    yard.bladders[0].stretch = 1.1;  // to 55 mm, but travels only from 62.5 mm up
    CHECK(options(yard).empty());
    yard.bladders[0].stretch = 2.4;
    CHECK(options(yard).size() == 1);
    yard.bladders[0].roll_length = 500.0 * unit::mm;  // leaves 180 mm of sleeve, less than two overlaps
    CHECK(options(yard).empty());
}

TEST_CASE("the tail of a built packer grows as its sleeve shrinks", "[packer]") {
    const job::Yard yard = test::small_yard();
    const std::vector<Option> all = options(yard);
    const Option& standing = all.front();
    CHECK(tail(standing, 1000.0 * unit::mm).in(unit::mm) == Approx(200.0));
    CHECK(tail(standing, 600.0 * unit::mm).in(unit::mm) == Approx(400.0));
    CHECK(overall_length(standing, 600.0 * unit::mm).in(unit::mm) == Approx(1400.0));
    const Option to_measure = built_on(all, yard, "SI50");
    CHECK(tail(to_measure, 1000.0 * unit::mm).in(unit::mm) == Approx(160.0));
    CHECK(tail(to_measure, 600.0 * unit::mm).in(unit::mm) == Approx(160.0));
    CHECK(overall_length(to_measure, 600.0 * unit::mm).in(unit::mm) == Approx(920.0));
}

TEST_CASE("fit by bore, sleeve and thickness", "[packer]") {
    const job::Yard yard = test::small_yard();
    const Option standing = options(yard).front();
    const auto why = [&](double bore, double sleeve, double felt) {
        return unfit(standing, yard.limits, bore * unit::mm, sleeve * unit::mm, felt * unit::mm);
    };
    CHECK(why(100, 800, 3).empty());
    CHECK_FALSE(why(85, 800, 3).empty());
    CHECK_FALSE(why(140, 800, 3).empty());
    CHECK_FALSE(why(100, 200, 3).empty());
    CHECK_FALSE(why(100, 1100, 3).empty());
    // The ends of each range belong to it.
    const auto at = [&](Length bore, Length sleeve) { return unfit(standing, yard.limits, bore, sleeve, unit::mm); };
    CHECK(at(standing.packer.bore_max, 800.0 * unit::mm).empty());
    CHECK(at(standing.packer.bore_min, 800.0 * unit::mm).empty());
    CHECK(at(100.0 * unit::mm, standing.packer.usable_min).empty());
    CHECK(at(100.0 * unit::mm, standing.packer.usable_max).empty());
    CHECK(why(100, 800, 9).empty());  // (62 + 18) / 0.8 = 100
    CHECK_FALSE(why(100, 800, 9.1).empty());
    CHECK(min_bore(standing.packer, 3.0 * unit::mm, yard.limits).in(unit::mm) == Approx(85.0));
}

TEST_CASE("wear of one use", "[packer]") {
    job::Yard yard = test::small_yard();
    yard.packers.front().price = Money::cents(40000, euro);
    yard.packers.front().expected_uses = 50;
    yard.chassis.front().price = Money::cents(20000, euro);
    yard.chassis.front().expected_uses = 100;
    yard.bladders.front().price = {Money::cents(3000, euro), 1.0 * unit::m};
    yard.bladders.front().expected_uses = 10;
    const std::vector<Option> all = options(yard);
    CHECK(wear(yard, all.front(), 800.0 * unit::mm) == Money::cents(800, euro));
    // 0.68 + 0.32 m of bladder at 30.00 a metre over ten uses, and 2.00 for the fittings.
    CHECK(wear(yard, built_on(all, yard, "SI50"), 680.0 * unit::mm) == Money::cents(500, euro));
}

TEST_CASE("build card lists what to lay out", "[packer]") {
    const job::Yard yard = test::small_yard();
    const std::vector<Option> all = options(yard);
    Working working;
    CHECK_FALSE(build_card(yard, all.front(), 800.0 * unit::mm, job::ResinKind::epoxy, working));

    const auto card = build_card(yard, built_on(all, yard, "SI50"), 800.0 * unit::mm, job::ResinKind::epoxy, working);
    REQUIRE(card);
    CHECK(card->bladder_cut.in(unit::mm) == Approx(800.0 + 2 * 100.0 + 2 * 60.0));
    CHECK(card->layers == 1);
    CHECK_FALSE(card->film);
    const auto count_of = [&](const BuildCard& c, const std::string& what) {
        int count = 0;
        for (const Part& part : c.parts) count += part.what.find(what) != std::string::npos ? part.count : 0;
        return count;
    };
    // Common practice, no source: two fittings, two low-profile clamps, thread tape, soft tape under and over them.
    CHECK(count_of(*card, "end fitting") == 2);
    CHECK(count_of(*card, "low-profile clamp") == 2);
    CHECK(count_of(*card, "thread tape") == 1);
    CHECK(count_of(*card, "soft tape") == 1);
    CHECK(count_of(*card, "bladder") == 1);
    CHECK(count_of(*card, "film") == 0);
    CHECK(card->steps.back().find("Bench test") == 0);

    const auto hose =
        build_card(yard, built_on(all, yard, "CH100"), 800.0 * unit::mm, job::ResinKind::silicate_isocyanate, working);
    REQUIRE(hose);
    CHECK(hose->layers == 2);
    CHECK(count_of(*hose, "bladder") == 2);
    CHECK(hose->film);
    CHECK(count_of(*hose, "film") == 1);
}

TEST_CASE("what may touch what", "[packer]") {
    // Common practice, no source: uncured epoxy harms rubber, so a film parts them; styrene dissolves soft PVC.
    using job::BladderMaterial;
    using job::ResinKind;
    CHECK(contact(BladderMaterial::silicone, ResinKind::epoxy) == Contact::allowed);
    CHECK(contact(BladderMaterial::rubber, ResinKind::epoxy) == Contact::film_needed);
    CHECK(contact(BladderMaterial::pvc_hose, ResinKind::polyester) == Contact::forbidden);
    CHECK(contact(BladderMaterial::pvc_hose, ResinKind::vinyl_ester) == Contact::forbidden);
    CHECK(word(Contact::film_needed) == "film needed");
    // Every pair has its row, with a reason.
    for (const auto bladder : {BladderMaterial::silicone, BladderMaterial::rubber, BladderMaterial::pvc_hose}) {
        for (const auto resin :
             {ResinKind::epoxy, ResinKind::polyester, ResinKind::vinyl_ester, ResinKind::silicate_isocyanate}) {
            const ContactRule& rule = contact_rule(bladder, resin);
            CHECK(rule.bladder == bladder);
            CHECK(rule.resin == resin);
            CHECK_FALSE(rule.reason.empty());
        }
    }
    CHECK_THROWS_AS(contact(static_cast<BladderMaterial>(9), ResinKind::epoxy), RangeError);
}

TEST_CASE("thick hose travels by its folded section", "[packer]") {
    job::Yard yard = test::small_yard();
    yard.bladders[1].diameter = 140.0 * unit::mm;
    yard.bladders[1].wall = 2.0 * unit::mm;
    // sqrt(8 * 140 * 2 * 2) = 66.9 mm
    CHECK(built_on(options(yard), yard, "CH100").packer.travelling_diameter.in(unit::mm) ==
          Approx(66.933).margin(1e-3));
}
