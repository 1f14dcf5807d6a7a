#include "patchwright/intake/starter.hpp"

#include <fmt/core.h>

#include <algorithm>

#include "import_codes.hpp"
#include "import_text.hpp"

namespace patchwright::intake {
namespace {

using namespace intake;

std::vector<std::string> words_in(std::string_view text) {
    std::vector<std::string> words;
    std::string word;
    for (const char c : trimmed(text) + ' ') {
        if (c != ' ' && c != '\t') {
            word += c;
        } else if (!word.empty()) {
            words.push_back(std::move(word));
            word.clear();
        }
    }
    return words;
}

std::string joined(const std::vector<std::string>& words, std::size_t from, std::size_t to) {
    std::string text;
    for (std::size_t i = from; i < to; ++i) text += (text.empty() ? "" : " ") + words[i];
    return text;
}

std::string kind_list() {
    std::string out;
    for (int i = 0; i <= static_cast<int>(job::DefectKind::missing_wall); ++i)
        out += (i == 0 ? "" : ", ") + std::string{job::word(static_cast<job::DefectKind>(i))};
    return out;
}

class Maker {
public:
    explicit Maker(const StarterOptions& options) : options_{options} {}

    Starter make() {
        bool us = options_.units == "us";
        if (options_.units.empty()) us = counts_us();
        Draft& draft = out_.draft;
        draft.units = us ? UnitSystem::us : UnitSystem::metric;
        draft.reference = options_.reference.empty() ? "NEW-1" : options_.reference;
        draft.title = options_.title;
        draft.certainty = job::Certainty::call;
        DraftRun& run = draft.runs.emplace_back();
        run.id = "A";
        run.from = "start";
        run.to = "end";
        run.bore = length("--bore", options_.bore, us ? "4 in" : "100 mm");
        run.length = length("--length", options_.length, us ? "30 ft" : "10 m");
        run.depth = length("--depth", options_.depth, us ? "4 ft" : "1.2 m");
        run.material = job::word(material().value_or(job::Material::clay));
        for (const std::string& text : options_.defects) defect(run, text);
        if (!assumed_.empty()) {
            std::string list;
            for (const std::string& item : assumed_) list += (list.empty() ? "" : ", ") + item;
            out_.hints.push_back(fmt::format("only examples, put in what is true: {}", list));
            draft.notes.push_back(fmt::format("Examples of the starter, not measured: {}.", list));
        }
        return std::move(out_);
    }

private:
    void error(std::string message) { out_.errors.push_back(std::move(message)); }

    /// More values in inches and feet than in metres.
    bool counts_us() const {
        int us = 0, metric = 0;
        std::vector<std::string> texts{options_.bore, options_.length, options_.depth};
        texts.insert(texts.end(), options_.defects.begin(), options_.defects.end());
        for (const std::string& text : texts) {
            us += uses_us_units(text) ? 1 : 0;
            metric += !text.empty() && !uses_us_units(text) ? 1 : 0;
        }
        return us > metric;
    }

    std::string length(std::string_view option, const std::string& text, std::string_view example) {
        if (text.empty()) {
            assumed_.push_back(fmt::format("{} {}", option.substr(2), example));
            return std::string{example};
        }
        const auto parsed = parse_length(text);
        if (!parsed)
            error(fmt::format("{}: {}", option, parsed.error().message));
        else if (*parsed <= Length{})
            error(fmt::format("{}: \"{}\" is not above zero", option, text));
        return trimmed(text);
    }

    std::optional<job::Material> material() {
        if (options_.material.empty()) {
            assumed_.emplace_back("material clay");
            return job::Material::clay;
        }
        const auto meaning = material_of(options_.material);
        if (!meaning.material)
            error(fmt::format(
                "--material: \"{}\" is not known; clay, concrete, cast iron, PVC-U, asbestos cement, pitch fibre and "
                "other are",
                options_.material));
        return meaning.material;
    }

    /// "PLACE [to PLACE] KIND [SIZE] [CLOCK]": the kind is the longest run of words that names one.
    void defect(DraftRun& run, const std::string& text) {
        const auto words = words_in(text);
        std::size_t begin = words.size(), count = 0;
        std::optional<job::DefectKind> kind;
        for (std::size_t length = 3; length > 0 && !kind; --length) {
            for (std::size_t i = 0; i + length <= words.size() && !kind; ++i) {
                kind = defect_kind_named(joined(words, i, i + length));
                begin = i;
                count = length;
            }
        }
        if (!kind) {
            error(fmt::format("--defect \"{}\": no kind of defect that is known; write the place and one of: {}", text,
                              kind_list()));
            return;
        }
        const std::string typed = lower(joined(words, begin, begin + count));
        if (typed != job::word(*kind))
            out_.hints.push_back(fmt::format("--defect: \"{}\" is called {} in a job file", typed, job::word(*kind)));
        DraftDefect out;
        out.kind = job::word(*kind);
        out.id = fmt::format("A{}", run.defects.size() + 1);
        if (!place(words, begin, text, out) || !rest(words, begin + count, text, out)) return;
        run.defects.push_back(std::move(out));
    }

    bool place(const std::vector<std::string>& words, std::size_t end, const std::string& text, DraftDefect& out) {
        std::size_t divide = end;
        for (std::size_t i = 0; i < end; ++i)
            if (lower(words[i]) == "to" || words[i] == "-") divide = i;
        const std::size_t first = end > 0 && (lower(words[0]) == "at" || lower(words[0]) == "from") ? 1 : 0;
        out.at = joined(words, std::min(first, divide), divide);
        const auto at = parse_length(out.at);
        if (!at) {
            error(fmt::format("--defect \"{}\": the place comes first, such as \"12 ft fissure\": {}", text,
                              at.error().message));
            return false;
        }
        if (divide == end) return true;
        out.to = joined(words, divide + 1, end);
        const auto to = parse_length(out.to);
        if (!to || *to < *at) {
            error(fmt::format("--defect \"{}\": {}", text, to ? "it ends before it begins" : to.error().message));
            return false;
        }
        return true;
    }

    /// What follows the kind: a size, a place on the clock, both or nothing.
    bool rest(const std::vector<std::string>& words, std::size_t from, const std::string& text, DraftDefect& out) {
        std::size_t end = words.size();
        if (end > from) {
            if (const auto clock = parse_clock_range(words.back())) {
                out.clock = format(*clock);
                --end;
                if (end > from && (lower(words[end - 1]) == "clock" || lower(words[end - 1]) == "at")) --end;
            }
        }
        if (end == from) return true;
        out.size = joined(words, from, end);
        const bool share = out.size.find('%') != std::string::npos;
        const std::string wrong = share ? message_of(parse_percent(out.size)) : message_of(parse_length(out.size));
        if (wrong.empty()) return true;
        error(fmt::format(
            "--defect \"{}\": after the kind come its size and its place on the clock, such as \"3 mm 10-2\": {}", text,
            wrong));
        return false;
    }

    template <class T>
    static std::string message_of(const Parsed<T>& parsed) {
        return parsed ? std::string{} : parsed.error().message;
    }

    const StarterOptions& options_;
    Starter out_;
    std::vector<std::string> assumed_;
};

}  // namespace

Starter make_starter(const StarterOptions& options) { return Maker{options}.make(); }

}  // namespace patchwright::intake
