#include "figures.hpp"

#include <algorithm>
#include <utility>

namespace patchwright::plan {

const Figure* Patch::find(std::string_view name) const {
    const auto place = std::find_if(figures.begin(), figures.end(), [&](const Figure& f) { return f.name == name; });
    return place == figures.end() ? nullptr : &*place;
}

void add_figure(Patch& patch, std::string name, Show show, double value, Working working) {
    patch.figures.push_back({std::move(name), show, value, std::move(working)});
}

void add_pressure_figures(Patch& patch, const Working& working) {
    add_figure(patch, "pressure", Show::gauge_pressure, patch.pressure.set.si(), working);
    add_figure(patch, "least-pressure", Show::gauge_pressure, patch.pressure.minimum.si(), working);
    add_figure(patch, "most-pressure", Show::gauge_pressure, patch.pressure.maximum.si(), working);
    add_figure(patch, "energy", Show::energy, patch.pressure.stored.si(), working);
}

void add_resin_figures(Patch& patch, const Working& working) {
    add_figure(patch, "resin", Show::scale_mass, patch.need.total.si(), working);
    add_figure(patch, "part-a", Show::scale_mass, patch.need.part_a.si(), working);
    add_figure(patch, "part-b", Show::scale_mass, patch.need.part_b.si(), working);
    add_figure(patch, "roller-gap", Show::thickness, patch.need.roller_gap.si(), working);
}

void add_cure_figures(Patch& patch, const Working& working) {
    const auto& times = patch.cure.sheet;
    add_figure(patch, "pour-by", Show::minutes, times.pour_by.si(), working);
    add_figure(patch, "inflate-by", Show::minutes, times.inflate_by.si(), working);
    add_figure(patch, "crease-by", Show::minutes, times.crease_by.si(), working);
    add_figure(patch, "working-time", Show::minutes, times.working_time.si(), working);
    add_figure(patch, "let-down", Show::span, times.let_down.si(), working);
}

}  // namespace patchwright::plan
