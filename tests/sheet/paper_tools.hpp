#pragma once
#include <string>
#include <vector>

#include "patchwright/sheet/page.hpp"

/// What poppler reads from a PDF, and a font set that is the same on every machine.
namespace paper {

/// Pins the fonts to DejaVu Sans and its bold face; called before anything is set.
void pin_fonts();
std::string text_of(const std::string& pdf);  ///< pdftotext -layout
std::string text_of_page(const std::string& pdf, int page);
std::string info_of(const std::string& pdf);   ///< pdfinfo
std::string fonts_of(const std::string& pdf);  ///< pdffonts
/// How many dots of the first page, at that many an inch, are not grey.
int coloured_dots(const std::string& pdf, int dots_per_inch);
int pages_of(const std::string& pdf);
/// Pairs of text rectangles of one page that overlap by more than a tenth of a millimetre.
std::vector<std::string> overlaps(const patchwright::sheet::Pages& pages);
/// Text rectangles that reach into the margins of that paper.
std::vector<std::string> outside(const patchwright::sheet::Pages& pages, patchwright::sheet::Paper paper);

}  // namespace paper
