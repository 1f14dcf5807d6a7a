#pragma once
#include <string>
#include <vector>

#include "patchwright/job/job.hpp"
#include "patchwright/job/yard.hpp"
#include "patchwright/site/now.hpp"

namespace patchwright::test {

/// A job with its plan, to be asked at any minute. Everything in it is invented.
struct Day {
    job::Job job;
    job::Yard yard;
    plan::Plan plan;

    explicit Day(const std::string& text);
    Day(const std::string& text, job::Yard yard);
    std::size_t patch(const std::string& id) const;
    const schedule::PatchTimes& times(const std::string& id) const { return plan.schedule.patches[patch(id)]; }
};

const Day& demo();  ///< the demonstration job

/// "--mixed A-P1=10:23" for each of what the sheet has behind it by `at`, for patches of that day.
std::vector<site::Told> as_on_sheet(const Day& day, int number, site::Minute at);

/// What is known and what follows from it. Fails the test where the facts do not hold.
struct Asked {
    site::Facts facts;
    site::Now now;
    const site::Sleeve& sleeve(const Day& day, const std::string& id) const;
};
std::unique_ptr<Asked> ask(const Day& day, site::Minute at, const std::vector<site::Told>& told, int number = 0,
                           bool as_planned = false, const job::Record& record = {});

std::string clock(site::Minute minute);  ///< "10:23"
site::Minute at(const std::string& clock);

/// Every rule that the rest of a day keeps, from facts and result alone: one sentence for each that is broken. The
/// schedule's own rules are those of `broken_crew_day_rules`.
std::vector<std::string> broken_now_rules(const Day& day, const Asked& asked);

}  // namespace patchwright::test
