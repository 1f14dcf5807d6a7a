// The city's survey as a table of comma-separated values and as JSON.
#include <fmt/format.h>

#include "city_words.hpp"
#include "csv.hpp"
#include "json_part.hpp"
#include "patchwright/units/format.hpp"

namespace patchwright::sheet {

using city::Fate;
using city::Summary;
using city::WorstBy;

std::string_view fate_words(Fate fate) {
    switch (fate) {
        case Fate::unread:
            return "could not be read";
        case Fate::look_again:
            return "a place to look at again";
        case Fate::dig:
            return "a place to dig";
        case Fate::too_long:
            return "a patch that no day or resin holds";
        case Fate::patch:
            return "every place patched";
        case Fate::sound:
            break;
    }
    return "nothing to mend";
}

std::string_view fate_key(Fate fate) {
    switch (fate) {
        case Fate::unread:
            return "unread";
        case Fate::look_again:
            return "look again";
        case Fate::dig:
            return "dig";
        case Fate::too_long:
            return "patch, if";
        case Fate::patch:
            return "patch";
        case Fate::sound:
            break;
    }
    return "sound";
}

std::string_view worst_words(WorstBy by) {
    switch (by) {
        case WorstBy::dig:
            return "places to dig";
        case WorstBy::look_again:
            return "places to look at again";
        case WorstBy::price:
            return "price";
        case WorstBy::days:
            return "days";
        case WorstBy::late:
            break;
    }
    return "chance of being late";
}

WorstFigure worst_figure(WorstBy by, const city::Planned& plan) {
    const auto counted = [](int count, const char* one, const char* more) {
        return WorstFigure{fmt::format("{}", count), count == 1 ? one : more};
    };
    switch (by) {
        case WorstBy::dig:
            return counted(plan.at(survey::Verdict::dig), "place", "places");
        case WorstBy::look_again:
            return counted(plan.at(survey::Verdict::look_again), "place", "places");
        case WorstBy::price:
            return {decimal_text(city::price_of(plan)), std::string{plan.currency.code()}};
        case WorstBy::days:
            return counted(plan.days, "day", "days");
        case WorstBy::late:
            break;
    }
    return {fmt::format("{:.4f}", plan.late), ""};
}

namespace {

/// What the money of a letter is called, in the order of the table.
constexpr const char* amount_keys[] = {"floor", "own", "offered", "ceiling"};
std::array<Money, 4> amounts(const city::Total& total) {
    return {total.floor, total.own, total.offered, total.ceiling};
}

Json money_json(const Summary& city) {
    Json list = Json::array();
    for (const auto& [currency, letters] : city.money) {
        for (std::size_t l = 0; l < city::letters; ++l) {
            if (letters[l].jobs == 0) continue;
            Json row{{"currency", currency},
                     {"letter", city::word(static_cast<city::Letter>(l))},
                     {"jobs", letters[l].jobs}};
            for (std::size_t a = 0; a < 4; ++a) row[amount_keys[a]] = decimal_text(amounts(letters[l])[a]);
            list.push_back(std::move(row));
        }
    }
    return list;
}

Json worst_json(const Summary& city) {
    Json list = Json::array();
    for (std::size_t by = 0; by < city::ways_worst; ++by) {
        for (const auto& plan : city.worst[by]) {
            const auto figure = worst_figure(static_cast<WorstBy>(by), plan);
            list.push_back({{"by", worst_words(static_cast<WorstBy>(by))},
                            {"reference", plan.reference},
                            {"title", plan.title},
                            {"value", figure.value},
                            {"unit", figure.unit}});
        }
    }
    return list;
}

}  // namespace

std::string city_csv(const Summary& city) {
    std::string csv = "part,what,reference,value,unit\n";
    const auto row = [&](std::string_view part, std::string_view what, std::string_view reference,
                         const std::string& value, std::string_view unit) {
        csv += fmt::format("{},{},{},{},{}\n", part, csv_text(what), csv_text(reference), value, unit);
    };
    const auto count = [&](std::string_view part, std::string_view what, std::int64_t value, std::string_view unit) {
        row(part, what, "", fmt::format("{}", value), unit);
    };
    count("all", "jobs", city.jobs, "jobs");
    count("all", "patches", city.patches, "patches");
    count("all", "patches that no day or resin holds", city.too_long, "patches");
    count("all", "days", city.days, "days");
    row("all", "expected late", "", fmt::format("{:.2f}", city.late), "jobs");
    row("all", "expected soft", "", fmt::format("{:.2f}", city.soft), "jobs");
    count("all", "references that stand again", city.repeated, "plans");
    for (std::size_t f = 0; f < city::fates; ++f)
        count("jobs", fate_key(static_cast<Fate>(f)), city.by_fate[f], "jobs");
    for (std::size_t r = 0; r < city::verdicts; ++r)
        count("places", survey::word(static_cast<survey::Verdict>(r)), city.by_verdict[r], "places");
    for (const auto& [days, jobs] : city.by_days) count("days", fmt::format("{}", days), jobs, "jobs");
    for (const auto& [currency, letters] : city.money) {
        for (std::size_t l = 0; l < city::letters; ++l) {
            if (letters[l].jobs == 0) continue;
            const auto letter = std::string{city::word(static_cast<city::Letter>(l))};
            count(letter, "jobs", letters[l].jobs, "jobs");
            for (std::size_t a = 0; a < 4; ++a)
                row(letter, amount_keys[a], "", decimal_text(amounts(letters[l])[a]), currency);
        }
    }
    for (std::size_t by = 0; by < city::ways_worst; ++by) {
        for (const auto& plan : city.worst[by]) {
            const auto figure = worst_figure(static_cast<WorstBy>(by), plan);
            row("worst", worst_words(static_cast<WorstBy>(by)), plan.reference, figure.value, figure.unit);
        }
    }
    for (const auto& line : city.unread) {
        std::string what = line.error;
        for (char& letter : what)
            if (letter == '\n') letter = ';';
        row("unread", what, "", fmt::format("{}", line.line), "line");
    }
    return csv;
}

std::string city_json(const Summary& city) {
    Json json = Json::object();
    json["patchwright_city"] = 1;
    json["yards"] = city.yards;
    json["demonstration"] = city.demonstration;
    json["jobs"] = city.jobs;
    json["patches"] = city.patches;
    json["too_long"] = city.too_long;
    json["days"] = city.days;
    json["expected_late"] = tidy(city.late);
    json["expected_soft"] = tidy(city.soft);
    json["by_fate"] = Json::object();
    for (std::size_t f = 0; f < city::fates; ++f)
        json["by_fate"][std::string{fate_key(static_cast<Fate>(f))}] = city.by_fate[f];
    json["places"] = Json::object();
    for (std::size_t r = 0; r < city::verdicts; ++r)
        json["places"][std::string{survey::word(static_cast<survey::Verdict>(r))}] = city.by_verdict[r];
    json["by_days"] = Json::array();
    for (const auto& [days, jobs] : city.by_days) json["by_days"].push_back({{"days", days}, {"jobs", jobs}});
    json["money"] = money_json(city);
    json["worst"] = worst_json(city);
    json["unread"] = Json::array();
    for (const auto& line : city.unread) json["unread"].push_back({{"line", line.line}, {"error", line.error}});
    json["repeated"] = city.repeated;
    return json.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace patchwright::sheet
