#include "json_pieces.hpp"
#include "recorded.hpp"
#include "words.hpp"

/// `record -f json`: keys of docs/plan-json.md.
namespace patchwright::sheet {
namespace {

/// A figure in the unit that stands beside it; a time of day as its clock.
Json value_of(const record::Check& check, const std::optional<double>& value, const std::string& words) {
    if (!value) return words.empty() ? Json(nullptr) : Json(words);
    if (check.as == record::As::clock) return clock_text(static_cast<int>(std::lround(*value / 60.0)));
    if (check.as == record::As::chance) return tidy(*value);
    return tidy(json_value(check.show, *value));
}

Json check_json(const Context& c, const record::Check& check) {
    Json json = Json::object();
    json["what"] = check.what;
    // Beside a figure words say more of it; where there is none to plan they are all there is.
    const bool words = !check.planned_words.empty();
    json["planned"] = value_of(check, check.planned, check.planned_words);
    json["done"] = value_of(check, check.done, words ? check.done_words : std::string{});
    json["limit"] = {{"least", value_of(check, check.least, {})}, {"most", value_of(check, check.most, {})}};
    if (check.as == record::As::figure) {
        const auto suffix = json_suffix(check.show);
        if (!suffix.empty() && (check.done || check.planned || check.least || check.most))
            json["unit"] = suffix.substr(1);
    }
    if (!check.limit_words.empty()) json["limit"]["words"] = check.limit_words;
    json["verdict"] = record::word(check.verdict);
    const auto text = check_text(c, check);
    json["shown"] = {{"planned", text.planned}, {"done", text.done}, {"limit", text.limit}, {"verdict", text.verdict}};
    return json;
}

Json checks_json(const Context& c, const std::vector<record::Check>& checks) {
    Json list = Json::array();
    for (const auto& check : checks) list.push_back(check_json(c, check));
    return list;
}

Json cure_json(const Context& c, const record::Patch& built) {
    if (!built.cure) return {{"why_not", built.why_no_cure}};
    Part part{c.units};
    part.json["conversion"] = tidy(built.cure->conversion);
    part.json["soft_probability"] = tidy(built.cure->soft_probability);
    if (is_finite(built.cure->hard)) part.earliest("hard_min", built.cure->hard);
    part.figure("pipe_temperature_c", built.cure->pipe);
    part.json["temperatures_noted"] = built.cure->notes;
    part.json["at_sleeve"] = built.cure->at_sleeve;
    if (built.cure->witness_soft) part.json["witness_soft_probability"] = tidy(*built.cure->witness_soft);
    return std::move(part).done();
}

Json patch_json(const Context& c, const record::Patch& built, const plan::Patch& lies) {
    Part part{c.units};
    part.json["id"] = lies.id;
    part.json["run"] = c.plan->run_of(lies).id;
    part.json["outcome"] = built.record == nullptr
                               ? Json(nullptr)
                               : Json(job::word(built.record->outcome.value_or(job::SleeveOutcome::done)));
    part.json["date"] = built.date ? Json(format(*built.date)) : Json(nullptr);
    part.json["entries"] = built.entries;
    part.figure("start_m", Show::run_distance, lies.start);
    part.figure("end_m", Show::run_distance, lies.end);
    Json json = std::move(part).done();
    json["checks"] = checks_json(c, built.checks);
    if (!built.checks.empty()) json["cure"] = cure_json(c, built);
    return json;
}

Json test_json(const Context& c, const record::Test& test) {
    Json json = Json::object();
    json["what"] = test_words(test.record->method);
    json["run"] = test.record->run;
    json["method"] = job::word(test.record->method);
    json["date"] = test.record->date ? Json(format(*test.record->date)) : Json(nullptr);
    json["verdict"] = record::word(test.verdict);
    if (!test.refused.empty()) json["why_not"] = test.refused;
    json["checks"] = checks_json(c, test.checks);
    return json;
}

}  // namespace

std::string as_built_json(const Context& c, const Recorded& recorded) {
    Json json = Json::object();
    json["patchwright_as_built"] = 1;
    json["job"] = {{"reference", c.job().reference}, {"title", c.job().title}};
    json["nothing_missed"] = recorded.built->nothing_missed();
    json["days"] = checks_json(c, recorded.built->days);
    json["left"] = checks_json(c, recorded.built->left);
    json["patches"] = Json::array();
    const auto lies = as_lies(c, recorded);
    for (const auto& built : recorded.built->patches)
        json["patches"].push_back(patch_json(c, built, lies.patches[built.patch]));
    json["tests"] = Json::array();
    for (const auto& test : recorded.built->tests) json["tests"].push_back(test_json(c, test));
    return json.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

std::string guarantee_json(const Context& c, const Recorded& recorded) {
    Json json = Json::object();
    json["patchwright_guarantee"] = 1;
    json["job"] = {{"reference", c.job().reference}, {"title", c.job().title}};
    json["sheets"] = Json::array({sheet_json(guarantee_sheet(c, recorded))});
    return json.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace patchwright::sheet
