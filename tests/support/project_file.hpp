#pragma once
#include <catch2/catch.hpp>
#include <fstream>
#include <iterator>
#include <string>

namespace patchwright::test {

/// A file of the project as text; the test fails when it cannot be read.
inline std::string project_file(const std::string& path) {
    std::ifstream in{std::string{PATCHWRIGHT_SOURCE_DIR} + "/" + path, std::ios::binary};
    INFO("file " << path);
    REQUIRE(in.good());
    return {std::istreambuf_iterator<char>{in}, {}};
}

}  // namespace patchwright::test
