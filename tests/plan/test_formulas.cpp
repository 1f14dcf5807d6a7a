// The text of every formula held to the code: read, evaluated with its step's operands, compared with the step's
// result. A text that is wrong explains a figure by arithmetic that does not give it.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <filesystem>
#include <map>
#include <regex>
#include <set>
#include <stdexcept>
#include <string>

#include "patchwright/excavation/excavation.hpp"
#include "patchwright/io/read.hpp"
#include "patchwright/leaktest/leaktest.hpp"
#include "patchwright/liner/felt.hpp"
#include "patchwright/liner/thickness.hpp"
#include "patchwright/packer/packer.hpp"
#include "patchwright/plan/plan.hpp"
#include "patchwright/schedule/schedule.hpp"
#include "support/expression.hpp"
#include "support/jobs.hpp"
#include "support/project_file.hpp"

using namespace patchwright;

namespace {

/// Texts that are no plain arithmetic: integrals, roots of equations, minima over places, tables, choices of data.
const std::set<std::string, std::less<>> not_arithmetic{"cure.pot_alarm",
                                                        "price.suggested.own",
                                                        "cure.shaping",
                                                        "cure.sleeve_gel",
                                                        "felt.seam",  // what a simulation or a table gives
                                                        "liner.use.ovality_bending",
                                                        "liner.use.soil_buckling",
                                                        "liner.use.stiffness",
                                                        "liner.use.water_buckling",
                                                        "flow.fills-in",  // a year stands for "never"
                                                        "cure.film_gel",
                                                        "cure.late",
                                                        "cure.soft",  // the normal distribution
                                                        "cure.release",
                                                        "cure.gel",
                                                        "cure.ready",
                                                        "cure.bucket_pour_by",
                                                        "cure.crease_by",
                                                        "cure.inflate_by",
                                                        "cure.let_down",
                                                        "cure.pour_by",  // whole minutes
                                                        "cure.pot_life",
                                                        "cure.bucket_never",
                                                        "en1610.rounded",
                                                        "f1216.x1.2",
                                                        "liner.missing_wall",
                                                        "liner.design",
                                                        "load.impact",
                                                        "load.wheel",
                                                        "packer.opening",
                                                        "resin.mix-whole-kits"};

/// Formulas that only commands outside a plan use, or that rest on noted measurements; held by those commands' tests.
const std::set<std::string, std::less<>> elsewhere{"price.margin_from_markup", "price.markup_from_margin",
                                                   "cure.ground", "cure.time_left", "air.lost"};

class Steps {
public:
    void take(const Working& working) {
        for (const Step& step : working.steps()) steps_[std::string{step.formula->id}].push_back(step);
    }
    void take(const plan::Plan& plan) {
        for (const auto& patch : plan.patches) {
            for (const Working& working : patch.workings) take(working);
        }
        for (const auto& batch : plan.batches) {
            take(batch.mixing);
            take(batch.standing);
        }
        for (const auto& figure : plan.figures) take(figure.working);
        for (const auto& run : plan.runs) {
            for (const auto& verdict : run.verdicts) take(verdict.assessment.working);
        }
        for (const auto& flow : plan.flows) take(flow.working);
    }
    const std::map<std::string, std::vector<Step>, std::less<>>& by_formula() const { return steps_; }

private:
    std::map<std::string, std::vector<Step>, std::less<>> steps_;
};

/// Steps of plans and calculations that between them use every formula.
Steps all_steps() {
    Steps steps;
    job::Yard yard = io::builtin_yard();
    for (const char* name : {"examples/demo.json", "examples/us-slab.json"}) {
        const auto job = test::must_read(test::project_file(name));
        steps.take(plan::make_plan(job, yard));
    }
    // Shut-in air, a margin on the price in place of a markup, a wall that carries soil and wheels, a pull round bends.
    yard.limits.air = job::AirSupply::shut_in;
    yard.limits.bench_share_of_rated = 0.8;
    yard.rates.profit_is_margin = true;
    yard.rates.overhead_per_crew_day = Money::cents(9000, yard.rates.currency);
    yard.dig_rates.width_by_d2321 = true;
    auto job = test::must_read(test::project_file("examples/demo.json"));
    for (auto& run : job.runs) run.condition.value = job::Condition::fully_deteriorated;
    steps.take(plan::make_plan(job, yard));

    // Nothing to patch.
    auto dug = test::must_read(test::project_file("examples/demo.json"));
    for (auto& run : dug.runs) {
        run.fittings.clear();
        run.defects.resize(1);
        run.defects.front().kind = job::DefectKind::collapse;
    }
    steps.take(plan::make_plan(dug, yard));
    // A live connection under the sleeve, cut open again.
    auto covered = test::must_read(test::project_file("examples/demo.json"));
    covered.runs.front().reopening_allowed = true;
    covered.runs.front().defects.front().at = covered.runs.front().defects.front().to = 12.1 * unit::m;
    steps.take(plan::make_plan(covered, yard));

    Working more;
    const Sourced<Length> bore{100.0 * unit::mm, Origin::given};
    packer::capstan(100.0 * unit::N, 0.3, 90.0 * unit::deg, more);
    packer::longest_through_bend(*bore, 150.0 * unit::mm, 70.0 * unit::mm, std::nullopt, more);
    packer::longest_through_bend(*bore, 150.0 * unit::mm, 70.0 * unit::mm, 30.0 * unit::deg, more);
    packer::shut_in_reading(0.65 * unit::bar, Temperature::celsius(40.0), Temperature::celsius(10.0), 1.0 * unit::bar,
                            0.98 * unit::bar, more);
    job::Fitting narrower;
    narrower.kind = job::FittingKind::size_change;
    narrower.at = 2.0 * unit::m;
    narrower.bore = 90.0 * unit::mm;
    packer::passage(job.runs.front(), yard.limits, narrower, yard.packers[4], 3.0 * unit::mm, more);
    schedule::push_on_stopper(*bore, 1.2 * unit::m, more);
    for (const job::Felt& felt : yard.felts) {
        if (felt.form != job::FeltForm::sewn_tube) continue;
        for (const auto& choice : liner::felt_choices(yard, felt.tube_bore_max, Length{}, felt.tube_bore_max))
            if (&yard.felts[static_cast<std::size_t>(choice.felt)] == &felt)
                liner::cut_sizes(felt, choice, felt.tube_bore_max, 0.8 * unit::m, yard.limits, more);
    }
    for (const packer::Option& option : packer::options(yard))
        packer::build_card(yard, option, 0.8 * unit::m, job::ResinKind::epoxy, more);
    for (const double diameter : {100.0, 450.0, 900.0}) {
        leaktest::air_test(leaktest::AirMethod::lc, diameter * unit::mm, 30.0 * unit::m, more);
        leaktest::air_test(leaktest::AirMethod::f1417, diameter * unit::mm, 90.0 * unit::m, more);
        leaktest::water_test(diameter * unit::mm, 30.0 * unit::m, more);
    }
    steps.take(more);
    return steps;
}

Show result_show(const Step& step) { return step.formula->result.show; }

bool agrees(const test::TextValue& text, const Step& step) {
    const double result = step.result, value = text.value, hair = 1e-9 * std::abs(result) + 1e-15;
    switch (text.rounding) {
        case test::Rounding::nearest_gram:
            return std::abs(result - value) <= 0.5e-3 + hair;
        case test::Rounding::up_to_gram:
            return result >= value - hair - 1e-9 && result < value + 1e-3 + hair;
        case test::Rounding::nearest_cent:
        case test::Rounding::none:
            break;
    }
    // Money stands in whole cents.
    return std::abs(result - value) <= (result_show(step) == Show::money ? 1.0 : 0.0) + hair;
}

}  // namespace

TEST_CASE("the reader of formula texts", "[formulas][reference]") {
    // By hand.
    const test::Symbols s{{"a", 2.0}, {"b", 3.0}, {"E's", 5.0}};
    CHECK(test::evaluate("2 a b^2 / (a + 1)", s) == Approx(12.0));
    CHECK(test::evaluate("-a^2 + [b (a)]^(1/2)", s) == Approx(-4.0 + std::sqrt(6.0)));
    CHECK(test::evaluate("max(a, b) E's / 3 a", s) == Approx(10.0));
    CHECK(test::evaluate("up_to_step(7, 5) + floor(2.7) sqrt(4)", s) == Approx(14.0));
    CHECK(test::evaluate_text("x = a y, y = 2 b; a remark", s).value == Approx(12.0));
    CHECK(test::evaluate_text("x = a / 1 m, a in feet", s).value == Approx(2.0 / 0.3048));
    for (const char* wrong : {"a +", "(a", "a ? b", "c", "sqrt(a, b)", ""})
        CHECK_THROWS_AS(test::evaluate(wrong, s), std::invalid_argument);
}

TEST_CASE("each formula's text gives what the code gives", "[formulas]") {
    const Steps steps = all_steps();
    std::size_t evaluated = 0;
    for (const auto& [id, list] : steps.by_formula()) {
        if (not_arithmetic.count(id) != 0) continue;
        for (const Step& step : list) {
            const Formula& formula = *step.formula;
            test::Symbols symbols{{"R", 8.314462618}};  // gas constant, CODATA 2018: texts name it without a value
            REQUIRE(step.count == formula.inputs.size());
            std::string values;
            for (std::size_t i = 0; i < step.count; ++i) {
                symbols[std::string{formula.inputs[i].symbol}] = step.operands[i].value;
                values += std::string{formula.inputs[i].symbol} + " = " + std::to_string(step.operands[i].value) + "; ";
            }
            CAPTURE(id, std::string{formula.text}, values, step.result);
            test::TextValue text;
            REQUIRE_NOTHROW(text = test::evaluate_text(formula.text, symbols));
            CAPTURE(text.value);
            CHECK(agrees(text, step));
            ++evaluated;
        }
    }
    CHECK(evaluated > 500);
}

TEST_CASE("every formula of the sources is held to its text or named as no arithmetic", "[formulas]") {
    const Steps steps = all_steps();
    const std::regex constant{R"re(constexpr Formula \w+\s*\{\s*(?:\.id = )?"([^"]+)")re"};
    std::set<std::string> known;
    for (const auto& entry : std::filesystem::recursive_directory_iterator{PATCHWRIGHT_SOURCE_DIR "/src"}) {
        if (entry.path().extension() != ".cpp") continue;
        const auto path = std::filesystem::relative(entry.path(), PATCHWRIGHT_SOURCE_DIR).string();
        const std::string text = test::project_file(path);
        for (std::sregex_iterator it{text.begin(), text.end(), constant}, end; it != end; ++it) known.insert((*it)[1]);
    }
    CHECK(known.size() > 100);
    for (const auto& id : known) {
        INFO(
            "used by no plan here: name it in not_arithmetic with the reason, or in elsewhere with a case in "
            "tests/cli/calc_reference_test.cpp");
        CAPTURE(id);
        CHECK((steps.by_formula().count(id) + not_arithmetic.count(id) + elsewhere.count(id)) > 0);
    }
    for (const auto& id : not_arithmetic) CHECK(known.count(id) + steps.by_formula().count(id) > 0);
    for (const auto& id : elsewhere) CHECK(known.count(id) == 1);
}
