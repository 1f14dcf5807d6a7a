#pragma once
#include <string>

#include <cairo.h>

#include "patchwright/sheet/page.hpp"

/// Cairo objects that free themselves and report their faults as exceptions.
namespace patchwright::sheet {

struct PaperSize {
    double width = 210, height = 297;  ///< mm
};
PaperSize size_of(Paper paper);

/// Cairo's way to write into memory: `closure` is a std::string.
cairo_status_t append_to_string(void* closure, const unsigned char* data, unsigned int length);

/// A PDF in memory, in millimetres.
class PdfFile {
public:
    PdfFile(Paper paper, const std::string& title, const PageOptions& options);
    ~PdfFile();
    PdfFile(const PdfFile&) = delete;
    PdfFile& operator=(const PdfFile&) = delete;

    cairo_t* cairo() { return cairo_; }
    void next_page();
    /// Finishes the file. Throws IoError when cairo met a fault.
    std::string take(const std::string& language);

private:
    std::string bytes_;
    cairo_surface_t* surface_ = nullptr;
    cairo_t* cairo_ = nullptr;
};

/// The PDF with its language in the catalogue (ISO 32000-1, 14.9.2), which cairo cannot set.
std::string with_language(std::string pdf, const std::string& language);

}  // namespace patchwright::sheet
