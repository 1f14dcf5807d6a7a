#pragma once
#include <cmath>
#include <string>
#include <string_view>

#include <nlohmann/json.hpp>

#include "patchwright/plan/figures.hpp"
#include "patchwright/units/format.hpp"

namespace patchwright::sheet {

using Json = nlohmann::ordered_json;

/// Numbers in JSON carry no more digits than mean something: rounding to 1e-6 keeps 0.65 from being 0.6500000000000001.
inline double tidy(double value) { return std::round(value * 1e6) / 1e6; }

/// A JSON object whose figures also stand in "shown", as the sheets print them.
class Part {
public:
    explicit Part(UnitSystem units) : units_{units} {}
    /// `key` ends in the unit that `json_value(show, ...)` gives.
    void figure(const std::string& key, Show show, double si) {
        json[key] = tidy(json_value(show, si));
        shown_[key] = format(show, si, units_);
    }
    template <Dim D>
    void figure(const std::string& key, Show show, Quantity<D> value) {
        figure(key, show, value.si());
    }
    /// The number as it is; its text to the side that the sheets round it to.
    void figure(const std::string& key, Show show, plan::Rounding rounding, double si) {
        json[key] = tidy(json_value(show, si));
        shown_[key] = plan::shown(show, rounding, si, units_);
    }
    void latest(const std::string& key, Duration time) { figure(key, Show::minutes, plan::Rounding::down, time.si()); }
    void earliest(const std::string& key, Duration time) { figure(key, Show::span, plan::Rounding::up, time.si()); }
    void figure(const std::string& key, Temperature value) { figure(key, Show::temperature, value.in_kelvin()); }
    void money(const std::string& key, Money value) {
        json[key] = decimal_text(value);
        shown_[key] = format(value);
    }
    Json done() && {
        if (!shown_.empty()) json["shown"] = std::move(shown_);
        return std::move(json);
    }

    Json json = Json::object();

private:
    Json shown_ = Json::object();
    UnitSystem units_;
};

}  // namespace patchwright::sheet
