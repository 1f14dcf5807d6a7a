#include "logo.hpp"

#include <filesystem>

#include <fmt/format.h>

#include "output.hpp"
#include "patchwright/sheet/image.hpp"
#include "patchwright/units/error.hpp"

namespace patchwright::cli {

std::optional<sheet::Image> firm_logo(const Common& options, const job::Yard& yard) {
    const auto& name = yard.firm.logo;
    if (name.empty()) return std::nullopt;
    constexpr double most_width = 55.0, most_height = 18.0;  // mm: a third of the letter's width
    const auto path =
        options.yard == "-" ? std::filesystem::path{name} : std::filesystem::path{options.yard}.parent_path() / name;
    try {
        return sheet::image(read_file(path.string()), most_width, most_height);
    } catch (const Error& error) {
        throw InputError(fmt::format("{}: the firm's \"logo\", \"{}\": {}",
                                     options.yard == "-" ? "standard input" : options.yard, name, error.what()));
    }
}

}  // namespace patchwright::cli
