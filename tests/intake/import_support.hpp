#pragma once
#include <catch2/catch.hpp>
#include <string>
#include <vector>

#include "patchwright/intake/import.hpp"
#include "support/told.hpp"

namespace patchwright::test {

inline intake::Imported import(const std::string& text) {
    return intake::import_survey(text, "s.txt", {"T-1", "1.2 m"});
}

inline std::vector<std::string> errors(const intake::Imported& imported) { return errors_of(imported.diagnostics); }
inline std::vector<std::string> warnings(const intake::Imported& imported) { return warnings_of(imported.diagnostics); }

/// The form of the own-made survey of the tests, with the header and the observations to be given.
inline std::string survey_text(const std::string& header, const std::string& values, const std::string& observations,
                               const std::string& list = "I;J;A;B;C;D;G;H") {
    return "#A1=ISO-8859-1\n#A2=en\n#A3=;\n#A4=.\n#A5=\"\n#A6=2010\n#B01=" + header + "\n" + values + "\n#C=" + list +
           "\n" + observations;
}

/// A note of the draft with these words.
inline bool says(const intake::Imported& imported, const std::string& words) {
    for (const std::string& note : imported.draft.notes)
        if (note.find(words) != std::string::npos) return true;
    return false;
}

}  // namespace patchwright::test
