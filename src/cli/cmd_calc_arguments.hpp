#pragma once
#include <cstddef>
#include <initializer_list>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "patchwright/sheet/calc.hpp"
#include "patchwright/units/parse.hpp"

/// How a calculation of `patchwright calc` reads its options. Nothing is computed here.
namespace patchwright::cli {

/// Wrong use of the command line, one message a fault: exit status 2.
struct WrongUse {
    std::vector<std::string> messages;
};

enum class Need : unsigned char { required, optional };
inline constexpr auto optional = Need::optional;

struct CalcOption {
    std::string_view name;     ///< without dashes: "bore"
    std::string_view meaning;  ///< "bore of the pipe"
    std::string_view example;  ///< "100 mm"
    Need need = Need::required;
    std::string_view assumed = "";  ///< taken when an optional one is not given; empty: nothing, or the yard's figure
};

/// Options as typed, by name.
using Given = std::map<std::string, std::string, std::less<>>;

/// The options of one calculation. Each one read is put down among the result's inputs, with its origin; each reader
/// takes the typed text, else the yard's figure, else the assumed one, and throws WrongUse when none makes sense.
class Arguments {
public:
    Arguments(const std::vector<CalcOption>& options, Given given, sheet::CalcResult& result);
    /// Throws WrongUse that names every required option that is missing, with an example.
    void require_all() const;
    bool has(std::string_view name) const { return given_.find(name) != given_.end(); }

    Sourced<Length> length(std::string_view name, Show show, std::optional<Length> yard = {});
    Sourced<Pressure> pressure(std::string_view name, Show show, std::optional<Pressure> yard = {});
    Sourced<Temperature> temperature(std::string_view name);
    Sourced<TemperatureDifference> temperature_step(std::string_view name,
                                                    std::optional<TemperatureDifference> yard = {});
    Sourced<Angle> angle(std::string_view name);
    Sourced<Mass> mass(std::string_view name);
    Sourced<Duration> duration(std::string_view name);
    /// Temperatures noted at times, "10 min at 14 C, 1 h at 12 C", in rising order of time.
    struct TimedTemperature {
        Duration after{};
        Temperature temperature{};
    };
    std::vector<TimedTemperature> timed_temperatures(std::string_view name);
    Sourced<UnitWeight> unit_weight(std::string_view name, std::optional<UnitWeight> yard = {});
    Sourced<double> share(std::string_view name);  ///< "2 %" gives 0.02
    Sourced<double> number(std::string_view name, std::optional<double> yard = {});
    Sourced<int> whole(std::string_view name, int least, int most);
    [[noreturn]] void refuse(std::string_view name, const std::string& why) const;
    Money money(std::string_view name);
    Date date(std::string_view name);
    /// Place of the word given, else `yard`'s, else the assumed one's. Case counts for nothing.
    Sourced<std::size_t> choice(std::string_view name, const std::vector<std::string>& words,
                                std::optional<std::size_t> yard = {});
    template <class E>
    Sourced<E> word_of(std::string_view name, std::initializer_list<E> values, std::string_view (*word)(E)) {
        std::vector<std::string> words;
        for (const E value : values) words.emplace_back(word(value));
        const Sourced<std::size_t> place = choice(name, words);
        return {*(values.begin() + static_cast<std::ptrdiff_t>(*place)), place.origin};
    }

    /// Puts down a figure that is assumed by the calculation itself, without an option to change it.
    void note(std::string_view name, std::string_view label, Show show, double value, Origin origin = Origin::assumed);

private:
    const CalcOption& option(std::string_view name) const;
    [[noreturn]] void refuse(std::string_view name, const std::string& text, const std::string& why) const;
    template <class T>
    Sourced<T> read(std::string_view name, Parsed<T> (*parse)(std::string_view), std::optional<T> yard) const;
    void put(std::string_view name, Show show, double value, Origin origin);
    void put_text(std::string_view name, std::string text, Origin origin);

    const std::vector<CalcOption>& options_;
    Given given_;
    sheet::CalcResult& result_;
};

/// "air-excess" and "_k": "air_excess_k".
std::string json_key(std::string_view name, std::string_view suffix);

/// Adds a result: key and label from one name, "stored" shown as energy gives "stored_j".
void put_result(sheet::CalcResult& result, std::string_view name, std::string_view label, Show show, double value);
template <Dim D>
void put_result(sheet::CalcResult& result, std::string_view name, std::string_view label, Show show, Quantity<D> q) {
    put_result(result, name, label, show, q.si());
}
void put_result(sheet::CalcResult& result, std::string_view name, std::string_view label, Temperature value);
void put_text(sheet::CalcResult& result, std::string_view key, std::string_view label, std::string_view text);

}  // namespace patchwright::cli
