#pragma once
// The working of an answer: which numbers went through which formula.
#include "knowledge.hpp"

namespace patchwright::cure::detail {

/// Frank-Kamenetskii number of the sleeve as a slab with one cold face, at its greatest rate.
double sleeve_runaway(const Knowledge& known, const Site& site, const RateLaw& law, double pipe, Working& working);

void record_pour(double pot, const Pour& of, const job::Limits& limits, Duration pour_by, Working& working);
void record(const Knowledge& known, const Conditions& conditions, const job::Limits& limits, const Release& release,
            const Answer& answer, const Cured& cure, Working& working);

}  // namespace patchwright::cure::detail
