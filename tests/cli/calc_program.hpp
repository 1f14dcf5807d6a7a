#pragma once
#include <nlohmann/json.hpp>
#include <string>

/// Runs the built program as a user does and keeps what it said.
namespace patchwright::test {

struct Said {
    int status = 0;
    std::string out, err;
};
/// `arguments` as typed in a shell, after the program's name.
Said run_program(const std::string& arguments);
/// `patchwright calc ... -f json`, which must succeed.
nlohmann::json calc(const std::string& arguments);
/// One figure of its results.
double figure(const std::string& arguments, const std::string& key);

}  // namespace patchwright::test
