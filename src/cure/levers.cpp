// What a crew may do to a cure besides choosing its resin: warm the bladder, cool or warm the resin before mixing.
#include <fmt/core.h>

#include <algorithm>

#include "knowledge.hpp"

namespace patchwright::cure {
namespace {

/// Continuous use under pressure, with room to the material's own limit; from memory.
Temperature bladder_limit(job::BladderMaterial bladder) {
    switch (bladder) {
        case job::BladderMaterial::silicone:
            return Temperature::celsius(120.0);
        case job::BladderMaterial::rubber:
            return Temperature::celsius(70.0);
        case job::BladderMaterial::pvc_hose:
            return Temperature::celsius(45.0);
    }
    return Temperature::celsius(45.0);
}

}  // namespace

Heating heating_of(const job::Heater& heater, Temperature pipe, Duration on) {
    Heating heating;
    heating.medium = heater.medium == job::HeatMedium::water ? Heating::Medium::water : Heating::Medium::air;
    if (on + heater.warm_up > Duration{}) heating.points.push_back({Duration{}, pipe, true});
    if (on > Duration{} && heater.warm_up > Duration{}) heating.points.push_back({on, pipe, true});
    heating.points.push_back({on + heater.warm_up, heater.temperature});
    return heating;
}

std::optional<std::string> why_not_heated(const job::Heater& heater, job::BladderMaterial bladder, job::Material host,
                                          const job::Resin& resin) {
    if (const Temperature most = bladder_limit(bladder); heater.temperature > most)
        return fmt::format("{} gives {}, a {} bladder stands {}", heater.id, detail::both(heater.temperature),
                           job::word(bladder), detail::both(most));
    if (const auto most = detail::host_limit(host); most && heater.temperature > *most)
        return fmt::format("{} gives {}, a pipe of {} softens at {}", heater.id, detail::both(heater.temperature),
                           job::word(host), detail::both(*most));
    if (resin.highest_safe > Temperature::celsius(0.0) && heater.temperature > resin.highest_safe)
        return fmt::format("{} gives {}, \"{}\" may not be warmer than {}", heater.id, detail::both(heater.temperature),
                           resin.id, detail::both(resin.highest_safe));
    return std::nullopt;
}

std::vector<Temperature> mix_temperatures(const job::Conditioning& conditioning, const job::Resin& resin,
                                          Temperature as_it_is) {
    std::vector<Temperature> list;
    if (as_it_is >= resin.application_min && as_it_is <= resin.application_max) list.push_back(as_it_is);
    if (conditioning.possible()) {
        const Temperature low = std::max(conditioning.from, resin.application_min);
        const Temperature high = std::min(conditioning.to, resin.application_max);
        constexpr TemperatureDifference step = 2.0 * unit::K;
        for (int i = 0; low + static_cast<double>(i) * step < high; ++i)
            list.push_back(low + static_cast<double>(i) * step);
        if (low <= high) list.push_back(high);
    }
    std::sort(list.begin(), list.end());
    list.erase(std::unique(list.begin(), list.end()), list.end());
    return list;
}

std::vector<job::ResinFault> resin_faults(const job::Resin& resin) { return detail::faults_of(resin); }

}  // namespace patchwright::cure
