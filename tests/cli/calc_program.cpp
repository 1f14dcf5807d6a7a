#include "cli/calc_program.hpp"

#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <catch2/catch.hpp>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>

namespace patchwright::test {

Said run_program(const std::string& arguments) {
    std::string errors = std::filesystem::temp_directory_path() / "patchwright-calc-XXXXXX";
    const int file = mkstemp(errors.data());
    REQUIRE(file >= 0);
    close(file);
    Said said;
    const std::string command = "LC_ALL=C.UTF-8 " PATCHWRIGHT_PROGRAM " " + arguments + " 2>" + errors;
    FILE* pipe = popen(command.c_str(), "r");
    REQUIRE(pipe != nullptr);
    std::array<char, 4096> buffer{};
    while (const std::size_t got = fread(buffer.data(), 1, buffer.size(), pipe)) said.out.append(buffer.data(), got);
    const int status = pclose(pipe);
    said.status = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
    std::ifstream in{errors};
    said.err.assign(std::istreambuf_iterator<char>{in}, {});
    unlink(errors.c_str());
    return said;
}

nlohmann::json calc(const std::string& arguments) {
    const Said said = run_program("calc " + arguments + " -f json");
    INFO(arguments << "\n" << said.err);
    REQUIRE(said.status == 0);
    CHECK(said.err.empty());
    return nlohmann::json::parse(said.out);
}

double figure(const std::string& arguments, const std::string& key) {
    const nlohmann::json json = calc(arguments);
    CAPTURE(arguments, key);
    REQUIRE(json["results"].contains(key));
    return json["results"][key].get<double>();
}

}  // namespace patchwright::test
