#pragma once
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "patchwright/io/diagnostic.hpp"
#include "patchwright/job/place.hpp"
#include "patchwright/schedule/day.hpp"

/// How long it takes from place to place: from a table, from coordinates, or by way of the yard. Never from a network.
namespace patchwright::week {

/// Length of the great circle between two places on a sphere of the mean Earth radius, 6371.0088 km.
///
/// hav(d/R) = hav(dphi) + cos(phi1) cos(phi2) hav(dlambda), with hav(x) = sin^2(x/2).
///
/// Source: R. W. Sinnott, Virtues of the Haversine, Sky and Telescope 68 (2), 1984, p. 159; radius: mean radius R1 of
/// GRS 80, (2 a + b) / 3, H. Moritz, Geodetic Reference System 1980, Journal of Geodesy 74, 2000, table of constants.
/// The Earth is no sphere: within some 0.5 % of the ellipsoid's length.
Length great_circle(const job::Coordinates& a, const job::Coordinates& b);

/// Minutes of a drive by its straight line, upwards to whole ones.
schedule::Minute drive_minutes(Length straight, const job::Drive& drive);

/// Name of the yard in a table of drives.
inline constexpr std::string_view yard_name = "yard";

/// Minutes between named places, jobs by their reference. One row holds for both ways, unless the way back has its own.
class DriveTable {
public:
    void set(std::string from, std::string to, schedule::Minute minutes);
    std::optional<schedule::Minute> between(const std::string& from, const std::string& to) const;
    /// Every name in it, once, in order.
    std::vector<std::string> names() const;

private:
    std::map<std::pair<std::string, std::string>, schedule::Minute> rows_;
};

/// What was read, and every fault with its line and column.
struct DriveFile {
    DriveTable table;
    std::vector<io::Diagnostic> diagnostics;
};
/// A line a drive: place,place,minutes. A first line "from,to,minutes" is passed over, as are empty lines and lines
/// that begin with #. A name with a comma stands in double quotes. Never throws.
DriveFile read_drives(std::string_view text, std::string_view file);

}  // namespace patchwright::week
