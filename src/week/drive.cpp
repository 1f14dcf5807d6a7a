#include "patchwright/week/drive.hpp"

#include <algorithm>
#include <cmath>

namespace patchwright::week {

Length great_circle(const job::Coordinates& a, const job::Coordinates& b) {
    constexpr Length radius = 6371.0088 * unit::km;
    const auto haversine = [](Angle angle) {
        const double half = sin(angle / 2.0);
        return half * half;
    };
    const double hav =
        haversine(b.latitude - a.latitude) + cos(a.latitude) * cos(b.latitude) * haversine(b.longitude - a.longitude);
    // Rounding may carry opposite ends of the globe past 1.
    return 2.0 * std::asin(std::sqrt(std::clamp(hav, 0.0, 1.0))) * radius;
}

schedule::Minute drive_minutes(Length straight, const job::Drive& drive) {
    const double hours = drive.detour * (straight / drive.in_an_hour);
    return static_cast<schedule::Minute>(std::ceil(60.0 * hours - 1e-9));
}

void DriveTable::set(std::string from, std::string to, schedule::Minute minutes) {
    rows_[{std::move(from), std::move(to)}] = minutes;
}

std::optional<schedule::Minute> DriveTable::between(const std::string& from, const std::string& to) const {
    auto row = rows_.find({from, to});
    if (row == rows_.end()) row = rows_.find({to, from});
    if (row == rows_.end()) return std::nullopt;
    return row->second;
}

std::vector<std::string> DriveTable::names() const {
    std::vector<std::string> list;
    for (const auto& [places, minutes] : rows_) {
        list.push_back(places.first);
        list.push_back(places.second);
    }
    std::sort(list.begin(), list.end());
    list.erase(std::unique(list.begin(), list.end()), list.end());
    return list;
}

}  // namespace patchwright::week
