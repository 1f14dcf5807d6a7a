#include <catch2/catch.hpp>

#include "demo_resins.hpp"
#include "patchwright/cure/cure.hpp"
#include "patchwright/units/error.hpp"

using namespace patchwright;
using namespace patchwright::cure;

namespace {

Sourced<Temperature> at(double celsius) { return {Temperature::celsius(celsius), Origin::given}; }

struct Case {
    Sleeve sleeve;
    Surroundings host;
    Conditions conditions;
};
Case usual(double millimetres, double pipe, double air = 20.0, double resin = 20.0) {
    Case c;
    c.sleeve.thickness = millimetres * unit::mm;
    c.sleeve.resin_mass = 1.35 * unit::kg;
    c.host.bore = 100.0 * unit::mm;
    c.host.wall = 15.0 * unit::mm;
    c.conditions.pipe = at(pipe);
    c.conditions.air = c.conditions.van = at(air);
    c.conditions.resin = at(resin);
    return c;
}
Answer ask(const Model& model, const Case& c, const job::Limits& limits = test::usual_limits()) {
    Working off = Working::off();
    return model.answer(c.sleeve, c.host, c.conditions, limits, off);
}

}  // namespace

TEST_CASE("the times of a sleeve stand in order", "[cure]") {
    for (const job::Resin& resin : {test::fast(), test::standard(), test::slow()}) {
        const Model model{resin};
        for (const double pipe : {5.0, 10.0, 20.0}) {
            CAPTURE(resin.id, pipe);
            const Answer a = ask(model, usual(3.0, pipe));
            REQUIRE_FALSE(a.refused);
            for (const Times& t : {a.sheet, a.early, a.likely, a.late}) {
                CHECK(t.inflate_by < t.crease_by);
                CHECK(t.crease_by <= t.working_time);
                CHECK(t.working_time < t.gel);
                CHECK(t.gel <= t.let_down);
            }
        }
    }
}
