#pragma once
#include <cstddef>
#include <exception>
#include <map>
#include <span>
#include <tuple>
#include <vector>

#include "context.hpp"
#include "design.hpp"
#include "patchwright/plan/plan.hpp"
#include "picks.hpp"
#include "table_rows.hpp"

namespace patchwright::plan {

/// The site's cure tables. Sleeves of one case share theirs, but for pour-by, which hangs on the mass in the pot: what
/// the site reads must not differ by a minute from the card.
class CureTables {
public:
    explicit CureTables(const PlanContext& context);
    void fill(PlanContext& context, std::vector<Patch>& patches);

private:
    using Key = std::tuple<int, int, int, int, double, double,
                           double>;  ///< resin, felt, run, heater, thickness, wet-out, its warmth
    struct Case {
        const cure::Model* model = nullptr;
        CureCase at;
        cure::Surroundings surroundings;
        std::vector<Temperature> resins;  ///< rows
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
    void add(PlanContext& context, const Patch& patch, std::vector<Task>& tasks);
    void work(Task& task) const;
    void add_rows(const Task& task, Patch& patch);

    const job::Limits& limits_;
    TableRows temperatures_;
    std::map<Key, Case> cases_;
    std::map<std::tuple<Key, double, double, double>, Duration> pours_;  ///< by kilograms in the pot, resin and air
};

}  // namespace patchwright::plan
