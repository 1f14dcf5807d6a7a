#pragma once
// The working of an answer: which numbers went through which formula.
#include "knowledge.hpp"

namespace patchwright::cure::detail {

/// One side of the doubt, run to its end.
struct SideRun {
    Course course;
    Lump before;  ///< inflation
    Outcome outcome;
    Waiting waiting;
};

/// Frank-Kamenetskii number of the sleeve as a slab with one cold face, at its greatest rate.
double sleeve_runaway(const Knowledge& known, const Site& site, const Course& course, Working& working);

void record_pour(double pot, const Pour& of, const job::Limits& limits, Duration pour_by, Working& working);
void record(const Knowledge& known, const Conditions& conditions, const job::Limits& limits, const Release& release,
            const Answer& answer, const SideRun& early, const SideRun& late, Working& working);

}  // namespace patchwright::cure::detail
