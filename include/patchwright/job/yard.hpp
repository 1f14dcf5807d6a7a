#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "patchwright/job/dig_rates.hpp"
#include "patchwright/job/durations.hpp"
#include "patchwright/job/felt.hpp"
#include "patchwright/job/job.hpp"
#include "patchwright/job/limits.hpp"
#include "patchwright/job/packers.hpp"
#include "patchwright/job/place.hpp"
#include "patchwright/job/rates.hpp"
#include "patchwright/job/resin.hpp"
#include "patchwright/job/risks.hpp"
#include "patchwright/job/terms.hpp"

/// The yard file as typed data: what stands in the firm's yard, its limits and its rates.
namespace patchwright::job {

struct Yard {
    std::string name;
    bool demonstration = false;  ///< prices are ours, not the firm's: every sheet with money says so
    std::vector<Packer> packers;
    std::vector<Chassis> chassis;
    std::vector<Bladder> bladders;
    std::vector<Felt> felts;
    std::vector<Resin> resins;
    std::vector<Heater> heaters;
    Conditioning conditioning;
    Limits limits;
    Durations durations;
    Rates rates;
    DigRates dig_rates;
    std::vector<Risk> risks;
    DigMarket dig_market;
    PriceList price_list;
    Firm firm;
    Drive drive;
    std::vector<Assumption> assumptions;

    const Resin* find_resin(std::string_view id) const;
};

}  // namespace patchwright::job
