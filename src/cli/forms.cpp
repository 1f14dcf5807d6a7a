#include "forms.hpp"

#include <algorithm>
#include <chrono>
#include <cstdlib>
#include <stdexcept>

#include <fmt/format.h>

#include "common.hpp"
#include "patchwright/sheet/html.hpp"
#include "patchwright/sheet/page.hpp"
#include "platform.hpp"

namespace patchwright::cli {
namespace {

/// Date-time for PDF metadata: SOURCE_DATE_EPOCH, else the job's date, else a fixed day. Never the clock.
std::string created(const std::optional<Date>& date) {
    if (const char* epoch = std::getenv("SOURCE_DATE_EPOCH"); epoch != nullptr && *epoch != '\0') {
        char* end = nullptr;
        const long long seconds = std::strtoll(epoch, &end, 10);
        if (*end == '\0' && seconds >= 0 && seconds < 253402300800LL) {
            const std::chrono::sys_seconds time{std::chrono::seconds{seconds}};
            const auto day = std::chrono::floor<std::chrono::days>(time);
            const std::chrono::year_month_day when{day};
            const std::chrono::hh_mm_ss hour{time - day};
            return fmt::format("{:04}-{:02}-{:02}T{:02}:{:02}:{:02}Z", static_cast<int>(when.year()),
                               static_cast<unsigned>(when.month()), static_cast<unsigned>(when.day()),
                               hour.hours().count(), hour.minutes().count(), hour.seconds().count());
        }
    }
    return fmt::format("{}T00:00:00Z", date ? format(*date) : "2000-01-01");
}

sheet::PageOptions page_options(const Common& options, const Result& result) {
    sheet::PageOptions setting;
    const bool letter = options.paper.empty() ? result.units == UnitSystem::us : options.paper == "letter";
    setting.paper = letter ? sheet::Paper::letter : sheet::Paper::a4;
    setting.created = created(result.date);
    return setting;
}

std::string text_of_sheets(const Common& options, const Result& result) {
    const auto style = text_style(options);
    std::string text;
    for (const auto& sheet : result.sheets()) text += (text.empty() ? "" : "\n") + sheet::text(sheet, style);
    return text;
}
std::string pdf_of_sheets(const Common& options, const Result& result) {
    const auto pages = sheet::pdf(result.sheets(), page_options(options, result));
    if (!options.quiet) {
        for (const auto& warning : pages.warnings) complain(warning);
    }
    return pages.pdf;
}
std::string html_of_sheets(const Common&, const Result& result) { return sheet::html(result.sheets(), sheet::svg); }
sheet::Drawing one_drawing(const Result& result) {
    const auto list = result.drawings();
    return list.size() == 1 ? list.front() : sheet::stacked(list);
}

/// How a form is made of a part.
struct Row {
    Form form;
    const char* name;
    const char* extension;
    bool on_terminal;     ///< a terminal can show it
    bool shows_drawings;  ///< of the sheets
    Part part;
    std::string (*make)(const Common& options, const Result& result);
};

/// Of the forms that a command offers the first is taken where none is asked for.
constexpr Row rows[] = {
    {Form::text, "text", ".txt", true, false, Part::words, [](const Common&, const Result& r) { return r.words(); }},
    {Form::text, "text", ".txt", true, false, Part::sheets, text_of_sheets},
    {Form::json, "json", ".json", true, false, Part::json, [](const Common&, const Result& r) { return r.json(); }},
    {Form::csv, "csv", ".csv", true, false, Part::csv, [](const Common&, const Result& r) { return r.csv(); }},
    {Form::html, "html", ".html", true, true, Part::sheets, html_of_sheets},
    {Form::svg, "svg", ".svg", true, true, Part::drawings,
     [](const Common&, const Result& r) { return sheet::svg(one_drawing(r)); }},
    {Form::png, "png", ".png", false, true, Part::drawings,
     [](const Common& o, const Result& r) { return sheet::png(one_drawing(r), o.dots_per_inch); }},
    {Form::pdf, "pdf", ".pdf", false, true, Part::sheets, pdf_of_sheets},
    {Form::ics, "ics", ".ics", true, false, Part::calendar,
     [](const Common&, const Result& r) { return r.calendar(); }},
    {Form::pdf, "pdf", ".pdf", false, true, Part::drawings,
     [](const Common& o, const Result& r) { return sheet::drawing_pdf(r.drawings(), page_options(o, r)); }},
};

bool gives(const Result& result, Part part) {
    switch (part) {
        case Part::words:
            return static_cast<bool>(result.words);
        case Part::sheets:
            return static_cast<bool>(result.sheets);
        case Part::json:
            return static_cast<bool>(result.json);
        case Part::csv:
            return static_cast<bool>(result.csv);
        case Part::drawings:
            return static_cast<bool>(result.drawings);
        case Part::calendar:
            return static_cast<bool>(result.calendar);
    }
    return false;
}

std::vector<Row> offered(const Parts& parts) {
    std::vector<Row> list;
    for (const auto& row : rows) {
        const bool made = std::find(parts.begin(), parts.end(), row.part) != parts.end();
        const bool twice = std::any_of(list.begin(), list.end(), [&](const Row& r) { return r.form == row.form; });
        if (made && !twice) list.push_back(row);
    }
    return list;
}

Row chosen_row(const Common& options, const Parts& parts) {
    const auto list = offered(parts);
    for (const auto& row : list) {
        if (options.format == row.name) return row;
    }
    const auto extension = name_of(path_of(options.output).extension());
    if (extension.empty() || options.output == "-") return list.front();
    for (const auto& row : list) {
        if (extension == row.extension || extension == fmt::format(".{}", row.name)) return row;
    }
    complain(fmt::format("{}: cannot tell the form from the name; give -f {}", options.output,
                         fmt::join(form_names(parts), "|")));
    throw Stop{wrong_usage};
}

}  // namespace

std::vector<std::string> form_names(const Parts& parts) {
    std::vector<std::string> names;
    for (const auto& row : offered(parts)) names.emplace_back(row.name);
    return names;
}

bool offers(const Parts& parts, Form form) {
    const auto list = offered(parts);
    return std::any_of(list.begin(), list.end(), [form](const Row& row) { return row.form == form; });
}

std::optional<Form> asked_form(const Common& options) {
    const auto* row =
        std::find_if(std::begin(rows), std::end(rows), [&](const Row& r) { return options.format == r.name; });
    return row == std::end(rows) ? std::nullopt : std::optional{row->form};
}

Form chosen_form(const Common& options, const Parts& parts) {
    const auto row = chosen_row(options, parts);
    refuse_overwriting(options);
    if ((row.form == Form::pdf || row.form == Form::png) && !sheet::makes_pages()) {
        complain(sheet::no_pages_words);
        throw Stop{wrong_usage};
    }
    if (!row.on_terminal && options.output.empty() && output_is_terminal()) {
        complain(
            fmt::format("a terminal cannot show {}: name a file with -o, such as -o sheet{}", row.name, row.extension));
        throw Stop{wrong_usage};
    }
    return row.form;
}

Form printed_form() { return sheet::makes_pages() ? Form::pdf : Form::html; }

bool shows_drawings(Form form) {
    return std::any_of(std::begin(rows), std::end(rows),
                       [form](const Row& row) { return row.form == form && row.shows_drawings; });
}

void write_result(const Common& options, Form form, const Result& result) {
    for (const auto& row : rows) {
        if (row.form == form && gives(result, row.part)) return write_result(options, row.make(options, result));
    }
    throw std::logic_error("a form of the result that its command does not make");
}

}  // namespace patchwright::cli
