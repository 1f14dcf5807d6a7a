// Plans of jobs made from the fuzzer's bytes: whatever reads is planned, and every rule of a plan holds.
#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <exception>
#include <span>
#include <string>

#include "check.hpp"
#include "patchwright/io/read.hpp"
#include "patchwright/plan/plan.hpp"
#include "patchwright/sheet/sheets.hpp"
#include "support/dice.hpp"
#include "support/jobs.hpp"
#include "support/plan_rules.hpp"

using namespace patchwright;

namespace {

/// A job as the bytes throw the dice; in half of the cases with values changed, so that not all of it is likely.
std::string job_of(std::span<const std::uint8_t> bytes) {
    test::Dice dice{bytes};
    const int changes = std::max(0, dice.between(-3, 3));
    auto job = test::random_job(dice, "F-1");
    return test::line(test::mutated(std::move(job), dice, changes));
}

void must_keep_rules(const job::Job& job, const job::Yard& yard, const std::string& text) {
    plan::Options options;
    options.trials = 30;
    options.k_best = 2;
    const auto plan = plan::make_plan(job, yard, options);
    const sheet::Context context{&plan, job.units};
    std::string faults;
    for (const auto& words : test::broken_rules(job, yard, plan, sheet::plan_json(context, true)))
        faults += words + "\n";
    fuzz::must(faults.empty(), "the rules of a plan", faults + text);
    const sheet::TextStyle style;
    for (const auto& page : {sheet::quote_sheet(context), sheet::plan_sheet(context)})
        fuzz::must(!sheet::text(page, style).empty(), "a sheet has text", text);
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const auto text = job_of({data, size});
    const job::Yard& yard = io::builtin_yard();
    const auto job = io::read_job(text, "fuzz.json");
    if (!job || io::has_errors(io::cross_check(*job.value, yard))) return 0;
    try {
        must_keep_rules(*job.value, yard, text);
    } catch (const std::exception& error) {
        fuzz::must(false, error.what(), text);
    }
    return 0;
}
