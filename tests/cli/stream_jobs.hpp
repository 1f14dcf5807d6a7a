#pragma once
#include <nlohmann/json.hpp>
#include <sstream>
#include <string>
#include <vector>

#include "support/program.hpp"

/// Streams of jobs for the tests of `plan --stream` and of what is made of it.
namespace patchwright::test {

inline Call stream(const std::string& input, const std::vector<std::string>& more = {}) {
    Call call;
    call.arguments = {"plan", "--stream"};
    call.arguments.insert(call.arguments.end(), more.begin(), more.end());
    call.input = input;
    return call;
}

inline std::vector<std::string> lines(const std::string& text) {
    std::vector<std::string> list;
    std::istringstream in{text};
    for (std::string line; std::getline(in, line);) list.push_back(line);
    return list;
}

/// Small jobs that all read, with their number as the reference; every seventh is spoilt.
inline std::string many_jobs(int count) {
    std::string text;
    for (int n = 1; n <= count; ++n) {
        auto job = nlohmann::json::parse(
            R"({"patchwright_job": 1, "runs": [{"id": "A", "from": "a", "to": "b", "length": "12 m", "bore": "100 mm",
            "material": "clay", "depth": "1.2 m", "access": ["a"], "defects": [{"id": "A1", "kind": "fissure", "size": "2 mm"}]}]})");
        job["reference"] = "job " + std::to_string(n);
        job["runs"][0]["defects"][0]["at"] = std::to_string(2 + n % 8) + " m";
        if (n % 7 == 0) job["runs"][0]["bore"] = 100;
        text += job.dump() + "\n";
    }
    return text;
}

}  // namespace patchwright::test
