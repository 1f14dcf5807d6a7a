#pragma once
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "patchwright/job/felt.hpp"
#include "patchwright/job/job.hpp"
#include "patchwright/job/rates.hpp"
#include "patchwright/units/money.hpp"
#include "patchwright/working/working.hpp"

/// A price in layers: direct cost, risk, overhead, profit, tax; each kept apart, adding up to the cent.
namespace patchwright::price {

enum class LineKind : std::uint8_t {
    labour,
    material,
    plant,
    wear,
    job_specific,
    mobilisation,
    disposal,
    surface,
    subcontract,
    risk
};
std::string_view word(LineKind k);
struct Line {
    LineKind kind = LineKind::labour;
    std::string words;  ///< "Felt 3 mm, 2 cuts"
    double quantity = 0.0;
    std::string unit;  ///< "h", "m2"
    Money rate{}, amount{};
};

/// What patching needs, gathered by the plan from the other modules.
struct PatchWorks {
    Duration crew_time{};  ///< of the whole team over all days, travel included, from the schedule
    /// Team time over its likely value, low and high, from the spread of the tasks; zero: the yard's labour spread.
    job::Spread<double> time_factor{};
    Duration overtime{};  ///< of it, past the finish: costs the premium on top
    int helper_days = 0;  ///< persons hired, by the day
    int days = 0, visits = 0, patches = 0;
    struct Material {
        std::string words;
        double quantity = 0;
        std::string unit;
        Money rate{}, amount{};
    };
    std::vector<Material> materials;  ///< felt by the cutting plan, kits, film: amounts exact, waste and packs in them
    std::vector<Material> wear;       ///< packers and bladders
    std::vector<Material> hired;      ///< heaters, by the day
    bool cutter_needed = false;
    int nights = 0;                ///< on which a packer is left to cure
    std::vector<Money> redo_cost;  ///< of each patch: marginal cost of doing it once more
    std::vector<Money> dig_cost;   ///< of each patch: digging that place instead
};

struct BuildUp {
    std::vector<Line> lines;       ///< add up to `direct`
    std::vector<Line> risk_lines;  ///< add up to `risk`: each discrete risk once, and the allowance for spread
    Money direct{}, risk{}, overhead{}, profit{}, net{};  ///< direct + risk + overhead + profit = net, to the cent
    Money tax{}, gross{};
    Money p10{}, p50{}, p80{}, p90{};  ///< of net, from the trials: the price had the cost been known
    double crew_days = 0.0;            ///< team days, for an overhead per crew-day
    Money cost() const { return direct + risk + overhead; }  ///< all but profit
};

/// Cost of one paid person-hour that produces: wage (1 + on-costs) / productive share. Rounded to the cent.
/// Common practice, no source. Throws RangeError unless 0 < productive <= 1 and the wage is not negative.
MoneyPer<Duration> hour_cost(const MoneyPer<Duration>& wage, Share on_costs, Share productive, Working& working);
/// Crew hour cost: wage (1 + on-costs) / productive share, times the crew.
MoneyPer<Duration> crew_hour(const job::Rates& rates, Working& working);
/// The same for a team of another size.
MoneyPer<Duration> team_hour(const job::Rates& rates, int team, Working& working);

/// Margin m/(1+m) left by a markup m, and markup g/(1-g) that leaves a margin g, to a millionth.
/// Throws RangeError on a markup of -100 % or less, a margin of 100 % or more.
Share margin_from_markup(Share markup);
Share markup_from_margin(Share margin);
/// Tax on a net amount, and the tax contained in a gross one: n t, g t / (1 + t).
Money tax_on(Money net, Share tax);
Money tax_within(Money gross, Share tax);

/// One rate of tax and the part of a net price that it falls on.
struct TaxPart {
    Share rate;
    Money on{}, tax{};
};
/// Tax on that net price by kind: the share that materials have in the direct cost at `tax_materials`, the rest at
/// `tax`; one part where the rates are the same, none from a firm that is not registered. Each part rounded once.
std::vector<TaxPart> tax_parts(const BuildUp& b, Money net, const job::Rates& rates);

/// Closes a build-up whose lines, risk lines and crew days stand: sums, overhead, profit, rounding, tax.
///
/// overhead = share of (direct + risk), or an amount per crew-day when the yard gives one;
/// price = cost marked up, or with a margin of the price; not below the minimum charge; rounded up to `round_to`;
/// profit = net - direct - risk - overhead, so the layers add up by definition.
/// Tax by kind: the material lines' share of net at `tax_materials`, the rest at `tax`; none from a firm that is not
/// registered (which carries its input tax as a cost line, see `add_input_tax`).
/// Source: common practice, no source; the order direct, risk, overhead, profit, rounding, tax;
/// a discount is a line of the offer (lines.hpp).
/// Throws RangeError on a margin of 100 % or more.
void close(BuildUp& b, const job::Rates& rates, Working& working);
/// The price before rounding that `close` would reach for that cost, not below the minimum charge.
Money price_of_cost(Money direct_and_risk, double crew_days, const job::Rates& rates);
/// The same in plain cents, for trials.
double price_of_cost(double cents, double crew_days, const job::Rates& rates);
/// A firm that is not registered for tax pays tax on what it buys and cannot reclaim it: one more line.
inline constexpr std::string_view input_tax_words = "Tax on purchases, not reclaimed";
void add_input_tax(std::vector<Line>& lines, const job::Rates& rates);

/// One line, its amount rounded where rate meets quantity. Nothing is added when the amount would be zero.
void add_line(std::vector<Line>& lines, LineKind kind, std::string_view words, double quantity, std::string_view unit,
              Money rate);
Money sum(const std::vector<Line>& lines);

/// Direct cost of patching, line by line: team hours, materials, consumables, wear, plant by the day, mobilisation by
/// the visit (the way there and back; the team's time on the road is in the hours), overnight premium.
/// Throws InputError when there are patches but no days or visits.
std::vector<Line> patch_lines(const PatchWorks& works, const job::Rates& rates, Working& working);

}  // namespace patchwright::price
