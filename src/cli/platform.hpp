#pragma once
#include <cstddef>
#include <filesystem>
#include <string>
#include <string_view>

/// What each operating system does in its own way: files by their number, the terminal, and how the program starts.
/// platform_posix.cpp and platform_windows.cpp each have all of it, the files to write of output.hpp and the main
/// function. Text is UTF-8 throughout, and bytes are read and written as they are.
namespace patchwright::cli {

/// The program, from the arguments of its call to its exit status.
int run_program(int argc, char** argv);

inline constexpr int standard_input = 0, standard_output = 1, standard_error = 2;

/// These throw IoError with `shown`, the name that the user knows, and the system's reason.
int open_to_read(const std::string& path, const std::string& shown);
/// How many bytes came; none at the end.
std::size_t read_some(int file, char* to, std::size_t most, const std::string& shown);
void write_all(int file, std::string_view bytes, const std::string& shown);
void close_file(int file);
/// Removes the temporary file of what is being written whole, if there is any: the program ends at once.
void drop_temporary() noexcept;

/// A name of UTF-8 as the system's own, and back.
std::filesystem::path path_of(const std::string& name);
std::string name_of(const std::filesystem::path& path);

bool input_is_terminal();
bool output_is_terminal();
bool errors_are_terminal();
/// Whether it obeys the escape sequences for bold type.
bool output_shows_bold();
/// What text may hold where neither LC_ALL, LC_CTYPE nor LANG says.
bool utf8_unless_said();

/// Whether standard input is a file, and that one.
bool is_standard_input(const std::string& path);

}  // namespace patchwright::cli
