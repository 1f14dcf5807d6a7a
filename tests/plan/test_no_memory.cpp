// Every allocation of a plan fails in turn. What comes is std::bad_alloc, which the program tells as "out of memory",
// or the same bytes as ever; under the sanitizers nothing is lost on the way. tests/cli/test_faults.cpp does the same
// to the whole program.
#include <algorithm>
#include <atomic>
#include <catch2/catch.hpp>
#include <cstdlib>
#include <new>
#include <optional>
#include <string>

#include "patchwright/io/read.hpp"
#include "patchwright/plan/outlook.hpp"
#include "patchwright/plan/plan.hpp"
#include "support/all_sheets.hpp"
#include "support/project_file.hpp"
#include "support/share.hpp"

namespace {

/// Allocations until the one that fails; below zero none does. They are counted all the time.
std::atomic<long> until_failure{-1}, allocations{0};

void* allocated(std::size_t size) {
    ++allocations;
    if (until_failure >= 0 && until_failure-- == 0) return nullptr;
    return std::malloc(size == 0 ? 1 : size);
}
void* or_throw(void* memory) {
    if (memory == nullptr) throw std::bad_alloc{};
    return memory;
}

}  // namespace

void* operator new(std::size_t size) { return or_throw(allocated(size)); }
void* operator new[](std::size_t size) { return or_throw(allocated(size)); }
void* operator new(std::size_t size, const std::nothrow_t&) noexcept { return allocated(size); }
void* operator new[](std::size_t size, const std::nothrow_t&) noexcept { return allocated(size); }
void operator delete(void* memory) noexcept { std::free(memory); }
void operator delete[](void* memory) noexcept { std::free(memory); }
void operator delete(void* memory, std::size_t) noexcept { std::free(memory); }
void operator delete[](void* memory, std::size_t) noexcept { std::free(memory); }

using namespace patchwright;

namespace {

/// From the file's text to the bytes of its sheets.
std::string work(const std::string& text, int threads) {
    const auto job = io::read_job(text, "job.json");
    if (!job) return "not read";
    const job::Yard& yard = io::builtin_yard();
    auto doubts = io::cross_check(*job.value, yard);
    plan::Options options;
    options.trials = 20;
    options.threads = threads;
    const auto plan = plan::make_plan(*job.value, yard, options);
    const sheet::Context context{&plan, job.value->units};
    return std::to_string(test::make_all_pages(context)) + sheet::text(sheet::plan_sheet(context), {}) +
           sheet::text(sheet::why_sheet(context, "price"), {}) + std::to_string(doubts.size());
}

/// Nothing: memory ran out, in the one way that is right.
std::optional<std::string> work_without(long allocation, const std::string& text, int threads) {
    until_failure = allocation;
    std::optional<std::string> bytes;
    try {
        bytes = work(text, threads);
    } catch (const std::bad_alloc&) {
    }
    until_failure = -1;
    return bytes;
}

}  // namespace

TEST_CASE("an allocation of a plan that fails is told as such, and does no harm to the next plan", "[plan][robust]") {
    const int threads = GENERATE(1, 2);
    const std::string text = test::project_file("tests/support/one_patch.json");
    const std::string whole = work(text, threads);  // what is made once is made now
    const long before = allocations;
    REQUIRE(work(text, threads) == whole);
    const long count = allocations - before;
    REQUIRE(count > 10'000);
    // All of them would take an hour: the first ones, which read the file, and then one in so many.
    const long samples = test::of_jobs(100), first = test::of_jobs(60);
    const long step = std::max(1L, (count - first) / samples);
    int failed = 0;
    for (long n = 0; n < count; n += n < first ? 1 : step) {
        CAPTURE(threads, n, count);
        std::optional<std::string> bytes;
        REQUIRE_NOTHROW(bytes = work_without(n, text, threads));
        if (bytes && *bytes != whole) FAIL_CHECK("another plan");
        failed += bytes ? 0 : 1;
    }
    CHECK(failed > static_cast<int>(samples));
    CHECK(work(text, threads) == whole);
}
