#pragma once
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <variant>

#include "patchwright/units/money.hpp"
#include "patchwright/units/quantity.hpp"
#include "patchwright/units/temperature.hpp"

namespace patchwright {

/// Where in a piece of text the fault lies, and what would be right.
struct TextError {
    std::size_t offset = 0;  ///< first byte at fault
    std::size_t length = 0;  ///< bytes at fault, at least 1 unless the text is blank
    std::string message;     ///< one sentence, no full stop; says what would be right
};

/// A value, or why the text holds none.
template <class T>
class [[nodiscard]] Parsed {
public:
    Parsed(T value) : state_{std::move(value)} {}
    Parsed(TextError error) : state_{std::move(error)} {}
    explicit operator bool() const { return std::holds_alternative<T>(state_); }
    const T& operator*() const { return std::get<T>(state_); }
    const T* operator->() const { return &std::get<T>(state_); }
    const TextError& error() const { return std::get<TextError>(state_); }

private:
    std::variant<T, TextError> state_;
};

/// The one parser of quantity text. A closed table of units per dimension, so "C" under a temperature
/// can only be Celsius. Numbers: decimal point, no thousands mark, no exponent; fractions ("1/2"),
/// mixed numbers ("4 1/2 in") and compound units ("6 ft 3 in", "1 h 30 min") in falling order.
/// A bare number, a comma as decimal mark, an unknown unit and a non-finite value are errors.
/// Negative values parse; it is the reader of a field that knows if they make sense. Details: docs/methods/units.md.
Parsed<Length> parse_length(std::string_view text);
Parsed<Area> parse_area(std::string_view text);
Parsed<Volume> parse_volume(std::string_view text);
Parsed<Mass> parse_mass(std::string_view text);
Parsed<Duration> parse_duration(std::string_view text);
Parsed<Pressure> parse_pressure(std::string_view text);  ///< gauge or absolute is stated by the field
Parsed<Temperature> parse_temperature(std::string_view text);
Parsed<TemperatureDifference> parse_temperature_difference(std::string_view text);
Parsed<Angle> parse_angle(std::string_view text);
Parsed<VolumeFlow> parse_volume_flow(std::string_view text);
Parsed<Density> parse_density(std::string_view text);
Parsed<ArealMass> parse_areal_mass(std::string_view text);
Parsed<UnitWeight> parse_unit_weight(std::string_view text);
Parsed<Force> parse_force(std::string_view text);
Parsed<SpecificEnergy> parse_specific_energy(std::string_view text);
Parsed<SpecificHeat> parse_specific_heat(std::string_view text);
Parsed<Conductivity> parse_conductivity(std::string_view text);
Parsed<MolarEnergy> parse_molar_energy(std::string_view text);
Parsed<double> parse_percent(std::string_view text);  ///< "2 %" gives 2.0; the sign is required
Parsed<double> parse_number(std::string_view text);   ///< a plain number, for dimensionless options
Parsed<Money> parse_money(std::string_view text);     ///< "38.50 EUR": at most two places
/// "62.00 EUR/h", "38.50 EUR/m": the unit after the slash is of Q's dimension.
template <class Q>
Parsed<MoneyPer<Q>> parse_rate(std::string_view text);  ///< for Length, Area, Volume, Mass, Duration

/// A time of day in whole minutes after midnight, "08:00" to "23:59".
struct ClockTime {
    int minutes = 0;
    constexpr auto operator<=>(const ClockTime&) const = default;
};
Parsed<ClockTime> parse_clock_time(std::string_view text);

/// A day of the proleptic Gregorian calendar.
struct Date {
    int year = 2000, month = 1, day = 1;
    constexpr auto operator<=>(const Date&) const = default;
};
Parsed<Date> parse_date(std::string_view text);  ///< "2026-04-14"; refuses days that do not exist
Date next_day(Date d);
int day_of_year(Date d);

/// Position round the pipe as seen along the run, 1 to 12. `from == to` is a point, 12-12 the whole ring;
/// a range runs clockwise and may pass 12: "10-2".
struct ClockRange {
    int from = 12, to = 12;
    bool full_ring = false;
    /// Share of the circumference, 0 for a point: 10-2 is 4/12.
    double share() const;
    constexpr bool operator==(const ClockRange&) const = default;
};
Parsed<ClockRange> parse_clock_range(std::string_view text);  ///< "2", "10-2", "12-12"

}  // namespace patchwright
