// Windows.
#include <algorithm>
#include <cstdint>
#include <cstdio>
#include <filesystem>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <system_error>
#include <utility>
#include <vector>

#include <fcntl.h>
#include <fmt/format.h>
#include <io.h>
#include <windows.h>

#include "output.hpp"
#include "patchwright/units/error.hpp"
#include "patchwright/units/utf8.hpp"
#include "platform.hpp"

/// Read by the C library before wmain: it puts the files for *.json, since no shell here does.
int _dowildcard = -1;

namespace patchwright::cli {
namespace {

/// The reason in the words that other systems have for it, as far as there are any.
std::string words_for(DWORD error) {
    switch (error) {
        case ERROR_FILE_NOT_FOUND:
        case ERROR_PATH_NOT_FOUND:
        case ERROR_BAD_NETPATH:
            return "No such file or directory";
        case ERROR_ACCESS_DENIED:
        case ERROR_WRITE_PROTECT:
            return "Permission denied";
        case ERROR_SHARING_VIOLATION:
        case ERROR_LOCK_VIOLATION:
        case ERROR_USER_MAPPED_FILE:
            return "it is open in another program";
        case ERROR_DISK_FULL:
        case ERROR_HANDLE_DISK_FULL:
            return "No space left on device";
        case ERROR_INVALID_NAME:
            return "Windows allows no such name";
        case ERROR_FILENAME_EXCED_RANGE:
            return "File name too long";
        default:
            return fmt::format("Windows error {}", error);
    }
}

[[noreturn]] void fail(std::string_view what, const std::string& path, const std::string& reason) {
    throw IoError(fmt::format("{}: {}: {}", path, what, reason));
}
[[noreturn]] void fail(std::string_view what, const std::string& path) { fail(what, path, words_for(GetLastError())); }

std::wstring wide(std::string_view utf8) {
    const int size = static_cast<int>(utf8.size());
    std::wstring text(utf8.size(), L'\0');
    text.resize(static_cast<std::size_t>(MultiByteToWideChar(CP_UTF8, 0, utf8.data(), size, text.data(), size)));
    return text;
}

std::string narrow(std::wstring_view utf16) {
    const int size = static_cast<int>(utf16.size());
    std::string text(3 * utf16.size(), '\0');
    text.resize(static_cast<std::size_t>(WideCharToMultiByte(CP_UTF8, 0, utf16.data(), size, text.data(),
                                                             static_cast<int>(text.size()), nullptr, nullptr)));
    return text;
}

}  // namespace

/// A handle that is closed again.
class Handle {
public:
    explicit Handle(HANDLE handle) : handle_{handle} {}
    Handle(const Handle&) = delete;
    Handle& operator=(const Handle&) = delete;
    ~Handle() { close(); }
    explicit operator bool() const { return handle_ != INVALID_HANDLE_VALUE; }
    HANDLE get() const { return handle_; }
    bool close() {
        return handle_ == INVALID_HANDLE_VALUE || CloseHandle(std::exchange(handle_, INVALID_HANDLE_VALUE)) != 0;
    }

private:
    HANDLE handle_;
};

namespace {

constexpr DWORD everyone = FILE_SHARE_READ | FILE_SHARE_WRITE | FILE_SHARE_DELETE;

/// In pieces that a console takes, none of which ends within a character.
bool written(HANDLE file, std::string_view bytes) {
    constexpr std::size_t most = 16384;
    while (!bytes.empty()) {
        std::size_t size = std::min(bytes.size(), most);
        while (size < bytes.size() && size > most - 4 && is_utf8_continuation(bytes[size])) --size;
        DWORD done = 0;
        if (WriteFile(file, bytes.data(), static_cast<DWORD>(size), &done, nullptr) == 0) return false;
        bytes.remove_prefix(done);
    }
    return true;
}

HANDLE handle_of(int file) { return reinterpret_cast<HANDLE>(_get_osfhandle(file)); }

// The temporary file while it exists, for Ctrl-C, a closed window and the end of the session.
std::mutex temporary_guard;
std::wstring temporary_name;

BOOL WINAPI remove_and_die(DWORD) {
    const std::lock_guard lock{temporary_guard};
    if (!temporary_name.empty()) DeleteFileW(temporary_name.c_str());
    return FALSE;  // and the system ends the program
}

/// Whether another program holds the file so that none may take its place; the system itself only says "denied" then.
bool in_use(const std::wstring& path) {
    const auto error = GetLastError();
    const Handle file{CreateFileW(path.c_str(), GENERIC_READ, 0, nullptr, OPEN_EXISTING, 0, nullptr)};
    const bool held = !file && GetLastError() == ERROR_SHARING_VIOLATION;
    SetLastError(error);
    return held;
}

}  // namespace

/// A new file beside `path`, and removed again unless it took that name: also when the program is ended from outside.
class Temporary {
public:
    Temporary(const std::string& shown, std::wstring path) : shown_{shown}, path_{std::move(path)} {
        const auto folder = std::filesystem::path{path_}.parent_path();
        const std::lock_guard lock{temporary_guard};
        DWORD error = ERROR_FILE_EXISTS;
        for (int n = 0; n < 1000 && error == ERROR_FILE_EXISTS; ++n) {
            const auto name = fmt::format(".patchwright-{}-{}", GetCurrentProcessId(), n);
            temporary_name = (folder / wide(name)).wstring();
            file_ = CreateFileW(temporary_name.c_str(), GENERIC_WRITE, FILE_SHARE_DELETE, nullptr, CREATE_NEW,
                                FILE_ATTRIBUTE_NORMAL, nullptr);
            error = file_ == INVALID_HANDLE_VALUE ? GetLastError() : 0;
        }
        if (error == 0) {
            SetConsoleCtrlHandler(remove_and_die, TRUE);
            return;
        }
        temporary_name.clear();
        fail(error == ERROR_PATH_NOT_FOUND ? "cannot open its folder" : "cannot make a file in its folder", shown_,
             words_for(error));
    }
    Temporary(const Temporary&) = delete;
    Temporary& operator=(const Temporary&) = delete;
    ~Temporary() {
        const std::lock_guard lock{temporary_guard};
        if (file_ != INVALID_HANDLE_VALUE) CloseHandle(file_);
        if (!temporary_name.empty()) DeleteFileW(temporary_name.c_str());
        temporary_name.clear();
        SetConsoleCtrlHandler(remove_and_die, FALSE);
    }
    void write(std::string_view bytes) {
        if (!written(file_, bytes)) fail("cannot write", shown_);
    }
    /// Takes the name.
    void rename() {
        const std::lock_guard lock{temporary_guard};
        if (FlushFileBuffers(file_) == 0) fail("cannot write", shown_);
        if (CloseHandle(std::exchange(file_, INVALID_HANDLE_VALUE)) == 0) fail("cannot write", shown_);
        if (MoveFileExW(temporary_name.c_str(), path_.c_str(), MOVEFILE_REPLACE_EXISTING | MOVEFILE_WRITE_THROUGH) == 0)
            fail("cannot write", shown_, words_for(in_use(path_) ? ERROR_SHARING_VIOLATION : GetLastError()));
        temporary_name.clear();
    }

private:
    std::string shown_;
    std::wstring path_;
    HANDLE file_ = INVALID_HANDLE_VALUE;
};

namespace {

/// The whole path; for a link that of the file it names, there or not. Devices, such as NUL, begin with \\.\ then.
std::wstring target_of(const std::wstring& path) {
    std::wstring whole(32768, L'\0');
    whole.resize(GetFullPathNameW(path.c_str(), static_cast<DWORD>(whole.size()), whole.data(), nullptr));
    const auto attributes = GetFileAttributesW(whole.c_str());
    if (attributes == INVALID_FILE_ATTRIBUTES || (attributes & FILE_ATTRIBUTE_REPARSE_POINT) == 0) return whole;
    const Handle file{
        CreateFileW(whole.c_str(), 0, everyone, nullptr, OPEN_EXISTING, FILE_FLAG_BACKUP_SEMANTICS, nullptr)};
    std::wstring target(32768, L'\0');
    target.resize(file ? GetFinalPathNameByHandleW(file.get(), target.data(), static_cast<DWORD>(target.size()), 0)
                       : 0);
    return target.empty() ? whole : target;
}

bool same(const BY_HANDLE_FILE_INFORMATION& a, const BY_HANDLE_FILE_INFORMATION& b) {
    return a.dwVolumeSerialNumber == b.dwVolumeSerialNumber && a.nFileIndexHigh == b.nFileIndexHigh &&
           a.nFileIndexLow == b.nFileIndexLow;
}

/// Shows UTF-8 and bold type on the console while the program runs, and leaves it as it was.
class Console {
public:
    Console() {
        for (const int file : {0, 1, 2}) _setmode(file, _O_BINARY);
        std::setvbuf(stderr, nullptr, _IOFBF,
                     65536);  // else each byte goes alone, which the console shows as no letter
        SetConsoleOutputCP(CP_UTF8);
        DWORD mode = 0;
        if (GetConsoleMode(handle_of(standard_output), &mode) != 0)
            SetConsoleMode(handle_of(standard_output), mode | ENABLE_VIRTUAL_TERMINAL_PROCESSING);
    }
    Console(const Console&) = delete;
    Console& operator=(const Console&) = delete;
    ~Console() {
        if (code_page_ != 0) SetConsoleOutputCP(code_page_);
    }

private:
    UINT code_page_ = GetConsoleOutputCP();
};

}  // namespace

int open_to_read(const std::string& path, const std::string& shown) {
    const auto file =
        CreateFileW(wide(path).c_str(), GENERIC_READ, everyone, nullptr, OPEN_EXISTING, FILE_ATTRIBUTE_NORMAL, nullptr);
    if (file == INVALID_HANDLE_VALUE) {
        const auto error = GetLastError();
        std::error_code ignored;
        fail("cannot read", shown,
             std::filesystem::is_directory(wide(path), ignored) ? "Is a directory" : words_for(error));
    }
    return _open_osfhandle(reinterpret_cast<std::intptr_t>(file), _O_RDONLY | _O_BINARY);
}

std::size_t read_some(int file, char* to, std::size_t most, const std::string& shown) {
    DWORD got = 0;
    const bool read = ReadFile(handle_of(file), to, static_cast<DWORD>(most), &got, nullptr) != 0;
    if (!read && GetLastError() != ERROR_BROKEN_PIPE && GetLastError() != ERROR_HANDLE_EOF) fail("cannot read", shown);
    return got;
}

void write_all(int file, std::string_view bytes, const std::string& shown) {
    if (!written(handle_of(file), bytes)) fail("cannot write", shown);
}

void drop_temporary() noexcept {
    const std::unique_lock lock{temporary_guard, std::try_to_lock};  // it may be held where the program ends
    if (!temporary_name.empty()) DeleteFileW(temporary_name.c_str());
}

void close_file(int file) { _close(file); }

std::filesystem::path path_of(const std::string& name) { return wide(name); }
std::string name_of(const std::filesystem::path& path) { return narrow(path.native()); }

bool input_is_terminal() {
    DWORD mode = 0;
    return GetConsoleMode(handle_of(standard_input), &mode) != 0;
}
bool output_is_terminal() {
    DWORD mode = 0;
    return GetConsoleMode(handle_of(standard_output), &mode) != 0;
}
bool errors_are_terminal() {
    DWORD mode = 0;
    return GetConsoleMode(handle_of(standard_error), &mode) != 0;
}
bool output_shows_bold() {
    DWORD mode = 0;
    return GetConsoleMode(handle_of(standard_output), &mode) != 0 && (mode & ENABLE_VIRTUAL_TERMINAL_PROCESSING) != 0;
}
bool utf8_unless_said() { return true; }

namespace {

bool is_file_behind(int number, const std::string& path) {
    BY_HANDLE_FILE_INFORMATION behind{}, named{};
    const Handle file{CreateFileW(wide(path).c_str(), 0, everyone, nullptr, OPEN_EXISTING, 0, nullptr)};
    return GetFileType(handle_of(number)) == FILE_TYPE_DISK && file &&
           GetFileInformationByHandle(handle_of(number), &behind) != 0 &&
           GetFileInformationByHandle(file.get(), &named) != 0 && same(behind, named);
}

}  // namespace

bool is_standard_input(const std::string& path) { return is_file_behind(standard_input, path); }

struct WholeFile::State {
    explicit State(const std::string& named) : shown{named} {
        const auto path = target_of(wide(named));
        if (path.starts_with(L"\\\\.\\")) {
            device.emplace(CreateFileW(path.c_str(), GENERIC_WRITE, everyone, nullptr, OPEN_EXISTING, 0, nullptr));
            if (!*device) fail("cannot write", shown);
            return;
        }
        const auto attributes = GetFileAttributesW(path.c_str());
        if (attributes != INVALID_FILE_ATTRIBUTES && (attributes & FILE_ATTRIBUTE_DIRECTORY) != 0)
            fail("cannot write", shown, "Is a directory");
        temporary.emplace(shown, path);
    }
    std::string shown;
    std::optional<Handle> device;
    std::optional<Temporary> temporary;
};

WholeFile::WholeFile(const std::string& path) : state_{std::make_unique<State>(path)} {}
WholeFile::~WholeFile() = default;

void WholeFile::write(std::string_view bytes) {
    if (state_->temporary) return state_->temporary->write(bytes);
    if (!written(state_->device->get(), bytes)) fail("cannot write", state_->shown);
}

void WholeFile::finish() {
    if (state_->temporary) state_->temporary->rename();
}

GrowingFile::GrowingFile(const std::string& path) : path_{path}, file_{-1} {
    // Others may read it meanwhile, not write: a second run is told that it is open in another program.
    const auto file = CreateFileW(wide(path).c_str(), GENERIC_WRITE, FILE_SHARE_READ, nullptr, OPEN_ALWAYS,
                                  FILE_ATTRIBUTE_NORMAL, nullptr);
    if (file == INVALID_HANDLE_VALUE) fail("cannot write", path_);
    SetFilePointer(file, 0, nullptr, FILE_END);
    file_ = _open_osfhandle(reinterpret_cast<std::intptr_t>(file), _O_WRONLY | _O_BINARY);
}

GrowingFile::~GrowingFile() { _close(file_); }

namespace {

void cut_off(int file, std::uint64_t kept, const std::string& shown) {
    LARGE_INTEGER at{};
    at.QuadPart = static_cast<LONGLONG>(kept);
    if (SetFilePointerEx(handle_of(file), at, nullptr, FILE_BEGIN) == 0 || SetEndOfFile(handle_of(file)) == 0)
        fail("cannot write", shown);
}

}  // namespace

void GrowingFile::cut(std::uint64_t kept) { cut_off(file_, kept, path_); }

void GrowingFile::write(std::string_view bytes) { write_all(file_, bytes, path_); }

void GrowingFile::finish() {
    if (FlushFileBuffers(handle_of(file_)) == 0) fail("cannot write", path_);
}

bool is_standard_output(const std::string& path) { return is_file_behind(standard_output, path); }

void cut_standard_output(std::uint64_t kept) { cut_off(standard_output, kept, "standard output"); }

}  // namespace patchwright::cli

extern "C" int wmain(int argc, wchar_t** argv) {
    using namespace patchwright::cli;
    std::vector<std::string> texts;
    for (int i = 0; i < argc; ++i) texts.push_back(narrow(argv[i]));
    std::vector<char*> arguments;
    for (auto& text : texts) arguments.push_back(text.data());
    arguments.push_back(nullptr);
    const Console console;
    return run_program(argc, arguments.data());
}
