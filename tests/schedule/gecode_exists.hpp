#pragma once
#include <gecode/search.hh>

#include <memory>
#include <optional>

#include "gecode_day.hpp"

/// Gecode's own search through the constraint model of a day.
namespace gecode_day {

class Day : public Gecode::Space {
public:
    Day(const DayWork& work, Minute end) {
        const Builder builder{*this, work, end};
        decisions_ = Gecode::IntVarArray(*this, builder.decisions());
        Gecode::branch(*this, decisions_, Gecode::INT_VAR_MIN_MIN(), Gecode::INT_VAL_MIN());
    }
    Day(Day& other) : Gecode::Space(other) { decisions_.update(*this, other.decisions_); }
    Gecode::Space* copy() override { return new Day(*this); }

private:
    Gecode::IntVarArray decisions_;
};

/// Whether a day exists with all work on site done by `end`; none when the limit of failures is reached.
inline std::optional<bool> exists(const DayWork& work, Minute end, unsigned long failures) {
    Gecode::Search::Options options;
    options.threads = 1;
    options.clone = false;
    const std::unique_ptr<Gecode::Search::Stop> stop{Gecode::Search::Stop::fail(failures)};
    options.stop = stop.get();
    Gecode::DFS<Day> search(new Day(work, end), options);
    const std::unique_ptr<Day> day{search.next()};
    if (day) return true;
    if (search.stopped()) return std::nullopt;
    return false;
}

}  // namespace gecode_day
