// POSIX.
#include <array>
#include <cerrno>
#include <csignal>
#include <cstring>
#include <filesystem>
#include <optional>
#include <string>
#include <utility>

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include "output.hpp"
#include "patchwright/units/error.hpp"
#include "platform.hpp"

namespace patchwright::cli {
namespace {

[[noreturn]] void fail(std::string_view what, const std::string& path, int error) {
    throw IoError(fmt::format("{}: {}: {}", path, what, std::strerror(error)));
}

/// Returns 0, or the errno of the write that failed.
int write_fully(int file, std::string_view bytes) {
    while (!bytes.empty()) {
        const auto written = ::write(file, bytes.data(), bytes.size());
        if (written < 0) {
            if (errno == EINTR) continue;
            return errno;
        }
        bytes.remove_prefix(static_cast<std::size_t>(written));
    }
    return 0;
}

/// Follows symbolic links to the file that they name, there or not.
std::string target_of(std::string path) {
    constexpr int max_links = 40;  // as the kernel allows
    for (int n = 0; n < max_links; ++n) {
        std::error_code error;
        const auto next = std::filesystem::read_symlink(path, error);
        if (error) return path;
        path = (std::filesystem::path{path}.parent_path() / next).string();
    }
    fail("cannot write", path, ELOOP);
}

// The temporary file while it exists, for the signal handler.
int temporary_folder = -1;
char temporary_name[48];

void remove_and_die(int signal) {
    drop_temporary();
    std::signal(signal, SIG_DFL);
    std::raise(signal);
}

}  // namespace

/// A new file in the folder of `path`, open, and removed again unless it took that name: also when a signal ends the
/// program. Its own name is short, so that the other may be as long as the file system allows. A file above the size
/// that the shell allows is an error like any other, not the end of the program.
class Temporary {
public:
    explicit Temporary(const std::string& path) : path_{path} {
        const std::filesystem::path whole{path};
        name_ = whole.filename().string();
        const std::string folder = whole.has_parent_path() ? whole.parent_path().string() : ".";
        temporary_folder = ::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
        if (temporary_folder < 0) fail("cannot open its folder", path, errno);
        sigset_t held, before;
        sigemptyset(&held);
        for (const int signal : deadly) sigaddset(&held, signal);
        pthread_sigmask(SIG_BLOCK, &held, &before);  // until the handlers know the name
        int error = EEXIST;
        for (int n = 0; n < 1000 && error == EEXIST; ++n) {
            *fmt::format_to_n(temporary_name, sizeof temporary_name - 1, ".patchwright-{}-{}", ::getpid(), n).out =
                '\0';
            file_ = ::openat(temporary_folder, temporary_name, O_RDWR | O_CREAT | O_EXCL | O_CLOEXEC, 0600);
            error = file_ < 0 ? errno : 0;
        }
        if (file_ >= 0) {
            for (std::size_t i = 0; i < deadly.size(); ++i) old_[i] = std::signal(deadly[i], remove_and_die);
            old_size_ = std::signal(SIGXFSZ, SIG_IGN);
        } else {
            temporary_name[0] = '\0';
            ::close(temporary_folder);
        }
        pthread_sigmask(SIG_SETMASK, &before, nullptr);
        if (file_ < 0) fail("cannot make a file in its folder", path, error);
    }
    Temporary(const Temporary&) = delete;
    Temporary& operator=(const Temporary&) = delete;
    ~Temporary() {
        if (temporary_name[0] != '\0') ::unlinkat(temporary_folder, temporary_name, 0);
        temporary_name[0] = '\0';
        ::close(temporary_folder);
        if (file_ >= 0) ::close(file_);
        for (std::size_t i = 0; i < deadly.size(); ++i) std::signal(deadly[i], old_[i]);
        std::signal(SIGXFSZ, old_size_);
    }
    void write(std::string_view bytes) {
        if (const int error = write_fully(file_, bytes)) fail("cannot write", path_, error);
    }
    /// Takes the name, with these permissions.
    void rename(mode_t mode) {
        if (::fchmod(file_, mode) != 0 || ::fsync(file_) != 0) fail("cannot write", path_, errno);
        if (::close(std::exchange(file_, -1)) != 0) fail("cannot write", path_, errno);
        if (::renameat(temporary_folder, temporary_name, temporary_folder, name_.c_str()) != 0)
            fail("cannot write", path_, errno);
        temporary_name[0] = '\0';
    }

private:
    using Handler = void (*)(int);
    static constexpr std::array deadly{SIGINT, SIGTERM, SIGHUP};
    std::string path_, name_;
    int file_ = -1;
    std::array<Handler, deadly.size()> old_{};
    Handler old_size_ = SIG_DFL;
};

int open_to_read(const std::string& path, const std::string& shown) {
    const int file = ::open(path.c_str(), O_RDONLY | O_CLOEXEC);
    if (file < 0) fail("cannot read", shown, errno);
    return file;
}

std::size_t read_some(int file, char* to, std::size_t most, const std::string& shown) {
    for (;;) {
        const auto got = ::read(file, to, most);
        if (got >= 0) return static_cast<std::size_t>(got);
        if (errno != EINTR) fail("cannot read", shown, errno);
    }
}

void write_all(int file, std::string_view bytes, const std::string& shown) {
    if (const int error = write_fully(file, bytes)) fail("cannot write", shown, error);
}

void drop_temporary() noexcept {
    if (temporary_name[0] != '\0') ::unlinkat(temporary_folder, temporary_name, 0);
}

void close_file(int file) { ::close(file); }

std::filesystem::path path_of(const std::string& name) { return name; }
std::string name_of(const std::filesystem::path& path) { return path.string(); }

bool input_is_terminal() { return ::isatty(standard_input) != 0; }
bool output_is_terminal() { return ::isatty(standard_output) != 0; }
bool errors_are_terminal() { return ::isatty(standard_error) != 0; }
bool output_shows_bold() { return output_is_terminal(); }
bool utf8_unless_said() { return false; }

bool is_standard_input(const std::string& path) {
    struct stat in {
    }, out{};
    return ::fstat(standard_input, &in) == 0 && S_ISREG(in.st_mode) && ::stat(path.c_str(), &out) == 0 &&
           in.st_dev == out.st_dev && in.st_ino == out.st_ino;
}

struct WholeFile::State {
    explicit State(const std::string& named) : path{target_of(named)} {
        struct stat old {};
        const bool exists = ::stat(path.c_str(), &old) == 0;
        if (exists && S_ISDIR(old.st_mode)) fail("cannot write", path, EISDIR);
        if (exists && !S_ISREG(old.st_mode)) {
            device = ::open(path.c_str(), O_WRONLY | O_CLOEXEC);
            if (device < 0) fail("cannot write", path, errno);
            return;
        }
        const mode_t mask = ::umask(0);
        ::umask(mask);
        mode = exists ? old.st_mode & 0777U : 0666U & ~mask;
        temporary.emplace(path);
    }
    State(const State&) = delete;
    State& operator=(const State&) = delete;
    ~State() {
        if (device >= 0) ::close(device);
    }
    std::string path;
    int device = -1;
    mode_t mode = 0;
    std::optional<Temporary> temporary;
};

WholeFile::WholeFile(const std::string& path) : state_{std::make_unique<State>(path)} {}
WholeFile::~WholeFile() = default;

void WholeFile::write(std::string_view bytes) {
    if (state_->temporary) return state_->temporary->write(bytes);
    if (const int error = write_fully(state_->device, bytes)) fail("cannot write", state_->path, error);
}

void WholeFile::finish() {
    if (state_->temporary) state_->temporary->rename(state_->mode);
}

GrowingFile::GrowingFile(const std::string& path)
    : path_{path}, file_{::open(path.c_str(), O_WRONLY | O_APPEND | O_CREAT | O_CLOEXEC, 0666)} {
    if (file_ < 0) fail("cannot write", path_, errno);
    if (::flock(file_, LOCK_EX | LOCK_NB) == 0 || errno != EWOULDBLOCK) return;  // not every file system has locks
    ::close(file_);
    throw IoError(path_ + ": another run is writing to it");
}

GrowingFile::~GrowingFile() { ::close(file_); }

void GrowingFile::cut(std::uint64_t kept) {
    if (::ftruncate(file_, static_cast<off_t>(kept)) != 0) fail("cannot write", path_, errno);
}

void GrowingFile::write(std::string_view bytes) {
    if (const int error = write_fully(file_, bytes)) fail("cannot write", path_, error);
}

void GrowingFile::finish() {
    if (::fsync(file_) != 0) fail("cannot write", path_, errno);
}

bool is_standard_output(const std::string& path) {
    struct stat out {
    }, file{};
    return ::fstat(standard_output, &out) == 0 && S_ISREG(out.st_mode) && ::stat(path.c_str(), &file) == 0 &&
           out.st_dev == file.st_dev && out.st_ino == file.st_ino;
}

void cut_standard_output(std::uint64_t kept) {
    if (::ftruncate(standard_output, static_cast<off_t>(kept)) != 0) fail("cannot write", "standard output", errno);
}

}  // namespace patchwright::cli

int main(int argc, char** argv) { return patchwright::cli::run_program(argc, argv); }
