#pragma once
// A usual sleeve in a usual pipe, asked of a model.
#include "demo_resins.hpp"
#include "patchwright/cure/cure.hpp"

namespace patchwright::test {

inline Sourced<Temperature> at(double celsius) { return {Temperature::celsius(celsius), Origin::given}; }

struct Case {
    cure::Sleeve sleeve;
    cure::Surroundings host;
    cure::Conditions conditions;
};
/// DN100 clay in wet soil, 1.35 kg mixed.
inline Case usual(double millimetres, double pipe, double air = 20.0, double resin = 20.0) {
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
inline cure::Answer ask(const cure::Model& model, const Case& c, const job::Limits& limits = usual_limits()) {
    Working off = Working::off();
    return model.answer(c.sleeve, c.host, c.conditions, limits, off);
}
inline cure::Times likely(const cure::Model& model, const Case& c) { return ask(model, c).likely; }

}  // namespace patchwright::test
