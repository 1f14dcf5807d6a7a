// What takes long says so on a terminal, and what is interrupted leaves nothing behind.
#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <catch2/catch.hpp>
#include <chrono>
#include <csignal>
#include <cstdlib>
#include <thread>

#include "stream_jobs.hpp"
#include "support/program.hpp"

using namespace patchwright;
using test::says;

namespace {

/// A terminal of our own, as a window has one.
class Terminal {
public:
    Terminal() : master_{posix_openpt(O_RDWR | O_NOCTTY | O_NONBLOCK)} {
        REQUIRE(master_ >= 0);
        REQUIRE(grantpt(master_) == 0);
        REQUIRE(unlockpt(master_) == 0);
        slave_ = open(ptsname(master_), O_RDWR | O_NOCTTY);
        REQUIRE(slave_ >= 0);
    }
    Terminal(const Terminal&) = delete;
    Terminal& operator=(const Terminal&) = delete;
    ~Terminal() {
        close(slave_);
        close(master_);
    }
    int file() const { return slave_; }
    std::string shown() const {
        std::string text;
        char buffer[4096];
        for (ssize_t got = 0; (got = read(master_, buffer, sizeof buffer)) > 0;)
            text.append(buffer, static_cast<std::size_t>(got));
        return text;
    }

private:
    int master_, slave_ = -1;
};

/// A stream whose second job comes after more than a second, with standard error on a terminal.
test::Result slow_stream(const Terminal& terminal, const test::Folder& folder, std::vector<std::string> more) {
    const auto pipe = folder / "jobs";
    REQUIRE(mkfifo(pipe.c_str(), 0600) == 0);
    std::jthread writer{[&] {
        const int file = open(pipe.c_str(), O_WRONLY);
        std::this_thread::sleep_for(std::chrono::milliseconds{1600});
        const auto jobs = test::many_jobs(2);
        if (write(file, jobs.data(), jobs.size()) < 0) std::abort();
        close(file);
    }};
    test::Call call;
    call.arguments = {"plan", "--stream", pipe, "-o", folder / "plans"};
    call.arguments.insert(call.arguments.end(), more.begin(), more.end());
    call.errors_to = terminal.file();
    return test::run(call);
}

}  // namespace

TEST_CASE("what takes longer than a second says so on a terminal, on one line that is wiped", "[program][progress]") {
    const Terminal terminal;
    const test::Folder folder;
    CHECK(slow_stream(terminal, folder, {}).status == 0);
    const auto shown = terminal.shown();
    CAPTURE(shown);
    const std::string line = "\rpatchwright: at work, 1 s";
    REQUIRE(shown.starts_with(line));
    CHECK(shown.ends_with("\r" + std::string(line.size() - 1, ' ') + "\r"));
    CHECK(shown.find('\n') == std::string::npos);
    CHECK(test::lines(folder.read("plans")).size() == 2);
}

TEST_CASE("nothing is said of progress with -q, nor of what is quick, nor into a file", "[program][progress]") {
    const Terminal terminal;
    const test::Folder folder;
    CHECK(slow_stream(terminal, folder, {"-q"}).status == 0);
    test::Call quick;
    quick.arguments = {"calc", "watertest", "--bore", "100 mm", "--length", "30 m"};
    quick.errors_to = terminal.file();
    CHECK(test::run(quick).status == 0);
    CHECK(terminal.shown().empty());
}

TEST_CASE("a stream that is interrupted leaves no file, and the old one whole", "[program][stream][progress]") {
    const int signal = GENERATE(SIGINT, SIGTERM);
    const test::Folder folder;
    folder.write("plans", "yesterday's");
    auto call = test::stream(test::many_jobs(200), {"-o", folder / "plans", "--threads", "1"});
    call.interruption = {signal, folder.path()};  // as soon as the first plans are written
    CHECK(test::run(call).status == 128 + signal);
    CHECK(folder.names() == std::vector<std::string>{"plans"});
    CHECK(folder.read("plans") == "yesterday's");
}
