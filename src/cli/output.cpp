#include "output.hpp"

#include <array>
#include <cerrno>
#include <csignal>
#include <cstring>
#include <string>

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include "patchwright/units/error.hpp"

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

// The name of the temporary file while it exists, for the signal handler.
char temporary_name[4096];

void remove_and_die(int signal) {
    if (temporary_name[0] != '\0') ::unlink(temporary_name);
    std::signal(signal, SIG_DFL);
    std::raise(signal);
}

/// A new file beside `path`, open, and removed again unless it was renamed: also when a signal ends the program. A file
/// above the size that the shell allows is an error like any other, not the end of the program.
class Temporary {
public:
    explicit Temporary(const std::string& path) : name_{path + ".XXXXXX"} {
        if (name_.size() + 1 > sizeof temporary_name) throw IoError(name_ + ": name too long");
        sigset_t held, before;
        sigemptyset(&held);
        for (const int signal : deadly) sigaddset(&held, signal);
        pthread_sigmask(SIG_BLOCK, &held, &before);  // until the handlers know the name
        file_ = ::mkostemp(name_.data(), O_CLOEXEC);
        const int error = errno;
        if (file_ >= 0) {
            std::memcpy(temporary_name, name_.c_str(), name_.size() + 1);
            for (std::size_t i = 0; i < deadly.size(); ++i) old_[i] = std::signal(deadly[i], remove_and_die);
            old_size_ = std::signal(SIGXFSZ, SIG_IGN);
        }
        pthread_sigmask(SIG_SETMASK, &before, nullptr);
        if (file_ < 0) fail("cannot make a file in its folder", path, error);
    }
    Temporary(const Temporary&) = delete;
    Temporary& operator=(const Temporary&) = delete;
    ~Temporary() {
        if (temporary_name[0] != '\0') ::unlink(temporary_name);
        renamed();
        for (std::size_t i = 0; i < deadly.size(); ++i) std::signal(deadly[i], old_[i]);
        std::signal(SIGXFSZ, old_size_);
    }
    int file() const { return file_; }
    const std::string& name() const { return name_; }
    void renamed() { temporary_name[0] = '\0'; }

private:
    using Handler = void (*)(int);
    static constexpr std::array deadly{SIGINT, SIGTERM, SIGHUP};
    std::string name_;
    int file_ = -1;
    std::array<Handler, deadly.size()> old_{};
    Handler old_size_ = SIG_DFL;
};

}  // namespace

std::string read_file(const std::string& path) {
    const int file = ::open(path.c_str(), O_RDONLY | O_CLOEXEC);
    if (file < 0) fail("cannot read", path, errno);
    std::string text;
    char buffer[65536];
    for (;;) {
        const auto got = ::read(file, buffer, sizeof buffer);
        if (got == 0) break;
        if (got < 0) {
            if (errno == EINTR) continue;
            const int error = errno;
            ::close(file);
            fail("cannot read", path, error);
        }
        text.append(buffer, static_cast<std::size_t>(got));
    }
    ::close(file);
    return text;
}

void write_stdout(std::string_view bytes) {
    if (const int error = write_fully(STDOUT_FILENO, bytes)) fail("cannot write", "standard output", error);
}

void write_file(const std::string& path, std::string_view bytes) {
    struct stat old {};
    const bool exists = ::stat(path.c_str(), &old) == 0;
    if (exists && S_ISDIR(old.st_mode)) fail("cannot write", path, EISDIR);
    if (exists && !S_ISREG(old.st_mode)) {
        const int file = ::open(path.c_str(), O_WRONLY | O_CLOEXEC);
        if (file < 0) fail("cannot write", path, errno);
        const int error = write_fully(file, bytes);
        ::close(file);
        if (error) fail("cannot write", path, error);
        return;
    }
    Temporary temporary{path};
    const int file = temporary.file();
    int error = write_fully(file, bytes);
    const mode_t mask = ::umask(0);
    ::umask(mask);
    const mode_t mode = exists ? old.st_mode & 07777U : 0666U & ~mask;
    if (!error && ::fchmod(file, mode) != 0) error = errno;
    if (!error && ::fsync(file) != 0) error = errno;
    if (::close(file) != 0 && !error) error = errno;
    if (!error && ::rename(temporary.name().c_str(), path.c_str()) != 0) error = errno;
    if (error) fail("cannot write", path, error);
    temporary.renamed();
}

}  // namespace patchwright::cli
