#include "support/jobs.hpp"

#include <catch2/catch.hpp>

#include "patchwright/io/read.hpp"

namespace patchwright::test {

job::Job must_read(const std::string& text) {
    auto read = io::read_job(text, "job.json");
    for (const auto& d : read.diagnostics) UNSCOPED_INFO(io::text(d));
    REQUIRE(read.value.has_value());
    return std::move(*read.value);
}

}  // namespace patchwright::test
