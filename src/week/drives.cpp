// Minutes from each place to each other: what is stated first, then coordinates, then by way of the yard.
#include <algorithm>
#include <cmath>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "parts.hpp"
#include "patchwright/units/threads.hpp"

namespace patchwright::week {
namespace {

Minute minutes_up(Duration d) { return static_cast<Minute>(std::ceil(d.in(unit::minute)-1e-9)); }

class Drives {
public:
    Drives(const Input& input, std::vector<job::Assumption>& assumptions)
        : input_{input}, assumptions_{assumptions}, places_{input.jobs.size() + 1} {}

    std::vector<std::vector<Minute>> all() {
        std::vector<std::vector<Minute>> drive(places_, std::vector<Minute>(places_, 0));
        for (std::size_t j = 1; j < places_; ++j) {
            drive[0][j] = from_yard(j, true);
            drive[j][0] = from_yard(j, false);
        }
        for (std::size_t a = 1; a < places_; ++a)
            for (std::size_t b = 1; b < places_; ++b)
                if (a != b) drive[a][b] = between(a, b, drive);
        for (std::size_t by = 0; by < places_; ++by)
            for (std::size_t a = 0; a < places_; ++a)
                for (std::size_t b = 0; b < places_; ++b)
                    drive[a][b] = std::min(drive[a][b], drive[a][by] + drive[by][b]);
        note();
        return drive;
    }

private:
    const job::Job& job(std::size_t place) const { return input_.jobs[place - 1]; }

    Minute straight(const job::Coordinates& a, const job::Coordinates& b) {
        by_coordinates_ = true;
        return drive_minutes(great_circle(a, b), input_.yard.drive);
    }

    Minute from_yard(std::size_t place, bool there) {
        const auto& reference = job(place).reference;
        const std::string yard{yard_name};
        const auto row = there ? input_.drives.between(yard, reference) : input_.drives.between(reference, yard);
        if (row) return *row;
        const auto& site = job(place).site;
        if (site.travel) return minutes_up(*site.travel);
        const auto& ours = input_.yard.drive;
        if (site.coordinates && ours.from) return straight(*ours.from, *site.coordinates);
        if (there) as_the_yard_says_.push_back(reference);
        return minutes_up(input_.yard.durations.travel.likely);
    }

    Minute between(std::size_t a, std::size_t b, const std::vector<std::vector<Minute>>& drive) {
        if (const auto row = input_.drives.between(job(a).reference, job(b).reference)) return *row;
        const auto &from = job(a).site.coordinates, &to = job(b).site.coordinates;
        if (from && to) return straight(*from, *to);
        for (const std::size_t place : {a, b})
            if (!job(place).site.coordinates) by_the_yard_.push_back(job(place).reference);
        return drive[a][0] + drive[0][b];
    }

    void note() {
        const auto once = [](std::vector<std::string> names) {
            std::sort(names.begin(), names.end());
            names.erase(std::unique(names.begin(), names.end()), names.end());
            return fmt::format("{}", fmt::join(names, ", "));
        };
        if (by_coordinates_)
            assumptions_.push_back({"week", "drives by coordinates",
                                    fmt::format("{:.4g} km of road in an hour, road {:.2f} times the straight line",
                                                input_.yard.drive.in_an_hour.in(unit::km), input_.yard.drive.detour),
                                    "the yard's \"drive\""});
        if (!as_the_yard_says_.empty())
            assumptions_.push_back(
                {"week", "drive from the yard to " + once(as_the_yard_says_),
                 format(Show::span, input_.yard.durations.travel.likely, UnitSystem::metric),
                 "neither travel, coordinates of both nor a row of the table; likely time of the yard's durations"});
        if (!by_the_yard_.empty())
            assumptions_.push_back({"week", "drives between " + once(by_the_yard_) + " and others",
                                    "by way of the yard", "no coordinates and no row of the table; never too short"});
    }

    const Input& input_;
    std::vector<job::Assumption>& assumptions_;
    const std::size_t places_;
    std::vector<std::string> as_the_yard_says_, by_the_yard_;
    bool by_coordinates_ = false;
};

}  // namespace

std::vector<std::vector<Minute>> drives_of(const Input& input, std::vector<job::Assumption>& assumptions) {
    return Drives{input, assumptions}.all();
}

void plan_jobs(const Input& input, const std::vector<std::vector<Minute>>& drive, Week& week) {
    week.jobs.resize(input.jobs.size());
    in_parallel(input.threads, input.jobs.size(), [&](std::size_t j) {
        Address& address = week.jobs[j];
        address.job = input.jobs[j];
        auto& site = address.job.site;
        const Minute way = std::max(drive[0][j + 1], drive[j + 1][0]);
        site.travel = static_cast<double>(way) * unit::minute;
        job::Job alone = address.job;
        job::Yard yard = input.yard;
        yard.limits.crews = 1;
        yard.limits.overnight_cure = false;
        if (const auto& window = site.window) {
            // Work lies in the window: neither it nor overtime goes past its end.
            const Minute late = std::max(0, static_cast<Minute>(yard.limits.overtime.in(unit::minute)));
            const Minute end = std::min(site.finish.minutes + late, window->to.minutes + way);
            alone.site.start.minutes = std::max(site.start.minutes, window->from.minutes - way);
            alone.site.finish.minutes = std::min(end, site.finish.minutes);
            yard.limits.overtime = static_cast<double>(std::max(0, end - site.finish.minutes)) * unit::minute;
        }
        plan::Options options;
        options.working = false;
        options.trials = 0;
        options.tables = input.tables;
        if (alone.site.finish <= alone.site.start) {
            address.left_out = "its window and the drive to it leave no time in the day";
            return;
        }
        address.plan = plan::make_plan(alone, yard, options);
        // Its days move: from here on the hours and the yard are the week's.
        address.plan.job = std::make_shared<job::Job>(address.job);
        address.plan.yard = std::make_shared<job::Yard>(input.yard);
    });
}

}  // namespace patchwright::week
