#include <algorithm>

#include <fmt/core.h>

#include "further.hpp"
#include "patchwright/io/read.hpp"

namespace patchwright::io {

using namespace job;  // what is read
namespace {

bool assumed(const Job& job, std::string_view where, std::string_view what) {
    return std::any_of(job.assumptions.begin(), job.assumptions.end(),
                       [&](const Assumption& a) { return a.where == where && a.what == what; });
}

}  // namespace

std::vector<Diagnostic> offer_questions(const Job& job, const Yard& yard) {
    Findings list;
    const auto ask = [&](std::string pointer, const std::string& words) {
        list.add(Severity::warning, std::move(pointer), "for the offer: " + words);
    };
    if (!job.offer_date) ask("/offer_date", "\"offer_date\" is not given; the letter leaves it open");
    if (!job.date) ask("/date", "when is the work? \"date\" is not given");
    if (job.customer.name.empty() || job.customer.address.empty())
        ask("/customer", "the customer's name or address is not given");
    if (assumed(job, "dig", "surface"))
        ask("/dig/surface", fmt::format("what lies over the drain? {} is assumed, and drives the price of digging",
                                        word(*job.dig.surface)));
    if (assumed(job, "dig", "soil"))
        ask("/dig/soil",
            fmt::format("which soil? {} is assumed, and drives the price of digging", word(*job.dig.soil)));
    for (std::size_t r = 0; r < job.runs.size(); ++r) {
        if (assumed(job, "run " + job.runs[r].id, "access"))
            ask(fmt::format("/runs/{}/access", r),
                fmt::format("run {}: can the crew work from {} too? Only {} is assumed", job.runs[r].id, job.runs[r].to,
                            job.runs[r].from));
    }
    if (yard.assumptions.empty() && yard.demonstration) return list.take();  // the built-in yard is nobody's
    if (yard.demonstration)
        ask("/demonstration",
            "the letter says \"demonstration prices, not yours\": when the yard's prices are yours, give it "
            "\"demonstration\": false");
    const Firm& firm = yard.firm;
    std::string missing;
    const auto want = [&](const char* key, bool empty) {
        if (empty) missing += (missing.empty() ? "\"" : ", \"") + std::string{key} + "\"";
    };
    want("name", firm.name.empty());
    want("address", firm.address.empty());
    want("phone", firm.phone.empty());
    want("payment_terms", firm.payment_terms.empty());
    want("guarantee_years", !firm.guarantee_years && firm.guarantee.empty());
    if (!missing.empty()) ask("/firm", fmt::format("the yard's \"firm\" does not give {}", missing));
    return list.take();
}

}  // namespace patchwright::io
