// A good rota for many jobs: put in one after the other where each costs least, then moved about while that helps; from
// many orders, the best of all.
#include <algorithm>
#include <numeric>
#include <optional>
#include <tuple>

#include "rounds_parts.hpp"

namespace patchwright::week {
namespace {

/// A round as a sorted set of stops on a date.
struct Slot {
    int date = 0;
    std::vector<int> stops;
};

class Search {
public:
    Search(const Problem& problem, RoundBook& book)
        : problem_{problem}, book_{book}, slot_of_(problem.stops.size(), -1) {
        parts_.resize(problem.jobs.size());
        for (std::size_t s = 0; s < problem.stops.size(); ++s)
            parts_[at(problem.stops[s].job)].push_back(static_cast<int>(s));
    }

    /// Jobs in that order, then improvement.
    void run(const std::vector<int>& order) {
        for (const int job : order) place_job(job);
        for (bool better = true; better;) {
            better = empty_a_round() || move_a_stop() || swap_two();
            for (const int job : order)
                if (!placed(job) && place_job(job)) better = true;
        }
    }

    Rota rota() {
        Rota rota;
        for (const Slot& slot : slots_) {
            if (slot.stops.empty()) continue;
            rota.rounds.push_back(book_.of(slot.stops));
            rota.rounds.back().date = slot.date;
        }
        for (std::size_t j = 0; j < parts_.size(); ++j)
            if (!parts_[j].empty() && !placed(static_cast<int>(j))) rota.left_out.push_back(static_cast<int>(j));
        sort_rounds(rota);
        return rota;
    }

private:
    bool placed(int job) const { return parts_[at(job)].empty() || slot_of_[at(parts_[at(job)].front())] >= 0; }
    int date_of(int stop) const { return slots_[at(slot_of_[at(stop)])].date; }
    Minute minutes(const std::vector<int>& stops) {
        if (stops.empty()) return 0;
        const Round& round = book_.of(stops);
        return round.drive + round.overtime;
    }
    static std::vector<int> with(std::vector<int> stops, int stop) {
        stops.insert(std::lower_bound(stops.begin(), stops.end(), stop), stop);
        return stops;
    }
    static std::vector<int> without(std::vector<int> stops, int stop) {
        stops.erase(std::find(stops.begin(), stops.end(), stop));
        return stops;
    }

    /// The packers suffice on that date when one of its rounds goes to other stops (`slot` -1: a round more).
    bool packers_suffice(int date, int slot, const std::vector<int>& stops, int other = -1,
                         const std::vector<int>& other_stops = {}) const {
        std::vector<int> used = packers_of(problem_, stops);
        const auto add = [&](const std::vector<int>& more) {
            const auto theirs = packers_of(problem_, more);
            for (std::size_t k = 0; k < used.size(); ++k) used[k] += theirs[k];
        };
        if (other >= 0 && slots_[at(other)].date == date) add(other_stops);
        for (std::size_t i = 0; i < slots_.size(); ++i) {
            const int place = static_cast<int>(i);
            if (slots_[i].date == date && place != slot && place != other) add(slots_[i].stops);
        }
        for (std::size_t k = 0; k < used.size(); ++k)
            if (used[k] > problem_.packers[k]) return false;
        return true;
    }

    /// After the parts before it, before those behind it.
    bool date_suits(int stop, int date) const {
        const Stop& s = problem_.stops[at(stop)];
        if (!s.allowed[at(date)]) return false;
        for (const int other : parts_[at(s.job)]) {
            if (other == stop || slot_of_[at(other)] < 0) continue;
            const int theirs = date_of(other);
            if (problem_.stops[at(other)].part < s.part ? theirs >= date : theirs <= date) return false;
        }
        return true;
    }

    int rounds_on(int date) const {
        return static_cast<int>(std::count_if(
            slots_.begin(), slots_.end(), [&](const Slot& slot) { return slot.date == date && !slot.stops.empty(); }));
    }

    struct Place {
        int slot = -1, date = 0;
        std::tuple<int, Minute, int, int> key{};  ///< rounds more, minutes more, moved, date
    };
    /// The cheapest round for that stop, or a new one; never `not_in`.
    std::optional<Place> cheapest(int stop, int not_in = -1, bool new_round = true) {
        std::optional<Place> best;
        const auto offer = [&](int slot, int date, int rounds, Minute more) {
            const int kept = problem_.stops[at(stop)].kept_date;
            const Place place{slot, date, {rounds, more, kept >= 0 && kept != date ? 1 : 0, date}};
            if (!best || place.key < best->key) best = place;
        };
        for (std::size_t i = 0; i < slots_.size(); ++i) {
            const Slot& slot = slots_[i];
            const int place = static_cast<int>(i);
            if (slot.stops.empty() || place == not_in || !date_suits(stop, slot.date)) continue;
            const auto stops = with(slot.stops, stop);
            if (book_.of(stops).stops.empty() || !packers_suffice(slot.date, place, stops)) continue;
            offer(place, slot.date, 0, minutes(stops) - minutes(slot.stops));
        }
        if (!new_round || book_.of({stop}).stops.empty()) return best;
        for (int date = 0; date < problem_.dates; ++date) {
            if (!date_suits(stop, date) || rounds_on(date) >= problem_.crews) continue;
            if (packers_suffice(date, -1, {stop})) offer(-1, date, 1, minutes({stop}));
        }
        return best;
    }

    void put(int stop, const Place& place) {
        int slot = place.slot;
        if (slot < 0) {
            slot = static_cast<int>(slots_.size());
            slots_.push_back({place.date, {}});
        }
        slots_[at(slot)].stops = with(slots_[at(slot)].stops, stop);
        slot_of_[at(stop)] = slot;
    }
    void take(int stop) {
        Slot& slot = slots_[at(slot_of_[at(stop)])];
        slot.stops = without(slot.stops, stop);
        slot_of_[at(stop)] = -1;
    }

    /// The whole job, part by part, or nothing of it.
    bool place_job(int job) {
        std::vector<int> done;
        for (const int stop : parts_[at(job)]) {
            const auto place = cheapest(stop);
            if (!place) {
                for (const int s : done) take(s);
                return false;
            }
            put(stop, *place);
            done.push_back(stop);
        }
        return !done.empty();
    }

    /// A crew-day less: all its stops go elsewhere.
    bool empty_a_round() {
        for (std::size_t i = 0; i < slots_.size(); ++i) {
            if (slots_[i].stops.empty()) continue;
            const auto slots = slots_;
            const auto slot_of = slot_of_;
            bool gone = true;
            for (const int stop : slots[i].stops) {
                take(stop);
                const auto place = cheapest(stop, static_cast<int>(i), false);
                gone = gone && place.has_value();
                if (!gone) break;
                put(stop, *place);
            }
            if (gone) return true;
            slots_ = slots;
            slot_of_ = slot_of;
        }
        return false;
    }

    /// A stop that another round reaches with less driving and overtime.
    bool move_a_stop() {
        for (std::size_t s = 0; s < slot_of_.size(); ++s) {
            if (slot_of_[s] < 0) continue;
            const int stop = static_cast<int>(s), from = slot_of_[s];
            const Minute saved = minutes(slots_[at(from)].stops) - minutes(without(slots_[at(from)].stops, stop));
            take(stop);
            const auto place = cheapest(stop, from, false);
            const bool better = place && std::get<1>(place->key) < saved;
            put(stop, better ? *place : Place{from, slots_[at(from)].date, {}});
            if (better) return true;
        }
        return false;
    }

    /// Two stops that change places.
    bool swap_two() {
        for (std::size_t a = 0; a < slot_of_.size(); ++a)
            for (std::size_t b = a + 1; b < slot_of_.size(); ++b)
                if (slot_of_[a] >= 0 && slot_of_[b] >= 0 && slot_of_[a] != slot_of_[b] &&
                    try_swap(static_cast<int>(a), static_cast<int>(b)))
                    return true;
        return false;
    }
    bool try_swap(int a, int b) {
        if (problem_.stops[at(a)].job == problem_.stops[at(b)].job) return false;
        const int sa = slot_of_[at(a)], sb = slot_of_[at(b)];
        const Slot x = slots_[at(sa)], y = slots_[at(sb)];
        if (x.stops.size() == 1 && y.stops.size() == 1) return false;
        const auto nx = with(without(x.stops, a), b), ny = with(without(y.stops, b), a);
        if (book_.of(nx).stops.empty() || book_.of(ny).stops.empty()) return false;
        if (minutes(nx) + minutes(ny) >= minutes(x.stops) + minutes(y.stops)) return false;
        if (!date_suits(a, y.date) || !date_suits(b, x.date)) return false;
        if (!packers_suffice(x.date, sa, nx, sb, ny) || !packers_suffice(y.date, sb, ny, sa, nx)) return false;
        slots_[at(sa)].stops = nx;
        slots_[at(sb)].stops = ny;
        slot_of_[at(a)] = sb;
        slot_of_[at(b)] = sa;
        return true;
    }

    const Problem& problem_;
    RoundBook& book_;
    std::vector<Slot> slots_;
    std::vector<int> slot_of_;             ///< by stop; -1: not placed
    std::vector<std::vector<int>> parts_;  ///< stops of each job, in order
};

/// The narrowest first: days in a row, few dates, long work.
std::vector<int> first_order(const Problem& problem) {
    struct Narrow {
        int parts = 0, dates = 0;
        Minute length = 0;
    };
    std::vector<Narrow> jobs(problem.jobs.size());
    for (const Stop& stop : problem.stops) {
        auto& job = jobs[at(stop.job)];
        ++job.parts;
        job.dates += static_cast<int>(std::count(stop.allowed.begin(), stop.allowed.end(), true));
        job.length = std::max(job.length, stop.length);
    }
    std::vector<int> order(jobs.size());
    std::iota(order.begin(), order.end(), 0);
    std::stable_sort(order.begin(), order.end(), [&](int a, int b) {
        const auto &x = jobs[at(a)], &y = jobs[at(b)];
        return std::tuple{x.dates * y.parts, -x.parts, -x.length} < std::tuple{y.dates * x.parts, -y.parts, -y.length};
    });
    return order;
}

/// The same numbers on every machine (Park and Miller's generator, Communications of the ACM 31, 1988, p. 1195).
class Shuffle {
public:
    int below(int n) {
        state_ = state_ * 16807 % 2147483647;
        return static_cast<int>(state_ % static_cast<std::uint64_t>(n));
    }

private:
    std::uint64_t state_ = 20140414;
};

}  // namespace

Rota solve_by_insertion(const Problem& problem, RoundBook& book) {
    constexpr int tries = 24;
    Shuffle shuffle;
    std::optional<Rota> best;
    std::optional<Worth> best_worth;
    auto order = first_order(problem);
    for (int attempt = 0; attempt < tries; ++attempt) {
        Search search{problem, book};
        search.run(order);
        Rota rota = search.rota();
        const Worth sum = worth(problem, rota);
        if (!best_worth || sum < *best_worth) {
            best_worth = sum;
            best = std::move(rota);
        }
        // Neighbours in the order change places, more of them each time.
        order = first_order(problem);
        for (int k = 0; k < attempt + 2 && order.size() > 1; ++k) {
            const int i = shuffle.below(static_cast<int>(order.size()));
            const int reach = std::min(static_cast<int>(order.size()) - 1, 1 + attempt);
            std::swap(order[at(i)], order[at((i + 1 + shuffle.below(reach)) % static_cast<int>(order.size()))]);
        }
    }
    return std::move(*best);
}

}  // namespace patchwright::week
