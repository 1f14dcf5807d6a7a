// The offer as figures: what stands in the letter and in no other part of the plan's JSON.
#include "json_pieces.hpp"
#include "letter.hpp"

namespace patchwright::sheet {
namespace {

std::string_view word(Letter letter) {
    switch (letter) {
        case Letter::offer:
            return "offer";
        case Letter::estimate:
            return "estimate";
        case Letter::advice:
            break;
    }
    return "advice";
}

Json excavations_json(const Context& c, const std::vector<excavation::Pit>& pits) {
    Json list = Json::array();
    for (const auto& pit : pits) {
        Part part{c.units};
        part.json["run"] = pit.run;
        part.json["defects"] = pit.defects;
        part.figure("from_m", Show::run_distance, pit.from);
        part.figure("to_m", Show::run_distance, pit.to);
        part.figure("new_pipe_m", Show::run_distance, pit.pipe_replaced);
        part.figure("depth_m", Show::run_distance, pit.trench.depth);
        part.json["surface"] = job::word(pit.surface);
        part.figure("surface_m2", Show::area, pit.surface_reinstated);
        list.push_back(std::move(part).done());
    }
    return list;
}

}  // namespace

Json letter_json(const Context& c) {
    const auto& job = c.job();
    const auto& offer = c.plan->offer;
    const Letter letter = letter_of(c);
    Part part{c.units};
    part.json["kind"] = word(letter);
    const bool numbered = letter == Letter::offer;
    if (numbered) part.json["number"] = job.reference;
    if (numbered && job.revision > 0) part.json["revision"] = job.revision;
    if (job.offer_date) part.json["date"] = format(*job.offer_date);
    if (const auto until = valid_until(c); until && numbered) part.json["valid_until"] = format(*until);
    part.json["excavations"] =
        excavations_json(c, letter == Letter::advice ? offer.pits : offer.unavoidable_works.pits);
    part.json["conditions"] = conditions(c);
    if (letter == Letter::advice) return std::move(part).done();
    Money total = offer.offered.total;
    part.json["tax"] = Json::array();
    for (const auto& group : price::tax_parts(offer.patch, offer.offered.total, c.yard().rates)) {
        part.json["tax"].push_back({{"percent", tidy(100.0 * group.rate.as_double())},
                                    {"on", decimal_text(group.on)},
                                    {"amount", decimal_text(group.tax)}});
        total += group.tax;
    }
    part.money("net", offer.offered.total);
    part.money("total", total);
    if (letter == Letter::estimate) {
        part.money("net_from", offer.band_from);
        part.money("net_to", offer.band_to);
    }
    return std::move(part).done();
}

}  // namespace patchwright::sheet
