#pragma once
#include <memory>
#include <string>
#include <utility>
#include <vector>

#include "patchwright/job/yard.hpp"
#include "patchwright/plan/plan.hpp"
#include "patchwright/sheet/drawing.hpp"
#include "patchwright/sheet/sheets.hpp"

/// Small pieces of text that several sheets share.
namespace patchwright::sheet {

/// "HH:MM"; minutes past midnight of the next day start again at 00:00.
std::string clock_text(int minutes);
/// The date of a day of the plan, empty when the job has none.
std::string date_text(const Context& context, int day);
std::string day_name(const Context& context, int day);  ///< "2026-04-14", or "Day 1"
std::string assumption_text(const job::Assumption& assumption);
const job::Run& run_of(const Context& context, const plan::Patch& patch);
std::string defect_ids(const Context& context, const plan::Patch& patch);
/// "A1 fissure at 3.90 m to 4.40 m, 10-2 o'clock, 3 mm"
std::string defect_words(const Context& context, const job::Defect& defect);

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

/// Times from mixing are rounded to whole minutes towards the safe side before they are printed.
std::string latest(const Context& context, Duration time);    ///< down
std::string earliest(const Context& context, Duration time);  ///< up

/// Felt is cut to whole millimetres (US: eighths of an inch), never short: the same on every sheet as where the cutting
/// plan lays the pieces.
std::string cut_size(const Context& context, Length length);

/// Whether a patch of the plan covers that defect of a run (places in the job).
bool in_a_patch(const Context& context, std::size_t run, std::size_t defect);

/// `name` stands in `text` as a word of its own.
bool names(const std::string& text, const std::string& name);

Block heading(std::string text, int level = 1);
Block paragraph(std::string text, Emphasis emphasis = Emphasis::normal);

}  // namespace patchwright::sheet
