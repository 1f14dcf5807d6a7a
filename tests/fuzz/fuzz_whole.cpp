// Job and yard together, their values and their structure changed: through the readers, the plan and every sheet, as
// the program takes them.
#include <cstddef>
#include <cstdint>
#include <exception>
#include <span>
#include <string>

#include "check.hpp"
#include "patchwright/cure/cure.hpp"
#include "patchwright/io/change.hpp"
#include "patchwright/io/read.hpp"
#include "patchwright/plan/plan.hpp"
#include "patchwright/units/error.hpp"
#include "support/all_sheets.hpp"
#include "support/dice.hpp"
#include "support/jobs.hpp"
#include "support/plan_rules.hpp"

using namespace patchwright;

namespace {

using Json = nlohmann::ordered_json;

/// The yard compiled in, or a few of its sections on top of it.
Json yard_of(test::Dice& dice) {
    static const Json whole = Json::parse(io::builtin_yard_text());
    if (dice.chance(50)) return whole;
    Json yard{{"patchwright_yard", 1}, {"extends", "builtin"}};
    for (const auto& [key, section] : whole.items())
        if (section.is_structured() && dice.chance(40)) yard[key] = section;
    return yard;
}

template <class T>
void must_be_read(const io::ReadResult<T>& read, const std::string& text) {
    fuzz::must(read.value.has_value() != io::has_errors(read.diagnostics), "a model or errors", text);
    for (const auto& diagnostic : read.diagnostics) fuzz::must_be_placed(diagnostic, text);
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
    fuzz::must(test::make_all_sheets(context) > 0, "sheets have text", text);
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    test::Dice dice{std::span{data, size}};
    const int of_yard = dice.between(0, 6), of_job = dice.between(0, 3);
    const auto yard_text = test::bent(yard_of(dice), dice, of_yard).dump(1);
    const auto job_text = test::bent(test::random_job(dice, "F-1"), dice, of_job).dump(1);
    const auto yard = io::read_yard(yard_text, "yard.json", cure::resin_faults);
    const auto job = io::read_job(job_text, "job.json");
    must_be_read(yard, yard_text);
    must_be_read(job, job_text);
    if (!job || !yard) return 0;
    for (const auto& question : io::offer_questions(*job.value, *yard.value))
        fuzz::must(!question.message.empty(), "a question says something");
    const auto doubts = io::cross_check(*job.value, *yard.value);
    for (const auto& doubt : doubts) fuzz::must(!io::text(doubt).empty(), "a doubt can be printed");
    if (io::has_errors(doubts)) return 0;
    const auto both = job_text + "\n" + yard_text;
    try {
        must_keep_rules(*job.value, *yard.value, both);
    } catch (const Error& error) {  // what the plan cannot work with, in plain words
        fuzz::must(error.what()[0] != '\0', "an error says what is wrong", both);
    } catch (const std::exception& error) {
        fuzz::must(false, error.what(), both);
    }
    return 0;
}
