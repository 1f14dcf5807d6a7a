// Loaded before the program's own libraries (LD_PRELOAD), this makes what it asks of the system fail, as its
// environment says. The program is the one that users get.
//   FAULTY_NEW=N       the N-th allocation by operator new fails; FAULTY_NEW_ALL: all behind it too
//   FAULTY_CALL=N      the N-th call for writing a file fails: open, write, fsync, fchmod, close, rename, ftruncate
//   FAULTY_SHORT       each write takes half of what it is given, or is interrupted
//   FAULTY_CLOCK       every clock jumps by years, back and forth
//   FAULTY_COUNTS=FILE where the numbers of allocations and calls are written at the end
#include <dlfcn.h>
#include <fcntl.h>
#include <pthread.h>
#include <sys/stat.h>
#include <sys/time.h>
#include <sys/types.h>
#include <unistd.h>

#include <array>
#include <atomic>
#include <cerrno>
#include <cstdarg>
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <new>

namespace {

long number_of(const char* name) {
    const char* text = std::getenv(name);
    return text == nullptr ? 0 : std::atol(text);
}

// Asked for at the first call, which comes before any constructor of this file.
struct Wanted {
    long fail_new = number_of("FAULTY_NEW"), fail_call = number_of("FAULTY_CALL");
    bool all_new = std::getenv("FAULTY_NEW_ALL") != nullptr, short_writes = std::getenv("FAULTY_SHORT") != nullptr;
    bool clock = std::getenv("FAULTY_CLOCK") != nullptr;
};
const Wanted& wanted() {
    static const Wanted all;
    return all;
}

std::atomic<long> news{0}, calls{0};

void* allocated(std::size_t size) {
    const long n = ++news, fails = wanted().fail_new;
    if (fails > 0 && (n == fails || (n > fails && wanted().all_new))) return nullptr;
    return std::malloc(size == 0 ? 1 : size);
}
void* allocated(std::size_t size, std::align_val_t align) {
    const long n = ++news, fails = wanted().fail_new;
    if (fails > 0 && (n == fails || (n > fails && wanted().all_new))) return nullptr;
    const auto step = static_cast<std::size_t>(align);
    return std::aligned_alloc(step, (size + step - 1) / step * step);
}
void* or_throw(void* memory) {
    if (memory == nullptr) throw std::bad_alloc{};
    return memory;
}

/// Whether this call is the one that fails.
bool fails(int error) {
    if (++calls != wanted().fail_call) return false;
    errno = error;
    return true;
}

template <class Function>
Function* next(const char* name) {
    return reinterpret_cast<Function*>(dlsym(RTLD_NEXT, name));
}

/// Files that are being written, by their numbers; of the others nobody minds how they close.
std::array<std::atomic<bool>, 1024> written{};
int kept_in_mind(int file, int flags) {
    if (file >= 0 && static_cast<std::size_t>(file) < written.size())
        written[static_cast<std::size_t>(file)] = (flags & O_ACCMODE) != O_RDONLY;
    return file;
}
bool is_written(int file) {
    return file > STDERR_FILENO && static_cast<std::size_t>(file) < written.size() &&
           written[static_cast<std::size_t>(file)].exchange(false);
}

bool writes(int flags) { return (flags & O_ACCMODE) != O_RDONLY || (flags & O_DIRECTORY) != 0; }

long jump() {
    static std::atomic<unsigned> turn{0};
    constexpr long year = 31'556'952;
    constexpr long jumps[] = {0, 30 * year, -20 * year, 3, -year, 70 * year};
    return jumps[turn++ % 6];
}

struct Counts {
    ~Counts() {
        if (const char* name = std::getenv("FAULTY_COUNTS"))
            if (std::FILE* file = std::fopen(name, "w")) {
                std::fprintf(file, "%ld %ld\n", news.load(), calls.load());
                std::fclose(file);
            }
    }
} counts;

}  // namespace

void* operator new(std::size_t size) { return or_throw(allocated(size)); }
void* operator new[](std::size_t size) { return or_throw(allocated(size)); }
void* operator new(std::size_t size, std::align_val_t align) { return or_throw(allocated(size, align)); }
void* operator new[](std::size_t size, std::align_val_t align) { return or_throw(allocated(size, align)); }
void* operator new(std::size_t size, const std::nothrow_t&) noexcept { return allocated(size); }
void* operator new[](std::size_t size, const std::nothrow_t&) noexcept { return allocated(size); }
void operator delete(void* memory) noexcept { std::free(memory); }
void operator delete[](void* memory) noexcept { std::free(memory); }
void operator delete(void* memory, std::size_t) noexcept { std::free(memory); }
void operator delete[](void* memory, std::size_t) noexcept { std::free(memory); }
void operator delete(void* memory, std::align_val_t) noexcept { std::free(memory); }
void operator delete[](void* memory, std::align_val_t) noexcept { std::free(memory); }
void operator delete(void* memory, std::size_t, std::align_val_t) noexcept { std::free(memory); }
void operator delete[](void* memory, std::size_t, std::align_val_t) noexcept { std::free(memory); }

extern "C" {

int open(const char* path, int flags, ...) {
    va_list rest;
    va_start(rest, flags);
    const mode_t mode = (flags & O_CREAT) != 0 ? va_arg(rest, mode_t) : 0;
    va_end(rest);
    if (writes(flags) && fails(EACCES)) return -1;
    return kept_in_mind(next<int(const char*, int, ...)>("open")(path, flags, mode), flags);
}
int openat(int folder, const char* path, int flags, ...) {
    va_list rest;
    va_start(rest, flags);
    const mode_t mode = (flags & O_CREAT) != 0 ? va_arg(rest, mode_t) : 0;
    va_end(rest);
    if (writes(flags) && fails(ENOSPC)) return -1;
    return kept_in_mind(next<int(int, const char*, int, ...)>("openat")(folder, path, flags, mode), flags);
}
ssize_t write(int file, const void* bytes, size_t count) {
    if (file != STDERR_FILENO && fails(ENOSPC)) return -1;
    if (wanted().short_writes && count > 0) {
        static std::atomic<unsigned> turn{0};
        if (turn++ % 3 == 2) {
            errno = EINTR;
            return -1;
        }
        count = turn % 3 == 0 ? count : (count + 1) / 2;
    }
    return next<ssize_t(int, const void*, size_t)>("write")(file, bytes, count);
}
int fsync(int file) { return fails(EIO) ? -1 : next<int(int)>("fsync")(file); }
int fchmod(int file, mode_t mode) { return fails(EPERM) ? -1 : next<int(int, mode_t)>("fchmod")(file, mode); }
int ftruncate(int file, off_t size) { return fails(EIO) ? -1 : next<int(int, off_t)>("ftruncate")(file, size); }
/// As NFS tells at last that the disk was full. The file is closed all the same.
int close(int file) {
    const bool failed = is_written(file) && fails(EIO);
    const int done = next<int(int)>("close")(file);
    if (!failed) return done;
    errno = EIO;
    return -1;
}
int renameat(int from_folder, const char* from, int to_folder, const char* to) {
    if (fails(EIO)) return -1;
    return next<int(int, const char*, int, const char*)>("renameat")(from_folder, from, to_folder, to);
}

int clock_gettime(clockid_t clock, timespec* time) noexcept {
    const int done = next<int(clockid_t, timespec*)>("clock_gettime")(clock, time);
    if (wanted().clock && done == 0) time->tv_sec += jump();
    return done;
}
int gettimeofday(timeval* time, void* zone) noexcept {
    const int done = next<int(timeval*, void*)>("gettimeofday")(time, zone);
    if (wanted().clock && done == 0) time->tv_sec += jump();
    return done;
}
time_t time(time_t* to) noexcept {
    const time_t now = next<time_t(time_t*)>("time")(to) + (wanted().clock ? jump() : 0);
    if (to != nullptr) *to = now;
    return now;
}

}  // extern "C"
