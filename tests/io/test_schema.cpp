// The schemas, asked through a schema library, against the reader.
#include <valijson/adapters/nlohmann_json_adapter.hpp>
#include <valijson/schema.hpp>
#include <valijson/schema_parser.hpp>
#include <valijson/validator.hpp>

#include <set>
#include <sstream>

#include "document.hpp"
#include "files.hpp"

using namespace patchwright;
using nlohmann::json;

namespace {

class Schema {
public:
    explicit Schema(const std::string& path)
        : text_(json::parse(test::project_file(path))) {  // braces would make a list of it
        valijson::SchemaParser parser;
        parser.populateSchema(valijson::adapters::NlohmannJsonAdapter{text_}, schema_);
    }
    /// The first complaint; empty when the document is valid.
    std::string complaint(const json& document) const {
        valijson::Validator validator;
        valijson::ValidationResults results;
        if (validator.validate(schema_, valijson::adapters::NlohmannJsonAdapter{document}, &results)) return {};
        valijson::ValidationResults::Error error;
        std::string all;
        while (results.popError(error)) {
            for (const auto& step : error.context) all += step;
            all += " " + error.description + "\n";
        }
        return all.empty() ? "refused" : all;
    }

private:
    json text_;
    valijson::Schema schema_;
};

const Schema& job_schema() {
    static const Schema schema{"data/schema/job.schema.json"};
    return schema;
}
const Schema& yard_schema() {
    static const Schema schema{"data/schema/yard.schema.json"};
    return schema;
}

const Schema& record_schema() {
    static const Schema schema{"data/schema/record.schema.json"};
    return schema;
}

/// What a schema cannot say: relations between values, names used once, days of the calendar, bounds on
/// quantities inside a text, equal keys, one currency, and what a thing of an extending yard still lacks.
const std::set<std::string> beyond_schema{"job-key-twice",
                                          "job-huge-bore",
                                          "job-ovality-much",
                                          "job-cold-ground",
                                          "job-beyond-end",
                                          "job-to-beyond-end",
                                          "job-to-before-at",
                                          "job-fitting-beyond",
                                          "job-offset-before-start",
                                          "job-bends-overlap",
                                          "job-bend-tight",
                                          "job-two-runs",
                                          "job-two-defects-one-id",
                                          "job-access-unknown",
                                          "job-same-ends",
                                          "job-line-break-in-name",
                                          "job-escape-char-in-name",
                                          "job-date-impossible",
                                          "job-finish-before-start",
                                          "job-start-late-only",
                                          "yard-rated-below-fill",
                                          "yard-bladder-rated-below-fill",
                                          "yard-packer-incomplete",
                                          "yard-packer-too-thick",
                                          "yard-packer-bores",
                                          "yard-packer-lengths",
                                          "yard-packer-short",
                                          "yard-price-other-currency",
                                          "yard-currency-of-the-rest",
                                          "yard-spread-currencies",
                                          "yard-spread-falls",
                                          "yard-share-full",
                                          "yard-resin-range",
                                          "yard-resin-glass",
                                          "yard-tube-incomplete",
                                          "yard-remove-unknown",
                                          "yard-same-packer-twice",
                                          "yard-margin",
                                          "yard-discount",
                                          "record-other-job",
                                          "record-unknown-patch",
                                          "record-zero-weight",
                                          "record-hot-pipe",
                                          "record-inflated-before-mixed",
                                          "record-inflated-before-poured",
                                          "record-deflated-before-inflated",
                                          "record-deflated-before-day",
                                          "record-deflated-without-day",
                                          "record-ends-before-start",
                                          "record-pressure-without-clock",
                                          "record-done-twice",
                                          "record-test-run",
                                          "record-readings-order",
                                          "record-line-break",
                                          "record-step-of-no-time",
                                          "record-deflated-a-year-later"};

}  // namespace

TEST_CASE("every example and the built-in yard are valid by the schemas", "[job][schema]") {
    CHECK(job_schema().complaint(json::parse(test::project_file("examples/demo.json"))) == "");
    CHECK(job_schema().complaint(json::parse(test::project_file("examples/us-slab.json"))) == "");
    CHECK(job_schema().complaint(json::parse(test::small_job())) == "");
    CHECK(yard_schema().complaint(json::parse(test::project_file("data/yard.json"))) == "");
    CHECK(record_schema().complaint(json::parse(test::project_file("examples/demo-record.json"))) == "");
    CHECK(yard_schema().complaint(json::parse(R"({"patchwright_yard": 1, "extends": "builtin"})")) == "");
}

TEST_CASE("every bad file is refused by the schema where a schema can say it", "[job][schema][error]") {
    std::istringstream rows{test::project_file("tests/io/bad/expected.txt")};
    std::set<std::string> unsaid;
    for (std::string line; std::getline(rows, line);) {
        const std::string name = line.substr(0, line.find(".json"));
        const json document = json::parse(test::project_file("tests/io/bad/" + name + ".json"));
        const Schema& schema = name.starts_with("job-")      ? job_schema()
                               : name.starts_with("record-") ? record_schema()
                                                             : yard_schema();
        if (schema.complaint(document).empty()) unsaid.insert(name);
    }
    CHECK(unsaid == beyond_schema);
}

TEST_CASE("reader and schema agree on the forms of quantities", "[job][schema]") {
    const auto job = [](const std::string& depth) {
        return R"({"patchwright_job": 1, "reference": "T", "runs": [{"id": "A", "length": "20 m", "bore": "100 mm", "material": "clay", "depth": )" +
               json(depth).dump() + "}]}";
    };
    for (const auto& depth : {"1.2 m",      "1.2m",           " 1.2 m ",    "+1.2 m",    "1200 mm", "120 cm", "4 ft",
                              "3 ft 11 in", "3 ft 11 1/4 in", "47 1/4 in",  "47-1/4 in", "1/2 m",   "4'",     "3' 11\"",
                              "4 feet",     "47 inches",      "1.2 metres", "1 m 20 cm", "3ft11in", "0.5 yd"}) {
        CAPTURE(depth);
        CHECK(io::read_job(job(depth), "j"));
        CHECK(job_schema().complaint(json::parse(job(depth))) == "");
    }
    for (const auto& depth :
         {"",      " ",           "m",        "1.2",     "1,2 m",       "1.2 bar",     "1.2 mm2", "-1.2 m",
          "0 m",   "0.0 m",       "1e0 m",    "1.2 m m", "nan m",       "inf m",       "1_2 m",   "1.2.3 m",
          "one m", "1.2 m, 3 cm", "1 200 mm", "1.2 M",   "1.2 meterss", "1.2 m below", "\n1.2 m", "1.2\nm"}) {
        CAPTURE(depth);
        CHECK_FALSE(io::read_job(job(depth), "j"));
        CHECK(job_schema().complaint(json::parse(job(depth))) != "");
    }
}
