#include "oracle.hpp"

#include <coin/Cbc_C_Interface.h>
#include <glpk.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace cutting_test {
namespace {

struct Row {
    std::vector<int> columns;
    std::vector<double> values;
    char sense = 'L';
    double right = 0.0;
};

/// Band b of copy c, headed by piece b, which is the longest in it (of equals the first): x[p][b] piece p lies in
/// band b; y[b][c] band b is cut from copy c; z[c] copy c is used.
struct Model {
    std::vector<double> costs;
    std::vector<Row> rows;
    int column(double cost) {
        costs.push_back(cost);
        return static_cast<int>(costs.size()) - 1;
    }
};

struct Copy {
    Millimetre length = 0, width = 0;
    Cost price = 0;
};

std::vector<Copy> copies_of(const std::vector<Stock>& stock, std::size_t pieces) {
    std::vector<Copy> copies;
    for (const auto& s : stock) {
        const int count = s.count < 0 ? static_cast<int>(pieces) : std::min(s.count, static_cast<int>(pieces));
        for (int i = 0; i < count; ++i) copies.push_back({s.length, s.width, s.price});
    }
    return copies;
}

bool may_head(const std::vector<Piece>& pieces, std::size_t head, std::size_t piece) {
    if (pieces[head].length != pieces[piece].length) return pieces[head].length > pieces[piece].length;
    return head <= piece;
}

Model model_of(const std::vector<Piece>& pieces, const std::vector<Stock>& stock, Millimetre kerf) {
    Model model;
    const auto copies = copies_of(stock, pieces.size());
    const std::size_t n = pieces.size();
    Millimetre widest = 0;
    for (const auto& copy : copies) widest = std::max(widest, copy.width);
    std::vector<std::vector<int>> in_band(n, std::vector<int>(n, -1));
    std::vector<std::vector<int>> from(n);
    std::vector<int> used;
    for (const auto& copy : copies) used.push_back(model.column(static_cast<double>(copy.price)));
    for (std::size_t b = 0; b < n; ++b) {
        for (std::size_t p = 0; p < n; ++p) {
            if (may_head(pieces, b, p)) in_band[p][b] = model.column(0.0);
        }
        for (std::size_t c = 0; c < copies.size(); ++c) from[b].push_back(model.column(0.0));
    }
    for (std::size_t p = 0; p < n; ++p) {
        Row once{{}, {}, 'E', 1.0};
        for (std::size_t b = 0; b < n; ++b) {
            if (in_band[p][b] < 0) continue;
            once.columns.push_back(in_band[p][b]);
            once.values.push_back(1.0);
        }
        model.rows.push_back(once);
    }
    for (std::size_t b = 0; b < n; ++b) {
        // The band stands in one copy if it has its head, and its pieces fit side by side in that copy's width.
        Row placed{{in_band[b][b]}, {-1.0}, 'E', 0.0};
        Row width{{}, {}, 'L', 0.0};
        for (std::size_t c = 0; c < copies.size(); ++c) {
            placed.columns.push_back(from[b][c]);
            placed.values.push_back(1.0);
            width.columns.push_back(from[b][c]);
            width.values.push_back(-static_cast<double>(copies[c].width + kerf));
        }
        for (std::size_t p = 0; p < n; ++p) {
            if (in_band[p][b] < 0) continue;
            width.columns.push_back(in_band[p][b]);
            width.values.push_back(static_cast<double>(pieces[p].width + kerf));
        }
        model.rows.push_back(placed);
        model.rows.push_back(width);
    }
    for (std::size_t c = 0; c < copies.size(); ++c) {
        Row length{{used[c]}, {-static_cast<double>(copies[c].length + kerf)}, 'L', 0.0};
        for (std::size_t b = 0; b < n; ++b) {
            length.columns.push_back(from[b][c]);
            length.values.push_back(static_cast<double>(pieces[b].length + kerf));
        }
        model.rows.push_back(length);
        // Copies of one kind are taken in order.
        const bool same = c > 0 && copies[c].length == copies[c - 1].length && copies[c].width == copies[c - 1].width &&
                          copies[c].price == copies[c - 1].price;
        if (same) model.rows.push_back({{used[c], used[c - 1]}, {1.0, -1.0}, 'L', 0.0});
    }
    return model;
}

}  // namespace

std::optional<Cost> by_cbc(const std::vector<Piece>& pieces, const std::vector<Stock>& stock, Millimetre kerf) {
    const Model model = model_of(pieces, stock, kerf);
    Cbc_Model* cbc = Cbc_newModel();
    Cbc_setLogLevel(cbc, 0);
    Cbc_setParameter(cbc, "allowableGap", "0");
    Cbc_setParameter(cbc, "ratioGap", "0");
    for (const double cost : model.costs) Cbc_addCol(cbc, "x", 0.0, 1.0, cost, 1, 0, nullptr, nullptr);
    for (const auto& row : model.rows) {
        Cbc_addRow(cbc, "r", static_cast<int>(row.columns.size()), row.columns.data(), row.values.data(), row.sense,
                   row.right);
    }
    Cbc_solve(cbc);
    std::optional<Cost> result;
    const bool infeasible = Cbc_isProvenInfeasible(cbc) != 0;
    if (Cbc_isProvenOptimal(cbc)) result = std::llround(Cbc_getObjValue(cbc));
    Cbc_deleteModel(cbc);
    if (!result && !infeasible) throw std::runtime_error("CBC gave no answer");
    return result;
}

std::optional<Cost> by_glpk(const std::vector<Piece>& pieces, const std::vector<Stock>& stock, Millimetre kerf) {
    const Model model = model_of(pieces, stock, kerf);
    glp_term_out(GLP_OFF);
    glp_prob* glpk = glp_create_prob();
    glp_set_obj_dir(glpk, GLP_MIN);
    glp_add_cols(glpk, static_cast<int>(model.costs.size()));
    for (int i = 0; i < static_cast<int>(model.costs.size()); ++i) {
        glp_set_col_kind(glpk, i + 1, GLP_BV);
        glp_set_obj_coef(glpk, i + 1, model.costs[static_cast<std::size_t>(i)]);
    }
    glp_add_rows(glpk, static_cast<int>(model.rows.size()));
    int at = 0;
    for (const auto& row : model.rows) {
        std::vector<int> columns{0};
        std::vector<double> values{0.0};
        for (std::size_t i = 0; i < row.columns.size(); ++i) {
            columns.push_back(row.columns[i] + 1);
            values.push_back(row.values[i]);
        }
        glp_set_mat_row(glpk, ++at, static_cast<int>(row.columns.size()), columns.data(), values.data());
        glp_set_row_bnds(glpk, at, row.sense == 'E' ? GLP_FX : GLP_UP, row.right, row.right);
    }
    glp_iocp options;
    glp_init_iocp(&options);
    options.presolve = GLP_ON;
    options.msg_lev = GLP_MSG_OFF;
    const int fault = glp_intopt(glpk, &options);
    const int status = glp_mip_status(glpk);
    std::optional<Cost> result;
    if (fault == 0 && status == GLP_OPT) result = std::llround(glp_mip_obj_val(glpk));
    glp_delete_prob(glpk);
    const bool infeasible = fault == GLP_ENOPFS || (fault == 0 && status == GLP_NOFEAS);
    if (!result && !infeasible) throw std::runtime_error("GLPK gave no answer");
    return result;
}

namespace {

struct Open {
    std::size_t stock = 0;
    std::vector<std::vector<std::size_t>> bands;
};

struct BruteForce {
    const std::vector<Piece>& pieces;
    const std::vector<Stock>& stock;
    Millimetre kerf;
    std::optional<Best> best;
    std::vector<Open> copies;
    std::vector<int> used;

    bool fits(const Open& copy) const {
        Millimetre length = -kerf;
        for (const auto& band : copy.bands) {
            Millimetre width = -kerf, longest = 0;
            for (const auto p : band) {
                width += kerf + pieces[p].width;
                longest = std::max(longest, pieces[p].length);
            }
            if (width > stock[copy.stock].width) return false;
            length += kerf + longest;
        }
        return length <= stock[copy.stock].length;
    }
    Best judged() const {
        Best sum;
        for (const auto& copy : copies) {
            sum.cost += stock[copy.stock].price;
            for (const auto& band : copy.bands) {
                Millimetre width = -kerf, longest = 0;
                for (const auto p : band) {
                    width += kerf + pieces[p].width;
                    longest = std::max(longest, pieces[p].length);
                }
                sum.cuts += 1 + static_cast<int>(band.size()) - 1 + (width < stock[copy.stock].width ? 1 : 0);
                for (const auto p : band) sum.cuts += pieces[p].length < longest ? 1 : 0;
            }
        }
        return sum;
    }
    // Each piece goes into a band there is, a new band, or a new copy.
    void place(std::size_t p) {
        if (p == pieces.size()) {
            const Best sum = judged();
            if (!best || sum < *best) best = sum;
            return;
        }
        for (std::size_t c = 0; c < copies.size(); ++c) {
            for (std::size_t b = 0; b < copies[c].bands.size(); ++b) {
                copies[c].bands[b].push_back(p);
                if (fits(copies[c])) place(p + 1);
                copies[c].bands[b].pop_back();
            }
            copies[c].bands.push_back({p});
            if (fits(copies[c])) place(p + 1);
            copies[c].bands.pop_back();
        }
        for (std::size_t s = 0; s < stock.size(); ++s) {
            if (stock[s].count >= 0 && used[s] >= stock[s].count) continue;
            copies.push_back({s, {{p}}});
            ++used[s];
            if (fits(copies.back())) place(p + 1);
            --used[s];
            copies.pop_back();
        }
    }
};

}  // namespace

std::optional<Best> by_brute_force(const std::vector<Piece>& pieces, const std::vector<Stock>& stock, Millimetre kerf) {
    BruteForce search{pieces, stock, kerf, std::nullopt, {}, std::vector<int>(stock.size(), 0)};
    search.place(0);
    return search.best;
}

}  // namespace cutting_test
