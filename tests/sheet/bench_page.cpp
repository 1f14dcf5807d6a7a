// A two-page day sheet against the barest program that puts a page of text on paper with the same libraries, each in a
// process of its own: what pays for loading fonts is counted on both sides. And many sheets in one call.
#include <benchmark/benchmark.h>

#include <cstdlib>
#include <string>

#include <cairo-pdf.h>
#include <pango/pangocairo.h>
#include <sys/wait.h>
#include <unistd.h>

#include "patchwright/sheet/page.hpp"
#include "sample.hpp"

namespace {

cairo_status_t append(void* closure, const unsigned char* data, unsigned int length) {
    static_cast<std::string*>(closure)->append(reinterpret_cast<const char*>(data), length);
    return CAIRO_STATUS_SUCCESS;
}

/// One page, sixty lines of one layout: nothing that a sheet could leave out.
void bare_page() {
    std::string bytes;
    auto* surface = cairo_pdf_surface_create_for_stream(append, &bytes, 595.276, 841.89);
    auto* cairo = cairo_create(surface);
    auto* layout = pango_cairo_create_layout(cairo);
    auto* font = pango_font_description_from_string("DejaVu Sans 8.5");
    pango_layout_set_font_description(layout, font);
    std::string text;
    for (int i = 0; i < 60; ++i) text += sample::words(12) + "\n";
    pango_layout_set_text(layout, text.c_str(), -1);
    cairo_move_to(cairo, 40, 40);
    pango_cairo_show_layout(cairo, layout);
    cairo_show_page(cairo);
    pango_font_description_free(font);
    g_object_unref(layout);
    cairo_destroy(cairo);
    cairo_surface_finish(surface);
    cairo_surface_destroy(surface);
    benchmark::DoNotOptimize(bytes);
}

void day_sheet() {
    patchwright::sheet::PageOptions options;
    options.created = "2026-04-14T07:00:00Z";
    benchmark::DoNotOptimize(patchwright::sheet::pdf({sample::day_sheet({})}, options));
}

/// In a child, so that every turn loads the fonts anew.
template <class Work>
void in_child(benchmark::State& state, Work work) {
    for (auto _ : state) {
        const auto child = ::fork();
        if (child == 0) {
            work();
            ::_exit(0);
        }
        int status = 0;
        ::waitpid(child, &status, 0);
        if (status != 0) state.SkipWithError("the child failed");
    }
}

void cold_bare_page(benchmark::State& state) { in_child(state, bare_page); }
void cold_day_sheet(benchmark::State& state) { in_child(state, day_sheet); }
BENCHMARK(cold_bare_page)->Unit(benchmark::kMillisecond)->UseRealTime();
BENCHMARK(cold_day_sheet)->Unit(benchmark::kMillisecond)->UseRealTime();

void sheets_in_one_call(benchmark::State& state) {
    std::vector<patchwright::sheet::Sheet> sheets;
    for (int i = 0; i < state.range(0); ++i) sheets.push_back(sample::day_sheet({.patches = i % 4 + 1, .number = i}));
    patchwright::sheet::PageOptions options;
    options.created = "2026-04-14T07:00:00Z";
    for (auto _ : state) benchmark::DoNotOptimize(patchwright::sheet::pdf(sheets, options));
    state.counters["per_sheet"] =
        benchmark::Counter(static_cast<double>(state.range(0)),
                           benchmark::Counter::kIsIterationInvariantRate | benchmark::Counter::kInvert);
}
BENCHMARK(sheets_in_one_call)->Arg(200)->Unit(benchmark::kMillisecond);

}  // namespace

BENCHMARK_MAIN();
