// The parser of quantity text, in every dimension: a finite value that can be printed and read again, or a fault
// inside the text.
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <string>

#include "check.hpp"
#include "patchwright/units/error.hpp"
#include "patchwright/units/format.hpp"
#include "patchwright/units/parse.hpp"

using namespace patchwright;

namespace {

void must_lie_in(const TextError& error, std::string_view text) {
    fuzz::must(!error.message.empty(), "a fault says what would be right", text);
    fuzz::must(error.offset <= text.size() && error.length <= text.size() - error.offset, "a fault lies in the text",
               error.message);
}

template <Dim D>
double si(Quantity<D> quantity) {
    return quantity.si();
}
double si(Temperature temperature) { return temperature.in_kelvin(); }
double si(double number) { return number; }

template <class T>
void must_read(const Parsed<T>& parsed, std::string_view text) {
    if (!parsed) return must_lie_in(parsed.error(), text);
    fuzz::must(std::isfinite(si(*parsed)), "a value is finite", text);
}

/// What is printed reads back, and prints the same again: nothing creeps from sheet to file to sheet.
template <class T>
void must_print(const Parsed<T>& parsed, Parsed<T> (*parse)(std::string_view), Show show) {
    if (!parsed) return;
    // Within a step of absolute zero the figure may lie below it.
    if (show == Show::temperature && si(*parsed) < 1.0) return;
    if (std::abs(si(*parsed)) > 1e12) return;  // no sheet holds it, and the readers take fewer digits
    for (const UnitSystem system : {UnitSystem::metric, UnitSystem::us}) {
        std::string printed;
        try {
            printed = format(show, *parsed, system);
        } catch (const RangeError&) {  // more digits than a figure has
            continue;
        }
        const auto again = parse(printed);
        fuzz::must(static_cast<bool>(again), "what is printed reads", printed);
        fuzz::must(format(show, *again, system) == printed, "and prints the same", printed);
    }
}

template <class T>
void must_keep(Parsed<T> (*parse)(std::string_view), std::string_view text) {
    const auto parsed = parse(text);
    if (!parsed) return must_lie_in(parsed.error(), text);
    const auto printed = format(*parsed);
    const auto again = parse(printed);
    fuzz::must(again && *again == *parsed, "what is printed reads as the same", printed);
}

void money(std::string_view text) {
    const auto parsed = parse_money(text);
    if (!parsed) return must_lie_in(parsed.error(), text);
    fuzz::must(!format(*parsed).empty(), "money can be printed");
    const auto again = parse_money(decimal_text(*parsed) + " " + std::string{parsed->currency().code()});
    fuzz::must(again && *again == *parsed, "money reads as the same", text);
}

template <class Q>
void rate(std::string_view text) {
    const auto parsed = parse_rate<Q>(text);
    if (!parsed) return must_lie_in(parsed.error(), text);
    fuzz::must(parsed->per.si() > 0.0 && std::isfinite(parsed->per.si()), "a price is per something", text);
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string_view text{reinterpret_cast<const char*>(data), size};
    must_read(parse_length(text), text);
    for (const Show show : {Show::run_distance, Show::tape, Show::thickness, Show::thin})
        must_print(parse_length(text), parse_length, show);
    must_read(parse_area(text), text);
    must_read(parse_volume(text), text);
    must_print(parse_volume(text), parse_volume, Show::millilitres);
    must_read(parse_mass(text), text);
    must_print(parse_mass(text), parse_mass, Show::scale_mass);
    must_read(parse_duration(text), text);
    must_print(parse_duration(text), parse_duration, Show::span);
    must_read(parse_pressure(text), text);
    must_print(parse_pressure(text), parse_pressure, Show::gauge_pressure);
    must_read(parse_temperature(text), text);
    must_print(parse_temperature(text), parse_temperature, Show::temperature);
    must_read(parse_temperature_difference(text), text);
    must_read(parse_angle(text), text);
    must_print(parse_angle(text), parse_angle, Show::angle);
    must_read(parse_volume_flow(text), text);
    must_read(parse_density(text), text);
    must_read(parse_areal_mass(text), text);
    must_read(parse_unit_weight(text), text);
    must_read(parse_force(text), text);
    must_read(parse_specific_energy(text), text);
    must_read(parse_specific_heat(text), text);
    must_read(parse_conductivity(text), text);
    must_read(parse_molar_energy(text), text);
    must_read(parse_percent(text), text);
    must_read(parse_number(text), text);
    money(text);
    rate<Length>(text);
    rate<Area>(text);
    rate<Volume>(text);
    rate<Mass>(text);
    rate<Duration>(text);
    must_keep(parse_clock_time, text);
    must_keep(parse_date, text);
    must_keep(parse_clock_range, text);
    return 0;
}
