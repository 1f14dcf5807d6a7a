// Damaged files never crash a reader: there is a model, or there is an error with a place inside the file.
#include <algorithm>
#include <random>

#include "files.hpp"

using namespace patchwright;
using namespace patchwright::io;
using namespace patchwright::job;

namespace {

class Damage {
public:
    explicit Damage(unsigned seed) : random_{seed} {}
    std::string apply(std::string text) {
        for (std::size_t n = 1 + below(4); n > 0; --n) once(text);
        return text;
    }

private:
    std::size_t below(std::size_t n) { return n == 0 ? 0 : random_() % n; }
    void once(std::string& text) {
        constexpr std::string_view scraps[] = {"\"",
                                               "{",
                                               "}",
                                               "[",
                                               "]",
                                               ",",
                                               ":",
                                               "-",
                                               "null",
                                               "1e999",
                                               "\\",
                                               "\\u0000",
                                               "\n",
                                               "\xff",
                                               "\"id\": \"A\",",
                                               "0",
                                               " m",
                                               "%",
                                               "NaN",
                                               "\"at\": \"999 m\",",
                                               "true",
                                               "\t",
                                               "9999999999999"};
        const std::size_t at = below(text.size());
        switch (below(5)) {
            case 0:
                text.erase(at, 1 + below(20));
                break;
            case 1:
                text.insert(at, scraps[below(std::size(scraps))]);
                break;
            case 2:
                text.insert(at, text.substr(below(text.size()), below(60)));
                break;
            case 3:
                text[at] = static_cast<char>(random_());
                break;
            default:
                swap_digits(text, at);
        }
    }
    /// Keeps the JSON whole, so that values are tried, not only syntax.
    void swap_digits(std::string& text, std::size_t at) {
        const std::size_t digit = text.find_first_of("0123456789", at);
        if (digit != std::string::npos) text[digit] = static_cast<char>('0' + below(10));
    }
    std::mt19937 random_;
};

template <class T>
void holds(const ReadResult<T>& result, const std::string& text) {
    REQUIRE(result.value.has_value() != has_errors(result.diagnostics));
    const auto lines = 1 + std::count(text.begin(), text.end(), '\n');
    int line = 0, column = 0;
    for (const Diagnostic& d : result.diagnostics) {
        REQUIRE(d.line >= 1);
        REQUIRE(d.line <= lines);
        REQUIRE(d.column >= 1);
        REQUIRE((d.line > line || (d.line == line && d.column >= column)));
        line = d.line;
        column = d.column;
        REQUIRE_FALSE(d.message.empty());
        REQUIRE(d.caret.find('^') != std::string::npos);
        REQUIRE(io::text(d).size() < 4000);
    }
}

/// No number in the model that arithmetic could not bear.
void sane(const Job& job) {
    for (const Run& run : job.runs) {
        REQUIRE((run.length.si() > 0.0 && run.bore.si() > 0.0 && run.depth.si() > 0.0));
        for (const Defect& d : run.defects) REQUIRE((d.at.si() >= 0.0 && d.to >= d.at && d.to <= run.length));
        for (const Fitting& f : run.fittings) REQUIRE((f.at.si() >= 0.0 && f.at <= run.length));
    }
}

}  // namespace

TEST_CASE("damaged job files", "[job][mutation]") {
    for (const auto& name : {"examples/demo.json", "examples/us-slab.json"}) {
        const std::string whole = test::project_file(name);
        int read = 0;
        for (unsigned seed = 0; seed < 2000; ++seed) {
            const std::string text = Damage{seed}.apply(whole);
            CAPTURE(name, seed);
            const auto result = read_job(text, "damaged.json");
            holds(result, text);
            if (!result) continue;
            ++read;
            sane(*result.value);
            static_cast<void>(cross_check(*result.value, builtin_yard()));
        }
        CHECK(read > 50);  // some damage leaves a readable job: values were tried too
        CHECK(read < 1900);
    }
}

TEST_CASE("damaged yard files", "[job][mutation]") {
    const std::string whole = test::project_file("data/yard.json");
    int read = 0;
    for (unsigned seed = 0; seed < 800; ++seed) {
        const std::string text = Damage{seed}.apply(whole);
        CAPTURE(seed);
        const auto result = read_yard(text, "damaged.json");
        holds(result, text);
        if (result) ++read;
    }
    CHECK(read > 20);
    CHECK(read < 750);
}

TEST_CASE("a file cut short anywhere", "[job][mutation]") {
    const std::string whole = test::project_file("examples/us-slab.json");
    const std::size_t end = whole.find_last_of('}');
    for (std::size_t length = 0; length <= end; length += 7) {
        const std::string text = whole.substr(0, length);
        CAPTURE(length);
        const auto result = read_job(text, "cut.json");
        REQUIRE_FALSE(result);
        holds(result, text);
    }
}
