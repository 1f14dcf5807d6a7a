#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "patchwright/job/record.hpp"
#include "patchwright/job/run_place.hpp"
#include "patchwright/plan/plan.hpp"

/// At the hole: what really happened so far, the limits that follow from it, and the rest of the day planned anew.
/// Method: docs/methods/now.md.
namespace patchwright::site {

using schedule::Minute;

/// One thing told on the way: an option and its text, "--mixed", "P1=10:40".
struct Told {
    std::string option, text;
};

/// What is known at a moment of a day.
struct Facts {
    Minute at = 0;  ///< clock of that day
    int day = 0;    ///< place in Schedule::days
    job::Record
        record;  ///< what was noted of this day's sleeves, and what was told besides; a lost one has its own entry
    std::vector<std::size_t> patches;         ///< of this day, in order of work
    std::vector<std::string> taken;           ///< what was not told and counts as planned, in words
    std::vector<std::size_t> taken_deflated;  ///< patches that count as let down when their sheet says
    std::vector<std::string> lost_packers;
    std::optional<int> persons;  ///< of the crew from now on
    bool as_planned = false;     ///< what was not told went as planned
    Minute late = 0;             ///< but so much later
    struct Ready {
        job::RunPlace run{};
        Minute since = 0;
    };
    std::vector<Ready> ready;  ///< runs that are open, clean, looked at and shut
};

/// Facts, or everything that is wrong with them.
struct Reading {
    Facts facts;
    std::vector<std::string> told_errors;    ///< of what was told
    std::vector<std::string> record_errors;  ///< of the record
    bool good() const { return told_errors.empty() && record_errors.empty(); }
};

/// Reads what was told over what was noted; `record` is that of the plan. A patch may be told by the end of its name
/// ("P1" for "A-P1") where only one ends so. Without `day` it is the last one that the record knows of, else the first,
/// and a patch of another day is an error. Options: --mixed, --poured, --inflated, --creased, --deflated
/// (PATCH=CLOCK), --lost (PATCH or PATCH=CLOCK), --pipe, --resin, --air (TEMPERATURE or PATCH=TEMPERATURE), --reading
/// (PATCH=CLOCK TEMPERATURE), --ready (RUN=CLOCK), --packer-lost (NAME), --persons (NUMBER), --late (DURATION).
Reading read_facts(const plan::Plan& plan, const job::Record& record, const std::vector<Told>& told, Minute at,
                   std::optional<int> day, bool as_planned);

enum class State : std::uint8_t { done, in_pipe, in_hand, lost, to_do };
/// `strip`: take it out before it sets.
enum class Verdict : std::uint8_t { none, go, strip, wait };
std::string_view word(State s);
std::string_view word(Verdict v);

/// Limits of a sleeve from mixing, whole minutes, for what was measured.
struct SleeveLimits {
    Duration pour_by{}, inflate_by{}, crease_by{}, gel{}, let_down{};
    double late_probability = 0.0;         ///< of one that is not mixed yet
    bool as_planned = true;                ///< nothing was measured: the card's own
    bool along_readings = false;           ///< let-down from temperatures noted while it cured
    std::optional<std::string> refused;    ///< may not be mixed so: why
    std::optional<cure::Answer> measured;  ///< what they were taken from
};

/// What is left of the hands-on work of a sleeve that is mixed.
struct HandsLeft {
    Minute wet_out = 0, load = 0, position = 0, inflate = 0, crease = 0;
    Minute to_inflated() const { return wet_out + load + position + inflate; }
    Minute sum() const { return to_inflated() + crease; }
};

/// One patch of the day. Clock times in minutes after midnight of the day; below zero the day before.
struct Sleeve {
    std::size_t patch = 0;  ///< place in Plan::patches
    State state = State::to_do;
    Verdict verdict = Verdict::none;
    const job::PatchRecord* noted = nullptr;  ///< of Facts::record; nullptr: nothing is known
    std::optional<plan::Patch> on_other;      ///< designed anew on another packer
    schedule::Packers other_kind;             ///< that packer as the clock counts it
    std::optional<Minute> mixed, inflated, deflated;
    SleeveLimits limits;  ///< of the sleeve that is mixed, or of the next one where none is
    SleeveLimits next;    ///< of the next one
    HandsLeft left;
    bool overnight = false;                      ///< set the day before
    bool again = false;                          ///< lost, and made again today
    std::optional<Minute> mix_at;                ///< of one that is still to be mixed today
    std::optional<Minute> inflate_by, let_down;  ///< clock; of one to be mixed by that plan
    std::optional<Minute> planned_let_down;      ///< what the sheet of the day said
    std::string words;                           ///< why it is judged so, or what to do; may be empty
    std::string material;                        ///< of one that is made again: what must be bought; may be empty
    std::string another_day;                     ///< why it is not made today; empty: it is, or was
};

struct Now {
    Minute at = 0;
    int day = 0;
    std::vector<Sleeve> sleeves;  ///< of the day, in order of work
    schedule::Schedule schedule;  ///< the rest of the day, by places in Plan::patches; days before it are empty
    /// What each crew does, as it was planned: by places in `work`, each with its place in `sleeves`.
    struct Crew {
        int crew = 0;
        schedule::DayWork work;
        std::vector<std::size_t> sleeves;
        schedule::Day day;
    };
    std::vector<Crew> crews;
    Minute finish = 0;                ///< being back in the yard
    Minute closes = 0, overtime = 0;  ///< end of the day; allowed past it
    int persons = 0;
    std::vector<std::string> taken;  ///< what was not told and is taken as planned
    std::vector<std::string> warnings;
};

/// Pure. `facts` as `read_facts` gives them; it must outlive the result.
Now now(const plan::Plan& plan, const Facts& facts);

}  // namespace patchwright::site
