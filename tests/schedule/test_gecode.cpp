// Days against Gecode, a constraint solver that shares nothing with our search: the same earliest finish.
#include <catch2/catch.hpp>
#include <iterator>

#include "gecode_exists.hpp"
#include "scenario.hpp"
#include "support/share.hpp"

using namespace patchwright::schedule;

TEST_CASE("Gecode finds the same earliest finish", "[schedule][reference]") {
    // Gecode 6 (C. Schulte, G. Tack, M. Lagerkvist): cumulative (Beldiceanu, Mohr; Baptiste et al.) and disjunctions.
    // Five times as many failures decide 14 days of three and four mixes more, in five times the time.
    constexpr unsigned long failures = 3'000;
    // Days of five mixes are mostly too much for it within that: few of them; of six none was decided.
    constexpr int sizes[] = {1, 2, 3, 2, 3, 4, 2, 3, 2, 3, 4, 2, 3, 5, 2};
    int equal = 0, undecided = 0, none = 0, large = 0;
    for (std::uint32_t seed = 1; seed <= patchwright::test::of_jobs(450); ++seed) {
        const int mixes = sizes[seed % std::size(sizes)];
        const DayWork work = scenario::random_day(seed, {mixes, 1 + static_cast<int>(seed % 3), mixes <= 3});
        const Finish day = earliest_finish(work);
        CAPTURE(seed, mixes);
        if (day.verdict.hindrance != Hindrance::none) {
            ++none;
            continue;
        }
        CHECK(day.proven);
        const Minute end = day.finish - work.pack_up.minutes - work.travel;
        const auto as_early = gecode_day::exists(work, end, failures);
        const auto earlier = gecode_day::exists(work, end - 1, failures);
        if (as_early) CHECK(*as_early);
        if (earlier) CHECK_FALSE(*earlier);
        if (as_early && earlier) {
            ++equal;
            large += mixes >= 4 ? 1 : 0;
        } else {
            ++undecided;
        }
    }
    CAPTURE(undecided, none);
    CHECK(equal >= static_cast<int>(patchwright::test::of_jobs(200)));
    CHECK(large >= static_cast<int>(patchwright::test::of_jobs(6)));
}
