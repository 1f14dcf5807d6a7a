// What the header of a survey says about the pipe.
#include <fmt/core.h>

#include <array>

#include "import_map.hpp"

namespace patchwright::intake {
namespace {

std::string no_number(const Placed& field, std::string_view what, std::string_view code, bool too_large,
                      const Survey& survey) {
    const std::string text = head(field.text, 40);
    return too_large ? fmt::format("\"{}\" is too much for a {} ({})", text, what, code)
                     : fmt::format("\"{}\" is no {} ({}); a number with the decimal mark \"{}\" belongs here", text,
                                   what, code, survey.decimal_mark);
}

/// AAA to AAV, ABA to ABT, ACA to ACN, ADA to ADE: the header fields of EN 13508-2:2003+A1:2011, tables C.1 to C.5.
bool is_header_field(std::string_view code) {
    constexpr std::array<char, 4> last{'V', 'T', 'N', 'E'};
    if (code.size() != 3 || code[0] != 'A' || code[1] < 'A' || code[1] > 'D') return false;
    return code[2] >= 'A' && code[2] <= last[static_cast<std::size_t>(code[1] - 'A')];
}

class Header {
public:
    Header(const Survey& survey, RunInWork& run, Faults& faults) : survey_{survey}, run_{run}, faults_{faults} {}

    void read() {
        bore();
        material();
        lining();
        depth();
        joint_spacing();
        edition();
        circumstances();
        for (const Placed& remark : survey_.remarks) run_.left_out.push_back(head(remark.text, 1000));
        for (const auto& [code, value] : survey_.header)
            if (!is_header_field(code) && !value.text.empty())
                share(value,
                      fmt::format("the header field {} \"{}\" is of an older edition or a national annex; not read",
                                  head(code, 20), head(value.text, 200)));
        for (const auto& [place, words] : survey_.doubts) doubt(run_, faults_, place, words);
    }

private:
    const Placed* field(std::string_view code) const { return find(survey_.header, code); }
    void share(const Placed& place, std::string words, bool is_doubt = true) {
        run_.shared.push_back({place, std::move(words), is_doubt});
    }

    struct Read {
        const Placed* place = nullptr;
        std::optional<double> value;
        bool is_bad = false;
    };
    /// A number above zero; zero is "not known".
    Read number_of(std::string_view code, std::string_view what, double most) {
        Read out{field(code), std::nullopt, false};
        if (out.place == nullptr) return out;
        out.value = number(out.place->text, survey_.decimal_mark);
        out.is_bad = !out.value || *out.value < 0.0 || *out.value > most;
        if (out.is_bad)
            faults_.error(*out.place, no_number(*out.place, what, code, out.value && *out.value > most, survey_));
        if (out.is_bad || *out.value == 0.0) out.value.reset();
        return out;
    }

    void bore() {
        const Read height = number_of("ACB", "height in mm", 3000.0);
        const Read width = number_of("ACC", "width in mm", 3000.0);
        for (const Read& read : {height, width})
            if (read.is_bad) run_.unread.bore = question(read.place->text);
        if (!height.value && !width.value) return;
        const Placed* shape = field("ACA");
        const bool round = shape == nullptr || upper(shape->text) == "A";
        const double high = height.value.value_or(width.value.value_or(0.0)), wide = width.value.value_or(high);
        if (!round || high != wide) {
            const Placed& place = round ? *width.place : *shape;
            run_.unread.bore = question(fmt::format("{} mm wide and {} mm high{}", wide, high,
                                                    round ? "" : ", shape " + head(shape->text, 10)));
            doubt(run_, faults_, place,
                  round ? fmt::format("{} mm wide and {} mm high: the pipe is not round", wide, high)
                        : fmt::format("the shape \"{}\" (ACA) is not the circular A", head(shape->text, 10)));
            return;
        }
        run_.bore = Measure<Length>{high * unit::mm, ""};
    }

    void material() {
        const Placed* given = field("ACD");
        if (given == nullptr) return;
        const MaterialMeaning meaning = material_of(given->text);
        run_.material = meaning.material;
        if (!meaning.material) {
            run_.unread.material = question(given->text);
            doubt(run_, faults_, *given, fmt::format("the material \"{}\" (ACD) is not known", head(given->text, 40)));
        } else if (!meaning.doubt.empty()) {
            share(*given, std::string{meaning.doubt});
        }
    }

    void lining() {
        const Placed* type = field("ACE");
        const Placed* lining = type != nullptr ? type : field("ACF");
        if (lining != nullptr)
            doubt(run_, faults_, *lining,
                  fmt::format("the pipe is lined already ({} \"{}\"): bore and material may be those of the lining",
                              type != nullptr ? "ACE" : "ACF", head(lining->text, 40)));
    }

    /// Metres, or millimetres where only those can be meant; what lies between is a question for a person.
    std::optional<Length> metres_or_millimetres(const Read& read, double max_metres) {
        if (!read.value) return std::nullopt;
        if (*read.value <= max_metres) return *read.value * unit::m;
        if (*read.value >= 200.0) return *read.value * unit::mm;
        return std::nullopt;
    }

    /// A job has one depth a run: the deeper end carries more soil and asks for more hose.
    void depth() {
        std::array<std::optional<Length>, 2> ends;
        const std::array<std::string_view, 2> codes{"ACH", "ACI"};
        for (std::size_t i = 0; i < 2; ++i) {
            const Read read = number_of(codes[i], "depth", 50'000.0);
            ends[i] = metres_or_millimetres(read, 50.0);
            if (read.is_bad || (read.value && !ends[i])) {
                run_.depth = question(read.place->text);
                if (!read.is_bad)
                    faults_.error(*read.place, fmt::format("a depth ({}) of {} could be metres or millimetres",
                                                           codes[i], head(read.place->text, 40)));
            }
        }
        if (!run_.depth.empty() || (!ends[0] && !ends[1])) return;
        const Length first = ends[0].value_or(Length{}), last = ends[1].value_or(Length{});
        run_.depth = metres_text(std::max(first, last));
        if (ends[0] && ends[1] && first != last)
            run_.left_out.push_back(
                fmt::format("depth {} where the survey began and {} at the far end; the deeper is "
                            "taken for the run",
                            metres_text(first), metres_text(last)));
        else if (!ends[0] || !ends[1])
            run_.left_out.push_back(fmt::format("depth {} at {} only", run_.depth,
                                                ends[0] ? "the node where the survey began" : "the far end"));
    }

    void joint_spacing() {
        const Read read = number_of("ACG", "length of a pipe", 20'000.0);
        const auto length = metres_or_millimetres(read, 20.0);
        if (length) run_.joint_spacing = metres_text(*length);
        if (length || (!read.is_bad && !read.value)) return;
        run_.joint_spacing = question(read.place->text);
        if (!read.is_bad)
            faults_.error(*read.place, fmt::format("a pipe length (ACG) of {} could be metres or millimetres",
                                                   head(read.place->text, 40)));
    }

    /// After which rules the survey was coded, if not after the edition that is read here.
    void edition() {
        if (const Placed* standard = field("ABA")) {
            const std::string text = upper(standard->text);
            const std::string shown = head(standard->text, 100);
            if (text.find("13508") == std::string::npos)
                share(*standard,
                      fmt::format("coded after \"{}\" (ABA), not EN 13508-2: hold the codes against it", shown));
            else if (text.find("2003") != std::string::npos && text.find("A1") == std::string::npos)
                share(*standard,
                      fmt::format("coded after \"{}\" (ABA), an edition older than EN 13508-2:2003+A1:2011", shown));
        }
        if (const Placed* original = field("ABB"))
            share(*original, fmt::format("codes were translated from \"{}\" (ABB)", head(original->text, 100)));
        if (!survey_.edition.empty() && survey_.edition != "2010")
            share(survey_.start, fmt::format("the form is of edition {} (A6), not of 2010", head(survey_.edition, 20)));
    }

    void circumstances() {
        if (const Placed* date = field("ABF")) share(*date, "surveyed on " + head(date->text, 40), false);
        if (const Placed* client = field("AAM"))
            share(*client, "survey ordered by " + head(client->text, 100) + " (AAM)", false);
        if (const Placed* point = field("ABC"); point != nullptr && upper(point->text) != "A")
            share(*point, fmt::format("distances are counted from the reference point \"{}\" (ABC), not the usual A: "
                                      "find out where zero lies before you mark anything",
                                      head(point->text, 20)));
        if (const Placed* type = field("ACJ"); type != nullptr && upper(type->text) != "A")
            share(*type, fmt::format("type of sewer \"{}\" (ACJ), not the gravity drain A", head(type->text, 20)));
        for (const std::string_view code : {"AAH", "AAI", "AAT", "AAV"})
            if (const Placed* lateral = field(code))
                run_.left_out.push_back(fmt::format("of the lateral: {} \"{}\"", code, head(lateral->text, 60)));
        for (const std::string_view code : {"AAJ", "AAO", "AAN"}) {
            const Placed* part = field(code);
            if (part == nullptr) continue;
            run_.location += (run_.location.empty() ? "" : ", ") + head(part->text, 200);
        }
    }

    const Survey& survey_;
    RunInWork& run_;
    Faults& faults_;
};

}  // namespace

void read_header(const Survey& survey, RunInWork& run, Faults& faults) { Header{survey, run, faults}.read(); }

std::optional<Measure<Length>> anticipated_length(const Survey& survey, RunInWork& run, Faults& faults) {
    const Placed* field = find(survey.header, "ABQ");
    if (field == nullptr) return std::nullopt;
    const auto value = number(field->text, survey.decimal_mark);
    if (value && *value >= 0.0 && *value <= longest_run.in(unit::m))
        return *value > 0.0 ? std::optional{Measure<Length>{*value * unit::m, ""}} : std::nullopt;
    faults.error(*field, no_number(*field, "length in m", "ABQ", value && *value > 0.0, survey));
    run.unread.length = question(field->text);
    return std::nullopt;
}

bool is_manhole(const Survey& survey) {
    bool manhole = false;
    for (const auto& [code, value] : survey.header) {
        if (code.starts_with("AA")) return false;
        manhole = manhole || (code.size() == 3 && code.starts_with("CA"));
    }
    return manhole;
}

}  // namespace patchwright::intake
