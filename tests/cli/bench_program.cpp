// Whole processes, best of many runs: the program beside a bare "hello", and a stream of jobs on one thread and on two.
#include <algorithm>
#include <chrono>
#include <cstdlib>
#include <fstream>
#include <iterator>
#include <string>
#include <vector>

#include <fcntl.h>
#include <fmt/format.h>
#include <spawn.h>
#include <sys/wait.h>
#include <unistd.h>

namespace {

double seconds_of(std::vector<std::string> arguments, const char* input = "/dev/null") {
    std::vector<char*> argv;
    for (auto& a : arguments) argv.push_back(a.data());
    argv.push_back(nullptr);
    posix_spawn_file_actions_t actions;
    posix_spawn_file_actions_init(&actions);
    posix_spawn_file_actions_addopen(&actions, 0, input, O_RDONLY, 0);
    posix_spawn_file_actions_addopen(&actions, 1, "/dev/null", O_WRONLY, 0);
    posix_spawn_file_actions_addopen(&actions, 2, "/dev/null", O_WRONLY, 0);
    const auto begin = std::chrono::steady_clock::now();
    pid_t child = 0;
    int status = -1;
    if (posix_spawn(&child, argv[0], &actions, nullptr, argv.data(), environ) != 0) return -1.0;
    waitpid(child, &status, 0);
    const std::chrono::duration<double> spent = std::chrono::steady_clock::now() - begin;
    posix_spawn_file_actions_destroy(&actions);
    if (!WIFEXITED(status) || WEXITSTATUS(status) != 0) {
        fmt::print(stderr, "{} ended with {}\n", arguments.front(), status);
        std::exit(1);
    }
    return spent.count();
}

double best(int runs, const std::vector<std::string>& arguments, const char* input = "/dev/null") {
    double least = 1e9;
    for (int i = 0; i < runs; ++i) least = std::min(least, seconds_of(arguments, input));
    return least;
}

}  // namespace

int main() {
    const std::string program = PATCHWRIGHT_PROGRAM, hello = PATCHWRIGHT_HELLO;
    const std::string demo = std::string{PATCHWRIGHT_SOURCE_DIR} + "/examples/demo.json";
    const double bare = best(100, {hello});
    const double version = best(50, {program, "--version"});
    const double sheet = best(20, {program, "daysheet", demo});
    fmt::print("bare hello           {:8.2f} ms\n", 1e3 * bare);
    fmt::print("patchwright -V       {:8.2f} ms   {:.1f} times hello\n", 1e3 * version, version / bare);
    fmt::print("daysheet, demo, text {:8.2f} ms   {:.1f} times hello\n", 1e3 * sheet, sheet / bare);

    const std::string jobs = std::string{PATCHWRIGHT_BINARY_DIR} + "/bench-jobs.jsonl";
    constexpr int count = 200;
    {
        std::ifstream file{demo};
        std::string text{std::istreambuf_iterator<char>{file}, {}};
        std::replace(text.begin(), text.end(), '\n', ' ');
        std::ofstream out{jobs};
        for (int i = 0; i < count; ++i) out << text << '\n';
    }
    const double one = best(3, {program, "plan", "--stream", "--threads", "1"}, jobs.c_str());
    const double two = best(3, {program, "plan", "--stream", "--threads", "2"}, jobs.c_str());
    fmt::print("stream, one thread   {:8.1f} jobs/s\n", count / one);
    fmt::print("stream, two threads  {:8.1f} jobs/s   {:.2f} times one\n", count / two, one / two);
}
