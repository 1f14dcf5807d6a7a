#include <catch2/catch.hpp>

#include <chrono>

#include "patchwright/units/calendar.hpp"
#include "patchwright/units/format.hpp"
#include "patchwright/units/parse.hpp"

using namespace patchwright;
using Catch::Contains;

TEST_CASE("days agree with the standard library over a cycle of 400 years", "[units][calendar][reference]") {
    // Reference: std::chrono calendar types (C++20), proleptic Gregorian.
    using namespace std::chrono;
    Date date{1900, 1, 1};
    int wrong = 0;
    const sys_days end{year{2301} / 1 / 1};
    for (sys_days day{year{1900} / 1 / 1}; day < end; day += days{1}, date = next_day(date)) {
        const year_month_day expected{day};
        const bool same = date.year == static_cast<int>(expected.year()) &&
                          date.month == static_cast<int>(static_cast<unsigned>(expected.month())) &&
                          date.day == static_cast<int>(static_cast<unsigned>(expected.day()));
        const int of_year = static_cast<int>((day - sys_days{expected.year() / 1 / 1}).count()) + 1;
        if (!same || day_of_year(date) != of_year || *parse_date(format(date)) != date) ++wrong;
    }
    CHECK(wrong == 0);
}

TEST_CASE("days that do not exist are refused", "[units][calendar][error]") {
    CHECK(parse_date("2024-02-29"));
    CHECK(parse_date(" 2026-04-14 "));
    CHECK_THAT(parse_date("2026-02-29").error().message, Contains("2026-02 has 28 days"));
    CHECK_THAT(parse_date("1900-02-29").error().message, Contains("28 days"));
    CHECK(parse_date("2000-02-29"));
    CHECK_THAT(parse_date("2026-13-01").error().message, Contains("month"));
    CHECK_FALSE(parse_date("2026-00-10"));
    CHECK_FALSE(parse_date("2026-04-00"));
    CHECK_FALSE(parse_date("2026-04-31"));
    CHECK_FALSE(parse_date("0000-04-01"));
    CHECK_THAT(parse_date("14.04.2026").error().message, Contains("2026-04-14"));
    CHECK_FALSE(parse_date("2026-4-14"));
    for (const char* text : {"", "x026-04-14", "2026-x4-14", "2026-04-x4", "2026/04/14"}) {
        CAPTURE(text);
        REQUIRE_FALSE(parse_date(text));
        CHECK_THAT(parse_date(text).error().message, Contains("such as \"2026-04-14\""));
    }
}

TEST_CASE("days of the week", "[units][calendar][reference]") {
    // Facts of history, from memory: Moon landing on a Sunday, the fall of the wall on a Thursday; 1 January 1900 and
    // 1 March 2000 (after a century's leap day) as in any almanac.
    CHECK(weekday_name(weekday({1969, 7, 20})) == "Sunday");
    CHECK(weekday_name(weekday({1989, 11, 9})) == "Thursday");
    CHECK(weekday_name(weekday({1900, 1, 1})) == "Monday");
    CHECK(weekday_name(weekday({2000, 3, 1})) == "Wednesday");
    Date day{1999, 12, 26};
    int expected = weekday(day);
    for (int i = 0; i < 1500; ++i) {
        CHECK(weekday(day) == expected);
        day = next_day(day);
        expected = (expected + 1) % 7;
    }
}

TEST_CASE("times of day", "[units][calendar]") {
    CHECK(parse_clock_time("08:00")->minutes == 480);
    CHECK(parse_clock_time("8:05")->minutes == 485);
    CHECK(parse_clock_time("23:59")->minutes == 1439);
    CHECK(parse_clock_time("00:00")->minutes == 0);
    for (const char* text : {"24:00", "08:60", "8", "0800", "08:0", "8:5", "08:00:00", "a8:00", "-8:00", ""}) {
        CAPTURE(text);
        CHECK_FALSE(parse_clock_time(text));
    }
}

TEST_CASE("clock positions run through 12", "[units][calendar]") {
    CHECK(parse_clock_range("10-2")->share() == Approx(4.0 / 12.0));
    CHECK(parse_clock_range("12-12")->share() == 1.0);
    CHECK(parse_clock_range("12-12")->full_ring);
    CHECK(parse_clock_range("2")->share() == 0.0);
    CHECK(parse_clock_range("12")->share() == 0.0);
    CHECK(parse_clock_range("2-10")->share() == Approx(8.0 / 12.0));
    CHECK(parse_clock_range("11-12")->share() == Approx(1.0 / 12.0));
    CHECK(parse_clock_range("12-1")->share() == Approx(1.0 / 12.0));
    CHECK(parse_clock_range("03 - 09")->share() == Approx(0.5));
    for (int from = 1; from <= 12; ++from) {
        for (int to = 1; to <= 12; ++to) {
            const ClockRange range{from, to, from == 12 && to == 12};
            CAPTURE(from, to);
            CHECK(*parse_clock_range(format(range)) == range);
            const ClockRange back{to, from, false};  // the two ways round make a whole ring
            if (from != to) CHECK(range.share() + back.share() == Approx(1.0));
        }
    }
    for (const char* text : {"", "0", "13", "10-", "-2", "10-13", "10-2-3", "10 2", "x", "123"}) {
        CAPTURE(text);
        CHECK_FALSE(parse_clock_range(text));
    }
}
