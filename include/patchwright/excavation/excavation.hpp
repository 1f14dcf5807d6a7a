#pragma once
#include <optional>
#include <string>
#include <vector>

#include "patchwright/excavation/protection.hpp"
#include "patchwright/excavation/spoil.hpp"
#include "patchwright/excavation/trench.hpp"
#include "patchwright/job/dig_rates.hpp"
#include "patchwright/job/job.hpp"

/// Take-off of digging up and replacing a length of drain. Quantities only; money is the price module's.
namespace patchwright::excavation {

/// One place that would be dug, with everything that has to be moved, bought and put back.
struct Pit {
    std::string run;
    std::vector<std::string> defects;
    Length from{}, to{};  ///< along the run
    Trench trench;
    Protection protection = Protection::none;
    Volume dug_bank{};                   ///< soil, over-break included, without the surface build-up
    Volume spoil_loose{}, spoil_bank{};  ///< to cart away
    Volume reused_bank{}, backfill{};    ///< backfill: compacted, above the pipe zone
    Volume imported{};                   ///< part of the backfill that is bought
    Volume granular{};                   ///< bed and surround, net of the pipe, without waste
    Volume surface_volume{};             ///< build-up taken out, cut-back included
    Mass soil_carted{}, surface_carted{}, carted{};
    Area surface_broken{};      ///< opening at ground level
    Area surface_reinstated{};  ///< with the cut-back: what is sawn out and put back
    Length pipe_replaced{};
    Length pipe_diameter{};  ///< outside
    int couplings = 2;
    bool below_water = false, asbestos = false, by_hand = false, deep = false;
    bool traffic = false;  ///< vehicles pass over the run
    job::Surface surface = job::Surface::concrete;
    job::Soil soil = job::Soil::c;
    double days_low = 0, days_likely = 0, days_high = 0;                          ///< of the digging team
    double surface_days_low = 0, surface_days_likely = 0, surface_days_high = 0;  ///< of the surface team's own visit
    std::vector<std::string> notes;
};

/// What one hole has to lay bare: one defect, or several that are dug in one trench.
struct Place {
    const job::Run* run = nullptr;
    std::vector<const job::Defect*> defects;
    Length from{}, to{};            ///< damaged length along the run
    std::optional<Length> depth{};  ///< ground to invert, instead of the run's: for "what if"
};

/// The whole take-off of one hole.
///
/// Pit along the run: damaged length with `sound_pipe_each_side`, at least `shortest_pit`, kept inside the run.
/// Trench depth: invert depth, pipe wall and bed. Width: the rule chosen in the yard, sheeting added, up to a bucket.
/// Soil = prismoid less the surface build-up, with over-break. Pipe zone = bed + OD + surround.
/// Days: the yard's output table by depth and kind of surface, longer trenches by metres a day, battering by the extra
/// volume, hand digging and services by their factors. Days never fall with depth.
/// Source: widths EN 1610 or ASTM D2321; the rest common practice, docs/methods/excavation.md.
/// Throws RangeError on a depth or span that makes no hole, InputError when the yard lacks the soil, the surface or
/// the output table.
Pit pit(const Place& place, const job::Dig& dig, const job::DigRates& rates, Protection protection, Working& working);
/// The figures of `pit` without its words (run, defects, notes): for the many pits that are priced and dropped.
Pit pit_figures(const Place& place, const job::Dig& dig, const job::DigRates& rates, Protection protection,
                Working& working);
/// Puts the words on figures made by `pit_figures` for the same place.
void describe(Pit& p, const Place& place, const job::Dig& dig, const job::DigRates& rates);

/// Where the pit of a place begins and ends along its run.
struct PitSpan {
    Length from{}, to{};
};
PitSpan pit_span(const Place& place, const job::DigRates& rates);
/// One place that holds both: from the first to the last damaged point. Both on the same run.
Place joined(const Place& a, const Place& b);

/// A pit per defect; with `merge`, pits that would meet become one trench.
std::vector<Pit> take_off(const job::Run& run, const std::vector<const job::Defect*>& defects, const job::Dig& dig,
                          const job::DigRates& rates, bool merge, Protection protection, Working& working);

}  // namespace patchwright::excavation
