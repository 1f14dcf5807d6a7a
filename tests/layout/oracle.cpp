#include "oracle.hpp"

#include <coin/Cbc_C_Interface.h>
#include <glpk.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <stdexcept>
#include <string>

namespace layout_test {
namespace {

bool forbidden_end(const Problem& problem, Centimetre at) {
    return std::any_of(problem.end_keep_outs.begin(), problem.end_keep_outs.end(),
                       [&](Span s) { return s.from < at && at < s.to; });
}

bool meets(Span span, Centimetre start, Centimetre end) { return start < span.to && end > span.from; }

/// Middle on the anchor, to half a centimetre.
bool on(Centimetre anchor, Centimetre start, Centimetre end) {
    return 2 * anchor - 1 <= start + end && start + end <= 2 * anchor + 1;
}

bool carrier_may(const Problem& problem, const Carrier& carrier, Centimetre start, Centimetre end) {
    if (end - start < carrier.length_min || end - start > carrier.length_max) return false;
    Centimetre left = start - carrier.tail, right = end + carrier.tail;
    if (carrier.restraint_at_mouths) {
        left = std::max(left, 0);
        right = std::min(right, problem.run_length);
    }
    if (left < 0 || right > problem.run_length) return false;
    bool reached = false;
    for (const Span span : carrier.reach) reached |= span.from <= left && right <= span.to;
    for (const Span span : carrier.may_not_cross) {
        if (meets(span, start, end)) return false;
    }
    return reached;
}

/// The anchors that the sleeve's middle stands on.
std::vector<Centimetre> anchors_of(const Carrier& carrier, Centimetre start, Centimetre end) {
    std::vector<Centimetre> found;
    for (const Centimetre at : carrier.anchors) {
        if (on(at, start, end)) found.push_back(at);
    }
    return found;
}

bool inside(const std::vector<Centimetre>& anchors, Span span) {
    return std::any_of(anchors.begin(), anchors.end(), [&](Centimetre at) { return span.from <= at && at <= span.to; });
}

bool piece_at(const Problem& problem, const std::vector<Centimetre>& anchors, const Target& target) {
    bool found = inside(anchors, {target.from, target.to});
    for (const auto& connection : problem.connections) {
        const bool touches = connection.opening.from <= target.to && connection.opening.to >= target.from;
        found |= touches && inside(anchors, connection.opening);
    }
    return found;
}

/// Fills in what the sleeve covers and the reopenings; false if it may not lie there.
bool lie(const Problem& problem, const Carrier& carrier, Sleeve& sleeve) {
    const auto anchors = anchors_of(carrier, sleeve.start, sleeve.end);
    if (!carrier.anchors.empty() && anchors.empty()) return false;
    for (const auto& connection : problem.connections) {
        if (!meets(connection.opening, sleeve.start, sleeve.end) || inside(anchors, connection.opening)) continue;
        if (!connection.reopening) return false;
        sleeve.cost += *connection.reopening;
    }
    const Centimetre margin = problem.overlap + problem.tolerance;
    for (int t = 0; t < static_cast<int>(problem.targets.size()); ++t) {
        const auto& target = problem.targets[static_cast<std::size_t>(t)];
        const bool covered = sleeve.start <= std::max(0, target.from - margin) &&
                             sleeve.end >= std::min(problem.run_length, target.to + margin);
        const bool over = meets({target.from, target.to}, sleeve.start, sleeve.end);
        if (target.needs_piece && (covered || over) && !piece_at(problem, anchors, target)) return false;
        if (covered) sleeve.covers.push_back(t);
    }
    return !sleeve.covers.empty();
}

/// The first run of targets without a hole, which is what the tariff is asked about.
int last_listed(const std::vector<int>& covers) {
    int last = covers.front();
    for (const int t : covers) {
        if (t == last + 1) last = t;
    }
    return last;
}

/// Rows of the integer programme: which columns sum to at least or at most one.
struct Rows {
    std::vector<std::vector<int>> cover, conflict;
};

/// Of two sleeves that share an end or a start one lies within the other, so that no best set has both: columns of one
/// end and of one start that conflict make one row together.
Rows rows_of(const Problem& problem, const std::vector<Sleeve>& sleeves) {
    Rows rows;
    rows.cover.resize(problem.targets.size());
    std::map<Centimetre, std::vector<int>> by_start, by_end;
    for (int i = 0; i < static_cast<int>(sleeves.size()); ++i) {
        const auto& sleeve = sleeves[static_cast<std::size_t>(i)];
        for (const int t : sleeve.covers) rows.cover[static_cast<std::size_t>(t)].push_back(i);
        by_start[sleeve.start].push_back(i);
        by_end[sleeve.end].push_back(i);
    }
    for (const auto& [end, ending] : by_end) {
        for (auto it = by_start.upper_bound(end - problem.lap); it != by_start.end() && it->first < end + problem.gap;
             ++it) {
            std::vector<int> row;
            for (const int i : ending) {
                if (sleeves[static_cast<std::size_t>(i)].start < it->first) row.push_back(i);
            }
            if (row.empty()) continue;
            row.insert(row.end(), it->second.begin(), it->second.end());
            rows.conflict.push_back(std::move(row));
        }
    }
    return rows;
}

}  // namespace

std::vector<Sleeve> every_sleeve(const Problem& problem, const Tariff& tariff) {
    std::vector<Sleeve> sleeves;
    for (Centimetre start = 0; start < problem.run_length; ++start) {
        if (forbidden_end(problem, start)) continue;
        for (Centimetre end = start + 1; end <= problem.run_length; ++end) {
            if (forbidden_end(problem, end)) continue;
            for (int c = 0; c < static_cast<int>(problem.carriers.size()); ++c) {
                const auto& carrier = problem.carriers[static_cast<std::size_t>(c)];
                Sleeve sleeve{start, end, c, {}, 0};
                if (!carrier_may(problem, carrier, start, end) || !lie(problem, carrier, sleeve)) continue;
                const auto cost = tariff(start, end, c, sleeve.covers.front(), last_listed(sleeve.covers));
                if (!cost) continue;
                sleeve.cost += *cost;
                sleeves.push_back(std::move(sleeve));
            }
        }
    }
    return sleeves;
}

bool together(const Problem& problem, const Sleeve& a, const Sleeve& b) {
    const Sleeve& first = a.start <= b.start ? a : b;
    const Sleeve& second = a.start <= b.start ? b : a;
    return second.start - first.end >= problem.gap || first.end - second.start >= problem.lap;
}

namespace {

/// Covers the first target not yet covered in every possible way.
void branch(const Problem& problem, const std::vector<Sleeve>& sleeves, std::vector<int>& chosen,
            std::vector<int>& times, Best sum, std::optional<Best>& best) {
    if (best && !(sum < *best)) return;
    const auto open = std::find(times.begin(), times.end(), 0);
    if (open == times.end()) {
        best = sum;
        return;
    }
    const int target = static_cast<int>(open - times.begin());
    for (int i = 0; i < static_cast<int>(sleeves.size()); ++i) {
        const auto& sleeve = sleeves[static_cast<std::size_t>(i)];
        if (!std::binary_search(sleeve.covers.begin(), sleeve.covers.end(), target)) continue;
        const bool fits = std::all_of(chosen.begin(), chosen.end(), [&](int j) {
            return together(problem, sleeve, sleeves[static_cast<std::size_t>(j)]);
        });
        if (!fits) continue;
        chosen.push_back(i);
        for (const int t : sleeve.covers) ++times[static_cast<std::size_t>(t)];
        branch(problem, sleeves, chosen, times,
               {sum.cost + sleeve.cost, sum.patches + 1, sum.lined + (sleeve.end - sleeve.start)}, best);
        for (const int t : sleeve.covers) --times[static_cast<std::size_t>(t)];
        chosen.pop_back();
    }
}

}  // namespace

std::optional<Best> by_brute_force(const Problem& problem, const std::vector<Sleeve>& sleeves) {
    std::vector<int> chosen, times(problem.targets.size(), 0);
    std::optional<Best> best;
    branch(problem, sleeves, chosen, times, {}, best);
    return best;
}

std::optional<Cost> by_cbc(const Problem& problem, const std::vector<Sleeve>& sleeves, int seconds) {
    const Rows rows = rows_of(problem, sleeves);
    for (const auto& row : rows.cover) {
        if (row.empty()) return std::nullopt;
    }
    Cbc_Model* model = Cbc_newModel();
    Cbc_setLogLevel(model, 0);
    Cbc_setParameter(model, "allowableGap", "0");
    Cbc_setParameter(model, "ratioGap", "0");
    Cbc_setParameter(model, "seconds", std::to_string(seconds).c_str());
    for (const auto& sleeve : sleeves) {
        Cbc_addCol(model, "x", 0.0, 1.0, static_cast<double>(sleeve.cost), 1, 0, nullptr, nullptr);
    }
    for (const auto* group : {&rows.cover, &rows.conflict}) {
        for (const auto& row : *group) {
            const std::vector<double> ones(row.size(), 1.0);
            Cbc_addRow(model, "r", static_cast<int>(row.size()), row.data(), ones.data(),
                       group == &rows.cover ? 'G' : 'L', 1.0);
        }
    }
    Cbc_solve(model);
    std::optional<Cost> result;
    if (Cbc_isProvenOptimal(model)) {
        result = std::llround(Cbc_getObjValue(model));
    } else if (!Cbc_isProvenInfeasible(model)) {
        Cbc_deleteModel(model);
        throw std::runtime_error("CBC gave no answer");
    }
    Cbc_deleteModel(model);
    return result;
}

std::optional<Cost> by_glpk(const Problem& problem, const std::vector<Sleeve>& sleeves, int seconds) {
    const Rows rows = rows_of(problem, sleeves);
    for (const auto& row : rows.cover) {
        if (row.empty()) return std::nullopt;
    }
    glp_term_out(GLP_OFF);
    glp_prob* model = glp_create_prob();
    glp_set_obj_dir(model, GLP_MIN);
    glp_add_cols(model, static_cast<int>(sleeves.size()));
    for (int i = 0; i < static_cast<int>(sleeves.size()); ++i) {
        glp_set_col_kind(model, i + 1, GLP_BV);
        glp_set_obj_coef(model, i + 1, static_cast<double>(sleeves[static_cast<std::size_t>(i)].cost));
    }
    glp_add_rows(model, static_cast<int>(rows.cover.size() + rows.conflict.size()));
    int at = 0;
    for (const auto* group : {&rows.cover, &rows.conflict}) {
        for (const auto& row : *group) {
            std::vector<int> columns{0};
            for (const int i : row) columns.push_back(i + 1);
            const std::vector<double> ones(columns.size(), 1.0);
            glp_set_mat_row(model, ++at, static_cast<int>(row.size()), columns.data(), ones.data());
            glp_set_row_bnds(model, at, group == &rows.cover ? GLP_LO : GLP_UP, 1.0, 1.0);
        }
    }
    glp_iocp options;
    glp_init_iocp(&options);
    options.presolve = GLP_ON;
    options.msg_lev = GLP_MSG_OFF;
    options.tm_lim = 1000 * seconds;
    const int fault = glp_intopt(model, &options);
    const int status = glp_mip_status(model);
    std::optional<Cost> result;
    if (fault == 0 && status == GLP_OPT) result = std::llround(glp_mip_obj_val(model));
    glp_delete_prob(model);
    const bool infeasible = fault == GLP_ENOPFS || (fault == 0 && status == GLP_NOFEAS);
    if (!result && !infeasible) throw std::runtime_error("GLPK gave no answer");
    return result;
}

}  // namespace layout_test
