#include "paper_tools.hpp"

#include <array>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <stdexcept>

#include <fmt/format.h>
#include <unistd.h>

namespace paper {
namespace {

namespace fs = std::filesystem;

/// A folder for the run of this program, removed when it ends.
struct Folder {
    fs::path path = fs::temp_directory_path() / fmt::format("patchwright-paper-{}", ::getpid());
    Folder() { fs::create_directories(path); }
    ~Folder() {
        std::error_code ignored;
        fs::remove_all(path, ignored);
    }
};
const fs::path& folder() {
    static const Folder folder;
    return folder.path;
}

std::string output_of(const std::string& command) {
    auto* pipe = ::popen(command.c_str(), "r");
    if (pipe == nullptr) throw std::runtime_error("cannot run " + command);
    std::string text;
    std::array<char, 4096> part{};
    while (const auto n = std::fread(part.data(), 1, part.size(), pipe)) text.append(part.data(), n);
    if (::pclose(pipe) != 0) throw std::runtime_error("failed: " + command);
    return text;
}

std::string with_pdf(const std::string& pdf, const std::string& before, const std::string& after) {
    const auto path = folder() / "sheet.pdf";
    std::ofstream{path, std::ios::binary} << pdf;
    return output_of(fmt::format("{} '{}' {}", before, path.string(), after));
}

}  // namespace

void pin_fonts() {
    static const bool done = [] {
        const auto fonts = folder() / "fonts";
        fs::create_directories(fonts);
        for (const char* style : {"Book", "Bold"}) {
            const fs::path file = output_of(fmt::format("fc-match -f '%{{file}}' 'DejaVu Sans:style={}'", style));
            if (file.filename().string().find("DejaVuSans") != 0)
                throw std::runtime_error("DejaVu Sans is not installed");
            fs::create_symlink(file, fonts / file.filename());
        }
        const auto config = folder() / "fonts.conf";
        std::ofstream{config} << "<?xml version=\"1.0\"?><!DOCTYPE fontconfig SYSTEM \"fonts.dtd\"><fontconfig><dir>"
                              << fonts.string() << "</dir><cachedir>" << (folder() / "cache").string()
                              << "</cachedir></fontconfig>\n";
        ::setenv("FONTCONFIG_FILE", config.c_str(), 1);
        return true;
    }();
    (void)done;
}

std::string text_of(const std::string& pdf) { return with_pdf(pdf, "pdftotext -layout", "-"); }
std::string text_of_page(const std::string& pdf, int page) {
    return with_pdf(pdf, fmt::format("pdftotext -f {0} -l {0} -layout", page), "-");
}
std::string info_of(const std::string& pdf) { return with_pdf(pdf, "pdfinfo", ""); }
std::string fonts_of(const std::string& pdf) { return with_pdf(pdf, "pdffonts", ""); }

int coloured_dots(const std::string& pdf, int dots_per_inch) {
    const auto dots = with_pdf(pdf, fmt::format("pdftoppm -f 1 -l 1 -r {}", dots_per_inch), "");  // "P6 w h 255 ..."
    std::size_t at = 0;
    for (int spaces = 0; spaces < 4 && at < dots.size(); ++at)
        if (dots[at] == ' ' || dots[at] == '\n') ++spaces;
    int count = 0;
    for (; at + 2 < dots.size(); at += 3)
        if (dots[at] != dots[at + 1] || dots[at] != dots[at + 2]) ++count;
    return count;
}

int pages_of(const std::string& pdf) {
    const auto info = info_of(pdf);
    const auto at = info.find("Pages:");
    return at == std::string::npos ? -1 : std::atoi(info.c_str() + at + 6);
}

std::vector<std::string> overlaps(const patchwright::sheet::Pages& pages) {
    std::vector<std::string> list;
    constexpr double touch = 0.1;
    for (std::size_t i = 0; i < pages.boxes.size(); ++i) {
        const auto& a = pages.boxes[i];
        for (std::size_t k = i + 1; k < pages.boxes.size() && pages.boxes[k].page == a.page; ++k) {
            const auto& b = pages.boxes[k];
            const double wide = std::min(a.x + a.width, b.x + b.width) - std::max(a.x, b.x);
            const double high = std::min(a.y + a.height, b.y + b.height) - std::max(a.y, b.y);
            if (wide > touch && high > touch)
                list.push_back(fmt::format("page {}: \"{}\" over \"{}\"", a.page + 1, a.text, b.text));
        }
    }
    return list;
}

std::vector<std::string> outside(const patchwright::sheet::Pages& pages, patchwright::sheet::Paper paper) {
    const bool letter = paper == patchwright::sheet::Paper::letter;
    const double width = letter ? 215.9 : 210.0, height = letter ? 279.4 : 297.0;
    // Margins as docs/sheets.md states them: 15 mm for the clip at the top, 12 mm at the sides, 9 mm at the foot.
    std::vector<std::string> list;
    for (const auto& b : pages.boxes) {
        const bool in = b.x >= 12.0 - 1e-6 && b.y >= 15.0 - 1e-6 && b.x + b.width <= width - 12.0 + 1e-6 &&
                        b.y + b.height <= height - 9.0 + 1e-6;
        if (!in) list.push_back(fmt::format("page {}: \"{}\" at {:.1f}, {:.1f}", b.page + 1, b.text, b.x, b.y));
    }
    return list;
}

}  // namespace paper
