// Calculations for site and office.
#include <algorithm>
#include <array>
#include <optional>
#include <span>
#include <string>
#include <utility>

#include "cmd_calc_table.hpp"
#include "patchwright/cure/cure.hpp"
#include "patchwright/excavation/trench.hpp"
#include "patchwright/job/pipe_table.hpp"
#include "patchwright/job/yard.hpp"
#include "patchwright/leaktest/leaktest.hpp"
#include "patchwright/price/build_up.hpp"
#include "patchwright/resin/resin.hpp"
#include "patchwright/units/error.hpp"

namespace patchwright::cli {
namespace {

/// Times as the sheets print them: what must be over by then rounded down, what may not come before rounded up. The
/// figure itself stays as it is, and the text is the same in both systems of units.
void put_latest(sheet::CalcResult& result, std::string_view name, std::string_view label, Show show, Duration time) {
    put_result(result, name, label, show, time);
    result.results.back().shown = format_down(show, time, UnitSystem::metric);
}
void put_earliest(sheet::CalcResult& result, std::string_view name, std::string_view label, Show show, Duration time) {
    put_result(result, name, label, show, time);
    result.results.back().shown = format_up(show, time, UnitSystem::metric);
}

void run_airtest(Arguments& arguments, const YardSource&, sheet::CalcResult& result) {
    using leaktest::AirMethod;
    constexpr std::array methods{AirMethod::la, AirMethod::lb, AirMethod::lc, AirMethod::ld, AirMethod::f1417};
    const Sourced<Length> bore = arguments.length("bore", Show::tape);
    const Sourced<Length> length = arguments.length("length", Show::run_distance);
    const std::size_t method = *arguments.choice("method", {"LA", "LB", "LC", "LD", "F1417"});
    const std::size_t wall = *arguments.choice("wall", {"other materials", "dry concrete"});
    const leaktest::AirTest test = leaktest::air_test(methods.at(method), *bore, *length, result.working,
                                                      wall == 0 ? leaktest::Wall::other : leaktest::Wall::dry_concrete);
    put_result(result, "start", "start pressure over outside water", Show::test_pressure, test.start);
    put_result(result, "settling", "wait before the clock runs", Show::seconds, test.settling);
    put_result(result, "time", "test time", Show::seconds, test.time);
    put_result(result, "allowed-drop", "allowed drop", Show::test_pressure, test.allowed_drop);
}

void run_watertest(Arguments& arguments, const YardSource&, sheet::CalcResult& result) {
    const Sourced<Length> bore = arguments.length("bore", Show::tape);
    const Sourced<Length> length = arguments.length("length", Show::run_distance);
    const leaktest::WaterTest test = leaktest::water_test(*bore, *length, result.working);
    put_result(result, "add", "water that may be added", Show::litres, test.allowed);
    put_result(result, "time", "test time", Show::seconds, test.time);
    put_result(result, "soaking", "full before the clock runs", Show::seconds, test.soaking);
    put_result(result, "fill", "water to fill the pipe", Show::litres, test.fill);
    put_result(result, "wetted", "wetted wall", Show::area, test.wetted);
    put_result(result, "least-pressure", "pressure at the crown, from", Show::test_pressure, test.min_pressure);
    put_result(result, "most-pressure", "pressure at the crown, to", Show::test_pressure, test.max_pressure);
}

void run_trench(Arguments& arguments, const YardSource&, sheet::CalcResult& result) {
    const Sourced<Length> width = arguments.length("width", Show::run_distance);
    const Sourced<Length> length = arguments.length("length", Show::run_distance);
    const Sourced<Length> depth = arguments.length("depth", Show::run_distance);
    const Sourced<double> slope = arguments.number("slope");
    const excavation::Trench trench = excavation::trench(*width, *length, *depth, *slope, result.working);
    put_result(result, "width", "bottom width", Show::run_distance, trench.width);
    put_result(result, "volume", "volume", Show::big_volume, trench.volume);
    put_result(result, "top-width", "top width", Show::run_distance, trench.top_width);
    put_result(result, "top-length", "top length", Show::run_distance, trench.top_length);
    put_result(result, "top-area", "opening at ground level", Show::area, trench.top_area);
    put_result(result, "sheeted", "four sides, were they sheeted", Show::area, trench.sheeted);
    if (!arguments.has("diameter")) return;
    const Sourced<Length> diameter = arguments.length("diameter", Show::tape);
    const Length least = excavation::least_width_en1610(*diameter, *depth, *slope > 0.0, result.working);
    put_result(result, "least-width", "least width by EN 1610", Show::run_distance, least);
    if (*width < least) result.remarks.emplace_back("The trench is narrower than EN 1610 asks for people to work in.");
}

cure::Conditions conditions_of(Arguments& arguments) {
    cure::Conditions conditions;
    conditions.pipe = arguments.temperature("pipe-temperature");
    conditions.resin = arguments.temperature("resin-temperature");
    conditions.air = arguments.temperature("air-temperature");
    conditions.van = arguments.has("van-temperature") ? arguments.temperature("van-temperature") : conditions.air;
    const auto hands = [&](std::string_view name, Duration& time) {
        if (arguments.has(name)) time = *arguments.duration(name);
    };
    hands("wet-out", conditions.wet_out);
    hands("load", conditions.load);
    hands("position", conditions.position);
    hands("inflate", conditions.inflate);
    hands("crease", conditions.crease);
    if (arguments.has("temperatures"))  // "reckoned": what "calculated" was called before
        conditions.pipe_measured = conditions.others_measured =
            *arguments.choice("temperatures", {"calculated", "measured", "reckoned"}) == 1;
    return conditions;
}

/// Hands-on times of the yard for a sleeve of that length. One that is given instead is as uncertain in proportion.
std::optional<cure::SleeveTasks> tasks_of(Arguments& arguments, const job::Yard& yard, cure::Conditions& conditions) {
    if (!arguments.has("length")) return std::nullopt;
    cure::SleeveTasks tasks =
        cure::sleeve_tasks(yard.durations, *arguments.length("length", Show::run_distance), yard.limits);
    Duration* const times[] = {&conditions.wet_out, &conditions.load, &conditions.position, &conditions.inflate,
                               &conditions.crease};
    constexpr std::string_view names[] = {"wet-out", "load", "position", "inflate", "crease"};
    for (std::size_t i = 0; i < tasks.size(); ++i) {
        job::Spread<Duration>& task = tasks[i];
        if (arguments.has(names[i])) {
            const double share = task.likely > Duration{} ? *times[i] / task.likely : 1.0;
            task = {std::min(share * task.low, *times[i]), *times[i], std::max(share * task.high, *times[i])};
        }
        *times[i] = task.likely;
    }
    return tasks;
}

/// The yard's limits with the doubts of the temperatures that are given.
job::Limits limits_of(Arguments& arguments, const job::Yard& yard) {
    job::Limits limits = yard.limits;
    if (arguments.has("temperature-doubt"))
        limits.temperature_doubt = *arguments.temperature_step("temperature-doubt", limits.temperature_doubt);
    if (arguments.has("measured-doubt"))
        limits.measured_doubt = *arguments.temperature_step("measured-doubt", limits.measured_doubt);
    return limits;
}

/// What the wet felt weighs and holds, of a felt of the yard.
void wet(Arguments& arguments, const job::Yard& yard, const job::Resin& resin, cure::Sleeve& sleeve) {
    if (arguments.has("table-layers")) sleeve.table_layers = *arguments.whole("table-layers", 1, 10);
    if (!arguments.has("felt")) return;
    std::vector<std::string> ids;
    for (const job::Felt& felt : yard.felts) ids.push_back(felt.id);
    const job::Felt& felt = yard.felts[*arguments.choice("felt", ids)];
    if (!arguments.has("table-layers") && felt.form == job::FeltForm::sewn_tube) sleeve.table_layers = 2.0;
    const auto wall = resin::wet_felt(resin, felt);
    sleeve.resin_mass_fraction = wall.resin_fraction;
    sleeve.wet_density = wall.density;
}

/// What is left after the temperatures that were noted: of the witness felt or the pipe's wall.
void put_time_left(Arguments& arguments, const cure::Model& model, const job::Limits& limits,
                   sheet::CalcResult& result) {
    if (!arguments.has("elapsed"))
        arguments.refuse("elapsed", "is missing: the time since A met B goes with --measured");
    if (!arguments.has("measured")) arguments.refuse("measured", "is missing: noted temperatures go with --elapsed");
    const Duration elapsed = *arguments.duration("elapsed");
    std::vector<cure::Note> notes;
    for (const auto& note : arguments.timed_temperatures("measured")) notes.push_back({note.after, note.temperature});
    const auto left = model.time_left(notes, elapsed, limits, result.working);
    put_result(result, "conversion", "conversion reached, slow side", Show::conversion, left.conversion);
    put_latest(result, "working-left", "time left for shaping", Show::minutes, left.working_left);
    put_latest(result, "gel-left", "time left to gel", Show::span, left.gel_left);
    put_earliest(result, "let-down-left", "time left until it may be deflated", Show::span, left.let_down_left);
    result.remarks.emplace_back(left.let_down_left > Duration{}
                                    ? "Not yet. The last temperature noted is taken to stay."
                                    : "May be deflated, when the witness felt is hard too.");
}

/// Warm air or water in the bladder from inflation on, by the temperatures that are given.
cure::Heating given_heating(Arguments& arguments) {
    cure::Heating heating;
    if (arguments.has("warm-air") && arguments.has("warm-water"))
        arguments.refuse("warm-water", "does not go with --warm-air: the bladder holds one of them");
    for (const auto& [option, medium] :
         {std::pair{"warm-air", cure::Heating::Medium::air}, std::pair{"warm-water", cure::Heating::Medium::water}}) {
        if (!arguments.has(option)) continue;
        heating.medium = medium;
        for (const auto& point : arguments.timed_temperatures(option))
            heating.points.push_back({point.after, point.temperature});
    }
    return heating;
}

/// The mixed resin while it stands in its pot.
void put_pot(const cure::Model& model, Mass mixed, const cure::Conditions& conditions, const job::Limits& limits,
             sheet::CalcResult& result) {
    const Temperature warmest = std::max(*conditions.air, *conditions.van);
    const auto pot = model.bucket(mixed, *conditions.resin, warmest, limits, result.working);
    put_latest(result, "pot-life", "gels in the pot after some", Show::minutes, pot.pot_life);
    put_latest(result, "pot-alarm", "10 K warmer in the pot after some", Show::minutes, pot.alarm);
    put_result(result, "pot-hottest", "hottest in the pot", pot.hottest);
    if (pot.most > Mass{}) put_result(result, "pot-most", "most in one pot", Show::big_mass, pot.most);
    put_result(result, "pot-steady", "a pot that never runs away, up to", Show::scale_mass, pot.never_runs_away);
    if (pot.too_much) result.remarks.emplace_back("That is more than the yard allows in one pot: divide it.");
}

/// The same sleeve, inflated later than the hands-on times say.
void put_late(Duration late, const cure::Model& model, const cure::Sleeve& sleeve, const cure::Surroundings& host,
              const cure::Conditions& conditions, const job::Limits& limits, sheet::CalcResult& result) {
    const auto rows = model.late_table(sleeve, host, conditions, limits, std::span{&late, 1});
    if (rows.empty()) return;
    put_latest(result, "late-spare", "inflated late, left to the limit", Show::minutes, rows.front().spare);
    put_earliest(result, "late-let-down", "inflated late, deflate not before", Show::span, rows.front().let_down);
    if (!rows.front().in_time)
        result.remarks.emplace_back("Inflated that late the sleeve is lost: pull it out, do not inflate.");
}

void run_cure(Arguments& arguments, const YardSource& source, sheet::CalcResult& result) {
    using job::Material;
    const job::Yard& yard = source();
    std::vector<std::string> ids;
    for (const job::Resin& resin : yard.resins) ids.push_back(resin.id);
    const Sourced<std::size_t> resin = arguments.choice("resin", ids);
    cure::Sleeve sleeve;
    sleeve.thickness = *arguments.length("thickness", Show::thickness);
    cure::Surroundings host;
    host.bore = *arguments.length("bore", Show::tape);
    cure::Conditions conditions = conditions_of(arguments);
    const auto tasks = tasks_of(arguments, yard, conditions);
    const job::Limits limits = limits_of(arguments, yard);
    wet(arguments, yard, yard.resins[*resin], sleeve);
    conditions.heating = given_heating(arguments);
    sleeve.resin_mass = *arguments.mass("mass");
    host.host = *arguments.word_of<Material>("material",
                                             {Material::clay, Material::concrete, Material::cast_iron, Material::pvc_u,
                                              Material::asbestos_cement, Material::pitch_fibre, Material::other},
                                             job::word);
    if (arguments.has("soil")) host.wet_soil = *arguments.choice("soil", {"wet", "dry"}) == 0;
    if (arguments.has("wall")) {
        host.wall = *arguments.length("wall", Show::thickness);
    } else {
        const Sourced<Length> wall = job::wall_thickness(host.host, host.bore);
        host.wall = *wall;
        arguments.note("wall", "wall of the pipe", Show::thickness, host.wall.si(), wall.origin);
    }

    const cure::Model model{yard.resins[*resin]};
    const cure::Answer answer = model.answer(sleeve, host, conditions, limits, result.working);
    if (answer.refused) throw RangeError("calc cure: " + *answer.refused);
    const cure::Times& times = answer.sheet;
    put_latest(result, "pour-by", "poured out of the pot by", Show::minutes, times.pour_by);
    put_latest(result, "inflate-by", "inflated by", Show::minutes, times.inflate_by);
    put_latest(result, "crease-by", "wrinkle check over by", Show::minutes, times.crease_by);
    put_latest(result, "working-time", "no shaping after", Show::minutes, times.working_time);
    put_latest(result, "gel", "gel", Show::minutes, times.gel);
    put_earliest(result, "let-down", "deflate, not before", Show::span, times.let_down);
    put_result(result, "hottest", "hottest in the sleeve", answer.hottest);
    if (tasks)
        put_result(result, "late", "chance of being too late", Show::percent,
                   cure::late_probability(cure::hands_of(*tasks, limits), answer));
    put_result(result, "soft", "chance of being soft when deflated then", Show::percent, answer.soft_probability);
    put_pot(model, sleeve.resin_mass, conditions, limits, result);
    result.remarks.emplace_back("Times run from the moment when A meets B.");
    if (arguments.has("late")) put_late(*arguments.duration("late"), model, sleeve, host, conditions, limits, result);
    if (arguments.has("elapsed") || arguments.has("measured")) put_time_left(arguments, model, limits, result);
    if (answer.stops_short) result.remarks.emplace_back("At that temperature the resin stops short of full cure.");
    for (const std::string& warning : answer.warnings) result.remarks.push_back(warning);
}

void run_ground(Arguments& arguments, const YardSource&, sheet::CalcResult& result) {
    const Sourced<Length> depth = arguments.length("depth", Show::run_distance);
    const Date date = arguments.date("date");
    cure::Climate climate;
    climate.mean = *arguments.temperature("mean");
    climate.amplitude = *arguments.temperature_step("amplitude");
    climate.coldest_day = *arguments.whole("coldest-day", 1, 365);
    climate.diffusivity = 0.6e-6 * unit::m2_s;  // moist ground, middle of the method's range
    put_result(result, "ground", "ground temperature",
               cure::ground_temperature(climate, *depth, day_of_year(date), result.working));
    result.remarks.emplace_back("A drain in use is warmed and a draughty one cooled: measure the wall before mixing.");
}

constexpr std::array<Symbol, 1> markup_inputs{{{"m", "markup on cost", Show::percent}}};
constexpr Formula margin_formula{"price.margin_from_markup",
                                 {"g", "margin of the price", Show::percent},
                                 "g = m / (1 + m)",
                                 markup_inputs,
                                 "common practice, no source",
                                 "price"};
constexpr std::array<Symbol, 1> margin_inputs{{{"g", "margin of the price", Show::percent}}};
constexpr Formula markup_formula{"price.markup_from_margin",
                                 {"m", "markup on cost", Show::percent},
                                 "m = g / (1 - g)",
                                 margin_inputs,
                                 "common practice, no source",
                                 "price"};

void run_markup(Arguments& arguments, const YardSource&, sheet::CalcResult& result) {
    if (arguments.has("markup") == arguments.has("margin")) {
        throw WrongUse{{R"(calc markup: give either --markup, for example --markup "25 %", or --margin, for example )"
                        R"(--margin "20 %")"}};
    }
    Share markup, margin;
    if (arguments.has("markup")) {
        const Sourced<double> given = arguments.share("markup");
        markup = Share::percent(100.0 * *given);
        margin = price::margin_from_markup(markup);
        result.working.add(margin_formula, {given}, margin.as_double());
    } else {
        const Sourced<double> given = arguments.share("margin");
        margin = Share::percent(100.0 * *given);
        markup = price::markup_from_margin(margin);
        result.working.add(markup_formula, {given}, markup.as_double());
    }
    put_result(result, "markup", "markup on cost", Show::percent, markup.as_double());
    put_result(result, "margin", "margin of the price", Show::percent, margin.as_double());
    if (!arguments.has("cost")) return;
    const Money cost = arguments.money("cost");
    // From the figure given, so that the price is not off by the rounding of the other one.
    const Money price = arguments.has("markup") ? marked_up(cost, markup) : with_margin(cost, margin);
    put_text(result, "price", "price", decimal_text(price));
    result.results.back().shown = format(price);
    put_text(result, "profit", "profit in it", decimal_text(price - cost));
    result.results.back().shown = format(price - cost);
}

}  // namespace

std::vector<Calculation> site_calculations() {
    const CalcOption bore{"bore", "bore of the pipe", "100 mm"};
    const CalcOption tested{"length", "length under test", "20 m"};
    return {
        {"airtest",
         "Leak test with air: EN 1610 LA to LD, ASTM F1417",
         R"(--bore "100 mm" --length "20 m" --method LC)",
         {bore,
          tested,
          {"method", "method: LA, LB, LC, LD, F1417", "LC"},
          {"wall", "pipe wall: other materials, dry concrete", "other materials", optional, "other materials"}},
         run_airtest},
        {"watertest",
         "Leak test with water: EN 1610 W",
         R"(--bore "100 mm" --length "20 m")",
         {bore, tested},
         run_watertest},
        {"trench",
         "Volume and sides of a trench, all four sides battered",
         R"(--width "0.6 m" --length "3 m" --depth "1.5 m" --slope 1)",
         {{"width", "bottom width", "0.6 m"},
          {"length", "bottom length", "3 m"},
          {"depth", "depth", "1.5 m"},
          {"slope", "horizontal per vertical, 0 for vertical sides", "1"},
          {"diameter", "outside diameter of the pipe, to look up the least width", "110 mm", optional}},
         run_trench},
        {"cure",
         "Times of a sleeve from mixing to deflating",
         R"(--resin standard --thickness "3 mm" --bore "100 mm" --pipe-temperature "10 C")",
         {{"resin", "resin of the yard, by its id", "standard"},
          {"thickness", "thickness of the sleeve", "3 mm"},
          bore,
          {"pipe-temperature", "temperature of the pipe's wall", "10 C"},
          {"resin-temperature", "temperature of the resin when A meets B", "20 C", optional, "20 C"},
          {"air-temperature", "temperature where the sleeve is wet out and in the van", "20 C", optional, "20 C"},
          {"mass", "mass mixed in one pot", "1 kg", optional, "1 kg"},
          {"material", "material of the pipe", "clay", optional, "clay"},
          {"van-temperature", "temperature of the van; as the air", "20 C", optional},
          {"temperatures", "calculated before the day, or measured on site", "measured", optional},
          {"temperature-doubt", "one in ten is warmer by more, one in ten colder: calculated", "3 K", optional},
          {"measured-doubt", "the same of what is measured", "1 K", optional},
          {"length", "length of the sleeve: hands-on times by the yard, and the chance of being late", "1 m", optional},
          {"wet-out", "hands-on, likely", "8 min", optional},
          {"load", "hands-on, likely", "3 min", optional},
          {"position", "hands-on, likely", "5 min", optional},
          {"inflate", "to fill the bladder, likely", "2 min", optional},
          {"crease", "wrinkle check, likely", "2 min", optional},
          {"felt", "felt of the yard, by its id: weight and resin of the wall", "sheet-3", optional},
          {"table-layers", "layers that lie on the table at once: 2 for a sewn tube, where the felt is given", "2",
           optional},
          {"wall", "wall of the pipe", "15 mm", optional},
          {"soil", "ground round the pipe: wet, dry", "dry", optional},
          {"warm-air", "temperatures of the air in the bladder since inflation", "0 min at 20 C, 30 min at 40 C",
           optional},
          {"warm-water", "the same with water in the bladder", "0 min at 15 C, 20 min at 45 C", optional},
          {"late", "inflated that much later than the hands-on times say", "5 min", optional},
          {"elapsed", "time since A met B, with --measured", "2 h", optional},
          {"measured", "temperatures noted since mixing, with --elapsed", "10 min at 14 C, 1 h at 11 C", optional}},
         run_cure},
        {"ground",
         "Ground temperature by depth and day of the year",
         R"(--depth "1.35 m" --date 2026-04-14 --mean "10 C" --amplitude "8 K")",
         {{"depth", "depth below ground", "1.35 m"},
          {"date", "day", "2026-04-14"},
          {"mean", "mean ground temperature of the year", "10 C", optional, "10 C"},
          {"amplitude", "half the yearly range at the surface", "8 K", optional, "8 K"},
          {"coldest-day", "coldest day of the year, counted from 1 January", "35", optional, "35"}},
         run_ground},
        {"markup",
         "Markup and margin, and the price of a cost",
         R"(--markup "25 %" --cost "1000.00 EUR")",
         {{"markup", "profit as a share of the cost", "25 %", optional},
          {"margin", "profit as a share of the price", "20 %", optional},
          {"cost", "cost", "1000.00 EUR", optional}},
         run_markup},
    };
}

}  // namespace patchwright::cli
