#include <catch2/catch.hpp>

#include <array>
#include <atomic>
#include <stdexcept>
#include <string>
#include <vector>

#include "patchwright/units/threads.hpp"

using namespace patchwright;

TEST_CASE("every piece of work is done once, on any number of threads", "[threads]") {
    for (const int threads : {-1, 0, 1, 2, 7}) {
        std::vector<std::atomic<int>> done(100);
        in_parallel(threads, done.size(), [&](std::size_t i) { ++done[i]; });
        for (const auto& times : done) CHECK(times == 1);
        in_parallel(threads, 0, [](std::size_t) { FAIL("there was nothing to do"); });
    }
}

TEST_CASE("what fails first by number is told, after all the rest is done", "[threads]") {
    for (const int threads : {1, 3}) {
        std::array<std::atomic<int>, 20> done{};
        std::string told;
        try {
            in_parallel(threads, done.size(), [&](std::size_t i) {
                ++done[i];
                if (i == 17 || i == 5) throw std::runtime_error(std::to_string(i));
            });
        } catch (const std::runtime_error& error) {
            told = error.what();
        }
        CHECK(told == "5");
        for (const auto& times : done) CHECK(times == 1);
    }
}
