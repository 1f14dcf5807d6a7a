#pragma once
#include "patchwright/sheet/record.hpp"

/// Pieces that the sheets after the work share. Internal.
namespace patchwright::sheet {

/// The figures of a check as the sheets print them; limits to their safe side.
struct CheckText {
    std::string planned, done, limit, verdict;
};
CheckText check_text(const Context& context, const record::Check& check);
/// Its limits, each with the text in which they print it.
std::vector<std::pair<double, std::string>> limit_figures(const Context& context, const record::Check& check);

/// The plan with every sleeve where it was found to lie.
plan::Plan as_lies(const Context& context, const Recorded& recorded);
/// A drawing of each run in which that plan has a patch, with or without the packers.
void draw_runs(const Context& context, const plan::Plan& lies, bool packers, Sheet& sheet);
/// "LC air test", "W water test", "air test by ASTM F1417".
std::string test_words(job::LeakMethod method);
/// The acceptance tests with their readings; nothing when there are none.
void add_tests(const Context& context, const Recorded& recorded, std::vector<Sheet>& sheets);

}  // namespace patchwright::sheet
