#pragma once
#include <cmath>
#include <map>

#include "patchwright/job/yard.hpp"
#include "patchwright/site/now.hpp"

/// The steps of `now`. Internal to the module.
namespace patchwright::site {

inline constexpr Minute whole_day = 24 * 60;

/// The sheet's limits are whole minutes already.
inline Minute whole_minutes(Duration d) { return static_cast<Minute>(std::lround(d.in(unit::minute))); }

bool is_lost(const job::PatchRecord& noted);
bool was_lost(const job::Record& record, const std::string& patch);
/// The last entry of a patch, a new one where its sleeve was lost or there is none.
job::PatchRecord& open_entry(job::Record& record, const std::string& id);
/// Sleeves that by what was told lie where one would have to pass the other: one sentence each.
std::vector<std::string> in_each_others_way(const plan::Plan& plan, const Facts& facts);
/// What was not told, where it counts as planned: always of a sleeve that was set the day before.
void take_as_planned(const plan::Plan& plan, Facts& facts);

/// By the plan it lies in the pipe since the day before.
bool from_yesterday(const plan::Plan& plan, std::size_t patch, int day);

/// Everything that the steps share.
struct Site {
    const job::Job& job;
    const job::Yard& yard;
    const plan::Plan& plan;
    const Facts& facts;

    const plan::Patch& patch(std::size_t i) const { return plan.patches[i]; }
    const schedule::PatchTimes& times(std::size_t i) const { return plan.schedule.patches[i]; }
    /// As the whole job's work has it.
    const schedule::PatchWork& work(std::size_t i) const { return plan.work.patches[i]; }
    const plan::Batch& mix_of(std::size_t i) const;
    const schedule::Day& today() const { return plan.schedule.days[static_cast<std::size_t>(facts.day)]; }
    /// A task of a patch on the sheet of its day; nullptr: none.
    const schedule::Task* task(std::size_t patch, schedule::What what) const;
    /// Set the day before, cures overnight.
    bool from_yesterday(std::size_t patch) const { return site::from_yesterday(plan, patch, facts.day); }
    int crew_of(std::size_t patch) const;
};

/// Limits of a patch for what was measured of it; `on` is its design, the plan's or on another packer.
class LimitBook {
public:
    explicit LimitBook(const Site& site) : site_{site} {}
    SleeveLimits of(std::size_t patch, const plan::Patch& on, const job::PatchRecord* noted);
    /// Latest end of pouring for a mix of several, by what was measured of the first of them.
    Duration pour_by(const plan::Batch& mix, const plan::Patch& on, const job::PatchRecord* noted);

private:
    const cure::Model& model(int resin);
    SleeveLimits measured(const plan::Patch& on, const job::PatchRecord& noted, Mass pot);
    void follow_readings(const plan::Patch& on, const job::PatchRecord& noted, SleeveLimits& limits);

    const Site& site_;
    std::map<int, cure::Model> models_;
};

/// The patches of the day with what became of them, their limits and verdicts.
std::vector<Sleeve> sleeves_of(const Site& site, LimitBook& limits);

/// Which lost sleeves can be made again today, and which packer takes the place of a lost one.
void make_again(const Site& site, LimitBook& limits, std::vector<Sleeve>& sleeves);

/// A run as the work finds it from `start` on, and which of its steps are under way. What is not told is taken as
/// planned, and said in `taken`.
schedule::RunWork run_work(const Site& site, job::RunPlace run, Minute start, std::vector<std::string>& taken,
                           std::vector<schedule::DayWork::UnderWay>& under_way);

/// The rest of the day.
void plan_rest(const Site& site, LimitBook& limits, Now& now);

std::string clock_words(Minute minute);  ///< "08:05"

}  // namespace patchwright::site
