#include <algorithm>
#include <array>
#include <cctype>

#include <fmt/format.h>

#include "patchwright/sheet/record.hpp"

/// The lines of a patch card (card.cpp), read as the keys of the record file that they stand for.
namespace patchwright::sheet {
namespace {

using job::PatchRecord;

/// The parts between commas, slashes and semicolons, without blanks round them.
std::vector<std::string> parts_of(std::string_view text) {
    std::vector<std::string> parts(1);
    for (const char c : text) {
        if (c == ',' || c == ';' || c == '/')
            parts.emplace_back();
        else
            parts.back() += c;
    }
    for (auto& part : parts) {
        part.erase(0, std::min(part.find_first_not_of(' '), part.size()));
        part.erase(part.find_last_not_of(' ') + 1);
    }
    return parts;
}

bool is_bare(std::string_view text) {
    return !text.empty() && std::all_of(text.begin(), text.end(), [](unsigned char c) {
        return std::isdigit(c) != 0 || c == '.' || c == '-' || c == '+';
    });
}

/// A quantity, if it is one. `unit` goes behind a bare number; none: such a number says nothing.
template <class T>
std::optional<T> read(Parsed<T> (*parse)(std::string_view), const std::string& text, std::string_view unit) {
    const auto parsed = parse(is_bare(text) && !unit.empty() ? fmt::format("{} {}", text, unit) : text);
    return parsed ? std::optional{*parsed} : std::nullopt;
}

/// Puts it in where nothing stands yet; false when the text could not be read.
template <class T>
bool put(std::optional<T>& place, const std::optional<T>& value) {
    if (value && !place) place = value;
    return value.has_value();
}

class CardReader {
public:
    CardReader(PatchRecord& patch, UnitSystem units) : p_{patch}, us_{units == UnitSystem::us} {}

    /// True when the line was read into the record.
    bool take(const std::string& label, const std::string& text) {
        if (const auto* place = time_of(label)) return put(p_.*(*place), read(parse_clock_time, text, ""));
        const auto parts = parts_of(text);
        if (label == "A weighed") return put(p_.part_a, mass(text));
        if (label == "B weighed") return put(p_.part_b, mass(text));
        if (label == "A, B weighed")
            return parts.size() == 2 && both(p_.part_a, mass(parts[0]), p_.part_b, mass(parts[1]));
        if (label == "A batch, expiry") return batch(p_.part_a_batch, p_.part_a_expiry, parts);
        if (label == "B batch, expiry") return batch(p_.part_b_batch, p_.part_b_expiry, parts);
        if (label == "Bench test held") return put(p_.bench_test.held, read(parse_duration, text, "min"));
        if (label == "Pipe, measured") return put(p_.pipe_temperature, temperature(text));
        if (label == "Resin, measured") return put(p_.resin_temperature, temperature(text));
        if (label == "Pipe, resin measured")
            return parts.size() == 2 &&
                   both(p_.pipe_temperature, temperature(parts[0]), p_.resin_temperature, temperature(parts[1]));
        if (label == "Pressure, start") return pressure(parts, p_.inflated_at);
        if (label == "Half way" || label == "End") return pressure(parts, p_.deflated_at);
        if (label == "Pressure start, half, end") return pressure(parts, p_.inflated_at);
        if (label.starts_with("Witness hard")) return witness(text);
        if (label == "Film no.") return film(text);
        return false;
    }

private:
    using Clock = std::optional<ClockTime> PatchRecord::*;
    static const Clock* time_of(std::string_view label) {
        static constexpr std::array<std::pair<std::string_view, Clock>, 5> rows{
            {{"Mixed, start timer, Actual", &PatchRecord::mixed_at},
             {"Poured, at the latest, Actual", &PatchRecord::poured_at},
             {"INFLATED, at the latest, Actual", &PatchRecord::inflated_at},
             {"Wrinkle check over, latest, Actual", &PatchRecord::creased_at},
             {"DEFLATE, not before, Actual", &PatchRecord::deflated_at}}};
        const auto row = std::find_if(rows.begin(), rows.end(), [&](const auto& r) { return r.first == label; });
        return row == rows.end() ? nullptr : &row->second;
    }

    // Pounds and ounces: a bare number could be either.
    std::optional<Mass> mass(const std::string& text) const { return read(parse_mass, text, us_ ? "" : "g"); }
    std::optional<Temperature> temperature(const std::string& text) const {
        return read(parse_temperature, text, us_ ? "F" : "C");
    }

    template <class T>
    static bool both(std::optional<T>& a, const std::optional<T>& first, std::optional<T>& b,
                     const std::optional<T>& second) {
        return first && second && put(a, first) && put(b, second);
    }

    static bool batch(std::string& number, std::optional<Date>& expiry, const std::vector<std::string>& parts) {
        const auto date = parts.size() == 2 ? read(parse_date, parts[1], "") : std::nullopt;
        if (!date || parts[0].empty()) return false;
        if (number.empty()) number = parts[0];
        return put(expiry, date);
    }

    /// The line says nothing of the clock: the moment that it is about, else that of mixing.
    bool pressure(const std::vector<std::string>& parts, const std::optional<ClockTime>& at) {
        std::vector<job::NotedPressure> noted;
        for (const auto& part : parts) {
            const auto value = read(parse_pressure, part, us_ ? "psi" : "bar");
            if (!value || *value < Pressure{}) return false;
            noted.push_back({at.value_or(p_.mixed_at.value_or(ClockTime{})), *value});
        }
        p_.pressures.insert(p_.pressures.end(), noted.begin(), noted.end());
        return true;
    }

    /// "yes 13:39", "y, 13:39", "no".
    bool witness(const std::string& text) {
        std::string said;
        for (const char c : text) said += static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
        const bool yes = said.starts_with("y"), no = said.starts_with("n");
        if (!yes && !no) return false;
        put(p_.witness.hard, std::optional{yes ? job::YesNo::yes : job::YesNo::no});
        if (const auto digit = said.find_first_of("0123456789"); digit != std::string::npos)
            put(p_.witness.at, read(parse_clock_time, said.substr(digit), ""));
        return true;
    }

    bool film(const std::string& text) {
        if (p_.film.empty()) p_.film = text;
        return true;
    }

    PatchRecord& p_;
    bool us_;
};

}  // namespace

job::Record with_card_notes(job::Record record, UnitSystem units) {
    for (auto& patch : record.patches) {
        CardReader card{patch, units};
        // Times first: the pressures go by them.
        std::stable_partition(patch.noted.begin(), patch.noted.end(),
                              [](const job::NotedText& note) { return note.label.ends_with(", Actual"); });
        std::erase_if(patch.noted, [&](const job::NotedText& note) { return card.take(note.label, note.text); });
    }
    return record;
}

}  // namespace patchwright::sheet
