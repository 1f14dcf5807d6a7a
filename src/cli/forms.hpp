#pragma once
#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "patchwright/sheet/drawing.hpp"
#include "patchwright/sheet/model.hpp"
#include "patchwright/units/format.hpp"
#include "patchwright/units/parse.hpp"

/// The forms of a result: which there are, which a command offers, and how each is made. A new form is a value of
/// `Form`, a row of the table in forms.cpp and the function that makes it.
namespace patchwright::cli {

struct Common;

enum class Form : std::uint8_t { text, json, csv, html, pdf, svg, png, ics };

/// What forms are made of. A command names the parts that it can give; the forms that it offers follow.
enum class Part : std::uint8_t { words, sheets, json, csv, drawings, calendar };
using Parts = std::vector<Part>;

/// A command's result: each of its parts, made when the form asks for it.
struct Result {
    Result(std::optional<Date> of_job, UnitSystem of_sheets) : date{of_job}, units{of_sheets} {}
    std::function<std::string()> words, json, csv, calendar;
    std::function<std::vector<sheet::Sheet>()> sheets;
    std::function<std::vector<sheet::Drawing>()> drawings;
    std::optional<Date> date;  ///< of the job, for the metadata of a PDF
    UnitSystem units;          ///< of the sheets: US ones are on Letter where no paper is asked for
};

/// Names of the forms made of these parts, the one that is taken where none is asked for first.
std::vector<std::string> form_names(const Parts& parts);
bool offers(const Parts& parts, Form form);
/// The form named with -f; nothing: none was.
std::optional<Form> asked_form(const Common& options);
/// The form asked for, or the one that the output's name says, or the first. Throws Stop on one that is not offered, on
/// one that this build does not make or a terminal cannot show, and on an output that is an input: nothing is read or
/// written before.
Form chosen_form(const Common& options, const Parts& parts);
/// What is printed: PDF, or HTML from a build that makes no PDF.
Form printed_form();
/// Whether the form shows the drawings of a sheet.
bool shows_drawings(Form form);

/// Makes the result in that form and writes it where the options say. Throws IoError.
void write_result(const Common& options, Form form, const Result& result);

}  // namespace patchwright::cli
