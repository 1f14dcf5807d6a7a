#include "patchwright/week/kept.hpp"

#include <algorithm>

#include <fmt/format.h>
#include <fmt/ranges.h>
#include <nlohmann/json.hpp>

#include "patchwright/units/error.hpp"

namespace patchwright::week {
namespace {

using Json = nlohmann::json;

class Reader {
public:
    explicit Reader(const std::string& file) : file_{file} {}

    Kept read(std::string_view text) {
        Json json;
        try {
            json = Json::parse(text);
        } catch (const Json::parse_error& error) {
            throw InputError(fmt::format("{}: no JSON: {}", file_, error.what()));
        }
        if (!json.is_object() || !json.contains("patchwright_week") || json["patchwright_week"] != 1)
            throw InputError(
                fmt::format("{}: no week as \"patchwright week -f json\" writes it: \"patchwright_week\": 1 "
                            "is not there",
                            file_));
        Kept kept;
        for (const char* key : {"earlier", "days"}) {
            if (key == std::string_view{"earlier"} && !json.contains(key)) continue;
            if (const Json* days = list(json, key, "the file"))
                for (std::size_t d = 0; d < days->size(); ++d) day((*days)[d], fmt::format("{}[{}]", key, d), kept);
        }
        if (!faults_.empty()) throw InputError(fmt::format("{}", fmt::join(faults_, "\n")));
        return kept;
    }

private:
    void fault(const std::string& place, const std::string& message) {
        faults_.push_back(fmt::format("{}: {}: {}", file_, place, message));
    }
    const Json* list(const Json& object, const char* key, const std::string& place) {
        const auto found = object.is_object() ? object.find(key) : object.end();
        if (object.is_object() && found != object.end() && found->is_array()) return &*found;
        fault(place, fmt::format("\"{}\" must be a list", key));
        return nullptr;
    }
    std::string text(const Json& object, const char* key, const std::string& place) {
        const auto found = object.find(key);
        if (found != object.end() && found->is_string()) return found->get<std::string>();
        fault(place, fmt::format("\"{}\" must be a text", key));
        return {};
    }
    int number(const Json& object, const char* key, int least, int otherwise, bool needed, const std::string& place) {
        const auto found = object.find(key);
        if (found == object.end() && !needed) return otherwise;
        constexpr int most = 1000;
        if (found != object.end() && found->is_number_integer() && *found >= least && *found <= most)
            return found->get<int>();
        fault(place, fmt::format("\"{}\" must be a whole number from {} to {}", key, least, most));
        return otherwise;
    }
    template <class T>
    T parsed(const Json& object, const char* key, Parsed<T> (*parse)(std::string_view), const std::string& place) {
        const auto before = faults_.size();
        const std::string words = text(object, key, place);
        if (faults_.size() != before) return {};
        const auto value = parse(words);
        if (value) return *value;
        fault(place, fmt::format("\"{}\": {}", key, value.error().message));
        return {};
    }

    void day(const Json& json, const std::string& place, Kept& kept) {
        if (!json.is_object()) return fault(place, "must be an object");
        KeptStop stop;
        stop.date = parsed<Date>(json, "date", parse_date, place);
        stop.crew = number(json, "crew", 1, 1, true, place);
        const Json* stops = list(json, "stops", place);
        for (std::size_t s = 0; stops != nullptr && s < stops->size(); ++s)
            read_stop((*stops)[s], fmt::format("{}.stops[{}]", place, s), stop, kept);
    }

    void read_stop(const Json& json, const std::string& place, KeptStop stop, Kept& kept) {
        if (!json.is_object()) return fault(place, "must be an object");
        stop.job = text(json, "job", place);
        stop.part = number(json, "part", 1, 1, false, place) - 1;
        stop.arrive = parsed<ClockTime>(json, "arrive", parse_clock_time, place).minutes;
        stop.leave = parsed<ClockTime>(json, "leave", parse_clock_time, place).minutes;
        stop.revision = number(json, "revision", 0, 0, false, place);
        if (const auto promised = json.find("promised"); promised != json.end()) {
            if (promised->is_boolean())
                stop.promised = promised->get<bool>();
            else
                fault(place, "\"promised\" must be true or false");
        }
        if (kept.find(stop.job, stop.part) != nullptr)
            fault(place, fmt::format("day {} of {} stands in the file already", stop.part + 1, stop.job));
        kept.stops.push_back(std::move(stop));
    }

    const std::string& file_;
    std::vector<std::string> faults_;
};

}  // namespace

const KeptStop* Kept::find(std::string_view job, int part) const {
    const auto stop =
        std::find_if(stops.begin(), stops.end(), [&](const KeptStop& s) { return s.job == job && s.part == part; });
    return stop == stops.end() ? nullptr : &*stop;
}

Kept read_kept(std::string_view text, const std::string& file) { return Reader{file}.read(text); }

}  // namespace patchwright::week
