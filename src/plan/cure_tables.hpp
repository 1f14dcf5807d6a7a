#pragma once
#include <atomic>
#include <cstddef>
#include <exception>
#include <map>
#include <span>
#include <thread>
#include <tuple>
#include <vector>

#include "design.hpp"
#include "patchwright/plan/plan.hpp"
#include "picks.hpp"
#include "setting.hpp"
#include "table_rows.hpp"

namespace patchwright::plan {

/// The site's cure tables. Sleeves of one case share theirs, but for pour-by, which hangs on the mass in the pot: what
/// the site reads must not differ by a minute from the card. Where there are threads to spare they work ahead on the
/// patches that are expected, while the best whole job is still being sought; nothing depends on how far they got.
class CureTables {
public:
    explicit CureTables(const Setting& setting);
    ~CureTables();
    CureTables(const CureTables&) = delete;
    CureTables& operator=(const CureTables&) = delete;

    /// Once, before `fill`.
    void expect(Setting& setting, const PatchList& patches);
    /// Waits for what is under way and computes what nobody expected.
    void fill(Setting& setting, std::vector<Patch>& patches);

private:
    using Key = std::tuple<int, int, int, double, double>;  ///< resin, felt, run, thickness, wet-out
    struct Case {
        const cure::Model* model = nullptr;
        CureCase at;
        cure::Surroundings surroundings;
        Temperature warmest_resin{};  ///< that it may be mixed at
    };
    /// A few rows of one case's tables: small enough that no thread waits long for another.
    struct Task {
        Key key;
        const Case* of = nullptr;
        std::span<const Temperature> pipes, airs;
        CureTable rows;
        std::exception_ptr failure;
    };
    static Key key_of(const Patch& patch);
    void add(Setting& setting, const Patch& patch, std::vector<Task>& tasks);
    void work(Task& task) const;
    void add_rows(const Task& task, Patch& patch);
    void take();

    const job::Limits& limits_;
    TableRows temperatures_;
    std::map<Key, Case> cases_;
    std::map<std::tuple<Key, double, double, double>, Duration> pours_;  ///< by kilograms in the pot, resin and air
    std::vector<Task> expected_;                                         ///< not touched while `ahead_` runs
    std::atomic<std::size_t> next_{0};
    std::vector<std::jthread> ahead_;
};

}  // namespace patchwright::plan
