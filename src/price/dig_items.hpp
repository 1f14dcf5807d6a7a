#pragma once
#include <algorithm>
#include <cmath>
#include <string_view>

#include "patchwright/excavation/excavation.hpp"
#include "patchwright/job/yard.hpp"
#include "patchwright/price/build_up.hpp"
#include "patchwright/price/risk.hpp"
#include "unit_word.hpp"

/// The rates of a dig, item by item. One description serves the lines of the build-up, the choice of the holes and
/// the trials.
namespace patchwright::price {

inline double cents(Money money) { return static_cast<double>(money.in_cents()); }

/// With what an item grows or shrinks when things turn out otherwise than likely.
enum class Sway : std::uint8_t { none, days, surface_days, volume, material };
struct Item {
    LineKind kind = LineKind::labour;
    Sway sway = Sway::none;
    std::string_view what;
    double quantity = 0.0;
    std::string_view unit;
    Money rate{};
};

/// A factor that the yard does not give is one.
inline job::Spread<double> factor_or_one(const job::Spread<double>& s) {
    return s.likely > 0.0 ? s : job::Spread<double>{1.0, 1.0, 1.0};
}
inline job::Spread<double> days_of(const excavation::Pit& p) { return {p.days_low, p.days_likely, p.days_high}; }
inline job::Spread<double> surface_days_of(const excavation::Pit& p) {
    return {p.surface_days_low, p.surface_days_likely, p.surface_days_high};
}

/// The yard's rows that a dig on this job uses, looked up once.
struct ItemContext {
    ItemContext(const job::Dig& d, const job::Yard& y)
        : dig{d},
          rates{y},
          surface{excavation::surface_rate(d.surface.value, y.dig_rates)},
          soil{excavation::soil_rate(d.soil.value, y.dig_rates)} {
        Working off = Working::off();
        team = team_hour(y.rates, y.dig_rates.crew_size, off).amount;
        surface_team = team_hour(y.rates, y.dig_rates.surface_crew_size, off).amount;
        access_mean = triangular(factor_or_one(y.dig_rates.access_spread)).mean;
        ground_mean = triangular(factor_or_one(y.dig_rates.ground_spread)).mean;
        material_mean = triangular(factor_or_one(y.rates.material_spread)).mean;
    }
    const job::Dig& dig;
    const job::Yard& rates;
    const job::SurfaceRate& surface;
    const job::SoilRate& soil;
    Money team{}, surface_team{};  ///< an hour
    double access_mean = 1.0, ground_mean = 1.0, material_mean = 1.0;
};

/// Days are paid by the day begun on the road: one visit each.
inline int visits_for(double team_days) {
    return team_days <= 0.0 ? 0 : std::max(1, static_cast<int>(std::ceil(team_days - 1e-9)));
}

/// Mean of an item's amount over its likely value.
inline double mean_factor(Sway sway, const excavation::Pit& p, const ItemContext& c) {
    switch (sway) {
        case Sway::days:
            return p.days_likely > 0.0 ? triangular(days_of(p)).mean / p.days_likely * c.access_mean : 1.0;
        case Sway::surface_days:
            return p.surface_days_likely > 0.0 ? triangular(surface_days_of(p)).mean / p.surface_days_likely : 1.0;
        case Sway::volume:
            return c.ground_mean;
        case Sway::material:
            return c.material_mean;
        case Sway::none:
            return 1.0;
    }
    return 1.0;
}

/// What one pit takes.
template <class Emit>
void each_pit_item(const excavation::Pit& p, const ItemContext& c, Emit&& emit) {
    const job::DigRates& r = c.rates.dig_rates;
    const auto volume = [&](LineKind kind, std::string_view what, Volume v, const MoneyPer<Volume>& rate,
                            double factor) {
        emit(Item{kind, Sway::volume, what, v.in(rate.per) * factor, unit_word(rate.per), rate.amount});
    };
    const auto area = [&](LineKind kind, Sway sway, std::string_view what, Area a, const MoneyPer<Area>& rate) {
        emit(Item{kind, sway, what, a.in(rate.per), unit_word(rate.per), rate.amount});
    };
    const double hours = p.days_likely * r.working_day.in(unit::h);
    emit(Item{LineKind::labour, Sway::days, "Digging team", hours, "h", c.team});
    if (p.deep) {
        emit(Item{LineKind::labour, Sway::days, "Deep dig, extra", hours * r.deep_surcharge.as_double(), "h", c.team});
    }
    if (p.surface_days_likely > 0.0) {
        emit(Item{LineKind::labour, Sway::surface_days, "Surface team",
                  p.surface_days_likely * r.working_day.in(unit::h), "h", c.surface_team});
    }
    volume(LineKind::plant, p.by_hand ? "Dig by hand, tools" : "Dig by machine, fuel and wear", p.dug_bank,
           p.by_hand ? r.hand_excavate : r.excavate, c.soil.dig_factor);
    volume(LineKind::plant, "Backfill and compact", p.backfill, r.backfill, 1.0);
    volume(LineKind::material, "Granular bed, surround and imported fill",
           (1.0 + r.granular_waste) * (p.granular + p.imported), r.granular, 1.0);
    emit(Item{LineKind::disposal, Sway::volume, "Soil carted and tipped", p.soil_carted.in(r.disposal.per),
              unit_word(r.disposal.per), r.disposal.amount});
    const MoneyPer<Mass>& tip = c.surface.disposal.amount.is_zero() ? r.disposal : c.surface.disposal;
    emit(Item{LineKind::disposal, Sway::material, "Broken surface carted and tipped", p.surface_carted.in(tip.per), "t",
              tip.amount});
    area(LineKind::surface, Sway::material, "Saw and break out the surface", p.surface_reinstated, c.surface.break_out);
    area(LineKind::surface, Sway::material, "Put the surface back", p.surface_reinstated, c.surface.reinstate);
    emit(Item{LineKind::material, Sway::none, "Pipe", p.pipe_replaced.in(r.pipe.per), unit_word(r.pipe.per),
              r.pipe.amount});
    emit(Item{LineKind::material, Sway::none, "Couplings", static_cast<double>(p.couplings), "", r.pipe_joint});
    if (p.protection == excavation::Protection::sheeted || p.protection == excavation::Protection::engineer) {
        area(LineKind::plant, Sway::none, "Trench sheets and props", p.trench.sheeted, r.shoring);
    }
    if (p.protection == excavation::Protection::engineer) {
        emit(Item{LineKind::subcontract, Sway::none, "Engineer's design of the support", 1.0, "", r.engineer_design});
    }
    if (p.protection == excavation::Protection::box) {
        emit(Item{LineKind::plant, Sway::days, "Trench box", p.days_likely, "days", r.box_per_day});
    }
    if (p.below_water) {
        emit(Item{LineKind::plant, Sway::days, "Pump", p.days_likely, "days", r.dewatering_per_day});
    }
    if (p.asbestos) {
        emit(Item{LineKind::disposal, Sway::none, "Asbestos cement, licensed waste", 1.0, "", r.asbestos_surcharge});
    }
    if (p.traffic || c.dig.surface.value == job::Surface::asphalt) {  // a yard or garden off the road needs none
        emit(Item{LineKind::job_specific, Sway::days, "Traffic management", p.days_likely, "days",
                  r.traffic_management_per_day});
    }
}

inline double hire_cents(double days, const job::DigRates& r) {
    return std::max(days * static_cast<double>(r.digger_per_day.in_cents()),
                    static_cast<double>(r.digger_minimum.in_cents()));
}
/// The hire hangs on the days only when the minimum is passed in the mean.
inline bool hire_by_day(double mean_days, const job::DigRates& r) {
    return hire_cents(mean_days, r) > static_cast<double>(r.digger_minimum.in_cents());
}

/// What the dig takes once, beside the hire of the digger.
template <class Emit>
void each_job_item(double mean_days, const ItemContext& c, Emit&& emit) {
    const job::DigRates& r = c.rates.dig_rates;
    emit(Item{LineKind::job_specific, Sway::none, "Permit", 1.0, "", r.permit});
    emit(Item{LineKind::job_specific, Sway::none, "Trace of services", 1.0, "", r.services_trace});
    const int visits = visits_for(mean_days) + (c.dig.surface.value != job::Surface::grass ? 1 : 0);
    const MoneyPer<Length>& road = c.rates.rates.travel_cost;
    emit(Item{LineKind::mobilisation, Sway::none, "Road, there and back",
              2.0 * visits * (c.rates.rates.travel_distance / road.per), unit_word(road.per), road.amount});
}
template <class Emit>
void emit_hire(double likely_days, const ItemContext& c, Emit&& emit) {
    const job::DigRates& r = c.rates.dig_rates;
    if (c.dig.hand_dig_only) return;
    if (likely_days * static_cast<double>(r.digger_per_day.in_cents()) >=
        static_cast<double>(r.digger_minimum.in_cents())) {
        emit(Item{LineKind::plant, Sway::days, "Digger", likely_days, "days", r.digger_per_day});
    } else {
        emit(Item{LineKind::plant, Sway::none, "Digger, minimum hire", 1.0, "", r.digger_minimum});
    }
}

}  // namespace patchwright::price
