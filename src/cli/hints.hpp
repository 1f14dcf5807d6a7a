#pragma once
#include <string>
#include <vector>

namespace CLI {
class App;
class ParseError;
}  // namespace CLI

namespace patchwright::cli {

/// What was wrong with the command line, with the nearest known command or option when something was mistyped.
std::string usage_message(const CLI::App& app, const CLI::ParseError& error, const std::vector<std::string>& arguments);

}  // namespace patchwright::cli
