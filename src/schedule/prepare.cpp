// From the problem as given to what an order of work needs.
#include <algorithm>
#include <numeric>

#include <fmt/core.h>

#include "model.hpp"
#include "patchwright/units/error.hpp"

namespace patchwright::schedule {
namespace {

constexpr std::size_t members_most = 6;  // of one mix whose orders are all tried

/// `who` is made only for those who read it.
template <class Who>
void require_place(int place, std::size_t size, const Who& who, const char* list) {
    if (place < 0 || static_cast<std::size_t>(place) >= size)
        throw InputError(fmt::format("schedule: {} names {} {}, but there are {}", who(), list, place, size));
}

void check_patch(const Problem& problem, const PatchWork& p) {
    const auto who = [&] { return fmt::format("patch {}", p.id); };
    require_place(p.run, problem.runs.size(), who, "run");
    require_place(p.batch, problem.batches.size(), who, "mix");
    if (p.packer != -1) require_place(p.packer, problem.packers.size(), who, "packer");
    for (int a : p.after) require_place(a, problem.patches.size(), who, "patch");
    for (Minute m : {p.cut, p.bench_test, p.wet_out, p.load, p.position, p.inflate, p.crease, p.let_down, p.re_survey,
                     p.reopen, p.pour})
        if (m < 0 || m > 100000)
            throw InputError(fmt::format("schedule: {} has a duration below zero or absurd", who()));
    if (p.inflate_by <= 0 || p.crease_by <= 0 || p.mix_to_let_down <= 0)
        throw InputError(
            fmt::format("schedule: {} needs inflate-by, crease-by and let-down times after mixing", who()));
    if (!(p.at_start <= p.at_end))  // also when one is not a number
        throw InputError(fmt::format("schedule: {} must start before it ends", who()));
}

void check_mixes(const Problem& problem) {
    std::vector<int> home(problem.patches.size(), -1);
    for (std::size_t b = 0; b < problem.batches.size(); ++b) {
        const Mix& mix = problem.batches[b];
        if (mix.patches.empty()) throw InputError(fmt::format("schedule: mix {} holds no patch", b));
        if (mix.pour_by < 0) throw InputError(fmt::format("schedule: mix {} has a pour-by below zero", b));
        for (int i : mix.patches) {
            require_place(
                i, problem.patches.size(), [b] { return fmt::format("mix {}", b); }, "patch");
            int& at = home[static_cast<std::size_t>(i)];
            if (at != -1 || problem.patches[static_cast<std::size_t>(i)].batch != static_cast<int>(b))
                throw InputError(fmt::format("schedule: patch {} must be in one mix, the one that it names",
                                             problem.patches[static_cast<std::size_t>(i)].id));
            at = static_cast<int>(b);
        }
    }
    for (std::size_t i = 0; i < home.size(); ++i)
        if (home[i] == -1) throw InputError(fmt::format("schedule: patch {} is in no mix", problem.patches[i].id));
}

/// `after` must not run in a circle.
void check_after(const Problem& problem) {
    const std::size_t n = problem.patches.size();
    std::vector<int> depth(n, 0);
    for (std::size_t round = 0; round <= n; ++round) {
        bool changed = false;
        for (std::size_t i = 0; i < n; ++i)
            for (int a : problem.patches[i].after)
                if (depth[i] <= depth[static_cast<std::size_t>(a)]) {
                    depth[i] = depth[static_cast<std::size_t>(a)] + 1;
                    changed = true;
                }
        if (!changed) return;
    }
    throw InputError("schedule: patches wait for each other in a circle");
}

BlockVariant variant_of(const Problem& problem, const std::vector<int>& order) {
    BlockVariant v;
    v.order = order;
    v.sleeves.resize(order.size());
    Minute t = 0;
    for (std::size_t k = 0; k < order.size(); ++k) {
        v.sleeves[k].wet_out = t;
        t += problem.patches[static_cast<std::size_t>(order[k])].wet_out;
    }
    for (std::size_t k = 0; k < order.size(); ++k) {
        const PatchWork& p = problem.patches[static_cast<std::size_t>(order[k])];
        auto& sleeve = v.sleeves[k];
        sleeve.load = t;
        sleeve.position = t += p.load;
        sleeve.inflate = t += p.position;
        sleeve.crease = t += p.inflate;
        v.waiting += t - p.wet_out - p.load - p.position - p.inflate;
        sleeve.creased = t += p.crease;
    }
    return v;
}

/// Why that order of a mix breaks a limit, in words; empty when it keeps them all.
std::string broken_by(const Problem& problem, const Mix& mix, const BlockVariant& v) {
    for (std::size_t k = 0; k < v.order.size(); ++k) {
        const PatchWork& p = problem.patches[static_cast<std::size_t>(v.order[k])];
        if (mix.pour_by > 0 && v.sleeves[k].wet_out + p.pour > mix.pour_by)
            return fmt::format(
                "pouring takes {} from mixing, but the bucket must be empty within {}: a smaller or "
                "cooler mix, or a slower resin",
                span(v.sleeves[k].wet_out + p.pour), span(mix.pour_by));
        if (v.sleeves[k].crease > p.inflate_by)
            return fmt::format(
                "mixing to inflated takes {}, but the sleeve must be inflated within {}: a slower or "
                "cooler resin, or quicker work",
                span(v.sleeves[k].crease), span(p.inflate_by));
        if (v.sleeves[k].creased > p.crease_by)
            return fmt::format(
                "mixing to creased takes {}, but the crease step must be over within {}: a slower or "
                "cooler resin, or quicker work",
                span(v.sleeves[k].creased), span(p.crease_by));
    }
    return {};
}

/// What the sleeves of a mix need at the same time and do not get.
std::string lacking(const Model& model, const Mix& mix) {
    const Problem& problem = *model.problem;
    for (int i : mix.patches) {
        const PatchWork& p = model.patch(i);
        if (p.packer == -1) return "no packer in the yard fits it: buy, hire or build one for that bore and length";
        const Packers& kind = problem.packers[static_cast<std::size_t>(p.packer)];
        const auto wanted = std::count_if(mix.patches.begin(), mix.patches.end(),
                                          [&](int j) { return model.patch(j).packer == p.packer; });
        if (kind.count < wanted)
            return kind.count < 1 ? fmt::format("no packer {} stands in the yard: one is needed", kind.id)
                                  : fmt::format(
                                        "its mix needs {} packers {} at once and the yard has {}: give it a mix "
                                        "of its own",
                                        wanted, kind.id, kind.count);
        for (int j : mix.patches) {
            if (j != i && model.keep_out(i, j))
                return fmt::format(
                    "its mix puts a packer into the same run as patch {}, where one must pass the "
                    "other: give it a mix of its own",
                    model.patch(j).id);
            if (std::find(p.after.begin(), p.after.end(), j) != p.after.end())
                return fmt::format("it waits for patch {} of its own mix: give it a mix of its own", model.patch(j).id);
        }
    }
    const int members = static_cast<int>(mix.patches.size());
    if (problem.air_lines < members)
        return members == 1
                   ? "no air line: one is needed"
                   : fmt::format("its mix needs {} air lines at once and there are {}: give it a mix of its own",
                                 members, problem.air_lines);
    const int team = problem.crew_size;
    if (problem.watch_cure && members > 1 && std::min(2, team) + members - 1 > team)
        return fmt::format(
            "its mix needs {} persons (two on the next sleeve while each cure is watched), the crew has "
            "{}: a gauge with alarm, or a mix of its own",
            std::min(2, team) + members - 1, team);
    return {};
}

MixModel mix_model(const Model& model, const Mix& mix) {
    MixModel out;
    out.patches = mix.patches;
    out.why_not = lacking(model, mix);
    const bool lacks = !out.why_not.empty();
    std::vector<int> order = mix.patches;
    if (order.size() <= members_most) std::sort(order.begin(), order.end());
    do {
        BlockVariant v = variant_of(*model.problem, order);
        out.length = v.sleeves.back().creased;
        std::string broken = broken_by(*model.problem, mix, v);
        if (broken.empty())
            out.variants.push_back(std::move(v));
        else if (out.why_not.empty())
            out.why_not = std::move(broken);
    } while (order.size() <= members_most && std::next_permutation(order.begin(), order.end()));
    if (out.variants.size() > 1)
        std::stable_sort(out.variants.begin(), out.variants.end(),
                         [](const BlockVariant& a, const BlockVariant& b) { return a.waiting < b.waiting; });
    if (lacks) out.variants.clear();
    if (!out.variants.empty()) out.why_not.clear();
    return out;
}

}  // namespace

bool must_pass(const PatchWork& a, const PatchWork& b) {
    if (a.run != b.run) return false;
    if (a.from_far_end == b.from_far_end) return true;  // the deeper one's hose lies where the nearer one is to stick
    const PatchWork& near = a.from_far_end ? b : a;
    const PatchWork& far = a.from_far_end ? a : b;
    return near.at_end >= far.at_start;
}

void check_input(const Problem& problem) {
    if (problem.start < 0 || problem.finish <= problem.start || problem.finish > 2880)
        throw InputError("schedule: the day must finish after it starts");
    if (problem.travel < 0 || problem.pack_up < 0)
        throw InputError("schedule: travel and pack up must not be below zero");
    if (problem.crew_size < 1 || problem.crews < 1)
        throw InputError("schedule: at least one crew of at least one person is needed");
    if (problem.air_lines < 0) throw InputError("schedule: the number of air lines must not be below zero");
    for (const Packers& kind : problem.packers)
        if (kind.count < 0) throw InputError(fmt::format("schedule: packer {} counts below zero", kind.id));
    for (const RunWork& run : problem.runs)
        for (Minute m : {run.set_up, run.clean, run.survey, run.flow_control, run.dry})
            if (m < 0 || m > 100000)
                throw InputError(fmt::format("schedule: run {} has a duration below zero or absurd", run.id));
    for (const PatchWork& p : problem.patches) check_patch(problem, p);
    check_mixes(problem);
    check_after(problem);
}

Model make_model(const Problem& problem) {
    Model model;
    model.problem = &problem;
    const std::size_t n = problem.patches.size();
    model.conflict.reserve(n * n);
    for (const PatchWork& a : problem.patches)
        for (const PatchWork& b : problem.patches) model.conflict.push_back(&a != &b && must_pass(a, b) ? 1 : 0);
    model.mixes.reserve(problem.batches.size());
    for (const Mix& mix : problem.batches) model.mixes.push_back(mix_model(model, mix));
    model.packers.reserve(problem.packers.size());
    for (const Packers& kind : problem.packers) model.packers.push_back(kind.count);
    const int packers = std::accumulate(model.packers.begin(), model.packers.end(), 0);
    model.crews = std::max(1, std::min({problem.crews, packers, problem.air_lines}));
    return model;
}

std::string mix_name(const Problem& problem, int mix) {
    const Mix& m = problem.batches[static_cast<std::size_t>(mix)];
    return m.id.empty() ? fmt::format("mix {}", mix + 1) : m.id;
}

std::string clock(Minute minute) {
    const Minute days = minute >= 0 ? minute / 1440 : -1;
    const Minute m = minute - 1440 * days;
    return fmt::format("{:02}:{:02}{}", m / 60, m % 60, days == 0 ? "" : days > 0 ? " next day" : " the day before");
}

std::string span(Minute minutes) {
    if (minutes < 60) return fmt::format("{} min", minutes);
    return minutes % 60 == 0 ? fmt::format("{} h", minutes / 60)
                             : fmt::format("{} h {} min", minutes / 60, minutes % 60);
}

}  // namespace patchwright::schedule
