#include "support/jobs.hpp"

#include <catch2/catch.hpp>
#include <fstream>
#include <iterator>

#include "patchwright/job/read.hpp"

namespace patchwright::test {

std::string project_file(const std::string& path) {
    std::ifstream in{std::string{PATCHWRIGHT_SOURCE_DIR} + "/" + path, std::ios::binary};
    INFO("file " << path);
    REQUIRE(in.good());
    return {std::istreambuf_iterator<char>{in}, {}};
}

job::Job must_read(const std::string& text) {
    auto read = job::read_job(text, "job.json");
    for (const auto& d : read.diagnostics) UNSCOPED_INFO(job::text(d));
    REQUIRE(read.value.has_value());
    return std::move(*read.value);
}

}  // namespace patchwright::test
