#pragma once
#include <string_view>

#include "patchwright/units/parse.hpp"

namespace patchwright {

int weekday(Date date);                      ///< 0 is Monday
std::string_view weekday_name(int weekday);  ///< "Monday"

}  // namespace patchwright
