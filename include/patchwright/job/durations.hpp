#pragma once
#include "patchwright/job/spread.hpp"
#include "patchwright/units/quantity.hpp"

namespace patchwright::job {

/// Time of a task and the persons that it takes; a smaller crew does it with fewer.
struct TaskTime : Spread<Duration> {
    int persons{};
};

/// Task durations. Their usual figures, persons included, stand in data/yard.json alone. `per` kinds are multiplied by
/// the length cleaned or wet out. Travel takes everybody, drying nobody.
struct Durations {
    Spread<Duration> travel, wet_out_per_m, dry;
    TaskTime set_up, open_access, clean_per_10_m, clean_roots_per_10_m, flush, survey, flow_control, cut, build,
        bench_test;
    TaskTime wet_out, load, position, inflate, crease, let_down, re_survey, reopen, pack_up;
};

}  // namespace patchwright::job
