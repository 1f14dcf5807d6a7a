#pragma once
#include <string>
#include <vector>

#include "patchwright/week/rounds.hpp"

namespace patchwright::test {

/// Every rule of docs/week.md on a finished rota, from its rounds alone; shares no code with the search. One sentence
/// for each rule that is broken.
std::vector<std::string> broken_rota_rules(const week::Problem& problem, const week::Rota& rota);

/// The best worth of all rotas, by trying them all: every stop on every date with every crew or nowhere, in every
/// order. For up to five stops.
week::Worth best_by_enumeration(const week::Problem& problem);

}  // namespace patchwright::test
