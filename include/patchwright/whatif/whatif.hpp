#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "patchwright/io/change.hpp"
#include "patchwright/plan/plan.hpp"

/// What would change the job most: other conditions, each worked out as a whole plan.
namespace patchwright::whatif {

/// A job and a yard as their files say, so that a change goes the way of every other value: through the reader.
struct Files {
    std::string job, yard;            ///< text of the files; yard: `io::builtin_yard_text()` without one
    std::optional<UnitSystem> units;  ///< in place of the job's own
};

/// What a plan comes to.
struct Upshot {
    int days = 0, patches = 0;
    int digs = 0;     ///< places that are dug; some may share a pit
    int waiting = 0;  ///< places that only the clock or the resin keeps from being mended: in no price
    Money own{};      ///< own price, net: patches and the digs that cannot be avoided
    Duration overtime{};
    int helper_days = 0;
    double late_probability = 0.0;       ///< that some sleeve is not in place in time, as the estimator's view says
    std::vector<schedule::Minute> back;  ///< in the yard, each day
};
[[nodiscard]] Upshot upshot(const plan::Plan& plan);

/// What kind of other condition it is.
enum class Lever : std::uint8_t {
    longer_day,
    earlier_start,
    overtime,
    helper,
    alarm_gauge,
    packer,
    resin,
    free_resin,
    resin_temperature,
    access,
    overnight,
    run_less,
    size_unknown,
    tried,
};
/// "longer day", "run less": stable, for programs.
std::string_view word(Lever v);
/// The plan as it is stays possible: the own price does not rise where as much is done.
bool adds_freedom(Lever v);
/// Other work, not another way to do it.
bool changes_work(Lever v);
/// Hours, hands and the resin's temperature: no stock to buy, nothing to order.
bool can_still_be_done(Lever v);

struct Alternative {
    Lever lever{};
    std::string words;                 ///< "one hour more: back at 18:30"
    std::vector<job::Change> changes;  ///< that make it of the files
    Upshot upshot{};
    int places_more = 0;  ///< places that wait for a longer day as it is, less those that wait here; not of other work
    std::optional<Money> saves{};  ///< own price as it is, less this one's; none where it is a price of other places
};
/// A condition that is not among them, and why.
struct NotListed {
    std::string words, why;
};
struct WhatIf {
    Upshot as_is;
    std::vector<Alternative> list;  ///< what helps most first, other work last; of `tried` as they were given
    std::vector<NotListed> not_listed;
};

/// Which of them are worked out. No other work, and no one resin for all, saves anything that a free choice would not:
/// the plan chooses freely, but for what the job names.
/// `this_morning`: only what the crew can still bring about before it leaves the yard.
enum class Rows : std::uint8_t { all, that_may_save, this_morning };

/// The other conditions under which the job can be done, `made` being the plan as it is with these files. Of kinds
/// with many members (accesses, runs, defects) those of the dearest runs and sleeves, six at most. Every row is a plan
/// with the same options; the same with any number of threads.
[[nodiscard]] WhatIf what_if(const Files& files, const plan::Options& options, const plan::Plan& made,
                             Rows rows = Rows::all);

/// The changes by themselves and, with two or more of different keys, all of them together. `given` are the changes as
/// typed. Throws InputError that names each that cannot be read, and why.
[[nodiscard]] WhatIf what_if_tried(const Files& files, const std::vector<std::string>& given,
                                   const plan::Options& options, const plan::Plan& made);

}  // namespace patchwright::whatif
