#include <catch2/catch.hpp>

#include "scenario.hpp"
#include "support/working_off.hpp"

using namespace patchwright;
using namespace patchwright::price;
using scenario::eur;
using scenario::Scenario;

// One small job worked by hand, line by line, in docs/methods/price.md ("A price worked by hand"). Our own arithmetic
// on the rules stated there, with a pocket calculator: it shows that the program does what the page says, no more.

namespace {

Scenario hand_worked() {
    Scenario s({5.0}, 0.9);
    s.works.crew_time = 5.0 * unit::h;
    s.works.materials = {{"Felt", 1.2, "m2", eur(14.0), eur(16.8)}, {"Kit", 1, "kit", eur(38.0), eur(38.0)}};
    s.works.wear = {{"Packer", 1, "use", eur(4.5), eur(4.5)}};
    s.works.dig_cost = {eur(2000.0)};
    s.job.dig.surface.value = job::Surface::grass;
    job::Rates& r = s.yard.rates;
    r.wage = {eur(20.0), unit::h};
    r.crew_size = 2;
    r.on_costs = Share::percent(25);
    r.productive = Share::percent(80);
    r.vehicle_per_day = eur(70.0);
    r.jetter_per_day = eur(55.0);
    r.camera_per_day = eur(40.0);
    r.compressor_per_day = eur(18.0);
    r.travel_cost = {eur(0.45), unit::km};
    r.travel_distance = 25.0 * unit::km;
    r.consumables_per_patch = eur(12.0);
    r.consumables_per_visit = eur(18.0);
    r.overhead = Share::percent(15);
    r.overhead_per_crew_day = eur(0.0);
    r.profit = Share::percent(12);
    r.profit_is_margin = false;
    r.minimum_charge = eur(380.0);
    r.round_to = eur(5.0);
    r.discount = Share::percent(5);
    r.tax = Share::percent(20);
    r.suggested_share = Share::percent(25);
    r.labour_spread = {0.9, 1.0, 1.4};
    r.material_spread = {0.95, 1.0, 1.15};
    r.plant_spread = {1.0, 1.0, 1.2};
    s.yard.dig_market = {Share::percent(18), Share::percent(15), Share::percent(5)};
    s.yard.risks.clear();
    job::Risk failed;
    failed.id = "failed-sleeve";
    failed.words = "the sleeve fails and is done again";
    failed.probability = Share::percent(4);
    failed.cost = {eur(150.0), eur(250.0), eur(450.0)};
    failed.consequence = job::Risk::Consequence::redo;
    failed.then_dig = Share::percent(10);
    s.yard.risks.push_back(failed);
    // Digging: team, digger, pipe, permit and trace. Soil and surface have quantities of their own, worked on the page
    // on excavation, and stand here at nothing.
    job::DigRates& d = s.yard.dig_rates;
    d.crew_size = 3;
    d.working_day = 8.0 * unit::h;
    d.outputs = {{1.0 * unit::m, {0.5, 0.75, 1.0}, {0.5, 0.75, 1.0}, 0.0, 0.0}};
    d.digger_per_day = d.digger_minimum = eur(165.0);
    d.permit = eur(90.0);
    d.services_trace = eur(120.0);
    d.pipe_joint = eur(18.0);
    d.pipe.amount = eur(0.0);
    for (auto* rate : {&d.excavate, &d.hand_excavate, &d.backfill, &d.granular}) rate->amount = eur(0.0);
    d.disposal.amount = eur(0.0);
    d.shoring.amount = eur(0.0);
    for (job::SurfaceRate& row : d.surfaces)
        row.break_out.amount = row.reinstate.amount = row.disposal.amount = eur(0.0);
    d.access_spread = {1.0, 1.0, 1.3};
    d.ground_spread = {1.0, 1.0, 1.0};
    return s;
}

Offer hand_worked_offer(const Scenario& s) {
    Input in = s.input();
    in.trials = 0;
    return make_offer(in, off);
}

}  // namespace

TEST_CASE("one small job, every line by hand", "[price][hand]") {
    const Scenario s = hand_worked();
    const Offer o = hand_worked_offer(s);
    const auto amount = [](const std::vector<Line>& lines, std::string_view words) {
        Money total{};
        for (const Line& line : lines)
            if (line.words.find(words) != std::string::npos) total += line.amount;
        return total;
    };
    const BuildUp& p = o.patching;
    CHECK(amount(p.lines, "Team of 2") == eur(312.50));  // 5 h at 2 * 20 * 1.25 / 0.8 = 62.50
    CHECK(amount(p.lines, "Felt") == eur(16.80));
    CHECK(amount(p.lines, "Kit") == eur(38.00));
    CHECK(amount(p.lines, "Consumables") == eur(30.00));
    CHECK(amount(p.lines, "Packer") == eur(4.50));
    CHECK(amount(p.lines, "Vehicle") == eur(70.00));
    CHECK(amount(p.lines, "Jetter") == eur(55.00));
    CHECK(amount(p.lines, "Camera") == eur(40.00));
    CHECK(amount(p.lines, "Compressor") == eur(18.00));
    CHECK(amount(p.lines, "Road") == eur(22.50));
    CHECK(p.direct == eur(607.30));
    CHECK(amount(p.risk_lines, "done again") == eur(25.81));  // 4 % [283.33 + 0.9 * 180 + 0.1 * 2000]
    CHECK(amount(p.risk_lines, "Spread") == eur(46.28));      // 31.25 + 2.83 + 12.20
    CHECK(p.risk == eur(72.09));
    CHECK(p.overhead == eur(101.91));
    CHECK(p.cost() == eur(781.30));
    CHECK(p.net == eur(880.00));  // 875.06 up to the step
    CHECK(p.profit == eur(98.70));

    const BuildUp& g = o.dig;
    CHECK(amount(g.lines, "Digging team") == eur(562.50));  // 0.75 d * 8 h at 3 * 31.25
    CHECK(amount(g.lines, "Digger") == eur(165.00));
    CHECK(amount(g.lines, "Permit") == eur(90.00));
    CHECK(amount(g.lines, "Trace") == eur(120.00));
    CHECK(amount(g.lines, "Road") == eur(22.50));
    CHECK(g.direct == eur(996.00));  // with two couplings at 18
    CHECK(g.risk == eur(56.25));     // access: mean 1.1 of the team's days
    CHECK(g.overhead == eur(189.41));
    CHECK(g.net == eur(1430.00));  // 1427.91 up to the step

    const Bracket& b = o.bracket;
    CHECK(b.floor == eur(781.30));
    CHECK(b.own == eur(880.00));
    CHECK(b.ceiling == eur(1430.00));
    CHECK(b.limit == eur(1358.50));
    CHECK(b.suggested == eur(945.00));  // 781.30 + 25 % of 648.70 = 943.48, up to the step
    REQUIRE(o.offered.lines.size() == 2);
    CHECK(o.offered.lines[0].net == eur(945.00));
    CHECK(o.offered.lines[1].net == eur(-47.25));
    CHECK(o.offered.total == eur(897.75));
    CHECK(tax_on(o.offered.total, s.yard.rates.tax) == eur(179.55));
    CHECK(o.saving == eur(532.25));
}
