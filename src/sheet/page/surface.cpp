#include "surface.hpp"

#include <new>

#include <cairo-pdf.h>
#include <fmt/format.h>

#include "fonts.hpp"
#include "patchwright/units/error.hpp"

namespace patchwright::sheet {

cairo_status_t append_to_string(void* closure, const unsigned char* data, unsigned int length) {
    try {  // cairo knows no exceptions, and calls this from the surface's end too
        static_cast<std::string*>(closure)->append(reinterpret_cast<const char*>(data), length);
        return CAIRO_STATUS_SUCCESS;
    } catch (const std::bad_alloc&) {
        return CAIRO_STATUS_NO_MEMORY;
    }
}

PaperSize size_of(Paper paper) { return paper == Paper::letter ? PaperSize{215.9, 279.4} : PaperSize{210.0, 297.0}; }

PdfFile::PdfFile(Paper paper, const std::string& title, const PageOptions& options) {
    const auto size = size_of(paper);
    // The sizes that every reader calls A4 and Letter, in whole or nearly whole points.
    const double width = paper == Paper::letter ? 612.0 : 595.276, height = paper == Paper::letter ? 792.0 : 841.89;
    surface_ = cairo_pdf_surface_create_for_stream(append_to_string, &bytes_, width, height);
    cairo_pdf_surface_set_metadata(surface_, CAIRO_PDF_METADATA_TITLE, printable(title).c_str());
    cairo_pdf_surface_set_metadata(surface_, CAIRO_PDF_METADATA_CREATOR, "Patchwright");
    // An empty date leaves the entry out; without this call cairo writes the time of day.
    cairo_pdf_surface_set_metadata(surface_, CAIRO_PDF_METADATA_CREATE_DATE, options.created.value_or("").c_str());
    cairo_ = cairo_create(surface_);
    cairo_scale(cairo_, width / size.width, height / size.height);
}

PdfFile::~PdfFile() {
    if (cairo_ != nullptr) cairo_destroy(cairo_);
    if (surface_ != nullptr) cairo_surface_destroy(surface_);
}

void PdfFile::next_page() { cairo_show_page(cairo_); }

std::string PdfFile::take(const std::string& language) {
    const auto drawn = cairo_status(cairo_);
    cairo_surface_finish(surface_);
    const auto status = drawn != CAIRO_STATUS_SUCCESS ? drawn : cairo_surface_status(surface_);
    if (status != CAIRO_STATUS_SUCCESS)
        throw IoError(fmt::format("the PDF could not be made: {}", cairo_status_to_string(status)));
    return with_language(std::move(bytes_), language);
}

std::string with_language(std::string pdf, const std::string& language) {
    const std::string catalog = "/Type /Catalog";
    const auto place = pdf.rfind(catalog);
    const auto table = pdf.rfind("\nxref\n");
    const auto start = pdf.rfind("startxref\n");
    if (place == std::string::npos || table == std::string::npos || start == std::string::npos || place > table) {
        throw IoError("the PDF could not be given its language: its catalogue is not where it should be");
    }
    const auto entry = fmt::format("\n   /Lang ({})", language);
    // Cross-reference entries are "nnnnnnnnnn ggggg n", 20 bytes each: those of objects behind the entry move.
    for (auto at = pdf.find('\n', table + 6) + 1; at + 20 <= start && pdf.compare(at, 7, "trailer") != 0; at += 20) {
        const auto offset = std::stoull(pdf.substr(at, 10));
        if (pdf[at + 17] == 'n' && offset > place) pdf.replace(at, 10, fmt::format("{:010}", offset + entry.size()));
    }
    const auto number = start + 10;
    const auto end = pdf.find('\n', number);
    pdf.replace(number, end - number, fmt::format("{}", std::stoull(pdf.substr(number, end - number)) + entry.size()));
    pdf.insert(place + catalog.size(), entry);
    return pdf;
}

}  // namespace patchwright::sheet
