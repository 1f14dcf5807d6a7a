#include <fmt/core.h>

#include <algorithm>

#include "job_checks.hpp"

namespace patchwright::io {
namespace {

/// Defaults of this program for a job: common practice, no source, except where named.
namespace stated {
constexpr double ovality_percent = 2.0;
constexpr Temperature ground = Temperature::celsius(10.0);
constexpr Temperature air = Temperature::celsius(15.0);
}  // namespace stated

class Assumptions {
public:
    Assumptions(const Node* object, std::string where, Job& job)
        : object_{object}, where_{std::move(where)}, job_{job} {}

    /// True when the file says nothing: the assumption is noted, the caller puts the value in.
    bool missing(std::string_view key, std::string what, std::string value, std::string why) {
        if (object_ != nullptr && object_->find(key) != nullptr) return false;
        job_.assumptions.push_back(
            {where_, std::move(what), std::move(value), "not in the job file; " + std::move(why)});
        return true;
    }

private:
    const Node* object_;
    std::string where_;
    Job& job_;
};

void assume_run(const Node& node, Run& run, Job& job) {
    Assumptions assume{&node, "run " + run.id, job};
    const UnitSystem units = job.units;
    assume.missing("from", "name of its beginning", run.from, "a name for the sheets");
    assume.missing("to", "name of its end", run.to, "a name for the sheets");
    assume.missing("condition", "condition", std::string{word(*run.condition)},
                   "a patch is for a pipe that still carries the soil");
    if (assume.missing("ovality", "ovality", format(Show::percent, 0.01 * stated::ovality_percent, units),
                       "usual default of specifications"))
        run.ovality = {stated::ovality_percent, Origin::assumed};
    assume.missing("water_table", "water table", "below the invert", "no water presses on the sleeve");
    if (assume.missing("ground_temperature", "ground temperature", format(Show::temperature, stated::ground, units),
                       "measure the pipe's wall before mixing"))
        run.ground_temperature = {stated::ground, Origin::assumed};
    assume.missing("traffic", "traffic above", std::string{word(*run.traffic)}, "private ground");
    if (assume.missing("access", "access", run.from, "one end, the run's beginning")) run.access = {run.from};
    assume.missing("flow", "flow while the pipe is blocked", "none", "the house uses no water");
    for (Fitting& fitting : run.fittings) {
        if (fitting.kind == FittingKind::junction && fitting.bore.si() == 0.0) {
            fitting.bore = run.bore;
            job.assumptions.push_back({"run " + run.id, "bore of " + fitting.id, format(Show::tape, run.bore, units),
                                       "not in the job file; as the run"});
        }
    }
}

void note_live_junctions(const Node& node, const Run& run, Job& job) {
    const Node* list = node.find("fittings");
    if (list == nullptr) return;
    for (std::size_t i = 0; i < std::min(list->children.size(), run.fittings.size()); ++i) {
        const Fitting& fitting = run.fittings[i];
        if (fitting.kind != FittingKind::junction) continue;
        Assumptions assume{&list->children[i], "run " + run.id, job};
        assume.missing("live", fitting.id, "live", "a branch that may carry flow stays open");
    }
}

}  // namespace

void assume_defaults(const Node& root, Job& job) {
    Assumptions top{&root, "job", job};
    top.missing("certainty", "certainty", std::string{word(job.certainty)},
                "distances and sizes are taken as surveyed");
    Assumptions site{root.find("site"), "site", job};
    site.missing("start", "start of the day", format(job.site.start), "a usual working day");
    site.missing("finish", "end of the day", format(job.site.finish), "a usual working day");
    site.missing("travel", "travel, one way", "as in the yard file", "likely time of the yard's durations");
    if (site.missing("air_temperature", "air temperature", format(Show::temperature, stated::air, job.units),
                     "read it on the day"))
        job.site.air_temperature = {stated::air, Origin::assumed};
    Assumptions dig{root.find("dig"), "dig", job};
    dig.missing("surface", "surface", std::string{word(*job.dig.surface)}, "hard surface");
    dig.missing("soil", "soil", std::string{word(*job.dig.soil)},
                "a drain lies in old backfill, which is never better");
    const Node* runs = root.find("runs");
    for (std::size_t r = 0; r < std::min(runs->children.size(), job.runs.size()); ++r) {
        note_live_junctions(runs->children[r], job.runs[r], job);
        assume_run(runs->children[r], job.runs[r], job);
        std::stable_sort(job.runs[r].fittings.begin(), job.runs[r].fittings.end(),
                         [](const Fitting& a, const Fitting& b) { return a.at < b.at; });
    }
}

}  // namespace patchwright::io
