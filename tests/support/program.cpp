#include "support/program.hpp"

#include <fcntl.h>
#include <grp.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <catch2/catch.hpp>
#include <csignal>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>

namespace patchwright::test {
namespace {

constexpr unsigned nobody = 65534;

int temporary_file() {
    std::string name = std::filesystem::temp_directory_path() / "patchwright-test-XXXXXX";
    const int file = mkstemp(name.data());
    REQUIRE(file >= 0);
    unlink(name.c_str());
    return file;
}

std::string all_of(int file) {
    std::string text;
    char buffer[65536];
    lseek(file, 0, SEEK_SET);
    for (ssize_t got = 0; (got = read(file, buffer, sizeof buffer)) > 0;)
        text.append(buffer, static_cast<std::size_t>(got));
    return text;
}

std::vector<char*> pointers(std::vector<std::string>& texts) {
    std::vector<char*> list;
    for (auto& text : texts) list.push_back(text.data());
    list.push_back(nullptr);
    return list;
}

/// Directory notification (fcntl(2), F_NOTIFY): with F_SETSIG the signal is ours to choose, and execve keeps both.
bool awaits(const Interruption& interruption) {
    const int folder = open(interruption.folder.c_str(), O_RDONLY | O_DIRECTORY);
    return folder >= 0 && fcntl(folder, F_SETSIG, interruption.signal) == 0 && fcntl(folder, F_NOTIFY, DN_MODIFY) == 0;
}

/// In the child: only calls that are safe after fork; any failure is status 127.
[[noreturn]] void become(const Call& call, int in, int out, int err, char** arguments, char** environment) {
    if (dup2(in, STDIN_FILENO) < 0 || dup2(out, STDOUT_FILENO) < 0 || dup2(err, STDERR_FILENO) < 0) _exit(127);
    if (call.folder && chdir(call.folder->c_str()) != 0) _exit(127);
    if (call.file_size) {
        const rlimit limit{*call.file_size, *call.file_size};
        signal(SIGXFSZ, SIG_DFL);  // as a shell leaves it
        if (setrlimit(RLIMIT_FSIZE, &limit) != 0) _exit(127);
    }
    if (call.address_space) {
        const rlimit limit{*call.address_space, *call.address_space};
        if (setrlimit(RLIMIT_AS, &limit) != 0) _exit(127);
    }
    if (call.processes) {
        const rlimit limit{*call.processes, *call.processes};
        if (setrlimit(RLIMIT_NPROC, &limit) != 0) _exit(127);
    }
    if (call.as_nobody && geteuid() == 0 && (setgroups(0, nullptr) != 0 || setgid(nobody) != 0 || setuid(nobody) != 0))
        _exit(127);
    if (call.interruption && !awaits(*call.interruption)) _exit(127);
    execve(PATCHWRIGHT_PROGRAM, arguments, environment);
    _exit(127);
}

}  // namespace

Result run(const Call& call) {
    std::vector<std::string> arguments{"patchwright"};
    arguments.insert(arguments.end(), call.arguments.begin(), call.arguments.end());
    std::vector<std::string> environment = call.environment;
    if (const char* leaks = std::getenv("LSAN_OPTIONS")) environment.push_back(std::string{"LSAN_OPTIONS="} + leaks);
    auto argument_list = pointers(arguments);
    auto environment_list = pointers(environment);
    const int in = temporary_file(), err = call.errors_to ? dup(*call.errors_to) : temporary_file();
    REQUIRE(write(in, call.input.data(), call.input.size()) == static_cast<ssize_t>(call.input.size()));
    lseek(in, 0, SEEK_SET);
    int out = -1;
    if (call.output_to) {
        out = open(call.output_to->c_str(), call.appends ? O_WRONLY | O_APPEND : O_WRONLY);
        REQUIRE(out >= 0);
    } else if (call.reader_leaves) {
        int ends[2];
        REQUIRE(pipe(ends) == 0);
        close(ends[0]);
        out = ends[1];
    } else {
        out = temporary_file();
    }
    const pid_t child = fork();
    REQUIRE(child >= 0);
    if (child == 0) become(call, in, out, err, argument_list.data(), environment_list.data());
    int state = 0;
    rusage used{};
    REQUIRE(wait4(child, &state, 0, &used) == child);
    Result result;
    result.memory = static_cast<std::size_t>(used.ru_maxrss) * 1024;
    result.status = WIFEXITED(state) ? WEXITSTATUS(state) : 128 + WTERMSIG(state);
    if (!call.output_to && !call.reader_leaves) result.out = all_of(out);
    if (!call.errors_to) result.err = all_of(err);
    for (const int file : {in, out, err}) close(file);
    INFO(result.err);
    REQUIRE(result.status != 127);
    return result;
}

Result run(std::vector<std::string> arguments) {
    Call call;
    call.arguments = std::move(arguments);
    return run(call);
}

std::string simple_job() { return std::string{PATCHWRIGHT_SOURCE_DIR} + "/tests/support/one_patch.json"; }
std::string example(const std::string& name) { return std::string{PATCHWRIGHT_SOURCE_DIR} + "/examples/" + name; }

Folder::Folder() : path_{std::filesystem::temp_directory_path() / "patchwright-test-XXXXXX"} {
    REQUIRE(mkdtemp(path_.data()) != nullptr);
}
Folder::~Folder() {
    std::error_code ignored;
    std::filesystem::permissions(path_, std::filesystem::perms::owner_all, ignored);
    std::filesystem::remove_all(path_, ignored);
}
void Folder::write(const std::string& name, const std::string& bytes) const {
    std::ofstream file{path_ + "/" + name, std::ios::binary};
    file << bytes;
    REQUIRE(file.good());
}
std::string Folder::read(const std::string& name) const {
    std::ifstream file{path_ + "/" + name, std::ios::binary};
    INFO(name);
    REQUIRE(file.good());
    return {std::istreambuf_iterator<char>{file}, {}};
}
std::vector<std::string> Folder::names() const {
    std::vector<std::string> list;
    for (const auto& entry : std::filesystem::directory_iterator(path_)) list.push_back(entry.path().filename());
    std::sort(list.begin(), list.end());
    return list;
}

}  // namespace patchwright::test
