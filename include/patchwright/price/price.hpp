#pragma once
#include <cstdint>
#include <string>
#include <vector>

#include "patchwright/excavation/excavation.hpp"
#include "patchwright/job/job.hpp"
#include "patchwright/price/bracket.hpp"
#include "patchwright/price/build_up.hpp"
#include "patchwright/price/dig_cost.hpp"
#include "patchwright/price/lines.hpp"
#include "patchwright/price/marginal.hpp"
#include "patchwright/price/risk.hpp"
#include "patchwright/working/working.hpp"

namespace patchwright::job {
struct Yard;
}  // namespace patchwright::job

/// What it costs us, what digging costs, and the number in between.
namespace patchwright::price {

/// What a method does to the ground and the days.
struct Outcome {
    Area surface_broken{};  ///< with the cut-back
    Mass carted{};
    double days = 0.0;  ///< on site, likely; the surface team's own visit included
    Length new_pipe{};
};

struct Offer {
    BuildUp patching;         ///< the patches by themselves, at our rates; without quantiles
    BuildUp unavoidable_dig;  ///< the digs that cannot be avoided by themselves, at our rates; without quantiles
    BuildUp patch;            ///< both together: what we would do
    BuildUp dig;              ///< what others would do: the same places dug, at the market's rates
    DigWorks dig_works;       ///< every place dug
    DigWorks unavoidable_works;
    std::vector<excavation::Pit> pits;  ///< of `dig_works`
    Outcome patch_outcome, dig_outcome;
    std::vector<std::string> dig_also_mends;  ///< what digging would put right that a patch leaves, a sentence each
    Bracket bracket;
    Offered offered;     ///< what the offer says
    Money saving{};      ///< of the customer against digging: ceiling less what is offered for the work
    ListedPrice listed;  ///< the patches by the firm's price list
    RiskRun risk;
    bool estimate_only = false;          ///< certainty below survey
    double band_low = 0, band_high = 0;  ///< of the certainty class, as shares of the price: -0.10, +0.15
    Money band_from{}, band_to{};        ///< the offered price at the ends of the band
    Money survey_price{};                ///< what the survey costs that would turn the estimate into a quote
    std::vector<std::string> warnings;
};

struct Input {
    const job::Job* job = nullptr;
    const job::Yard* yard = nullptr;
    PatchWorks works;
    std::vector<ListedSleeve> sleeves;                  ///< for the price list
    std::vector<excavation::Place> dig_places;          ///< defects that patches cover
    std::vector<excavation::Place> unavoidable_places;  ///< verdict dig
    std::uint64_t seed = 1;
    int trials = 10000;  ///< 0: none, and no quantiles
    int threads = 1;     ///< same numbers with any
};

/// The whole offer.
///
/// `direct` holds likely values; `risk` = expected cost of the discrete risks, each once, plus the allowance for
/// spread: mean less likely value of the three-point rates, durations and scope, never below zero. So direct + risk is
/// the mean of the trials.
/// Own price, floor and the digs that cannot be avoided are at our rates, the dig side at the market's.
/// Certainty call, photo, survey: bands -30/+50 %, -20/+30 %, -10/+15 % of the price; what exceeds the survey's band
/// enters the trials as a three-point factor on both methods.
/// Source: common practice, no source (bands and layers); docs/methods/price.md, risk.md.
/// Throws InputError without job or yard, and what the modules below throw.
[[nodiscard]] Offer make_offer(const Input& input, Working& working);

/// Only the patch side, quickly: for comparing whole layouts. Includes the digs that cannot be avoided.
BuildUp patch_build_up(const Input& input, Working& working);

}  // namespace patchwright::price
