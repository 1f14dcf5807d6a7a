#include "output.hpp"

#include "platform.hpp"

namespace patchwright::cli {

InputFile::InputFile(const std::string& path, const std::string& shown)
    : name_{path == "-"     ? "standard input"
            : shown.empty() ? path
                            : shown},
      file_{path == "-" ? standard_input : open_to_read(path, name_)} {}

InputFile::~InputFile() {
    if (file_ != standard_input) close_file(file_);
}

std::string_view InputFile::next() { return {buffer_.data(), read_some(file_, buffer_.data(), buffer_.size(), name_)}; }

bool LineReader::next(std::string& line) {
    line.clear();
    for (;;) {
        const auto end = rest_.find('\n');
        line += rest_.substr(0, end);
        if (end != std::string_view::npos) {
            rest_.remove_prefix(end + 1);
            ended_ = true;
            return true;
        }
        rest_ = file_.next();
        ended_ = false;
        if (rest_.empty()) return !line.empty();
    }
}

std::string read_file(const std::string& path, const std::string& shown) {
    InputFile file{path, shown};
    std::string text;
    for (auto piece = file.next(); !piece.empty(); piece = file.next()) text += piece;
    return text;
}

void write_file(const std::string& path, std::string_view bytes) {
    WholeFile file{path};
    file.write(bytes);
    file.finish();
}

void write_stdout(std::string_view bytes) { write_all(standard_output, bytes, "standard output"); }

}  // namespace patchwright::cli
