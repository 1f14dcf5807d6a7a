#pragma once
#include <functional>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <tuple>
#include <utility>
#include <vector>

#include "context.hpp"
#include "patchwright/layout/layout.hpp"

namespace patchwright::plan {

/// What a sleeve is wet with, and how its resin is brought to its work.
struct ResinChoice {
    int resin = -1;   ///< place in Yard::resins; -1: the cheapest that keeps the promises, not heated
    int heater = -1;  ///< place in Yard::heaters; -1: not heated
    auto operator<=>(const ResinChoice&) const = default;
};

/// Everything that binds a sleeve's design, apart from where it lies.
struct SleeveRequest {
    layout::Centimetre length = 0;
    int option = 0;                ///< place in PlanContext::packers
    bool wall_missing = false;     ///< designed as fully deteriorated
    double ovality_percent = 0.0;  ///< of the defects inside; the run's counts when it is greater
    bool host_cracked = false;     ///< the packer lies on cracked or holed wall: the yard's host limit counts
    ResinChoice choice;
    auto operator<=>(const SleeveRequest&) const = default;
};

/// Designs the sleeves of one run. Each distinct request is designed once; asking again costs a look-up,
/// so the optimiser's price and the sheet's patch come from one object.
class Designer {
public:
    Designer(PlanContext& context, int run);

    /// nullptr when no design holds; `obstacles` then says what stood in the way.
    std::shared_ptr<const Patch> design(const SleeveRequest& request);
    /// Everything that a sleeve of this run may be wet with, in the yard's order.
    std::vector<ResinChoice> choices() const;
    /// What stood in the way of the designs that did not hold, each reason once: those of packers whose
    /// pressure held first, the commonest of them first.
    std::vector<std::string> obstacles() const;

    /// Thickest wall that this run's sleeves need with any of its resins, for the way past bends.
    Length felt_allowance() const { return felt_allowance_; }
    const job::Run& run() const { return run_; }

private:
    struct Wall {
        liner::ThicknessInput input;
        liner::ThicknessDesign design;
        std::vector<liner::FeltChoice> felts;
        Working working;
    };
    struct Made {
        std::shared_ptr<const Patch> patch;
        std::string why_not;
        int got_to = 0;  ///< 0: too little pressure even warm, 1: once the air is cold, 2: the pressure held
    };
    using CureKey = std::tuple<int, double, double, double, int, int>;
    struct PouredOnce {
        Duration by{};
        Working working;
    };
    /// Wall missing, ovality in percent, place of the resin in the yard: every resin has its own modulus and strength.
    using WallKey = std::tuple<bool, double, int>;
    Wall make_wall(WallKey key) const;
    const Wall& wall_for(WallKey key);
    bool may_use(int resin) const;
    Made make(const SleeveRequest& request);
    /// What stands in the way; nothing: it holds. The words are made when no other way is found and they are asked for.
    using Why = std::function<std::string()>;
    Why lay(Patch& patch, const SleeveRequest& request, int resin, Working& cutting);
    std::optional<std::string> choose_resin(Patch& patch, const SleeveRequest& request);
    Why take(Patch& patch, const SleeveRequest& request, const ResinChoice& choice);
    void wet(Patch& patch, const ResinChoice& choice, Working& weighing);
    void heat(Patch& patch, int heater);
    void explain_heating(Patch& patch);
    Why cure(Patch& patch, Working& curing);
    Temperature as_it_comes() const;  ///< the resin's, where nothing is done about it
    bool condition(Patch& patch);
    static CureKey cure_key(const Patch& patch);
    const KnownCures::Cured& cured(const Patch& patch) const;
    void pour(Patch& patch, Working& working);
    Money dig_instead(Length length);
    Duration reference_cure(const Patch& patch);
    void price(Patch& patch, Working& pricing);

    PlanContext& context_;
    const job::Run& run_;
    int run_index_;
    std::map<WallKey, Wall> walls_;
    Length felt_allowance_{};
    std::map<SleeveRequest, Made> made_;
    std::map<std::pair<CureKey, double>, PouredOnce> pours_;  ///< by kilograms in the pot
    std::map<double, Money> digs_;                            ///< by length in metres
};

/// The case that a sleeve's cure is computed for: as it is, but for its mass, which decides its pour-by alone: up to
/// the next whole kilogram, on the safe side for the hands.
struct CureCase {
    cure::Sleeve sleeve;
    cure::Conditions conditions;
};
CureCase cure_case(const Patch& patch);

/// Hands-on time of the team for one patch, likely values, without cleaning and set-up of the run.
Duration hands_on(const job::Durations& durations, Length sleeve, bool to_build, std::size_t reopened);
/// Digging a length of a run instead of patching it. Where along the run does not matter to a dig.
Money dig_instead(const job::Job& job, const job::Yard& yard, int run, Length length);
/// Cleaning of a run: the routine for its length, and root cutting for the stretches that have roots.
struct CleaningTimes {
    Duration jetting{}, roots{};
    Duration total() const { return jetting + roots; }
};
CleaningTimes cleaning_times(const job::Durations& durations, const job::Run& run);

}  // namespace patchwright::plan
