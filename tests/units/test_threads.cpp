#include <catch2/catch.hpp>

#include <array>
#include <atomic>
#include <chrono>
#include <stdexcept>
#include <string>
#include <vector>

#include "patchwright/units/beside.hpp"
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

TEST_CASE("a thread started beside its maker is joined at the latest when it goes", "[threads]") {
    std::atomic<bool> ran{false};
    {
        const auto thread = start_beside([&] { ran = true; });
    }
    CHECK(ran);
}

TEST_CASE("a value made beside is the value, and what failed there is told here", "[threads]") {
    Beside<std::string> words{[] { return std::string(1000, 'x'); }};
    CHECK(words.take() == std::string(1000, 'x'));
    Beside<int> failing{[]() -> int { throw std::runtime_error("no such file"); }};
    CHECK_THROWS_WITH(failing.take(), "no such file");
}

TEST_CASE("a value that nobody takes is made or not, and nothing of it outlives it", "[threads]") {
    std::atomic<int> begun{0}, ended{0};
    {
        Beside<int> idle{[&] {
            ++begun;
            std::this_thread::sleep_for(std::chrono::milliseconds{20});
            return ++ended;
        }};
    }
    CHECK(begun == ended);
}

TEST_CASE("a helper's work is done whole, or called off and never begun", "[threads]") {
    for (int n = 0; n < 200; ++n) {
        std::atomic<int> begun{0}, ended{0};
        Helper helper{[&] {
            ++begun;
            std::this_thread::yield();
            ++ended;
        }};
        if (n % 2 == 0) std::this_thread::sleep_for(std::chrono::microseconds{50 * (n % 5)});
        const bool off = helper.call_off();
        CHECK(begun == (off ? 0 : 1));
        CHECK(ended == begun);
    }
}
