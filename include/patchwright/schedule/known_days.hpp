#pragma once
#include <cstddef>
#include <cstdint>
#include <mutex>
#include <unordered_map>
#include <utility>

#include "patchwright/schedule/day.hpp"

namespace patchwright::schedule {

/// Answers of `earliest_finish`, each worked out once: plans that differ in a price or in one place ask for the same
/// days. What may be reused of them saves most of the time of an outlook (docs/methods/whole-job.md). The answer is
/// that of `earliest_finish`, whoever asks first. May be asked from several threads at once.
class KnownDays {
public:
    Finish earliest_finish(const DayWork& work, std::int64_t budget, Minute latest);

private:
    /// 128 bits of all that an answer follows from: among a million days two share them with a chance of 1 in 10^26.
    using Key = std::pair<std::uint64_t, std::uint64_t>;
    struct Hash {
        std::size_t operator()(const Key& key) const { return static_cast<std::size_t>(key.first); }
    };
    static Key key_of(const DayWork& work, std::int64_t budget, Minute latest);

    std::mutex guard_;
    std::unordered_map<Key, Finish, Hash> known_;
};

}  // namespace patchwright::schedule
