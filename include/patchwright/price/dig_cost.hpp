#pragma once
#include <vector>

#include "patchwright/excavation/excavation.hpp"
#include "patchwright/job/job.hpp"
#include "patchwright/price/build_up.hpp"

namespace patchwright::job {
struct Yard;
}  // namespace patchwright::job

/// What digging costs: the take-off of the excavation module with the yard's rates.
namespace patchwright::price {

/// The holes of a dig and what it takes to get them dug.
struct DigWorks {
    std::vector<excavation::Pit> pits;
    int places = 0;                              ///< that were to be dug
    double team_days = 0.0, surface_days = 0.0;  ///< likely
    double mean_days = 0.0;                      ///< of the team: mean of its spread, access included
    int visits = 0;                              ///< of the digging team and the surface team, by mean days
    Area surface_broken{};                       ///< with the cut-back
    Mass carted{};
};

/// The cheapest holes for these places: for each run every way of taking neighbours together (a pit per place to one
/// trench; places whose pits would meet are always one), for each hole the cheapest protection that the rules allow.
/// Cheapest in the mean, that is with the spread of days, ground and access; exact over those choices (up to twelve
/// neighbours in a trench), minimum hire, visits and overhead by the day included; what costs the same keeps the
/// earlier choice. Deeper is never cheaper, as long as no row of the yard's spreads has a mean below its likely value.
/// Errors as `excavation::pit`.
DigWorks cheapest_dig(const std::vector<excavation::Place>& places, const job::Dig& dig, const job::Yard& yard,
                      Working& working);

/// Mean cost of the same choice, direct and spread, in cents; for many what-ifs, without words.
struct DigMean {
    double pits = 0.0;  ///< what the holes take by themselves
    double once = 0.0;  ///< permit, trace, hire with its minimum, the road
    double days = 0.0;  ///< of the team, mean
    double cents() const { return pits + once; }
};
DigMean cheapest_dig_mean(const std::vector<excavation::Place>& places, const job::Dig& dig, const job::Yard& yard);
/// What a dig of that many mean team days takes once, in cents.
double once_cents(double mean_days, const job::Dig& dig, const job::Yard& yard);

/// Direct cost line by line: team and surface-team hours, plant by the day with minimum hire, digging, spoil,
/// granular, pipe, surface, protection, pumping, permit, trace of services, surcharges, mobilisation by the visit.
/// The unit rates for digging and filling hold fuel, wear and tools only: labour is in the team's days.
std::vector<Line> dig_lines(const DigWorks& works, const job::Dig& dig, const job::Yard& yard, Working& working);

/// Digging one place by itself, in the mean, no overhead or profit: what a patch that fails for good costs besides.
Money dig_instead(const excavation::Place& place, const job::Dig& dig, const job::Yard& yard);

/// How the amounts of a dig hang on what is uncertain: in cents.
struct DigShape {
    struct PitDays {
        double per_day = 0.0;      ///< team, plant, pump, box for one day of this pit
        job::Spread<double> days;  ///< before access
    };
    std::vector<PitDays> pits;
    double by_surface_team = 0.0;  ///< all pits, with `surface_crew_days` over its likely value
    double by_volume = 0.0;        ///< digging, filling, carting
    double by_material = 0.0;      ///< surface build-up
    double fixed = 0.0;            ///< the rest
};
DigShape dig_shape(const DigWorks& works, const job::Dig& dig, const job::Yard& yard);

}  // namespace patchwright::price
