#include <algorithm>
#include <array>

#include <fmt/core.h>

#include "patchwright/units/calendar.hpp"
#include "patchwright/units/parse.hpp"
#include "scan.hpp"

namespace patchwright {
namespace {

bool is_leap(int year) { return year % 4 == 0 && (year % 100 != 0 || year % 400 == 0); }

int days_in_month(int year, int month) {
    constexpr std::array days{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    return month == 2 && is_leap(year) ? 29 : days[static_cast<std::size_t>(month - 1)];
}

/// The value of `count` digits at `pos`, or -1.
int digits_at(std::string_view text, std::size_t pos, std::size_t count) {
    if (pos + count > text.size()) return -1;
    int value = 0;
    for (std::size_t i = pos; i < pos + count; ++i) {
        if (!detail::is_digit(text[i])) return -1;
        value = value * 10 + (text[i] - '0');
    }
    return value;
}

std::string_view trimmed(std::string_view text) {
    text = detail::right_trimmed(text);
    return text.substr(detail::skip_space(text, 0));
}

struct Hour {
    int value = 0;
    std::size_t end = 0;
};

/// A clock position 1 to 12 at `pos`.
Parsed<Hour> scan_hour(std::string_view text, std::size_t pos) {
    std::size_t end = pos;
    while (end < text.size() && detail::is_digit(text[end])) ++end;
    const std::size_t missing = text.empty() ? 0 : 1;  // bytes to point at
    if (end == pos)
        return TextError{std::min(pos, text.size() - missing), missing,
                         "give clock positions as \"2\", \"10-2\" or \"12-12\""};
    const int value = end - pos <= 2 ? digits_at(text, pos, end - pos) : -1;
    if (value < 1 || value > 12) return TextError{pos, end - pos, "a clock position lies between 1 and 12"};
    return Hour{value, end};
}

}  // namespace

Parsed<ClockTime> parse_clock_time(std::string_view whole) {
    const std::string_view text = trimmed(whole);
    const std::size_t colon = text.find(':');
    const bool shaped = (colon == 1 || colon == 2) && text.size() == colon + 3;
    const int hours = shaped ? digits_at(text, 0, colon) : -1;
    const int minutes = shaped ? digits_at(text, colon + 1, 2) : -1;
    if (hours < 0 || minutes < 0) return TextError{0, whole.size(), "give a time of day such as \"08:00\""};
    if (hours > 23 || minutes > 59)
        return TextError{0, whole.size(), "a time of day lies between \"00:00\" and \"23:59\""};
    return ClockTime{hours * 60 + minutes};
}

Parsed<Date> parse_date(std::string_view whole) {
    const std::string_view text = trimmed(whole);
    const bool shaped = text.size() == 10 && text[4] == '-' && text[7] == '-';
    const Date date{shaped ? digits_at(text, 0, 4) : -1, shaped ? digits_at(text, 5, 2) : -1,
                    shaped ? digits_at(text, 8, 2) : -1};
    if (date.year < 0 || date.month < 0 || date.day < 0)
        return TextError{0, whole.size(), "give a date as year, month and day, such as \"2026-04-14\""};
    if (date.year < 1) return TextError{0, whole.size(), "the year must be 0001 or later"};
    if (date.month < 1 || date.month > 12) return TextError{0, whole.size(), "a month lies between 01 and 12"};
    const int last = days_in_month(date.year, date.month);
    if (date.day < 1 || date.day > last)
        return TextError{0, whole.size(),
                         fmt::format("there is no such day: {:04}-{:02} has {} days", date.year, date.month, last)};
    return date;
}

Date next_day(Date d) {
    if (d.day < days_in_month(d.year, d.month)) return {d.year, d.month, d.day + 1};
    if (d.month < 12) return {d.year, d.month + 1, 1};
    return {d.year + 1, 1, 1};
}

int day_of_year(Date d) {
    int day = d.day;
    for (int month = 1; month < d.month; ++month) day += days_in_month(d.year, month);
    return day;
}

/// Sakamoto's congruence for the Gregorian calendar.
int weekday(Date date) {
    constexpr std::array<int, 12> offsets{0, 3, 2, 5, 0, 3, 5, 1, 4, 6, 2, 4};
    const int year = date.month < 3 ? date.year - 1 : date.year;
    const int sunday_first =
        (year + year / 4 - year / 100 + year / 400 + offsets[static_cast<std::size_t>(date.month - 1)] + date.day) % 7;
    return (sunday_first + 6) % 7;
}
std::string_view weekday_name(int weekday) {
    constexpr std::array<std::string_view, 7> names{"Monday", "Tuesday",  "Wednesday", "Thursday",
                                                    "Friday", "Saturday", "Sunday"};
    return names[static_cast<std::size_t>(weekday)];
}

double ClockRange::share() const {
    if (full_ring) return 1.0;
    return static_cast<double>((to - from + 12) % 12) / 12.0;
}

Parsed<ClockRange> parse_clock_range(std::string_view whole) {
    const std::string_view text = detail::right_trimmed(whole);
    const auto from = scan_hour(text, detail::skip_space(text, 0));
    if (!from) return from.error();
    std::size_t pos = detail::skip_space(text, from->end);
    if (pos == text.size()) return ClockRange{from->value, from->value, false};
    if (text[pos] != '-')
        return TextError{pos, text.size() - pos, "give clock positions as \"2\", \"10-2\" or \"12-12\""};
    const auto to = scan_hour(text, detail::skip_space(text, pos + 1));
    if (!to) return to.error();
    pos = detail::skip_space(text, to->end);
    if (pos != text.size()) return TextError{pos, text.size() - pos, "nothing may follow the clock positions"};
    return ClockRange{from->value, to->value, from->value == 12 && to->value == 12};
}

}  // namespace patchwright
