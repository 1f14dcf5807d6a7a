#pragma once
#include "patchwright/job/spread.hpp"
#include "patchwright/units/quantity.hpp"

namespace patchwright::job {

/// Task durations of one team; `per_metre` kinds are multiplied by the length cleaned or wet out.
struct Durations {
    Spread<Duration> travel, set_up, clean_per_10_m, clean_roots_per_10_m, survey, flow_control, cut, build, bench_test,
        wet_out, wet_out_per_m, load, position, inflate, crease, let_down, re_survey, reopen, pack_up, dry;
};

}  // namespace patchwright::job
