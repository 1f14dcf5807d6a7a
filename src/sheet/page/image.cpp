#include "patchwright/sheet/image.hpp"

#include <algorithm>
#include <cstring>

#include <cairo.h>
#include <fmt/format.h>
#include <glib-object.h>

#ifdef _WIN32
#define NOMINMAX
#include <windows.h>
#else
#include <dlfcn.h>
#endif

#include "paint.hpp"
#include "patchwright/units/error.hpp"
#include "setting.hpp"

namespace patchwright::sheet {
namespace {

struct Shape2d {
    double width = 0, height = 0;
};

/// A library of the system, or null: by its name alone, which the loader looks for where libraries are installed.
/// Nothing of the folder that the program happens to run in is ever taken for one; GModule would open its .la file.
void* system_library(const char* name) {
#ifdef _WIN32
    return reinterpret_cast<void*>(LoadLibraryExA(name, nullptr, LOAD_LIBRARY_SEARCH_DEFAULT_DIRS));
#else
    return dlopen(name, RTLD_LAZY | RTLD_LOCAL);
#endif
}

void* symbol_in(void* library, const char* name) {
#ifdef _WIN32
    return reinterpret_cast<void*>(GetProcAddress(static_cast<HMODULE>(library), name));
#else
    return dlsym(library, name);
#endif
}

/// What is used of librsvg (since 2.46). Loaded by hand: few firms need it, and linked it would slow every start.
class Rsvg {
public:
    struct Length {
        double length = 0;
        int unit = 0;
    };
    struct Rectangle {
        double x = 0, y = 0, width = 0, height = 0;
    };
    static const Rsvg& get() {
        static const Rsvg rsvg;
        return rsvg;
    }
    GObject* (*open)(const guint8*, gsize, GError**) = nullptr;
    void (*dimensions)(GObject*, gboolean*, Length*, gboolean*, Length*, gboolean*, Rectangle*) = nullptr;
    gboolean (*render)(GObject*, cairo_t*, const Rectangle*, GError**) = nullptr;

private:
    Rsvg() {
        for (const char* name : {"librsvg-2.so.2", "librsvg-2-2.dll", "librsvg-2.2.dylib"}) {
            void* library = system_library(name);  // kept to the end: what it draws with lives in it
            if (library != nullptr && find(library, "rsvg_handle_new_from_data", open) &&
                find(library, "rsvg_handle_get_intrinsic_dimensions", dimensions) &&
                find(library, "rsvg_handle_render_document", render))
                return;
        }
        throw InputError("an SVG is drawn by librsvg, which is not installed (package librsvg2-2); or give a PNG");
    }
    template <class Function>
    static bool find(void* library, const char* name, Function& function) {
        void* symbol = symbol_in(library, name);
        if (symbol == nullptr) return false;
        std::memcpy(&function, &symbol, sizeof function);
        return true;
    }
};

[[noreturn]] void fail(const char* what, GError* error) {
    std::string words = fmt::format("{}: {}", what, error != nullptr ? error->message : "unknown fault");
    if (error != nullptr) g_error_free(error);
    throw InputError(words);
}

/// An open SVG.
class SvgHandle {
public:
    explicit SvgHandle(const std::string& bytes) {
        GError* error = nullptr;
        handle_ = Rsvg::get().open(reinterpret_cast<const guint8*>(bytes.data()), bytes.size(), &error);
        if (handle_ == nullptr) fail("no SVG that can be read", error);
    }
    SvgHandle(const SvgHandle&) = delete;
    SvgHandle& operator=(const SvgHandle&) = delete;
    ~SvgHandle() { g_object_unref(handle_); }

    Shape2d shape() const {
        gboolean wide = FALSE, high = FALSE, boxed = FALSE;
        Rsvg::Length width, height;
        Rsvg::Rectangle box;
        Rsvg::get().dimensions(handle_, &wide, &width, &high, &height, &boxed, &box);
        if (boxed != FALSE && box.width > 0 && box.height > 0) return {box.width, box.height};
        constexpr int percent = 0;
        if (wide != FALSE && high != FALSE && width.unit == height.unit && width.unit != percent && width.length > 0 &&
            height.length > 0)
            return {width.length, height.length};
        throw InputError("the SVG gives no size: it needs a viewBox, or width and height in one unit");
    }
    void draw(cairo_t* cairo, double width, double height) const {
        const Rsvg::Rectangle box{0, 0, width, height};
        GError* error = nullptr;
        if (Rsvg::get().render(handle_, cairo, &box, &error) == FALSE) fail("the SVG cannot be drawn", error);
    }

private:
    GObject* handle_ = nullptr;
};

/// A decoded PNG.
class PngSurface {
public:
    explicit PngSurface(const std::string& bytes) : rest_{bytes} {
        surface_ = cairo_image_surface_create_from_png_stream(read, this);
        if (const auto status = cairo_surface_status(surface_); status != CAIRO_STATUS_SUCCESS) {
            cairo_surface_destroy(surface_);
            throw InputError(fmt::format("no PNG that can be read: {}", status == CAIRO_STATUS_READ_ERROR
                                                                            ? "it ends too early or is damaged"
                                                                            : cairo_status_to_string(status)));
        }
    }
    PngSurface(const PngSurface&) = delete;
    PngSurface& operator=(const PngSurface&) = delete;
    ~PngSurface() { cairo_surface_destroy(surface_); }

    Shape2d shape() const {
        return {static_cast<double>(cairo_image_surface_get_width(surface_)),
                static_cast<double>(cairo_image_surface_get_height(surface_))};
    }
    void draw(cairo_t* cairo, double width, double height) const {
        const auto dots = shape();
        cairo_scale(cairo, width / dots.width, height / dots.height);
        cairo_set_source_surface(cairo, surface_, 0, 0);
        cairo_paint(cairo);
    }

private:
    static cairo_status_t read(void* closure, unsigned char* data, unsigned int length) {
        auto& rest = static_cast<PngSurface*>(closure)->rest_;
        if (rest.size() < length) return CAIRO_STATUS_READ_ERROR;
        std::memcpy(data, rest.data(), length);
        rest.remove_prefix(length);
        return CAIRO_STATUS_SUCCESS;
    }
    std::string_view rest_;
    cairo_surface_t* surface_ = nullptr;
};

bool is_png(std::string_view bytes) { return bytes.starts_with("\x89PNG\r\n\x1a\n"); }  // PNG, ISO/IEC 15948, 5.2
bool is_svg(std::string_view bytes) { return bytes.substr(0, 4096).find("<svg") != std::string_view::npos; }

}  // namespace

Image image(std::string bytes, double max_width, double max_height) {
    Image image;
    image.vector = !is_png(bytes);
    if (image.vector && !is_svg(bytes)) throw InputError("neither PNG nor SVG; give one of these");
    const Shape2d shape = image.vector ? SvgHandle{bytes}.shape() : PngSurface{bytes}.shape();
    const double scale = std::min(max_width / shape.width, max_height / shape.height);
    image.width = shape.width * scale;
    image.height = shape.height * scale;
    image.bytes = std::make_shared<const std::string>(std::move(bytes));
    return image;
}

void paint(cairo_t* cairo, const Image& image, double x, double y, double width, double height) {
    cairo_save(cairo);
    cairo_translate(cairo, x, y);
    if (image.vector)
        SvgHandle{*image.bytes}.draw(cairo, width, height);
    else
        PngSurface{*image.bytes}.draw(cairo, width, height);
    cairo_restore(cairo);
}

void Setter::add(const Image& image, double width, const Style& style, std::vector<Piece>& out) {
    const double scale = std::min(style.scale, width / image.width);
    Piece piece;
    piece.height = image.height * scale;
    piece.marks.push_back(ImageMark{0, 0, image.width * scale, image.height * scale, image});
    piece.keep_next = true;
    out.push_back(std::move(piece));
}

}  // namespace patchwright::sheet
