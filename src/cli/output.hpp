#pragma once
#include <array>
#include <cstdint>
#include <memory>
#include <string>
#include <string_view>

namespace patchwright::cli {

/// A file that is read piece by piece; "-" is standard input. Throws IoError with the system's reason; `shown`: what it
/// calls the file, if not by its path.
class InputFile {
public:
    explicit InputFile(const std::string& path, const std::string& shown = {});
    InputFile(const InputFile&) = delete;
    InputFile& operator=(const InputFile&) = delete;
    ~InputFile();
    /// The next bytes, until the next call; none at the end.
    std::string_view next();

private:
    std::string name_;
    int file_;
    std::array<char, 65536> buffer_;
};

/// Lines of a file without their ends.
class LineReader {
public:
    explicit LineReader(const std::string& path) : file_{path} {}
    /// False at the end. A last line without an end is a line.
    bool next(std::string& line);
    /// Whether the line that was read last had its end.
    bool ended() const { return ended_; }

private:
    InputFile file_;
    std::string_view rest_;
    bool ended_ = true;
};

/// Whole content of a file, or of standard input for "-". Throws IoError with the system's reason.
std::string read_file(const std::string& path, const std::string& shown = {});

/// Writes all bytes to standard output and checks that they left. Throws IoError; a closed pipe ends the program
/// quietly by its signal, as for every tool.
void write_stdout(std::string_view bytes);

/// A file written whole or not at all, piece by piece: temporary file in the same folder, written, flushed to disk,
/// closed, each checked, then renamed over the old one, whose permission bits it keeps (never set-user or set-group). A
/// symbolic link stays and its target is written. On failure or interrupt the temporary file is removed and the old
/// file is as it was. Devices and pipes are written in place. One at a time. Throws IoError.
class WholeFile {
public:
    explicit WholeFile(const std::string& path);
    ~WholeFile();  ///< without `finish`: nothing was written
    void write(std::string_view bytes);
    void finish();

private:
    struct State;
    std::unique_ptr<State> state_;
};
void write_file(const std::string& path, std::string_view bytes);

/// A file that grows line by line, and keeps what it has when the program ends in the middle. Made where there is none.
/// Throws IoError, also where another process has it open in the same way.
class GrowingFile {
public:
    explicit GrowingFile(const std::string& path);
    GrowingFile(const GrowingFile&) = delete;
    GrowingFile& operator=(const GrowingFile&) = delete;
    ~GrowingFile();
    void cut(std::uint64_t kept);  ///< off what stands behind that many bytes
    void write(std::string_view bytes);
    void finish();  ///< on the disk

private:
    std::string path_;
    int file_;
};
/// Whether standard output is that file.
bool is_standard_output(const std::string& path);
/// Cuts the file behind standard output off after that many bytes. Throws IoError.
void cut_standard_output(std::uint64_t kept);

}  // namespace patchwright::cli
