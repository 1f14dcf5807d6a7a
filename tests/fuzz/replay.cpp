// Runs a fuzz target without a fuzzer: every file of its corpora, then each with a few bytes changed, cut off or put
// together with the next, drawn from a fixed seed. So the promises of the targets are held in every build.
//   replay_NAME CHANGES FOLDER...    CHANGES: how many changed copies of each file
#include <algorithm>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <random>
#include <string>
#include <vector>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

namespace {

using Bytes = std::string;

std::vector<Bytes> files_of(const std::string& folder) {
    std::vector<std::filesystem::path> paths;
    for (const auto& entry : std::filesystem::directory_iterator{folder}) {
        if (entry.is_regular_file()) paths.push_back(entry.path());
    }
    std::sort(paths.begin(), paths.end());
    std::vector<Bytes> files;
    for (const auto& path : paths) {
        std::ifstream file{path, std::ios::binary};
        files.emplace_back(std::istreambuf_iterator<char>{file}, std::istreambuf_iterator<char>{});
    }
    return files;
}

void give(const Bytes& bytes) {
    LLVMFuzzerTestOneInput(reinterpret_cast<const std::uint8_t*>(bytes.data()), bytes.size());
}

class Changer {
public:
    Bytes changed(Bytes bytes, const Bytes& other) {
        for (std::size_t n = 1 + below(4); n > 0; --n) {
            const std::size_t at = below(bytes.size() + 1);
            switch (below(5)) {
                case 0:
                    if (at < bytes.size()) bytes[at] = static_cast<char>(below(256));
                    break;
                case 1:
                    bytes.insert(at, 1, static_cast<char>(below(256)));
                    break;
                case 2:
                    bytes.erase(at, below(8));
                    break;
                case 3:
                    bytes.erase(at);
                    break;
                default: {
                    const std::size_t from = below(other.size() + 1);
                    bytes.insert(at, other, from, below(64));
                    break;
                }
            }
        }
        return bytes;
    }

private:
    /// Not by a distribution of the library, whose numbers are not the same everywhere.
    std::size_t below(std::size_t count) { return count == 0 ? 0 : engine_() % count; }

    std::mt19937_64 engine_{1};
};

}  // namespace

int main(int argc, char** argv) {
    std::vector<Bytes> files;
    for (int i = 2; i < argc; ++i) {
        for (auto& bytes : files_of(argv[i])) files.push_back(std::move(bytes));
    }
    if (files.empty()) {
        std::fprintf(stderr, "usage: replay CHANGES FOLDER...\n");
        return 2;
    }
    const int changes = std::atoi(argv[1]);
    Changer changer;
    give({});
    for (std::size_t i = 0; i < files.size(); ++i) {
        give(files[i]);
        for (int n = 0; n < changes; ++n) give(changer.changed(files[i], files[(i + 1) % files.size()]));
    }
    std::printf("%zu files, %d changed copies of each\n", files.size(), changes);
    return 0;
}
