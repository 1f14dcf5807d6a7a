#pragma once
#include <optional>
#include <string>
#include <vector>

#include "patchwright/sheet/model.hpp"
#include "patchwright/units/format.hpp"
#include "patchwright/units/money.hpp"

namespace patchwright::job {
struct Yard;
}  // namespace patchwright::job
namespace patchwright::week {
struct Week;
struct CrewDay;
}  // namespace patchwright::week

/// From a week to sheets, JSON, CSV and calendar. Computes nothing but what the offer shares.
namespace patchwright::sheet {

struct Drawing;

struct WeekContext {
    const week::Week* week = nullptr;
    const job::Yard* yard = nullptr;
    UnitSystem units = UnitSystem::metric;
    bool drawings = true;
    std::optional<Share> shared;  ///< of what sharing a visit saves, off the offers
};

/// The week on a page; what to load, cut and buy; what the jobs cost with shared visits.
std::vector<Sheet> week_sheets(const WeekContext& context);
/// A bar for each crew and day.
Drawing draw_week(const WeekContext& context);
/// The day sheets of one crew's day, stop by stop.
std::vector<Sheet> crew_day_sheets(const WeekContext& context, const week::CrewDay& day);

/// Stable keys, see docs/week.md. `--keep` reads it.
std::string week_json(const WeekContext& context);
/// A line a stop.
std::string week_csv(const WeekContext& context);
/// RFC 5545: an event a stop, in the place's own time. The same stop bears the same UID in every week.
std::string week_ics(const WeekContext& context);

}  // namespace patchwright::sheet
