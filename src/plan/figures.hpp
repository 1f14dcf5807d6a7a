#pragma once
#include <string>

#include "patchwright/plan/plan.hpp"

namespace patchwright::plan {

void add_figure(Patch& patch, std::string name, Show show, double value, Working working);
void add_pressure_figures(Patch& patch, const Working& working);
void add_resin_figures(Patch& patch, const Working& working);
void add_cure_figures(Patch& patch, const Working& working);

}  // namespace patchwright::plan
