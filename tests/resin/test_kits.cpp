#include <catch2/catch.hpp>

#include <glpk.h>

#include <cmath>
#include <limits>
#include <random>
#include <tuple>

#include "patchwright/resin/resin.hpp"
#include "patchwright/units/error.hpp"

using namespace patchwright;
using namespace patchwright::resin;

namespace {

job::Kit kit(double grams, std::int64_t cents) {
    job::Kit k;
    k.mass = grams * unit::g;
    k.price = Money::cents(cents, Currency{"EUR"});
    return k;
}
std::int64_t mass_of(const std::vector<KitCount>& picked) {
    std::int64_t sum = 0;
    for (const auto& [mass, count] : picked) sum += std::llround(mass.in(unit::g)) * count;
    return sum;
}

/// Every count of every kit, brute force: money, then mass, then number.
std::tuple<std::int64_t, std::int64_t, int> brute(const std::vector<job::Kit>& kits, std::int64_t wanted,
                                                  std::size_t k = 0, std::int64_t cents = 0, std::int64_t mass = 0,
                                                  int count = 0) {
    if (mass >= wanted) return {cents, mass, count};
    auto best = std::tuple{std::numeric_limits<std::int64_t>::max(), std::int64_t{0}, 0};
    for (std::size_t next = k; next < kits.size(); ++next)
        best = std::min(best, brute(kits, wanted, next, cents + kits[next].price.in_cents(),
                                    mass + std::llround(kits[next].mass.in(unit::g)), count + 1));
    return best;
}

/// Least money by GLPK's branch and cut.
double glpk_cents(const std::vector<job::Kit>& kits, std::int64_t wanted) {
    glp_prob* problem = glp_create_prob();
    glp_set_obj_dir(problem, GLP_MIN);
    glp_add_rows(problem, 1);
    glp_set_row_bnds(problem, 1, GLP_LO, static_cast<double>(wanted), 0.0);
    const int n = static_cast<int>(kits.size());
    glp_add_cols(problem, n);
    std::vector<int> rows{0}, columns{0};
    std::vector<double> values{0.0};
    for (int c = 1; c <= n; ++c) {
        const job::Kit& k = kits[static_cast<std::size_t>(c - 1)];
        glp_set_col_kind(problem, c, GLP_IV);
        glp_set_col_bnds(problem, c, GLP_LO, 0.0, 0.0);
        glp_set_obj_coef(problem, c, static_cast<double>(k.price.in_cents()));
        rows.push_back(1);
        columns.push_back(c);
        values.push_back(std::round(k.mass.in(unit::g)));
    }
    glp_load_matrix(problem, n, rows.data(), columns.data(), values.data());
    glp_iocp options;
    glp_init_iocp(&options);
    options.presolve = GLP_ON;
    options.msg_lev = GLP_MSG_OFF;
    REQUIRE(glp_intopt(problem, &options) == 0);
    REQUIRE(glp_mip_status(problem) == GLP_OPT);
    const double cents = glp_mip_obj_val(problem);
    glp_delete_prob(problem);
    return cents;
}

std::vector<job::Kit> some_kits(std::mt19937& dice) {
    std::vector<job::Kit> kits;
    const auto count = 1 + dice() % 5;
    for (std::size_t k = 0; k < count; ++k)
        kits.push_back(
            kit(static_cast<double>(250 + 50 * (dice() % 60)), 500 + static_cast<std::int64_t>(dice() % 9000)));
    return kits;
}

}  // namespace

TEST_CASE("kits for a mass cost what GLPK says", "[resin][reference]") {
    // Oracle: GLPK 5.0, integer programme, optimality proven.
    std::mt19937 dice{20240214};
    for (int round = 0; round < 200; ++round) {
        CAPTURE(round);
        const std::vector<job::Kit> kits = some_kits(dice);
        const auto wanted = static_cast<std::int64_t>(1 + dice() % 30000);
        const auto picked = kits_for(kits, static_cast<double>(wanted) * unit::g);
        CHECK(mass_of(picked) >= wanted);
        CHECK(static_cast<double>(price_of(kits, picked).in_cents()) == Approx(glpk_cents(kits, wanted)).epsilon(1e-9));
    }
}

TEST_CASE("kits for a mass: money, then mass, then number, by brute force", "[resin][reference]") {
    // Oracle: every number of every kit, tried one by one.
    std::mt19937 dice{7};
    for (int round = 0; round < 150; ++round) {
        CAPTURE(round);
        std::vector<job::Kit> kits = some_kits(dice);
        for (job::Kit& k : kits)
            k.price = Money::cents(100 * (1 + static_cast<std::int64_t>(dice() % 4)), Currency{"EUR"});
        const auto wanted = static_cast<std::int64_t>(1 + dice() % 3000);
        const auto picked = kits_for(kits, static_cast<double>(wanted) * unit::g);
        int count = 0;
        for (const auto& [mass, n] : picked) count += n;
        const auto best = brute(kits, wanted);
        CHECK(std::tuple{price_of(kits, picked).in_cents(), mass_of(picked), count} == best);
    }
}

TEST_CASE("kits at the edges", "[resin][error]") {
    CHECK(kits_for({kit(5000, 9000)}, Mass{}).empty());
    CHECK(kits_for({kit(5000, 9000)}, 5.0 * unit::kg).front().count == 1);
    CHECK(kits_for({kit(5000, 9000)}, 5001.0 * unit::g).front().count == 2);
    CHECK_THROWS_AS(kits_for({}, unit::kg), InputError);
    CHECK_THROWS_AS(kits_for({kit(5000, 9000)}, -1.0 * unit::g), RangeError);
    CHECK_THROWS_AS(kits_for({kit(5000, 9000)}, std::nan("") * unit::g), RangeError);
    CHECK_THROWS_AS(kits_for({kit(std::nan(""), 9000)}, unit::kg), RangeError);
    CHECK_THROWS_AS(kits_for({kit(5000, -1)}, unit::kg), RangeError);
    job::Kit dollars = kit(1000, 500);
    dollars.price = Money::cents(500, Currency{"USD"});
    CHECK_THROWS_AS(kits_for({kit(5000, 9000), dollars}, unit::kg), InputError);
    // A kit without a mass is one whose mass is not known: it is passed over, not priced by the gram.
    CHECK(kits_for({kit(0, 1), kit(5000, 9000)}, unit::kg).front().kit == 5.0 * unit::kg);
    CHECK_THROWS_AS(kits_for({kit(0, 1)}, unit::kg), InputError);
    CHECK_THROWS_AS(kits_for({kit(-1, 1)}, unit::kg), RangeError);
    CHECK_THROWS_AS(kits_for({kit(1'000'001, 1)}, unit::kg), RangeError);
    // A job of any size gets its kits: beyond a tonne the bulk in kits of the least price per mass.
    CHECK(kits_for({kit(5000, 9000)}, 1001.0 * unit::kg).front().count == 201);
    const auto large = kits_for({kit(1000, 2500), kit(5000, 9000)}, 20000.5 * unit::kg);
    CHECK(mass_of(large) == 20001000);
    CHECK(large.front().count == 4000);
    // More than anyone can count is said to be too much, not taken for less or for a negative mass.
    CHECK_THROWS_WITH(kits_for({kit(1, 1)}, 2e12 * unit::g), Catch::Contains("too much"));
    CHECK_THROWS_AS(kits_for({kit(1, 1)}, 2e12 * unit::g), RangeError);
    CHECK(kits_for({kit(1'000'000, 9000)}, 5e12 * unit::g).front().count == 5'000'000);
    CHECK_THROWS_AS(price_of({kit(5000, 9000)}, {{4.0 * unit::kg, 1}}), InputError);
    CHECK(price_of({kit(5000, 9000), kit(5000, 8000)}, {{5.0 * unit::kg, 3}}) == kit(5000, 8000).price * 3);
}
