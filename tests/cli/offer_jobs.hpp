#pragma once
#include <regex>
#include <string>
#include <string_view>
#include <vector>

#include "support/program.hpp"

/// Small jobs of which offers are made, and how the program is asked for them.
namespace patchwright::test {

inline std::string on_one_line(const std::string& text) { return std::regex_replace(text, std::regex{"\\s+"}, " "); }

/// Two runs with what a survey brings: two patches, two collapses, a hole of unknown size. Invented.
inline const std::string mixed_job = R"({"patchwright_job": 1, "reference": "R-102", "title": "Two runs, invented",
 "date": "2026-05-12", "offer_date": "2026-04-20", "customer": {"name": "J. Farrow", "address": "Orchard Road 12"},
 "extras": [{"words": "Root cutting", "quantity": 2, "unit": "h", "rate": "145.00 EUR", "cost": "98.00 EUR"}],
 "runs": [{"id": "A", "from": "IC1", "to": "IC2", "length": "14 m", "bore": "100 mm", "material": "clay", "depth": "1.2 m",
  "access": ["IC1", "IC2"], "defects": [{"id": "A1", "at": "4 m", "kind": "fissure", "size": "2 mm"},
   {"id": "A2", "at": "9 m", "kind": "root intrusion", "size": "15 %"}, {"id": "A3", "at": "12 m", "kind": "collapse"}]},
  {"id": "B", "from": "IC2", "to": "IC3", "length": "10 m", "bore": "100 mm", "material": "clay", "depth": "1.4 m",
   "defects": [{"id": "B1", "at": "3 m", "kind": "missing wall", "clock": "11"}, {"id": "B2", "at": "6 m", "kind": "collapse"}]}],
 "dig": {
    "surface" : "concrete", "soil" : "B"
}
})";

inline const std::string one_hole =
    R"({"patchwright_job": 1, "reference": "R-105", "runs": [{"id": "A", "from": "IC1", "to": "IC2",
 "length": "14 m", "bore": "100 mm", "material": "clay", "depth": "1.2 m",
 "defects": [{"id": "A1", "at": "3 m", "kind": "missing wall", "clock": "11"}]}]})";

inline const std::string only_dig =
    R"({"patchwright_job": 1, "reference": "R-103", "runs": [{"id": "A", "from": "IC1", "to": "IC2",
 "length": "14 m", "bore": "100 mm", "material": "clay", "depth": "1.2 m",
 "defects": [{"id": "A1", "at": "12 m", "kind": "collapse"}]}]})";

inline const std::string sound =
    R"({"patchwright_job": 1, "reference": "R-104", "runs": [{"id": "A", "from": "IC1", "to": "IC2",
 "length": "14 m", "bore": "100 mm", "material": "clay", "depth": "1.2 m"}]})";

inline std::string with(std::string job, const std::string& keys) {
    return job.insert(job.find("\"runs\""), keys + ", ");
}

inline Result run_on(const std::string& job, std::vector<std::string> arguments) {
    Call call;
    arguments.insert(arguments.begin() + 1, "-");
    call.arguments = std::move(arguments);
    call.input = job;
    return run(call);
}
inline std::string letter(const std::string& job) { return on_one_line(run_on(job, {"quote", "-q"}).out); }
inline std::string inside(const std::string& job) { return on_one_line(run_on(job, {"quote", "--inside", "-q"}).out); }

}  // namespace patchwright::test
