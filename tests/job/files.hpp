#pragma once
#include <catch2/catch.hpp>
#include <fstream>
#include <iterator>
#include <string>
#include <vector>

#include "patchwright/job/read.hpp"

/// Files of the project, for the tests of the readers.
namespace patchwright::test {

inline std::string whole_file(const std::string& path) {
    std::ifstream in{std::string{PATCHWRIGHT_SOURCE_DIR} + "/" + path, std::ios::binary};
    INFO("file " << path);
    REQUIRE(in.good());
    return {std::istreambuf_iterator<char>{in}, {}};
}

/// A fault with its place, as "line:column message".
inline std::vector<std::string> errors_of(const std::vector<job::Diagnostic>& diagnostics) {
    std::vector<std::string> out;
    for (const job::Diagnostic& d : diagnostics)
        if (d.severity == job::Severity::error)
            out.push_back(std::to_string(d.line) + ":" + std::to_string(d.column) + " " + d.message);
    return out;
}
inline std::vector<std::string> warnings_of(const std::vector<job::Diagnostic>& diagnostics) {
    std::vector<std::string> out;
    for (const job::Diagnostic& d : diagnostics)
        if (d.severity == job::Severity::warning)
            out.push_back(std::to_string(d.line) + ":" + std::to_string(d.column) + " " + d.message);
    return out;
}

/// The smallest job that reads; `more` are further members of its run, after a comma.
inline std::string small_job(const std::string& more = "", const std::string& top = "") {
    return R"({"patchwright_job": 1, "reference": "T", "runs": [
{"id": "A", "length": "20 m", "bore": "100 mm", "material": "clay", "depth": "1.2 m")" +
           (more.empty() ? "" : ",\n" + more) + "}]" + (top.empty() ? "" : ",\n" + top) + "}";
}

}  // namespace patchwright::test
