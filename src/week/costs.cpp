// What a job costs with visits of its own, and when its visits are shared with other jobs.
#include <algorithm>

#include "parts.hpp"

namespace patchwright::week {
namespace {

/// What the visits of one job take: of its own, or its part of shared days.
struct Visits {
    double road = 0;      ///< minutes driven, and waited for a window
    double on_site = 0;   ///< minutes
    double overtime = 0;  ///< minutes
    double days = 0;      ///< of the crew, vehicle and plant
    double helpers = 0;   ///< days
};

Visits alone(const Address& address, int crew_size) {
    Visits visits;
    const double way = address.job.site.travel->in(unit::minute);
    const int parts = static_cast<int>(address.plan.schedule.days.size());
    for (int part = 0; part < parts; ++part) {
        visits.on_site += plan::on_site(address.plan, part);
        visits.helpers += std::max(0, plan::persons(address.plan, part) - std::max(1, crew_size));
    }
    visits.days = parts;
    visits.road = 2.0 * way * parts;
    visits.overtime = address.plan.works.overtime.in(unit::minute);
    return visits;
}

/// A crew's day shared out: the road by what each would drive alone, all else by the time that it then takes.
void share_day(const CrewDay& day, Week& week, std::vector<Visits>& shared) {
    double alone_road = 0, on_site = 0;
    for (const Visit& visit : day.stops) {
        alone_road += 2.0 * week.jobs[at(visit.job)].job.site.travel->in(unit::minute);
        on_site += visit.leave - visit.arrive;
    }
    const double all = day.back - day.leave;
    const double road = all - on_site;
    for (const Visit& visit : day.stops) {
        const double way = 2.0 * week.jobs[at(visit.job)].job.site.travel->in(unit::minute);
        const double mine = alone_road > 0 ? road * way / alone_road : road / static_cast<double>(day.stops.size());
        const double there = visit.leave - visit.arrive;
        const double part = all > 0 ? (there + mine) / all : 1.0 / static_cast<double>(day.stops.size());
        Visits& visits = shared[at(visit.job)];
        visits.road += mine;
        visits.on_site += there;
        visits.overtime += day.overtime * part;
        visits.days += part;
        visits.helpers += day.helpers * part;
    }
}

/// The own price of the patches with those visits, by the same lines as every offer's.
Money net(const Address& address, const job::Rates& rates, const Visits& own, const Visits& visits) {
    Working off = Working::off();
    price::PatchWorks works = address.plan.works;
    const double more = visits.road + visits.on_site - own.road - own.on_site;
    works.crew_time += more * unit::minute;
    works.overtime = visits.overtime * unit::minute;
    price::BuildUp build_up;
    for (const price::Line& line : price::patch_lines(works, rates, off)) {
        double factor = 1.0;
        if (line.kind == price::LineKind::plant && line.words != "Cutter") factor = visits.days / own.days;
        if (line.words == "Helper" && own.helpers > 0) factor = visits.helpers / own.helpers;
        if (line.kind == price::LineKind::mobilisation && own.road > 0) factor = visits.road / own.road;
        if (factor == 1.0)
            build_up.lines.push_back(line);
        else
            price::add_line(build_up.lines, line.kind, line.words, line.quantity * factor, line.unit, line.rate);
    }
    price::add_input_tax(build_up.lines, rates);
    const auto& offer = address.plan.offer.patching;
    build_up.risk_lines = offer.risk_lines;
    build_up.crew_days = offer.crew_days * visits.days / own.days;
    price::close(build_up, rates, off);
    return build_up.net;
}

}  // namespace

void add_costs(const job::Yard& yard, Week& week) {
    std::vector<Visits> shared(week.jobs.size());
    std::vector<std::size_t> parts(week.jobs.size(), 0);
    for (const CrewDay& day : week.days) {
        share_day(day, week, shared);
        for (const Visit& visit : day.stops) ++parts[at(visit.job)];
    }
    for (std::size_t j = 0; j < week.jobs.size(); ++j) {
        Address& address = week.jobs[j];
        // Of a job that was begun in an earlier week the days there are not known.
        if (parts[j] == 0 || parts[j] != address.plan.schedule.days.size()) continue;
        const Visits own = alone(address, yard.rates.crew_size);
        Cost cost;
        cost.alone = net(address, yard.rates, own, own);
        cost.shared = net(address, yard.rates, own, shared[j]);
        cost.offered = address.plan.offer.offered.total;
        address.cost = cost;
    }
}

}  // namespace patchwright::week
