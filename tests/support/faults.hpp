#pragma once
#include <fmt/format.h>

#include <iterator>
#include <string>
#include <utility>
#include <vector>

/// What the checks of a finished plan (plan_rules.hpp) write their findings into.
namespace patchwright::test {

struct Faults {
    std::vector<std::string> list;
    template <class... Values>
    void unless(bool holds, fmt::format_string<Values...> words, Values&&... values) {
        if (!holds) list.push_back(fmt::format(words, std::forward<Values>(values)...));
    }
    void take(std::vector<std::string> more) {
        list.insert(list.end(), std::make_move_iterator(more.begin()), std::make_move_iterator(more.end()));
    }
};

}  // namespace patchwright::test
