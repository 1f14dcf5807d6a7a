#pragma once
#include "patchwright/job/spread.hpp"
#include "patchwright/units/quantity.hpp"

namespace patchwright::job {

/// Time of a task and the persons that it takes; a smaller crew does it with fewer.
struct TaskTime : Spread<Duration> {
    int persons = 1;
};

/// Task durations; `per` kinds are multiplied by the length cleaned or wet out. Travel takes everybody, drying nobody.
struct Durations {
    Spread<Duration> travel, wet_out_per_m, dry;
    TaskTime set_up{{}, 2}, open_access{{}, 2}, clean_per_10_m{{}, 2}, clean_roots_per_10_m{{}, 2}, flush{{}, 2};
    TaskTime survey{{}, 1}, flow_control{{}, 1}, cut{{}, 1}, build{{}, 1}, bench_test{{}, 1};
    TaskTime wet_out{{}, 2}, load{{}, 2}, position{{}, 2}, inflate{{}, 2}, crease{{}, 1};
    TaskTime let_down{{}, 1}, re_survey{{}, 1}, reopen{{}, 2}, pack_up{{}, 2};
};

}  // namespace patchwright::job
