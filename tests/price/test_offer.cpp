#include <rapidcheck.h>
#include <catch2/catch.hpp>

#include <algorithm>

#include "patchwright/units/error.hpp"
#include "scenario.hpp"
#include "support/working_off.hpp"

using namespace patchwright;
using namespace patchwright::price;
using scenario::eur;
using scenario::Scenario;

namespace {

Offer offer_of(const Scenario& s, int trials = 2000) {
    Input in = s.input();
    in.trials = trials;
    return make_offer(in, off);
}
bool adds_up(const BuildUp& b) {
    return sum(b.lines) == b.direct && sum(b.risk_lines) == b.risk &&
           b.direct + b.risk + b.overhead + b.profit == b.net && b.net + b.tax == b.gross;
}
double ratio(const Offer& o) {
    return static_cast<double>(o.patch.net.in_cents()) / static_cast<double>(o.dig.net.in_cents());
}
/// Any job and any rates that a firm could have.
Scenario any_scenario(bool with_dig = false) {
    std::vector<double> at;
    double x = 0.5;
    for (int i = *rc::gen::inRange(with_dig ? 2 : 1, 6); i > 0; --i) {
        x += *rc::gen::inRange(40, 380) * 1e-2;
        at.push_back(x);
    }
    Scenario s(at, *rc::gen::inRange(40, 650) * 1e-2);
    if (with_dig || (at.size() > 1 && *rc::gen::arbitrary<bool>())) s.must_dig_last();
    s.job.certainty = *rc::gen::element(job::Certainty::call, job::Certainty::photo, job::Certainty::survey);
    s.job.dig.surface.value = *rc::gen::element(job::Surface::grass, job::Surface::block, job::Surface::concrete);
    s.job.dig.soil.value = *rc::gen::element(job::Soil::a, job::Soil::b, job::Soil::c, job::Soil::rock);
    job::Rates& r = s.yard.rates;
    r.wage.amount = eur(*rc::gen::inRange(800, 6000) * 0.01);
    r.overhead = Share::percent(*rc::gen::inRange(0, 40));
    if (*rc::gen::arbitrary<bool>()) r.overhead_per_crew_day = eur(*rc::gen::inRange(1, 300));
    r.profit = Share::percent(*rc::gen::inRange(0, 40));
    r.profit_is_margin = *rc::gen::arbitrary<bool>();
    r.minimum_charge = eur(*rc::gen::inRange(0, 900));
    r.round_to = eur(*rc::gen::element(0.0, 0.01, 1.0, 5.0, 50.0));
    r.discount = Share::percent(*rc::gen::inRange(0, 20));
    r.tax_registered = *rc::gen::arbitrary<bool>();
    r.suggested_share = Share::percent(*rc::gen::inRange(0, 101));
    r.shared_causes = Share::percent(*rc::gen::inRange(0, 101));
    return s;
}

}  // namespace

TEST_CASE("a bore for which no replacement pipe is listed is priced, with a warning", "[price]") {
    const auto told = [](double bore_mm) {
        Scenario s;
        s.must_dig_last();
        s.job.runs[0].bore = bore_mm * unit::mm;
        const Offer offer = offer_of(s, 0);
        CHECK(offer.dig.net > Money{});
        return std::count_if(offer.warnings.begin(), offer.warnings.end(), [](const std::string& words) {
            return words.find("no replacement pipe is listed") != std::string::npos;
        });
    };
    CHECK(told(20.0) == 1);  // once a run, not once a hole
    CHECK(told(600.0) == 1);
    CHECK(told(100.0) == 0);
    Scenario deep({3.9}, 20.0);  // beyond the table of trench widths
    CHECK(offer_of(deep, 0).dig.net > Money{});
}

TEST_CASE("layers add up to the cent, whatever the rates", "[price][property]") {
    CHECK(rc::check("lines, risk, overhead, profit, tax on both sides", [] {
        const Scenario s = any_scenario();
        const Offer o = offer_of(s, 200);
        for (const BuildUp* b : {&o.patch, &o.dig, &o.unavoidable_dig}) {
            RC_ASSERT(adds_up(*b));
            RC_ASSERT(b->p10 <= b->p50);
            RC_ASSERT(b->p50 <= b->p80);
            RC_ASSERT(b->p80 <= b->p90);
        }
        RC_ASSERT(adds_up(o.patching));
        RC_ASSERT(o.patch.net == o.patching.net + o.unavoidable_dig.net);
        const Bracket& k = o.bracket;
        RC_ASSERT(k.suggested <= k.limit);
        RC_ASSERT(k.limit <= k.ceiling);
        RC_ASSERT(k.own == o.patch.net);
        RC_ASSERT(k.floor <= k.own);
        RC_ASSERT(k.own >= s.yard.rates.minimum_charge);
        RC_ASSERT(k.bid == (std::max(k.floor, s.yard.rates.minimum_charge) <= k.limit));
        RC_ASSERT(!k.bid || k.suggested >= std::max(k.floor, s.yard.rates.minimum_charge));
        RC_ASSERT(!k.bid || k.own_above_limit || k.suggested >= k.own);
        RC_ASSERT(k.saving == k.ceiling - k.suggested);
        Money lines{};
        for (const OfferLine& line : o.offered.lines) {
            lines += line.net;
            RC_ASSERT(line.net >= line.floor);
        }
        RC_ASSERT(lines == o.offered.total);
        RC_ASSERT(o.offered.lines.empty() == !k.bid);
        RC_ASSERT(!k.bid || o.offered.total >= std::max(k.floor, s.yard.rates.minimum_charge));
        RC_ASSERT(o.risk.patch_cheaper >= 0.0);
        RC_ASSERT(o.risk.patch_cheaper <= 1.0);
    }));
}

TEST_CASE("a higher wage never lowers a price", "[price][property]") {
    CHECK(rc::check("floor, ceiling, suggested and both nets", [] {
        Scenario s = any_scenario();
        const Offer before = offer_of(s, 1);
        s.yard.rates.wage.amount += eur(*rc::gen::inRange(1, 2000) * 0.01);
        const Offer after = offer_of(s, 1);
        RC_ASSERT(after.patch.net >= before.patch.net);
        RC_ASSERT(after.dig.net >= before.dig.net);
        RC_ASSERT(after.bracket.floor >= before.bracket.floor);
        RC_ASSERT(after.bracket.ceiling >= before.bracket.ceiling);
        RC_ASSERT(after.bracket.suggested >= before.bracket.suggested);
    }));
}

TEST_CASE("own profit moves own price and leaves the ceiling alone", "[price][property]") {
    CHECK(rc::check("any two profits", [] {
        Scenario s = any_scenario();
        const Offer before = offer_of(s, 1);
        s.yard.rates.profit = Share::percent(100.0 * s.yard.rates.profit.as_double() + *rc::gen::inRange(1, 40));
        const Offer after = offer_of(s, 1);
        RC_ASSERT(after.bracket.ceiling == before.bracket.ceiling);
        RC_ASSERT(after.bracket.own >= before.bracket.own);
        RC_ASSERT(after.bracket.suggested >= before.bracket.suggested);
    }));
}

TEST_CASE("a higher minimum charge never lowers a price", "[price][property]") {
    CHECK(rc::check("own and offered", [] {
        Scenario s = any_scenario();
        const Offer before = offer_of(s, 1);
        s.yard.rates.minimum_charge += eur(*rc::gen::inRange(1, 3000));
        const Offer after = offer_of(s, 1);
        RC_ASSERT(after.bracket.own >= before.bracket.own);
        RC_ASSERT(after.offered.lines.empty() || after.offered.total >= before.offered.total);
    }));
}

TEST_CASE("adding a patch never lowers the price", "[price][property]") {
    CHECK(rc::check("one more place, one more sleeve", [] {
        Scenario s = any_scenario();
        const Offer before = offer_of(s, 1);
        job::Defect defect;
        defect.id = "more";
        defect.at = defect.to = 20.5 * unit::m;
        s.patched.push_back(s.job.runs[0].defects.size());
        s.job.runs[0].defects.push_back(defect);
        ++s.works.patches;
        s.works.crew_time += *rc::gen::inRange(0, 180) * unit::minute;
        s.works.redo_cost.push_back(eur(180.0));
        const Offer after = offer_of(s, 1);
        RC_ASSERT(after.bracket.floor >= before.bracket.floor);
        RC_ASSERT(after.bracket.own >= before.bracket.own);
        RC_ASSERT(after.bracket.ceiling >= before.bracket.ceiling);
        RC_ASSERT(!before.bracket.bid || after.offered.lines.empty() || after.offered.total >= before.offered.total);
    }));
}

TEST_CASE("striking the digs leaves the patches at their cost or above", "[price][property]") {
    // The rule of the lines: each bears what it would cost alone, so the patches by themselves cost no more than
    // theirs.
    CHECK(rc::check("floor of the patches' line", [] {
        Scenario s = any_scenario(true);
        const Offer both = offer_of(s, 1);
        s.unavoidable.clear();
        const Offer alone = offer_of(s, 1);
        if (both.offered.lines.empty()) return;
        RC_ASSERT(both.offered.lines[0].kind == OfferKind::patch);
        RC_ASSERT(both.offered.lines[0].net >= alone.patching.cost());
        RC_ASSERT(both.offered.lines[0].floor == alone.patching.cost());
    }));
}

TEST_CASE("direct and risk are the mean of the trials", "[price][risk][reference]") {
    // Source: the closed-form mean; the trials may miss it by four standard errors, taken from P10 and P90 of the same
    // trials as if normal, 2.56 deviations apart, and doubled for the long tail of the discrete risks.
    Scenario s({3.9, 9.1, 9.8, 15.0});
    for (const job::Certainty c : {job::Certainty::survey, job::Certainty::call}) {
        s.job.certainty = c;
        const Offer o = offer_of(s, 10000);
        const auto near = [](Money mean, const BuildUp& b, const std::array<Money, 4>& q) {
            const double sd = 2.0 * static_cast<double>((q[3] - q[0]).in_cents()) / 2.56;
            return std::abs(static_cast<double>((mean - b.direct - b.risk).in_cents())) < 4.0 * sd / 100.0 + 1.0;
        };
        CHECK(near(o.risk.patch_mean, o.patch, o.risk.patch_quantiles));
        CHECK(near(o.risk.dig_mean, o.dig, o.risk.dig_quantiles));
        CHECK(o.risk.patch_mean_exact == o.patch.direct + o.patch.risk);
        CHECK(o.risk.dig_mean_exact == o.dig.direct + o.dig.risk);
    }
}

TEST_CASE("the spread of the schedule's tasks stands in for the yard's", "[price][risk]") {
    Scenario s({5.0});
    s.yard.risks.clear();
    const double time_cost = static_cast<double>(offer_of(s).patch.lines[0].amount.in_cents());
    const auto allowance = [&] { return static_cast<double>(offer_of(s).patch.risk.in_cents()); };
    s.yard.rates.material_spread = s.yard.rates.plant_spread = {1, 1, 1};
    s.yard.rates.labour_spread = {0.9, 1.0, 1.4};
    CHECK(allowance() == Approx(time_cost * 0.3 / 3.0).margin(1.0));
    s.works.time_factor = {0.8, 1.0, 1.8};
    CHECK(allowance() == Approx(time_cost * 0.6 / 3.0).margin(1.0));
    s.works.time_factor = {0.7, 1.0, 1.1};  // a mean below likely earns no discount
    CHECK(allowance() == 0.0);
}

TEST_CASE("each discrete risk counts once", "[price][risk]") {
    Scenario s({3.9, 9.1});
    s.yard.risks.resize(1);
    job::Risk& risk = s.yard.risks[0];
    risk.of_dig = false;
    risk.probability = Share::percent(4);
    risk.consequence = job::Risk::Consequence::redo;
    risk.cost = {eur(100), eur(200), eur(600)};
    risk.then_dig = Share::percent(10);
    s.works.redo_cost = {eur(180), eur(220)};
    s.works.dig_cost = {eur(2000), eur(3000)};
    const Offer o = offer_of(s);
    const auto found = std::find_if(o.patch.risk_lines.begin(), o.patch.risk_lines.end(),
                                    [&](const Line& l) { return l.words == risk.words; });
    REQUIRE(found != o.patch.risk_lines.end());
    // By hand: 4 % [300 + 0.9 * 180 + 0.1 * 2000] + 4 % [300 + 0.9 * 220 + 0.1 * 3000] = 26.48 + 31.92.
    CHECK(found->amount == eur(58.40));
    CHECK(std::count_if(o.patch.risk_lines.begin(), o.patch.risk_lines.end(),
                        [&](const Line& l) { return l.words == risk.words; }) == 1);
    CHECK(std::none_of(o.dig.risk_lines.begin(), o.dig.risk_lines.end(),
                       [&](const Line& l) { return l.words == risk.words; }));
}

TEST_CASE("digs that cannot be avoided stand on both sides alike", "[price]") {
    Scenario s({3.9, 9.1, 15.0});
    s.must_dig_last();
    const Offer o = offer_of(s);
    // The same hole on both sides.
    REQUIRE(o.unavoidable_works.pits.size() == 1);
    CHECK(std::any_of(o.pits.begin(), o.pits.end(),
                      [&](const excavation::Pit& p) { return p.defects == o.unavoidable_works.pits[0].defects; }));
    // Patch side = patching alone + that dig.
    Scenario without({3.9, 9.1});
    without.works = s.works;
    const Offer alone = offer_of(without);
    CHECK(o.patch.direct == alone.patch.direct + o.unavoidable_dig.direct);
    CHECK(o.dig.net > o.unavoidable_dig.net);
    CHECK(o.dig_outcome.surface_broken > o.patch_outcome.surface_broken);
    CHECK(o.patch_outcome.surface_broken.si() > 0.0);
}

TEST_CASE("nothing to patch: the dig at our price beside the market's", "[price]") {
    Scenario s({3.9});
    s.must_dig_last();
    s.works = {};
    const Offer o = offer_of(s);
    CHECK(o.patch.direct == o.dig.direct);
    CHECK(o.patch.net == o.unavoidable_dig.net);
    CHECK(o.bracket.suggested == o.unavoidable_dig.net);
    REQUIRE(o.offered.lines.size() == 1);
    CHECK(o.offered.lines[0].kind == OfferKind::dig);
    CHECK(o.offered.lines[0].net == o.unavoidable_dig.net);
    CHECK(o.saving.is_zero());
    CHECK(o.bracket.ceiling == o.dig.net);
    CHECK(o.risk.patch_cheaper == 0.0);
}

TEST_CASE("nothing to dig and nothing to patch costs nothing", "[price]") {
    Scenario s(std::vector<double>{});
    s.works = {};
    const Offer o = offer_of(s);
    CHECK(o.patch.net.is_zero());
    CHECK(o.dig.net.is_zero());
    CHECK(o.offered.lines.empty());
    CHECK(o.pits.empty());
}

TEST_CASE("without trials the prices are the same, without quantiles", "[price]") {
    const Scenario s({3.9, 9.1});
    const Offer with = offer_of(s);
    const Offer without = offer_of(s, 0);
    CHECK(without.patch.net == with.patch.net);
    CHECK(without.dig.net == with.dig.net);
    CHECK(without.bracket.suggested == with.bracket.suggested);
    CHECK(without.risk.trials == 0);
    CHECK(without.patch.p90.is_zero());
}

TEST_CASE("the quick patch price is the offer's", "[price]") {
    Scenario s({3.9, 9.1, 9.8, 15.0});
    s.must_dig_last();
    const BuildUp quick = patch_build_up(s.input(), off);
    const Offer o = offer_of(s);
    CHECK(quick.net == o.patch.net);
    CHECK(quick.risk == o.patch.risk);
    CHECK(quick.lines.size() == o.patch.lines.size());
}

TEST_CASE("certainty widens the ranges", "[price][reference]") {
    // Bands by class, call -30/+50 %, photo -20/+30 %, survey -10/+15 %: common practice, no source.
    struct Row {
        job::Certainty certainty;
        double low, high;
        bool estimate;
    };
    Scenario s({3.9, 9.1});
    Money spread_before{};
    double surveyed = 0.0;
    for (const Row& row :
         {Row{job::Certainty::survey, -0.10, 0.15, false}, Row{job::Certainty::photo, -0.20, 0.30, true},
          Row{job::Certainty::call, -0.30, 0.50, true}}) {
        s.job.certainty = row.certainty;
        const Offer o = offer_of(s);
        CHECK(o.band_low == row.low);
        CHECK(o.band_high == row.high);
        CHECK(o.estimate_only == row.estimate);
        // In round figures, outwards to the price step.
        const Money step = s.yard.rates.round_to;
        const Money least = scaled(o.offered.total, 1.0 + row.low), most = scaled(o.offered.total, 1.0 + row.high);
        CHECK(o.band_from == rounded_up_to(o.band_from, step));
        CHECK(o.band_from <= least);
        CHECK(o.band_from > least - step);
        CHECK(o.band_to == rounded_up_to(most, step));
        CHECK(o.survey_price == s.yard.rates.survey_price);
        const Money spread = o.patch.p90 - o.patch.p10;
        CHECK(spread > spread_before);
        spread_before = spread;
        // What the class leaves open beyond the survey's band raises the mean by a third of both ends.
        const auto mean = static_cast<double>((o.patch.direct + o.patch.risk).in_cents());
        if (row.certainty == job::Certainty::survey) surveyed = mean;
        CHECK(mean / surveyed == Approx(1.0 + ((row.low + 0.10) + (row.high - 0.15)) / 3.0).epsilon(1e-4));
    }
}

TEST_CASE("patch beside dig within what the trade sees", "[price][reference]") {
    // Source: West Bay Sanitary District (California), homeowner guide to lateral repair, step 5: open trench 4000 to
    // 15000 dollars, trenchless 3000 to 11000: ratios 0.73 to 0.75 at the ends, 0.2 to 2.75 at the widest. Whole
    // laterals, so only the widest range is asked of a patch. Net price of the first patch 450 to 900 euros and of the
    // next on the same visit 200 to 400: common practice, no source.
    const Offer one = offer_of(Scenario({5.0}));
    Scenario both({5.0, 12.0});
    both.works.materials.push_back({"Felt and kit of the second", 1, "lot", eur(45.0), eur(45.0)});
    const Offer two = offer_of(both);
    CHECK(one.patch.net >= eur(450.0));
    CHECK(one.patch.net <= eur(900.0));
    CHECK(ratio(one) > 0.2);
    CHECK(ratio(one) < 2.75);
    CHECK(one.warnings.empty());
    CHECK(two.patch.net - one.patch.net >= eur(200.0));
    CHECK(two.patch.net - one.patch.net <= eur(400.0));
}

TEST_CASE("a strange ratio and a floor above the ceiling are said", "[price]") {
    Scenario s({5.0});
    s.works.crew_time = 60.0 * unit::h;
    const Offer dear = offer_of(s);
    CHECK_FALSE(dear.bracket.bid);
    CHECK(dear.offered.lines.empty());
    CHECK(dear.saving.is_zero());
    CHECK_THAT(dear.bracket.why_suggested, Catch::Contains("do not bid"));
    REQUIRE(dear.warnings.size() >= 2);
    CHECK_THAT(dear.warnings[1], Catch::Contains("0.15 to 1.5"));
    Scenario cheap({5.0});
    cheap.works.crew_time = 0.1 * unit::h;
    cheap.yard.rates.minimum_charge = eur(0);
    cheap.job.runs[0].depth = 3.5 * unit::m;
    const Offer low = offer_of(cheap);
    REQUIRE(low.warnings.size() == 1);
    CHECK_THAT(low.warnings[0], Catch::Contains("0.15 to 1.5"));
    Scenario deep({5.0}, 6.4);
    const auto warnings = offer_of(deep).warnings;
    CHECK(std::any_of(warnings.begin(), warnings.end(),
                      [](const std::string& w) { return w.find("engineer") != std::string::npos; }));
}

TEST_CASE("one amount for doing a sleeve again stands for every sleeve", "[price][risk]") {
    Scenario s;
    const auto each = offer_of(s).patch;
    s.works.redo_cost.resize(1);  // three times the same before
    const auto one = offer_of(s).patch;
    CHECK(one.risk == each.risk);
    CHECK(one.p50 == each.p50);
    CHECK(one.p90 == each.p90);
}
