#include <fmt/format.h>

#include <nlohmann/json.hpp>
#include "json_part.hpp"

#include "patchwright/sheet/record.hpp"
#include "words.hpp"

namespace patchwright::sheet {
namespace {

void blank(Json& object, std::initializer_list<const char*> keys) {
    for (const char* key : keys) object[key] = "";
}

Json blank_rows(std::size_t count, std::initializer_list<const char*> keys) {
    Json row = Json::object();
    blank(row, keys);
    return Json(std::vector<Json>(count, row));
}

/// What the day sheet says, for beside what is written in.
Json planned(const Context& c, std::size_t index) {
    const auto& p = c.plan->patches[index];
    const auto& t = c.plan->schedule.patches[index];
    const auto& mix = mix_of(c, index);
    return Json::array({
        fmt::format("{}: run {}, {} to {}, mark at {} from {}", day_with_weekday(c, t.day), c.plan->run_of(p).id,
                    show(c, Show::run_distance, p.start), show(c, Show::run_distance, p.end), shown(c, p, "mark"),
                    p.rigging.from),
        fmt::format("A {}, B {} in mix {}; bench test {} for {}", shown(c, mix, "part-a"), shown(c, mix, "part-b"),
                    mix.id, shown(c, p, "bench-test"), show(c, Show::minutes, p.bench.hold)),
        fmt::format("mixed {}, poured by {}, inflated by {}, wrinkle check over by {}, not deflated before {}",
                    clock_text(t.mix), clock_text(t.pour_by), clock_text(t.inflate_by), clock_text(t.crease_by),
                    clock_text(t.let_down)),
        fmt::format("set pressure {}, least {}, never above {}", shown(c, p, "pressure"), shown(c, p, "least-pressure"),
                    shown(c, p, "most-pressure")),
    });
}

Json patch_form(const Context& c, std::size_t index) {
    Json patch = Json::object();
    patch["_help_plan"] = planned(c, index);
    patch["id"] = c.plan->patches[index].id;
    blank(patch, {"outcome", "date", "who", "pipe_temperature", "resin_temperature", "air_temperature", "part_a",
                  "part_b", "left_over", "part_a_batch", "part_b_batch", "part_a_expiry", "part_b_expiry", "packer"});
    patch["bench_test"] = Json::object();
    blank(patch["bench_test"], {"pressure", "held", "drop"});
    blank(patch, {"mark", "mixed_at", "poured_at", "inflated_at", "creased_at", "gelled_at", "deflated_at"});
    patch["pressures"] = blank_rows(3, {"at", "pressure"});
    patch["temperatures"] = blank_rows(3, {"at", "temperature", "where"});
    patch["witness"] = Json::object();
    blank(patch["witness"], {"hard", "at"});
    blank(patch, {"starts_at", "ends_at", "stuck", "film"});
    patch["photos"] = Json::array();
    patch["remark"] = "";
    return patch;
}

Json test_form(const Context& c) {
    std::string runs;
    for (const auto& run : c.job().runs) runs += (runs.empty() ? "" : ", ") + run.id;
    Json test = Json::object();
    test["_help"] = fmt::format("Runs: {}. Method: LA, LB, LC, LD (EN 1610, air), W (EN 1610, water), F1417.", runs);
    blank(test, {"run", "method", "date", "who", "settled"});
    test["readings"] = blank_rows(2, {"after", "pressure"});
    blank(test, {"added", "remark"});
    return test;
}

}  // namespace

std::string record_starter(const Context& c) {
    Json record = Json::object();
    record["_help"] = Json::array({
        "Write in what was done; what stays blank counts as not noted. Keys that begin with _help are skipped.",
        "Times are clock times, \"10:05\"; every quantity carries its unit: \"801 g\", \"0.65 bar\", \"9 C\", "
        "\"48 F\", \"3.42 m\".",
        "Outcome: done, stripped (taken out before it set), failed (must be done again), not done. A sleeve that was "
        "done again gets an entry more.",
        "Where a temperature was taken: pipe, witness, sleeve. hard and stuck: yes or no. docs/record-file.md lists "
        "every key.",
    });
    record["patchwright_record"] = 1;
    record["job"] = c.job().reference;
    record["days"] = Json::array();
    for (std::size_t d = 0; d < c.plan->schedule.days.size(); ++d) {
        Json day = Json::object();
        day["date"] = date_text(c, static_cast<int>(d));
        blank(day, {"left", "back", "who", "remark"});
        day["steps"] = blank_rows(3, {"what", "from", "to", "length"});
        record["days"].push_back(std::move(day));
    }
    record["patches"] = Json::array();
    for (std::size_t i = 0; i < c.plan->patches.size(); ++i) record["patches"].push_back(patch_form(c, i));
    record["tests"] = Json::array({test_form(c)});
    record["remarks"] = Json::array();
    return record.dump(2, ' ', false, Json::error_handler_t::replace) + '\n';
}

}  // namespace patchwright::sheet
