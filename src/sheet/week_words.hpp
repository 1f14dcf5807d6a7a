#pragma once
#include <string>

#include "patchwright/sheet/week.hpp"
#include "patchwright/units/calendar.hpp"
#include "patchwright/week/week.hpp"

/// Small pieces of text that the forms of a week share.
namespace patchwright::sheet {

const week::Address& address_of(const WeekContext& context, const week::Visit& visit);
/// "Tue 2026-04-14".
std::string date_with_weekday(Date date);
/// "1 h 20 min".
std::string span_text(const WeekContext& context, schedule::Minute minutes);
/// "Q-0412", "Q-0412 (day 2 of 3)".
std::string stop_name(const WeekContext& context, const week::Visit& visit);
/// Where the drain lies, as far as it is known.
std::string site_of(const job::Job& job);
/// "6 patches: A-P1, A-P2, ..." of that stop.
std::string patches_text(const WeekContext& context, const week::Visit& visit);
/// How good the week is.
std::string proof_text(const WeekContext& context);
/// What the offer says when a part of the saving is taken off.
Money shared_offer(const WeekContext& context, const week::Cost& cost);
/// What to load for each crew and day, how all felt is cut, what to buy by when.
Sheet week_pick_list(const WeekContext& context);

}  // namespace patchwright::sheet
