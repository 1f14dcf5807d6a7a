#pragma once
#include <string>
#include <string_view>

namespace patchwright::cli {

/// Whole content of a file. Throws IoError with the system's reason.
std::string read_file(const std::string& path);

/// Writes all bytes to standard output and checks that they left. Throws IoError; a closed pipe ends the program
/// quietly by its signal, as for every tool.
void write_stdout(std::string_view bytes);

/// Writes a file whole or not at all: temporary file in the same folder, written, flushed to disk, closed, each
/// checked, then renamed over the old one, whose mode it keeps. On failure or interrupt the temporary file is removed
/// and the old file is as it was. Devices and pipes are written in place. Throws IoError.
void write_file(const std::string& path, std::string_view bytes);

}  // namespace patchwright::cli
