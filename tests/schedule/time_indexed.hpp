#pragma once
#include <coin/Cbc_C_Interface.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <vector>

#include "patchwright/schedule/schedule.hpp"

/// The day as a time-indexed integer programme, solved by CBC: one binary for every job and minute of start. Mixes of
/// one patch only. Resources are sums over the starts up to a minute, so that packers, air lines, watched cures and
/// shut runs are all linear.
namespace time_indexed {

using namespace patchwright::schedule;

struct Row {
    std::map<int, double> terms;
    double low = 0, high = 0;
};

class Programme {
public:
    Programme(const Problem& problem, Minute last) : p_{problem}, first_{problem.start + problem.travel} {
        horizon_ = last - problem.pack_up - problem.travel - first_;
        for (std::size_t r = 0; r < p_.runs.size(); ++r) {
            prepare_.push_back(job(p_.runs[r].set_up + p_.runs[r].clean, 2));
            look_.push_back(job(p_.runs[r].survey + p_.runs[r].flow_control, 1));
        }
        for (const PatchWork& w : p_.patches) {
            cut_.push_back(job(w.cut, 1));
            bench_.push_back(job(w.bench_test, 1));
            block_.push_back(job(w.wet_out + w.load + w.position + w.inflate + w.crease, 2));
            down_.push_back(job(w.let_down, 1));
            inspect_.push_back(job(w.re_survey + w.reopen, 1));
        }
        end_ = job(0, 0);
        constrain();
    }

    /// Finish of the best day, or -1 when CBC proves nothing within the seconds given.
    Minute solve(double seconds, bool heuristics = true) const {
        std::vector<int> starts{0}, rows;
        std::vector<double> values;
        std::vector<std::vector<std::pair<int, double>>> by_column(static_cast<std::size_t>(columns_));
        for (std::size_t r = 0; r < rows_.size(); ++r)
            for (const auto& [column, value] : rows_[r].terms)
                by_column[static_cast<std::size_t>(column)].emplace_back(static_cast<int>(r), value);
        for (const auto& column : by_column) {
            for (const auto& [row, value] : column) {
                rows.push_back(row);
                values.push_back(value);
            }
            starts.push_back(static_cast<int>(rows.size()));
        }
        std::vector<double> low(by_column.size(), 0.0), high(by_column.size(), 1.0), cost(by_column.size(), 0.0);
        // The end's minute is the number of minutes by which it has not started.
        for (Minute t = 0; t <= horizon_; ++t) cost[static_cast<std::size_t>(end_.column + t)] = -1.0;
        std::vector<double> row_low, row_high;
        for (const Row& row : rows_) {
            row_low.push_back(row.low);
            row_high.push_back(row.high);
        }
        Cbc_Model* model = Cbc_newModel();
        Cbc_loadProblem(model, columns_, static_cast<int>(rows_.size()), starts.data(), rows.data(), values.data(),
                        low.data(), high.data(), cost.data(), row_low.data(), row_high.data());
        for (int c = 0; c < columns_; ++c) Cbc_setInteger(model, c);
        Cbc_setObjSense(model, 1.0);
        Cbc_setLogLevel(model, 0);
        Cbc_setMaximumSeconds(model, seconds);
        Cbc_setParameter(model, "increment", "0.999");                       // minutes are whole
        if (!heuristics) Cbc_setParameter(model, "heuristicsOnOff", "off");  // the first answer is known
        Cbc_solve(model);
        const bool proven = Cbc_isProvenOptimal(model) != 0;
        const double value = Cbc_getObjValue(model);
        Cbc_deleteModel(model);
        return proven ? first_ + horizon_ + 1 + static_cast<Minute>(std::lround(value)) + p_.pack_up + p_.travel : -1;
    }

private:
    struct Job {
        int column = 0;
        Minute minutes = 0;
        int persons = 1;
    };
    static constexpr double none = 1e20;

    Job job(Minute minutes, int persons) {
        const Job j{columns_, minutes, std::min(persons, p_.crew_size)};
        columns_ += horizon_ + 1;
        return j;
    }
    /// Adds factor * [job has started by minute t].
    void started(Row& row, const Job& j, Minute t, double factor) const {
        if (t >= 0) row.terms[j.column + std::min(t, horizon_)] += factor;
    }
    void active(Row& row, const Job& j, Minute t, double factor) const {
        started(row, j, t, factor);
        started(row, j, t - j.minutes, -factor);
    }
    void at_most(Row row, double limit) {
        row.low = -none;
        row.high = limit;
        rows_.push_back(std::move(row));
    }
    /// `later` starts no earlier than `lag` after the start of `earlier`, minute by minute.
    void follows(const Job& earlier, const Job& later, Minute lag) {
        for (Minute t = 0; t <= horizon_; ++t) {
            Row row;
            started(row, later, t, 1.0);
            started(row, earlier, t - lag, -1.0);
            at_most(std::move(row), 0.0);
        }
    }
    void in_pipe(Row& row, std::size_t i, Minute t) const {
        const PatchWork& w = p_.patches[i];
        started(row, block_[i], t - w.wet_out - w.load, 1.0);
        started(row, down_[i], t - w.let_down, -1.0);
    }
    std::vector<Job> all() const {
        std::vector<Job> jobs;
        for (const auto* list : {&prepare_, &look_, &cut_, &bench_, &block_, &down_, &inspect_})
            jobs.insert(jobs.end(), list->begin(), list->end());
        return jobs;
    }

    /// Once started stays started, and started by the horizon.
    void steps(const Job& j) {
        for (Minute t = 1; t <= horizon_; ++t) {
            Row row;
            started(row, j, t - 1, 1.0);
            started(row, j, t, -1.0);
            at_most(std::move(row), 0.0);
        }
        Row last;
        started(last, j, horizon_, 1.0);
        last.low = last.high = 1.0;
        rows_.push_back(std::move(last));
    }

    void constrain() {
        const std::vector<Job> jobs = all();
        for (const Job& j : jobs) {
            steps(j);
            follows(j, end_, j.minutes);
        }
        steps(end_);
        orders();
        for (Minute t = 0; t <= horizon_; ++t) capacities(jobs, t);
    }

    void orders() {
        for (std::size_t r = 0; r < p_.runs.size(); ++r) follows(prepare_[r], look_[r], prepare_[r].minutes);
        for (std::size_t i = 0; i < p_.patches.size(); ++i) {
            const PatchWork& w = p_.patches[i];
            const auto r = static_cast<std::size_t>(w.run);
            const Minute creased = block_[i].minutes;
            follows(look_[r], block_[i], look_[r].minutes);
            follows(prepare_[r], block_[i], prepare_[r].minutes + p_.runs[r].dry - w.wet_out - w.load);
            follows(cut_[i], block_[i], cut_[i].minutes);
            follows(bench_[i], block_[i], bench_[i].minutes);
            follows(block_[i], down_[i], std::max(creased, w.mix_to_let_down));
            follows(down_[i], inspect_[i], w.let_down);
            for (int a : w.after)
                follows(down_[static_cast<std::size_t>(a)], block_[i],
                        p_.patches[static_cast<std::size_t>(a)].let_down);
        }
    }

    void capacities(const std::vector<Job>& jobs, Minute t) {
        Row team, persons, lines;
        for (const Job& j : jobs) {
            active(team, j, t, 1.0);
            active(persons, j, t, j.persons);
        }
        at_most(std::move(team), 1.0);
        for (std::size_t i = 0; i < p_.patches.size(); ++i) {
            const PatchWork& w = p_.patches[i];
            if (p_.watch_cure) {
                started(persons, block_[i], t - block_[i].minutes, 1.0);
                started(persons, down_[i], t, -1.0);
            }
            started(lines, block_[i], t - w.wet_out - w.load - w.position, 1.0);
            started(lines, down_[i], t - w.let_down, -1.0);
            active(lines, bench_[i], t, 1.0);
        }
        at_most(std::move(persons), p_.crew_size);
        at_most(std::move(lines), p_.air_lines);
        for (std::size_t k = 0; k < p_.packers.size(); ++k) {
            Row held;
            for (std::size_t i = 0; i < p_.patches.size(); ++i) {
                const PatchWork& w = p_.patches[i];
                if (w.packer != static_cast<int>(k)) continue;
                if (w.bench_test > 0)
                    started(held, bench_[i], t, 1.0);
                else
                    started(held, block_[i], t - w.wet_out, 1.0);
                started(held, down_[i], t - w.let_down, -1.0);
            }
            at_most(std::move(held), p_.packers[k].count);
        }
        for (std::size_t i = 0; i < p_.patches.size(); ++i) {
            for (std::size_t j = 0; j < p_.patches.size(); ++j) {
                const PatchWork &a = p_.patches[i], &b = p_.patches[j];
                if (a.run != b.run) continue;
                Row shut;
                in_pipe(shut, i, t);
                active(shut, inspect_[j], t, 1.0);
                at_most(std::move(shut), 1.0);
                const bool apart = a.from_far_end != b.from_far_end &&
                                   (a.from_far_end ? b.at_end < a.at_start : a.at_end < b.at_start);
                if (i == j || apart) continue;
                Row both;
                in_pipe(both, i, t);
                in_pipe(both, j, t);
                at_most(std::move(both), 1.0);
            }
        }
    }

    const Problem& p_;
    Minute first_ = 0, horizon_ = 0;
    int columns_ = 0;
    Job end_;
    std::vector<Job> prepare_, look_, cut_, bench_, block_, down_, inspect_;
    std::vector<Row> rows_;
};

}  // namespace time_indexed
