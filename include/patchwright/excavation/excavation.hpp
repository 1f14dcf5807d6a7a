#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "patchwright/job/job.hpp"
#include "patchwright/job/yard.hpp"
#include "patchwright/units/quantity.hpp"
#include "patchwright/working/working.hpp"

/// Take-off of digging up and replacing a length of drain. Quantities only; money is the price module's.
namespace patchwright::excavation {

/// Least trench width: EN 1610:2015 tables 1 and 2, the larger; or ASTM D2321 section 6. Clear inside the sheeting.
Length least_width_en1610(Length outside_diameter, Length depth, Working& working);
Length least_width_d2321(Length outside_diameter, Working& working);
Length bucket_width(Length least, const std::vector<Length>& buckets);

/// Prismoid with all four sides battered at `slope` horizontal per vertical (0: vertical):
/// V = D [b L + z D (b + L) + 4/3 z^2 D^2].
struct Trench {
    Length width{}, length{}, depth{}, top_width{}, top_length{};
    Volume volume{};
    Area sheeted{}, top_area{};
};
Trench trench(Length width, Length length, Length depth, double slope, Working& working);

enum class Protection : std::uint8_t { none, battered, sheeted, box, engineer };
std::string_view word(Protection p);

/// One place that would be dug, with everything that has to be moved, bought and put back.
struct Pit {
    std::string run;
    std::vector<std::string> defects;
    Length from{}, to{};  ///< along the run
    Trench trench;
    Protection protection = Protection::none;
    Volume dug_bank{}, spoil_loose{}, spoil_bank{}, reused_bank{}, backfill{}, granular{};
    Mass carted{};
    Area surface_broken{}, surface_reinstated{};
    Length pipe_replaced{};
    int couplings = 2;
    bool below_water = false, asbestos = false, by_hand = false;
    job::Surface surface = job::Surface::concrete;
    double days_low = 0, days_likely = 0, days_high = 0;
    std::vector<std::string> notes;
};
struct Place {
    const job::Run* run = nullptr;
    std::vector<const job::Defect*> defects;
    Length from{}, to{};
};
/// A pit per defect, or one trench where pits would meet; the caller prices both ways by `merge`.
std::vector<Pit> take_off(const job::Run& run, const std::vector<const job::Defect*>& defects, const job::Dig& dig,
                          const job::DigRates& rates, bool merge, Protection protection, Working& working);
/// The protections that the rules allow at that depth in that soil, with what is allowed only under an engineer.
std::vector<Protection> allowed_protections(Length depth, job::Soil soil, const job::DigRates& rates);

}  // namespace patchwright::excavation
