#include "near.hpp"

#include "../job/nearest.hpp"

namespace patchwright::sheet {

std::string nearest(std::string_view typed, const std::vector<std::string>& names) {
    return std::string{job::nearest(typed, {names.begin(), names.end()})};
}

}  // namespace patchwright::sheet
