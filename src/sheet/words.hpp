#pragma once
#include <memory>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "patchwright/job/yard.hpp"
#include "patchwright/plan/figures.hpp"
#include "patchwright/plan/plan.hpp"
#include "patchwright/sheet/drawing.hpp"
#include "patchwright/sheet/sheets.hpp"

/// Small pieces of text that several sheets share.
namespace patchwright::sheet {

/// "HH:MM"; minutes past midnight of the next day start again at 00:00.
std::string clock_text(int minutes);
/// The lines of a text that hold something.
std::vector<std::string> filled_lines(std::string_view text);
/// The date of a day of the plan, empty when the job has none.
std::string date_text(const Context& context, int day);
std::string day_name(const Context& context, int day);  ///< "2026-04-14", or "Day 1"
/// "Tue 2026-04-14", or "Day 1".
std::string day_with_weekday(const Context& context, int day);
/// A sentence where that day is a Saturday or Sunday; empty on other days and without a date.
std::string weekend_words(const Context& context, int day);
/// A task as the crew says it: "deflate and withdraw", "wrinkle check".
std::string_view task_word(schedule::What what);
/// "less than 1 in 1000", "1 in 40": the greater chance where it is between two.
std::string one_in(double chance);
/// Id of a patch by its place in the plan.
const std::string& patch_id(const Context& context, int patch);
/// The mix that a patch is wet out from.
const plan::Batch& mix_of(const Context& context, std::size_t patch);
std::string assumption_text(const job::Assumption& assumption);
/// A line each; what is assumed alike of several runs or defects is one: "runs A, B: ovality 2 % (...)". `brief`: all
/// that is assumed of the same runs on one line, without the reasons.
std::vector<std::string> assumption_lines(const std::vector<job::Assumption>& assumptions, bool brief = false);
std::string defect_ids(const Context& context, const plan::Patch& patch);
/// The run of that patch was cleaned, and its roots cut, on a day before the patch's.
bool cleaned_before(const Context& context, std::size_t patch);
bool cleaned_before(const Context& context, job::RunPlace run, int day);
/// "A-P1, A-P2".
std::string patch_ids(const Context& context, const std::vector<std::size_t>& patches);
/// Something is cut in the pipe for that patch: roots, a connection, or the liner over a branch. Water that is stopped
/// with grout is a preparation too, and needs no cutter.
bool cuts(const Context& context, std::size_t patch);
/// The regulator feeds it and shut-in air would not last: the valve at its packer is never shut before the gel.
bool never_shut_in(const Context& context, const plan::Patch& patch);
/// "A1 fissure at 3.90 m to 4.40 m, 10-2 o'clock, 3 mm. "Seen by the lane.""; the remark is the survey's own.
std::string clock_words(ClockRange clock);  ///< "10-2 o'clock", "all round"
std::string defect_words(const Context& context, const job::Defect& defect);
/// "kitchen branch: live junction at 17.00 m, 100 mm, 2 o'clock".
std::string fitting_words(const Context& context, const job::Fitting& fitting);

template <class T>
std::string show(const Context& context, Show how, T value) {
    return format(how, value, context.units);
}

/// A list of what is given, each moved into its place: braces alone would copy it.
template <class T, class... Items>
std::vector<T> list_of(Items&&... items) {
    std::vector<T> list;
    list.reserve(sizeof...(items));
    (list.emplace_back(std::forward<Items>(items)), ...);
    return list;
}

/// The drawing, where the sheets are for paper.
template <class Draw>
std::shared_ptr<const Drawing> drawn(const Context& context, const Draw& draw) {
    return context.drawings ? std::make_shared<const Drawing>(draw()) : nullptr;
}

/// Times from mixing go to whole minutes towards the safe side, felt to whole millimetres: as the table of figures
/// says.
inline std::string latest(const Context& context, Duration time) {
    return plan::shown(Show::minutes, plan::Rounding::down, time.si(), context.units);
}
inline std::string earliest(const Context& context, Duration time) {
    return plan::shown(Show::span, plan::Rounding::up, time.si(), context.units);
}
inline std::string cut_size(const Context& context, Length length) {
    return plan::shown(Show::tape, plan::Rounding::cut, length.si(), context.units);
}
/// A figure of a patch or of a mix as every sheet shows it, by its name in plan/figures.hpp.
std::string shown(const Context& context, const plan::Patch& patch, std::string_view name);
std::string shown(const Context& context, const plan::Batch& batch, std::string_view name);

/// Whether a patch of the plan covers that defect of a run (places in the job).
bool in_a_patch(const Context& context, std::size_t run, std::size_t defect);

bool in_word(char ch);  ///< letter, digit, hyphen or low line
/// `name` stands in `text` as a word of its own.
bool names(const std::string& text, const std::string& name);

Block heading(std::string text, int level = 1, std::string jump = {});
Block paragraph(std::string text, Emphasis emphasis = Emphasis::normal);

}  // namespace patchwright::sheet
