#include "logo.hpp"

#include <fmt/format.h>

#include "output.hpp"
#include "patchwright/io/placed.hpp"
#include "patchwright/sheet/image.hpp"
#include "patchwright/units/error.hpp"
#include "platform.hpp"

namespace patchwright::cli {

std::string yard_name(const Common& options) { return options.yard == "-" ? "standard input" : options.yard; }

std::string yard_text(const Common& options) {
    return options.yard.empty() || options.yard == "-" ? std::string{} : read_file(options.yard);
}

Logo read_logo(const Common& options, const job::Yard& yard) {
    const auto& name = yard.firm.logo;
    if (name.empty()) return {};
    constexpr double max_width = 55.0, max_height = 18.0;  // mm: a third of the letter's width
    const auto path = options.yard == "-" ? path_of(name) : path_of(options.yard).parent_path() / path_of(name);
    try {
        return {sheet::image(read_file(name_of(path)), max_width, max_height), {}};
    } catch (const Error& error) {
        const auto words = fmt::format("the firm's logo, \"{}\": {}", name, error.what());
        return {{},
                io::placed({{io::Severity::error, {}, 0, 0, words, "/firm/logo", "", ""}}, yard_text(options),
                           yard_name(options))};
    }
}

}  // namespace patchwright::cli
