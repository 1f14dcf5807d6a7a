#include "output.hpp"

#include <cerrno>
#include <csignal>
#include <cstring>

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

/// Removes the temporary file unless it was renamed, and restores the signals.
class Temporary {
public:
    explicit Temporary(const std::string& name) {
        if (name.size() + 1 > sizeof temporary_name) throw IoError(name + ": name too long");
        std::memcpy(temporary_name, name.c_str(), name.size() + 1);
        for (std::size_t i = 0; i < 3; ++i) old_[i] = std::signal(signals[i], remove_and_die);
    }
    Temporary(const Temporary&) = delete;
    Temporary& operator=(const Temporary&) = delete;
    ~Temporary() {
        if (temporary_name[0] != '\0') ::unlink(temporary_name);
        renamed();
        for (std::size_t i = 0; i < 3; ++i) std::signal(signals[i], old_[i]);
    }
    void renamed() { temporary_name[0] = '\0'; }

private:
    static constexpr int signals[] = {SIGINT, SIGTERM, SIGHUP};
    void (*old_[3])(int) = {};
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
    std::string name = path + ".XXXXXX";
    const int file = ::mkostemp(name.data(), O_CLOEXEC);
    if (file < 0) fail("cannot make a file in its folder", path, errno);
    Temporary temporary{name};
    int error = write_fully(file, bytes);
    const mode_t mask = ::umask(0);
    ::umask(mask);
    const mode_t mode = exists ? old.st_mode & 07777U : 0666U & ~mask;
    if (!error && ::fchmod(file, mode) != 0) error = errno;
    if (!error && ::fsync(file) != 0) error = errno;
    if (::close(file) != 0 && !error) error = errno;
    if (!error && ::rename(name.c_str(), path.c_str()) != 0) error = errno;
    if (error) fail("cannot write", path, error);
    temporary.renamed();
}

}  // namespace patchwright::cli
