#pragma once
#include <catch2/catch.hpp>
#include <string>
#include <utility>

#include "patchwright/io/read.hpp"
#include "support/project_file.hpp"
#include "support/told.hpp"

/// For the tests of the readers.
namespace patchwright::test {

/// What must be read without a fault.
template <class T>
T value_of(io::ReadResult<T> reading) {
    CAPTURE(errors_of(reading.diagnostics));
    REQUIRE(reading);
    return std::move(*reading.value);
}

/// The smallest job that reads; `more` are further members of its run, after a comma.
inline std::string small_job(const std::string& more = "", const std::string& top = "") {
    return R"({"patchwright_job": 1, "reference": "T", "runs": [
{"id": "A", "length": "20 m", "bore": "100 mm", "material": "clay", "depth": "1.2 m")" +
           (more.empty() ? "" : ",\n" + more) + "}]" + (top.empty() ? "" : ",\n" + top) + "}";
}

}  // namespace patchwright::test
