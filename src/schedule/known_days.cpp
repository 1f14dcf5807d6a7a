#include "patchwright/schedule/known_days.hpp"

#include <bit>
#include <type_traits>
#include <vector>

namespace patchwright::schedule {
namespace {

/// Some 100 bytes each; more than that many are worked out again.
constexpr std::size_t max_known = 300'000;

/// Every number of a day in turn. Structures are taken apart whole, so that a field more does not compile until it is
/// taken in here; names are left out, as they decide nothing.
class Digest {
public:
    template <class T>
    void add(const T& value) {
        if constexpr (std::is_enum_v<T>)
            take(static_cast<std::uint64_t>(value));
        else
            take(static_cast<std::uint64_t>(static_cast<std::int64_t>(value)));
    }
    template <class... Parts>
    void add_all(const Parts&... parts) {
        (add(parts), ...);
    }
    void add(Length length) { take(std::bit_cast<std::uint64_t>(length.si())); }
    template <class T>
    void add(const std::optional<T>& value) {
        add(value.has_value());
        if (value) add(*value);
    }
    template <class T>
    void add(const std::vector<T>& list) {
        add(list.size());
        for (const auto& item : list) add(item);
    }
    void add(const std::array<int, machine_kinds>& counts) {
        for (const int count : counts) add(count);
    }
    void add(const Labour& labour) {
        const auto& [minutes, persons] = labour;
        add_all(minutes, persons);
    }
    void add(const PatchWork& patch) {
        const auto& [id, run, packer, heater, cut, bench_test, wet_out, load, position, inflate, crease, let_down,
                     re_survey, reopen, pour, inflate_by, crease_by, mix_to_let_down, at_start, at_end, from_far_end,
                     from_any_end, flow_through, after, overnight, ready_on_site, lying, watched] = patch;
        add_all(run, packer, heater, cut, bench_test, wet_out, load, position, inflate, crease, let_down, re_survey,
                reopen, pour, inflate_by, crease_by, mix_to_let_down, at_start, at_end, from_far_end, from_any_end,
                flow_through, after, overnight, ready_on_site, lying, watched);
    }
    void add(const RunWork& run) {
        const auto& [place, id, prepared, access_from, access_to, ends_in_sight, set_up, open_access, clean, roots,
                     survey, flush, flow_control, dry, storage, ready, from_open, to_open] = run;
        add_all(place, prepared, access_from, access_to, ends_in_sight, set_up, open_access, clean, roots, survey,
                flush, flow_control, dry, storage, ready, from_open, to_open);
    }
    void add(const Mix& mix) {
        const auto& [patches, pour_by, id, worth, in_hand] = mix;
        add_all(patches, pour_by, in_hand);
    }
    void add(const Packers& packers) {
        const auto& [id, count] = packers;
        add(count);
    }
    void add(const Heaters& heaters) {
        const auto& [id, count] = heaters;
        add(count);
    }
    void add(const DayWork::UnderWay& step) {
        const auto& [patch, run, what] = step;
        add_all(patch, run, what);
    }
    void add(const DayWork& work) {
        const auto& [patches, runs, mixes, packers, heaters, machines, prepare_ahead, start, finish, overtime, travel,
                     travel_out, under_way, pack_up, persons, air_lines, alarm_gauge, while_watching, ready_in_yard] =
            work;
        add_all(patches, runs, mixes, packers, heaters, machines, prepare_ahead, start, finish, overtime, travel,
                travel_out, under_way, pack_up, persons, air_lines, alarm_gauge, while_watching, ready_in_yard);
    }
    std::pair<std::uint64_t, std::uint64_t> value() const { return {first_, second_}; }

private:
    /// SplitMix64's finaliser (Steele, Lea, Flood, OOPSLA 2014; from memory): every bit in moves about half of those
    /// out.
    static std::uint64_t mixed(std::uint64_t x) {
        x = (x ^ (x >> 30U)) * 0xbf58476d1ce4e5b9U;
        x = (x ^ (x >> 27U)) * 0x94d049bb133111ebU;
        return x ^ (x >> 31U);
    }
    void take(std::uint64_t value) {
        first_ = mixed(first_ ^ value);
        second_ = mixed(second_ + value * 0x9e3779b97f4a7c15U + 1);
    }

    std::uint64_t first_ = 0x243f6a8885a308d3U, second_ = 0x13198a2e03707344U;  // digits of pi
};

}  // namespace

KnownDays::Key KnownDays::key_of(const DayWork& work, std::int64_t budget, Minute latest) {
    Digest digest;
    digest.add_all(work, budget, latest);
    return digest.value();
}

Finish KnownDays::earliest_finish(const DayWork& work, std::int64_t budget, Minute latest) {
    const Key key = key_of(work, budget, latest);
    {
        const std::lock_guard lock{guard_};
        if (const auto place = known_.find(key); place != known_.end()) return place->second;
    }
    const Finish finish = schedule::earliest_finish(work, budget, latest);
    const std::lock_guard lock{guard_};
    if (known_.size() < max_known) known_.try_emplace(key, finish);
    return finish;
}

}  // namespace patchwright::schedule
