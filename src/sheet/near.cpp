#include "near.hpp"

#include "patchwright/io/nearest.hpp"

namespace patchwright::sheet {

std::string nearest(std::string_view typed, const std::vector<std::string>& names) {
    return std::string{io::nearest(typed, {names.begin(), names.end()})};
}

}  // namespace patchwright::sheet
