#include "document.hpp"

#include <fmt/core.h>

#include <nlohmann/json.hpp>
#include <random>

#include "files.hpp"
#include "source.hpp"

using namespace patchwright;
using io::Node;
using io::NodeKind;

namespace {

/// JSON text of random shape with random blanks, escapes, accents and line ends. The generator's output is the same
/// with every standard library; its distributions are not, so only raw numbers are taken from it.
class RandomJson {
public:
    explicit RandomJson(unsigned seed) : random_{seed} {}
    std::string document() {
        out_.clear();
        value(0);
        blank();
        return out_;
    }

private:
    unsigned below(unsigned n) { return static_cast<unsigned>(random_() % n); }
    void blank() {
        constexpr std::string_view blanks[] = {"", "", "", " ", "\n", "\r\n", "\t", "  \n\t"};
        out_ += blanks[below(8)];
    }
    void text() {
        constexpr std::string_view pieces[] = {"a",       "bore",           " ", "ä", "€", "\\n", "\\\"", "\\\\", "\\/",
                                               "\\u00e9", "\\ud83d\\ude00", "{", "]", ",", ":",   "𝄞"};
        out_ += '"';
        for (unsigned n = below(6); n > 0; --n) out_ += pieces[below(16)];
        out_ += '"';
    }
    void value(int depth) {
        blank();
        constexpr std::string_view scalars[] = {"0",
                                                "-0",
                                                "12",
                                                "-3.25",
                                                "1e5",
                                                "2.5E-3",
                                                "true",
                                                "null",
                                                "false",
                                                "1e-400",
                                                "123456789012345678901234567890"};
        const unsigned choice = below(depth > 5 ? 2 : 4);
        if (choice == 0) {
            out_ += scalars[below(11)];
        } else if (choice == 1) {
            text();
        } else {
            container(depth, choice == 2);
        }
        blank();
    }
    void container(int depth, bool object) {
        out_ += object ? '{' : '[';
        const unsigned count = below(5);
        if (count == 0) blank();
        for (unsigned i = 0; i < count; ++i) {
            if (i > 0) out_ += ',';
            if (object) {
                blank();
                out_ += fmt::format("\"k\\u00e9y {}\"", i);
                blank();
                out_ += ':';
            }
            value(depth + 1);
        }
        out_ += object ? '}' : ']';
    }

    std::mt19937 random_;
    std::string out_;
};

/// Every node's bytes, read by an independent parser, give the node's value.
void compare(std::string_view text, const Node& node, const nlohmann::json& expected, int& nodes) {
    ++nodes;
    const auto slice = text.substr(node.start, node.end - node.start);
    CAPTURE(slice);
    REQUIRE(nlohmann::json::parse(slice) == expected);
    switch (node.kind) {
        case NodeKind::object: {
            REQUIRE(expected.is_object());
            REQUIRE(node.children.size() == expected.size());
            for (const Node& child : node.children) {
                const auto key = text.substr(child.key_start, child.key_end - child.key_start);
                REQUIRE(nlohmann::json::parse(key) == child.key);
                compare(text, child, expected.at(child.key), nodes);
                REQUIRE(io::pointer_at(node, child.start) == "/" + std::string{child.key});
            }
            break;
        }
        case NodeKind::array:
            REQUIRE(node.children.size() == expected.size());
            for (std::size_t i = 0; i < node.children.size(); ++i) compare(text, node.children[i], expected[i], nodes);
            break;
        case NodeKind::string:
            REQUIRE(expected == node.text);
            break;
        case NodeKind::number:
            REQUIRE(expected.get<double>() == node.number);
            break;
        case NodeKind::boolean:
            REQUIRE(expected == node.boolean);
            break;
        case NodeKind::null:
            REQUIRE(expected.is_null());
            break;
    }
}

struct Syntax {
    std::string text, place, message;
};

std::vector<io::Diagnostic> faults(std::string_view text) {
    auto document = io::parse_document(text);
    return io::diagnostics_of(text, "f", document.root, std::move(document.faults));
}

}  // namespace

TEST_CASE("every node knows its bytes", "[job][document][reference]") {
    // Oracle: the JSON library's own parser on each slice.
    int nodes = 0;
    for (unsigned seed = 0; seed < 600; ++seed) {
        const std::string text = (seed % 7 == 0 ? "\xEF\xBB\xBF" : "") + RandomJson{seed}.document();
        CAPTURE(seed, text);
        const auto document = io::parse_document(text);
        REQUIRE(document.complete);
        REQUIRE_FALSE(document.faults.any_errors());
        compare(text, document.root, nlohmann::json::parse(text), nodes);
    }
    CHECK(nodes > 3000);
}

TEST_CASE("what the reader refuses beyond RFC 8259", "[job][document]") {
    // Section 4 only says that names should be unique; section 9 lets a parser set limits to depth and range.
    CHECK(faults(R"({"a": 1, "b": 2, "a": 3})").at(0).message ==
          "\"a\" stands twice in one object; first at line 1, column 2");
    CHECK(faults("{\"a\": 1e400}").at(0).message == "\"1e400\" is too large a number");
    CHECK(faults("[-1e999]").at(0).column == 2);
    CHECK(faults(R"(["x\u0000y"])").at(0).column == 4);
    const std::string deep = std::string(64, '[') + std::string(64, ']');
    CHECK(faults(deep).empty());
    const auto too_deep = faults("[" + deep + "]");
    REQUIRE(too_deep.size() == 1);
    CHECK(too_deep[0].column == 65);
    CHECK(faults(std::string(2'000'000, '[')).size() == 1);
    CHECK(faults(std::string(500'000, '{')).size() == 1);
}

TEST_CASE("a syntax fault stands at its token and says what would be right", "[job][document][error]") {
    const std::vector<Syntax> rows{
        {"{\"a\": NaN}", "1:7", "NaN is no number of JSON"},
        {"{\n\"a\": 100 mm}", "2:10", "a quantity stands in double quotes: \"100 mm\""},
        {"{\"a\": 1,5}", "1:9", "a decimal mark is a point"},
        {"{\"a\": [1,2,],}", "1:12", "take the comma out"},
        {"{\"a\": 1,}", "1:9", "take the comma out"},
        {"{\"a\": 1,, \"b\": 2}", "1:9", "does not belong here"},
        {"{\"a\": \"abc\n}", "1:7", "a double quote is missing on this line"},
        {"{\"\xc3\xa4\": \"a\tb\"}", "1:9", "a tab inside a text"},
        {"{\"a\": \"x\xffy\"}", "1:9", "byte 0xff is no UTF-8"},
        {"{\"a\": \"C:\\dir\"}", "1:10", "no such escape"},
        {"{\"a\": \"\\ud800\"}", "1:8", "half of a surrogate pair"},
        {"{\"a\": True}", "1:7", "write \"true\" in small letters"},
        {"{\"a\": 1 \"b\": 2}", "1:9", "is missing before this"},
        {"{a: 1}", "1:2", "a key stands in double quotes: \"a\""},
        {"{'a': 1}", "1:2", "not single ones"},
        {"{\"a\": // why\n1}", "1:7", "no comments"},
        {"{\"a\": 01}", "1:8", "\"01\" is not how JSON writes a number"},
        {"{\"a\": .5}", "1:7", "digits on both sides of the point"},
        {"{\"a\": }", "1:7", "the value is missing"},
        {"[1}", "1:3", "\"}\" does not close \"[\""},
        {"{\"a\": [1, 2", "1:11", "a \"[\" is still open"},
        {"{\"a\": 1} x", "1:10", "nothing may follow"},
        {"\n\n  {}\n]", "4:1", "nothing may follow"},
        {"", "1:1", "the file is empty"},
        {"\xEF\xBB\xBF{\r\n\t\"a\": x}", "2:7", "\"x\" stands in double quotes"},
        {"{\"a\": \xe2\x80\x9cx\xe2\x80\x9d}", "1:7", "curly quotes"},
    };
    for (const Syntax& row : rows) {
        const auto errors = test::errors_of(faults(row.text));
        CAPTURE(row.text, row.place, errors);
        REQUIRE(errors.size() == 1);
        CHECK(errors[0].starts_with(row.place + " "));
        CHECK(errors[0].find(row.message) != std::string::npos);
    }
}

TEST_CASE("columns count characters, a mark repeats tabs, long lines are windowed", "[job][document]") {
    const std::string text =
        "\xEF\xBB\xBF{\r\n\t\"stra\xc3\x9f"
        "e\":\t\"\xe2\x82\xac\", \"b\": 1, \"b\": 2 }\r\n";
    const auto tabs = faults(text);
    REQUIRE(tabs.size() == 1);
    CHECK(tabs[0].line == 2);
    CHECK(tabs[0].column == 25);
    CHECK(tabs[0].excerpt ==
          "\t\"stra\xc3\x9f"
          "e\":\t\"\xe2\x82\xac\", \"b\": 1, \"b\": 2 }");
    CHECK(tabs[0].caret == "\t         \t             ^~~");

    const std::string wide = "[\"" + std::string(500, 'a') + "\", bad, \"" + std::string(500, 'b') + "\"]";
    const auto window = faults(wide);
    REQUIRE(window.size() == 1);
    CHECK(window[0].column == 506);
    CHECK(window[0].excerpt.size() < 110);
    CHECK(window[0].excerpt.starts_with("..."));
    CHECK(window[0].excerpt.ends_with("..."));
    CHECK(window[0].excerpt.substr(window[0].caret.find('^'), 3) == "bad");

    const auto control = faults("[\"\x1b[2J\"]");
    REQUIRE(control.size() == 1);
    CHECK(control[0].excerpt == "[\"?[2J\"]");  // an escape sequence never reaches the terminal
}

TEST_CASE("a megabyte on one line with a thousand faults is reported quickly and in order", "[job][document]") {
    std::string text = "{";
    for (int i = 0; i < 1000; ++i) text += fmt::format("\"k\": \"{}\", ", std::string(1000, 'x'));
    text += "\"z\": 0}";
    const auto found = faults(text);
    REQUIRE(found.size() == 101);
    CHECK(found.back().count == 899);
    for (std::size_t i = 1; i < 100; ++i) REQUIRE(found[i].column > found[i - 1].column);
}

TEST_CASE("a byte of a decoded string is found in the file", "[job][document]") {
    const std::string text = R"(["a\n\u00e9b\ud83d\ude00c", "plain"])";
    const auto document = io::parse_document(text);
    const Node& node = document.root.children[0];
    REQUIRE(node.text ==
            "a\n\xc3\xa9"
            "b\xf0\x9f\x98\x80"
            "c");
    const auto at = [&](std::size_t decoded) { return text.substr(io::offset_in_string(text, node, decoded), 1); };
    CHECK(at(0) == "a");
    CHECK(io::offset_in_string(text, node, 1) == 3);
    CHECK(io::offset_in_string(text, node, 2) == 5);
    CHECK(at(4) == "b");
    CHECK(io::offset_in_string(text, node, 5) == 12);
    CHECK(at(9) == "c");
}

TEST_CASE("JSON pointers escape their two special characters", "[job][document][reference]") {
    // RFC 6901, section 5: the examples "/a~1b" and "/m~0n".
    const std::string text = R"({"a/b": 1, "m~n": [0, {"": 2}]})";
    const auto document = io::parse_document(text);
    CHECK(io::pointer_at(document.root, text.find('1')) == "/a~1b");
    CHECK(io::pointer_at(document.root, text.find('0')) == "/m~0n/0");
    CHECK(io::pointer_at(document.root, text.find('2')) == "/m~0n/1/");
    CHECK(io::pointer_at(document.root, 0).empty());
}
