#include "patchwright/io/nearest.hpp"

#include <algorithm>
#include <cctype>
#include <cstddef>

namespace patchwright::io {
namespace {

std::string folded(std::string_view name) {
    std::string out;
    for (const char c : name) {
        const bool joint = c == '_' || c == '-' || c == ' ';
        out += joint ? '_' : static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
    }
    return out;
}

/// Optimal string alignment distance.
std::size_t edits(std::string_view a, std::string_view b) {
    std::vector<std::size_t> two_back(b.size() + 1), last(b.size() + 1), row(b.size() + 1);
    for (std::size_t j = 0; j <= b.size(); ++j) last[j] = j;
    for (std::size_t i = 1; i <= a.size(); ++i) {
        row[0] = i;
        for (std::size_t j = 1; j <= b.size(); ++j) {
            const std::size_t replaced = last[j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1);
            row[j] = std::min({replaced, last[j] + 1, row[j - 1] + 1});
            const bool swapped = i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1];
            if (swapped) row[j] = std::min(row[j], two_back[j - 2] + 1);
        }
        two_back.swap(last);
        last.swap(row);
    }
    return last[b.size()];
}

}  // namespace

std::string_view nearest(std::string_view name, const std::vector<std::string_view>& known) {
    constexpr std::size_t longest_name = 64;
    if (name.empty() || name.size() > longest_name) return {};
    const std::string wanted = folded(name);
    std::string_view best;
    std::size_t least = std::max<std::size_t>(1, wanted.size() / 3) + 1;
    for (const std::string_view candidate : known) {
        const std::size_t d = edits(wanted, folded(candidate));
        if (d < least) {
            least = d;
            best = candidate;
        }
    }
    return best;
}

}  // namespace patchwright::io
