#pragma once
#include <map>
#include <vector>

#include "parts.hpp"
#include "patchwright/week/rounds.hpp"

/// What both searches share. Internal.
namespace patchwright::week {

/// A round of more stops is not looked at: every order is tried.
inline constexpr std::size_t max_stops = 9;

/// From when to when a crew is out that goes to those stops.
struct DaySpan {
    Minute start = 0, finish = 0, overtime = 0;
    Minute end() const { return finish + overtime; }
};
DaySpan day_span(const Problem& problem, const std::vector<int>& stops);

/// Best rounds by their stops, each worked out once: searches ask for the same few again and again.
class RoundBook {
public:
    explicit RoundBook(const Problem& problem) : problem_{problem} {}
    /// Without stops where no order holds.
    const Round& of(const std::vector<int>& sorted);

private:
    const Problem& problem_;
    std::map<std::vector<int>, Round> rounds_;
};

/// Of each kind, what a crew takes along for the day.
std::vector<int> packers_of(const Problem& problem, const std::vector<int>& stops);
/// By date, then by the time of leaving.
void sort_rounds(Rota& rota);

/// The best rota, or none where the states do not last.
bool solve_exactly(const Problem& problem, std::int64_t budget, RoundBook& book, Rota& rota);
/// A good one.
Rota solve_by_insertion(const Problem& problem, RoundBook& book);

}  // namespace patchwright::week
