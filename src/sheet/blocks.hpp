#pragma once
#include <string>
#include <vector>

#include "patchwright/plan/builds.hpp"
#include "patchwright/plan/plan.hpp"
#include "patchwright/sheet/sheets.hpp"

/// Parts that more than one sheet is built from.
namespace patchwright::sheet {

/// Everything that the crew needs for one patch, on one card that stays whole.
/// `crowded`: with two others or more on its page, so shorter where it can be.
Block patch_card(const Context& context, std::size_t patch, bool crowded);
/// How a packer is built.
Block build_card(const Context& context, const plan::Build& build);
/// Deflating by pipe temperature and inflate-by by air temperature, for all patches of a day.
void add_site_tables(const Context& context, const std::vector<std::size_t>& patches, Sheet& sheet);
/// The same for one patch as numbers.
Limits limits_of(const Context& context, const plan::Patch& patch);
/// What to load for these patches, with boxes to tick.
void add_load_list(const Context& context, const std::vector<std::size_t>& patches, Sheet& sheet);
/// How the felt is cut, a table a felt and their picture.
void add_cutting(const Context& context, Sheet& sheet);
/// The job's own notes, as they were given.
void add_notes(const Context& context, Sheet& sheet);
/// The customer's note, for beside the comparison of patching and digging; nothing when the job has none.
void add_customer_note(const Context& context, Sheet& sheet);
/// Assumptions and warnings: what the figures rest on.
void add_doubts(const Context& context, Sheet& sheet);
/// The day as bars of text: crews, packers, cures.
std::string day_chart(const Context& context, int day);
/// A row of the day's bars: "person 1"; with several crews "crew 2, 1".
std::string person_name(const Context& context, int day, int crew, int lane);
/// A line of a bill in the reader's units: the bill weighs and measures in kg and m.
price::Line in_units(const Context& context, price::Line line);
/// In place of the day sheets of a job on which nothing can be patched: each defect with what stands in the way.
Sheet no_patch_sheet(const Context& context);
/// Banner of every sheet with money when the yard is the built-in one.
void add_money_banner(const Context& context, Sheet& sheet);

}  // namespace patchwright::sheet
