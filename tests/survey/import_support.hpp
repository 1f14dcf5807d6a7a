#pragma once
#include <catch2/catch.hpp>
#include <fstream>
#include <iterator>
#include <string>
#include <vector>

#include "patchwright/survey/import.hpp"

namespace patchwright::test {

inline survey::Imported import(const std::string& text) {
    return survey::import_survey(text, "s.txt", {"T-1", "1.2 m"});
}

/// "line:column message" of the errors or of the warnings.
inline std::vector<std::string> told(const survey::Imported& imported, job::Severity severity) {
    std::vector<std::string> out;
    for (const auto& d : imported.diagnostics)
        if (d.severity == severity)
            out.push_back(std::to_string(d.line) + ":" + std::to_string(d.column) + " " + d.message);
    return out;
}
inline std::vector<std::string> errors(const survey::Imported& imported) {
    return told(imported, job::Severity::error);
}
inline std::vector<std::string> warnings(const survey::Imported& imported) {
    return told(imported, job::Severity::warning);
}

/// The form of the own-made survey of the tests, with the header and the observations to be given.
inline std::string survey_text(const std::string& header, const std::string& values, const std::string& observations,
                               const std::string& list = "I;J;A;B;C;D;G;H") {
    return "#A1=ISO-8859-1\n#A2=en\n#A3=;\n#A4=.\n#A5=\"\n#A6=2010\n#B01=" + header + "\n" + values + "\n#C=" + list +
           "\n" + observations;
}

}  // namespace patchwright::test
