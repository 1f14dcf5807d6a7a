#include "csv.hpp"

namespace patchwright::sheet {

std::string csv_text(std::string_view text) {
    const bool formula = !text.empty() && std::string_view{"=+-@\t\r"}.find(text.front()) != std::string_view::npos;
    if (!formula && text.find_first_of(",\"\n\r") == std::string_view::npos) return std::string{text};
    std::string cell = formula ? "\"'" : "\"";
    for (const char letter : text) {
        if (letter == '"') cell += '"';
        cell += letter;
    }
    return cell + "\"";
}

}  // namespace patchwright::sheet
