// Whole processes, best of many runs: the program beside a bare "hello", by turns, so that a machine that is slower for
// a while is so for all of them; and a stream of jobs of mixed sizes on one thread and on two.
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

/// Seconds of all runs of one command, the shortest first.
using Times = std::vector<double>;

/// Each command once in every round.
std::vector<Times> by_turns(int rounds, const std::vector<std::vector<std::string>>& commands) {
    std::vector<Times> times(commands.size());
    for (int i = 0; i < rounds; ++i) {
        for (std::size_t c = 0; c < commands.size(); ++c) times[c].push_back(seconds_of(commands[c]));
    }
    for (Times& list : times) std::sort(list.begin(), list.end());
    return times;
}

void print(const char* name, const Times& times, const Times& bare) {
    const double best = times.front(), middle = times[times.size() / 2];
    fmt::print("{:20} {:8.2f} ms {:8.2f} ms   {:.1f} and {:.1f} times hello\n", name, 1e3 * best, 1e3 * middle,
               best / bare.front(), middle / bare[bare.size() / 2]);
}

double best(int runs, const std::vector<std::string>& arguments, const char* input) {
    double least = 1e9;
    for (int i = 0; i < runs; ++i) least = std::min(least, seconds_of(arguments, input));
    return least;
}

}  // namespace

int main() {
    const std::string program = PATCHWRIGHT_PROGRAM, hello = PATCHWRIGHT_HELLO;
    const std::string demo = std::string{PATCHWRIGHT_SOURCE_DIR} + "/examples/demo.json";
    const auto times = by_turns(200, {{hello},
                                      {program, "--version"},
                                      {program, "daysheet", demo},
                                      {program, "now", demo, "--at", "11:10", "--late", "12 min", "--pipe", "7 C"}});
    fmt::print("                         best      middle\n");
    print("bare hello", times[0], times[0]);
    print("patchwright -V", times[1], times[0]);
    print("daysheet, demo, text", times[2], times[0]);
    print("now, demo, text", times[3], times[0]);
    fmt::print("now / daysheet       {:8.2f}\n", times[3].front() / times[2].front());

    const std::string jobs = std::string{PATCHWRIGHT_BINARY_DIR} + "/bench-jobs.jsonl";
    constexpr int count = 200;
    {
        const auto on_a_line = [](const char* name) {
            std::ifstream file{std::string{PATCHWRIGHT_SOURCE_DIR} + name};
            std::string text{std::istreambuf_iterator<char>{file}, {}};
            std::replace(text.begin(), text.end(), '\n', ' ');
            return text;
        };
        // A large one in seven.
        const std::string large = on_a_line("/examples/demo.json"), small = on_a_line("/tests/support/one_patch.json");
        std::ofstream out{jobs};
        for (int i = 0; i < count; ++i) out << (i % 7 == 3 ? large : small) << '\n';
    }
    const double one = best(3, {program, "plan", "--stream", "--threads", "1"}, jobs.c_str());
    const double two = best(3, {program, "plan", "--stream", "--threads", "2"}, jobs.c_str());
    fmt::print("stream, one thread   {:8.1f} jobs/s\n", count / one);
    fmt::print("stream, two threads  {:8.1f} jobs/s   {:.2f} times one\n", count / two, one / two);
}
