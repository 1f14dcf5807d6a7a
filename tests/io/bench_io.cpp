// Reading a job against the mere parsing of its JSON.
#include <benchmark/benchmark.h>

#include <fstream>
#include <iterator>
#include <nlohmann/json.hpp>

#include "patchwright/io/read.hpp"

namespace {

std::string demo() {
    std::ifstream in{PATCHWRIGHT_SOURCE_DIR "/examples/demo.json", std::ios::binary};
    return {std::istreambuf_iterator<char>{in}, {}};
}

void parse_json_only(benchmark::State& state) {
    const std::string text = demo();
    for (auto _ : state) benchmark::DoNotOptimize(nlohmann::json::parse(text));
    state.SetBytesProcessed(static_cast<std::int64_t>(state.iterations() * text.size()));
}
BENCHMARK(parse_json_only);

void read_demo_job(benchmark::State& state) {
    const std::string text = demo();
    for (auto _ : state) benchmark::DoNotOptimize(patchwright::io::read_job(text, "demo.json"));
    state.SetBytesProcessed(static_cast<std::int64_t>(state.iterations() * text.size()));
}
BENCHMARK(read_demo_job);

void read_whole_yard(benchmark::State& state) {
    std::ifstream in{PATCHWRIGHT_SOURCE_DIR "/data/yard.json", std::ios::binary};
    const std::string text{std::istreambuf_iterator<char>{in}, {}};
    for (auto _ : state) benchmark::DoNotOptimize(patchwright::io::read_yard(text, "yard.json"));
    state.SetBytesProcessed(static_cast<std::int64_t>(state.iterations() * text.size()));
}
BENCHMARK(read_whole_yard);

}  // namespace

BENCHMARK_MAIN();
