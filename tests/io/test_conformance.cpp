// JSON conformance in the manner of the public conformance suites: y_ must be read, n_ refused with a place, of i_ the
// RFC leaves the choice and the table says which is ours. All cases are written from the grammar of RFC 8259 (December
// 2017); the section stands beside each. Cases marked "M" are also known from such a suite, recalled from memory.
// Oracle: the same verdict by the JSON library's own parser, but where the table says that ours is stricter.
#include <nlohmann/json.hpp>

#include "document.hpp"
#include "files.hpp"
#include "source.hpp"

using namespace patchwright;
using namespace std::string_literals;

namespace {

struct Case {
    const char* name;
    const char* source;  ///< section of RFC 8259; "M": recalled from a suite too
    std::string text;
};

/// Of the i_ cases and of our own limits: what we do, and why.
struct Choice {
    const char* name;
    const char* source;
    std::string text;
    bool read;
    const char* why;
};

const std::vector<Case>& valid() {
    static const std::vector<Case> cases{
        // Section 2: structural characters and white space round them.
        {"y_structure_blanks_everywhere", "2", " \t\r\n[ \t\r\n1 \t\r\n, \t\r\n2 \t\r\n] \t\r\n"},
        {"y_structure_object_blanks_everywhere", "2", " {\n\"a\"\t:\r1\n,\n\"b\" : 2\r\n} "},
        {"y_structure_lonely_carriage_returns", "2", "[\r1,\r2\r]\r"},
        {"y_structure_trailing_newline", "2 M", "[\"a\"]\n"},
        {"y_structure_lonely_string", "2 M", "\"asd\""},
        {"y_structure_lonely_int", "2 M", "42"},
        {"y_structure_lonely_negative_real", "2 M", "-0.1"},
        {"y_structure_lonely_true", "2 M", "true"},
        {"y_structure_lonely_false", "2 M", "false"},
        {"y_structure_lonely_null", "2 M", "null"},
        {"y_structure_string_empty", "2 M", "\"\""},
        // Section 3: the three names.
        {"y_literals_in_array", "3", "[true, false, null]"},
        {"y_literals_in_object", "3", R"({"a":true,"b":false,"c":null})"},
        // Section 4: objects.
        {"y_object_empty", "4 M", "{}"},
        {"y_object_empty_with_blank", "4", "{ \n }"},
        {"y_object_one_member", "4", R"({"a":1})"},
        {"y_object_two_members", "4", R"({"a":1,"b":2})"},
        {"y_object_empty_key", "4 M", R"({"":0})"},
        {"y_object_key_with_blank", "4", R"({" a ":0})"},
        {"y_object_key_of_marks", "4", R"({"{}[]:,":0})"},
        {"y_object_escaped_key", "4", R"({"\u0061\"\n":0})"},
        {"y_object_keys_differ_in_case", "4", R"({"a":1,"A":2})"},
        {"y_object_in_object", "4", R"({"a":{"a":{"a":{}}}})"},
        {"y_object_same_key_in_two_objects", "4", R"([{"a":1},{"a":1}])"},
        {"y_object_extreme_numbers", "4 M", R"({"min":-1.0e+28,"max":1.0e+28})"},
        {"y_object_long_texts", "4", R"({"a":")" + std::string(5000, 'x') + R"("})"},
        {"y_object_with_newlines", "4 M", "{\n\"a\": \"b\"\n}"},
        // Section 5: arrays.
        {"y_array_empty", "5 M", "[]"},
        {"y_array_empty_with_blank", "5", "[ \t\n]"},
        {"y_array_ending_with_newline", "5 M", "[\"a\"\n]"},
        {"y_array_of_arrays", "5 M", "[[]   ]"},
        {"y_array_nested_ten", "5", std::string(10, '[') + std::string(10, ']')},
        {"y_array_of_all_kinds", "5 M", R"([null, 1, "1", {}, [], true])"},
        {"y_array_with_several_null", "5 M", "[1,null,null,null,2]"},
        {"y_array_with_leading_space", "5 M", " [1]"},
        {"y_array_with_trailing_space", "5 M", "[2] "},
        // Section 6: numbers.
        {"y_number_zero", "6", "[0]"},
        {"y_number_minus_zero", "6 M", "[-0]"},
        {"y_number_minus_one", "6 M", "[-1]"},
        {"y_number_of_all_digits", "6", "[1234567890]"},
        {"y_number_zero_point", "6", "[0.0, -0.0, 0.10]"},
        {"y_number_zero_exponent", "6 M", "[0e1, 0e+1, 0E-1, 0e0]"},
        {"y_number_int_with_exponent", "6 M", "[20e1]"},
        {"y_number_exponent_with_leading_zeros", "6", "[1e005, 1e-007]"},
        {"y_number_real_with_exponent", "6 M", "[123.456e78]"},
        {"y_number_real_capital_exponent", "6 M", "[1E22, 1E-2, 1E+2]"},
        {"y_number_real_signed_exponent", "6 M", "[1e-2, 1e+2]"},
        {"y_number_close_to_zero", "6 M", "[-0.000000000000000000000000000000000000000000000000000000000000000001]"},
        {"y_number_space_after", "6 M", "[4 ]"},
        {"y_number_before_comma_and_bracket", "6", "[1,2.5,-3e1]"},
        {"y_number_as_value", "6", R"({"a":1.5})"},
        // Section 7: strings.
        {"y_string_all_short_escapes", "7 M", R"(["\"\\\/\b\f\n\r\t"])"},
        {"y_string_unescaped_solidus", "7", R"(["/"])"},
        {"y_string_hex_in_both_cases", "7", R"(["\u00e4\u00E4\uaBcD"])"},
        {"y_string_one_two_three_bytes_escaped", "7 M", R"(["\u0060\u012a\u12AB"])"},
        {"y_string_surrogate_pair", "7 M", R"(["\uD834\uDD1E"])"},
        {"y_string_two_surrogate_pairs", "7 M", R"(["\ud83d\ude39\ud83d\udc8d"])"},
        {"y_string_last_surrogate_pair", "7 M", R"(["\uDBFF\uDFFF"])"},
        {"y_string_first_surrogate_pair", "7", R"(["\uD800\uDC00"])"},
        {"y_string_escaped_backslash_before_u", "7 M", R"(["\\u0000"])"},
        {"y_string_escaped_backslash_before_quote", "7", R"(["\\\""])"},
        {"y_string_ending_in_backslash", "7", R"(["\\"])"},
        {"y_string_escaped_control", "7 M", R"(["\u0012"])"},
        {"y_string_escaped_noncharacter", "7 M", R"(["\uFFFF"])"},
        {"y_string_escaped_quotation_mark", "7 M", R"(["\u0022"])"},
        {"y_string_escaped_delete", "7", R"(["\u007F"])"},
        {"y_string_raw_delete", "7 M", "[\"a\x7F\"]"},
        {"y_string_comment_inside", "7 M", R"(["a/*b*/c//d"])"},
        {"y_string_marks_inside", "7", R"(["[{]},:"])"},
        {"y_string_digits", "7", R"(["0123"])"},
        {"y_string_of_a_blank", "7 M", R"(" ")"},
        {"y_string_long", "7", "[\"" + std::string(100000, 'a') + "\"]"},
        // Section 8.1: UTF-8 (RFC 3629, section 4), the first and last of each length.
        {"y_string_utf8_two_bytes", "8.1", "[\"\xC2\x80\xDF\xBF\"]"},
        {"y_string_utf8_three_bytes", "8.1", "[\"\xE0\xA0\x80\xED\x9F\xBF\xEE\x80\x80\xEF\xBF\xBF\"]"},
        {"y_string_utf8_four_bytes", "8.1", "[\"\xF0\x90\x80\x80\xF4\x8F\xBF\xBF\"]"},
        {"y_string_utf8_line_separators", "8.1 M", "[\"\xE2\x80\xA8\xE2\x80\xA9\"]"},
        {"y_string_utf8_in_key", "8.1", "{\"\xC3\xA4\":\"\xCF\x80\"}"},
        {"y_string_byte_order_mark_inside", "8.1", "[\"\xEF\xBB\xBF\"]"},
    };
    return cases;
}

const std::vector<Case>& invalid() {
    static const std::vector<Case> cases{
        // Section 2.
        {"n_structure_no_data", "2 M", ""},
        {"n_structure_blank_only", "2 M", " "},
        {"n_structure_two_values", "2", "1 2"},
        {"n_structure_two_arrays", "2", "[][]"},
        {"n_structure_text_after", "2", "{}x"},
        {"n_structure_decimal_comma", "2", "1,5"},
        {"n_structure_comma_after", "2", "[],"},
        {"n_structure_close_unopened", "2 M", "1]"},
        {"n_structure_object_close_unopened", "2", "{}}"},
        {"n_structure_lonely_close", "2", "]"},
        {"n_structure_lonely_brace_close", "2", "}"},
        {"n_structure_empty_object_closed_by_bracket", "2", "{]"},
        {"n_structure_array_closed_by_brace", "2", "[1}"},
        {"n_structure_object_closed_by_bracket", "2", "{\"a\":1]"},
        {"n_structure_form_feed", "2 M", "[\f]"},
        {"n_structure_vertical_tab", "2 M", "[\v1]"},
        {"n_structure_no_break_space", "2 M", "[\xC2\xA0]"},
        {"n_structure_word_joiner", "2 M", "[\xE2\x81\xA0]"},
        {"n_structure_nul_between", "2", "[1,\0]"s},
        {"n_structure_lonely_brace", "2 M", "{"},
        {"n_structure_lonely_bracket", "2", "["},
        {"n_structure_lonely_comma", "2", ","},
        {"n_structure_lonely_colon", "2", ":"},
        {"n_structure_lonely_quote", "2", "\""},
        {"n_structure_lonely_apostrophe", "2 M", "'"},
        {"n_structure_byte_order_mark_twice", "8.1", "\xEF\xBB\xBF\xEF\xBB\xBF{}"},
        {"n_structure_byte_order_mark_only", "8.1", "\xEF\xBB\xBF"},
        {"n_structure_half_byte_order_mark", "8.1 M", "\xEF\xBB{}"},
        {"n_structure_utf16", "8.1 M", "\xFF\xFE[\0]\0"s},
        {"n_structure_angle_brackets", "2 M", "<null>"},
        {"n_structure_ascii_art", "2", "*"},
        {"n_structure_line_comment", "2", "[] // c"},
        {"n_structure_block_comment", "2", "/* c */ []"},
        {"n_structure_hash_comment", "2 M", "[] #"},
        {"n_structure_comment_in_object", "2 M", R"({"a":/*c*/1})"},
        {"n_structure_hundred_thousand_open", "2 M", std::string(100000, '[')},
        {"n_structure_fifty_thousand_objects_open", "2 M",
         [] {
             std::string text;
             for (int i = 0; i < 50000; ++i) text += "[{\"\":";
             return text;
         }()},
        // Section 3.
        {"n_literal_capital_true", "3 M", "[True]"},
        {"n_literal_capitals", "3", "[NULL]"},
        {"n_literal_cut", "3 M", "[tru]"},
        {"n_literal_cut_at_end", "3 M", "fals"},
        {"n_literal_too_long", "3", "[nulll]"},
        {"n_literal_two_joined", "3", "[truefalse]"},
        {"n_literal_undefined", "3", "[undefined]"},
        {"n_literal_escaped", "3", "[\\u0074rue]"},
        {"n_literal_full_width", "3", "[\xEF\xBD\x94rue]"},
        // Section 4.
        {"n_object_key_bare", "4 M", "{a:1}"},
        {"n_object_key_number", "4 M", "{1:1}"},
        {"n_object_key_null", "4", "{null:1}"},
        {"n_object_key_array", "4", "{[]:1}"},
        {"n_object_key_object", "4", "{{}:1}"},
        {"n_object_key_apostrophes", "4 M", "{'a':0}"},
        {"n_object_missing_colon", "4 M", R"({"a" 1})"},
        {"n_object_two_colons", "4 M", R"({"x"::"b"})"},
        {"n_object_equals_sign", "4", R"({"a"=1})"},
        {"n_object_comma_for_colon", "4 M", R"({"x", null})"},
        {"n_object_missing_value", "4 M", R"({"a":)"},
        {"n_object_missing_value_closed", "4", R"({"a":})"},
        {"n_object_missing_key", "4 M", R"({:"b"})"},
        {"n_object_key_only", "4", R"({"a"})"},
        {"n_object_trailing_comma", "4 M", R"({"id":0,})"},
        {"n_object_leading_comma", "4", R"({,"id":0})"},
        {"n_object_two_commas", "4 M", R"({"a":1,,"b":2})"},
        {"n_object_lonely_comma", "4", "{,}"},
        {"n_object_missing_comma", "4", R"({"a":1 "b":2})"},
        {"n_object_semicolon", "4", R"({"a":1;"b":2})"},
        {"n_object_unclosed", "4 M", R"({"a":1)"},
        {"n_object_unclosed_after_comma", "4", R"({"a":1,)"},
        {"n_object_two_values", "4", R"({"a":1 2})"},
        // Section 5.
        {"n_array_missing_value", "5 M", "[,1]"},
        {"n_array_trailing_comma", "5", "[1,]"},
        {"n_array_two_commas", "5 M", "[1,,2]"},
        {"n_array_lonely_comma", "5 M", "[,]"},
        {"n_array_missing_comma", "5", "[1 true]"},
        {"n_array_missing_comma_of_arrays", "5 M", "[3[4]]"},
        {"n_array_colon", "5 M", R"(["":1])"},
        {"n_array_member", "5", R"(["a":1])"},
        {"n_array_semicolon", "5", "[1;2]"},
        {"n_array_star", "5 M", "[*]"},
        {"n_array_unclosed", "5 M", "[1"},
        {"n_array_unclosed_after_comma", "5 M", "[1,"},
        {"n_array_unclosed_over_lines", "5 M", "[1,\n1\n,1"},
        {"n_array_unclosed_in_object", "5", R"({"a":[})"},
        // Section 6.
        {"n_number_plus", "6 M", "[+1]"},
        {"n_number_two_minus", "6", "[--1]"},
        {"n_number_lonely_minus", "6 M", "[-]"},
        {"n_number_minus_blank_one", "6 M", "[- 1]"},
        {"n_number_minus_word", "6 M", "[-foo]"},
        {"n_number_leading_zero", "6 M", "[012]"},
        {"n_number_minus_leading_zero", "6 M", "[-012]"},
        {"n_number_two_zeros", "6", "[00]"},
        {"n_number_point_first", "6 M", "[.123]"},
        {"n_number_minus_point", "6 M", "[-.123]"},
        {"n_number_point_last", "6 M", "[2.]"},
        {"n_number_point_then_exponent", "6 M", "[2.e3]"},
        {"n_number_two_points", "6", "[1.2.3]"},
        {"n_number_lonely_point", "6", "[.]"},
        {"n_number_exponent_without_digits", "6 M", "[9e]"},
        {"n_number_exponent_sign_only", "6 M", "[1.0e-]"},
        {"n_number_exponent_two_signs", "6 M", "[0e+-1]"},
        {"n_number_exponent_real", "6", "[1e2.5]"},
        {"n_number_two_exponents", "6", "[1e2e3]"},
        {"n_number_exponent_first", "6", "[e5]"},
        {"n_number_hex", "6 M", "[0x42]"},
        {"n_number_binary", "6", "[0b1]"},
        {"n_number_suffix", "6", "[1f]"},
        {"n_number_then_letter", "6 M", "[1ea]"},
        {"n_number_thousands_blank", "6 M", "[1 000.0]"},
        {"n_number_thousands_mark", "6", "[1_000]"},
        {"n_number_expression", "6 M", "[1+2]"},
        {"n_number_nan", "6 M", "[NaN]"},
        {"n_number_infinity", "6 M", "[Infinity]"},
        {"n_number_minus_infinity", "6 M", "[-Infinity]"},
        {"n_number_minus_nan", "6", "[-NaN]"},
        {"n_number_with_unit", "6", R"({"a":100 mm})"},
        {"n_number_full_width_digit", "6 M", "[\xEF\xBC\x91]"},
        {"n_number_then_bad_byte", "6 M", "[123\xE5]"},
        {"n_number_unicode_minus", "6", "[\xE2\x88\x92\x31]"},
        // Section 7.
        {"n_string_unclosed", "7 M", "[\"asd]"},
        {"n_string_unclosed_after_escape", "7 M", "[\"\\\"]"},
        {"n_string_cut_escape", "7", "[\"\\"},
        {"n_string_apostrophes", "7 M", "['a']"},
        {"n_string_curly_quotes", "7", "[\xE2\x80\x9C\x61\xE2\x80\x9D]"},
        {"n_string_no_quotes", "7 M", "[\n]a"},
        {"n_string_backquotes", "7", "[`a`]"},
        {"n_string_raw_tab", "7 M", "[\"\t\"]"},
        {"n_string_raw_newline", "7 M", "[\"new\nline\"]"},
        {"n_string_raw_carriage_return", "7", "[\"a\rb\"]"},
        {"n_string_raw_nul", "7 M", "[\"a\0a\"]"s},
        {"n_string_raw_1f", "7", "[\"\x1F\"]"},
        {"n_string_raw_tab_in_key", "7", "{\"a\tb\":1}"},
        {"n_string_escape_a", "7", R"(["\a"])"},
        {"n_string_escape_capital_n", "7", R"(["\N"])"},
        {"n_string_escape_v", "7", R"(["\v"])"},
        {"n_string_escape_apostrophe", "7", R"(["\'"])"},
        {"n_string_escape_zero", "7", R"(["\0"])"},
        {"n_string_escape_x", "7 M", R"(["\x00"])"},
        {"n_string_escape_capital_u", "7", R"(["\U0041"])"},
        {"n_string_escape_emoji", "7 M", "[\"\\\xF0\x9F\x8C\x80\"]"},
        {"n_string_escape_bad_byte", "7 M", "[\"\\\xE5\"]"},
        {"n_string_escape_newline", "7", "[\"\\\n\"]"},
        {"n_string_u_no_digits", "7 M", R"(["\u"])"},
        {"n_string_u_three_digits", "7 M", R"(["\u00A"])"},
        {"n_string_u_not_hex", "7", R"(["\u00g0"])"},
        {"n_string_u_sign", "7", R"(["\u+123"])"},
        {"n_string_u_braces", "7", R"(["\u{1F600}"])"},
        {"n_string_u_cut_at_end", "7", R"(["\u00)"},
        {"n_string_one_surrogate_then_escape", "7 M", R"(["\uD800\"])"},
        {"n_string_one_surrogate_then_u", "7 M", R"(["\uD800\u"])"},
        {"n_string_one_surrogate_then_short", "7 M", R"(["\uD800\u1"])"},
        // Section 8.1: ill-formed UTF-8 (RFC 3629, sections 3 and 4).
        {"n_utf8_lonely_continuation", "8.1", "[\"\x80\"]"},
        {"n_utf8_cut_two", "8.1", "[\"\xC3\"]"},
        {"n_utf8_cut_three", "8.1", "[\"\xE2\x82\"]"},
        {"n_utf8_cut_four", "8.1", "[\"\xF0\x9F\x98\"]"},
        {"n_utf8_cut_at_end", "8.1", "[\"\xE2"},
        {"n_utf8_never_c0", "8.1", "[\"\xC0\x80\"]"},
        {"n_utf8_never_ff", "8.1", "[\"\xFF\"]"},
        {"n_utf8_in_key", "8.1", "{\"\xFF\":1}"},
        {"n_utf8_outside_strings", "8.1 M", "[\xFF]"},
    };
    return cases;
}

const std::vector<Choice>& ours() {
    static const std::vector<Choice> choices{
        // Section 9 lets a parser limit depth, range of numbers and what strings hold; section 8.1 lets it skip a mark.
        {"i_structure_byte_order_mark", "8.1 M", "\xEF\xBB\xBF{}", true, "editors write it"},
        {"i_number_big_integer", "6 M", "[123123123123123123123123123123]", true, "read as the nearest double"},
        {"i_number_long_fraction", "6", "[0." + std::string(400, '3') + "]", true, "read as the nearest double"},
        {"i_number_underflow", "6 M", "[123e-10000000]", true, "too small is zero"},
        {"i_number_overflow", "6 M", "[1.5e+9999]", false, "no number of ours is infinite"},
        {"i_number_minus_overflow", "6 M", "[-1e+9999]", false, "no number of ours is infinite"},
        {"i_number_huge_exponent", "6 M", "[0.4e" + std::string(60, '6') + "]", false, "no number of ours is infinite"},
        {"i_string_lonely_first_surrogate", "8.2 M", R"(["\uDADA"])", false, "no character"},
        {"i_string_lonely_second_surrogate", "8.2 M", R"(["\uDFAA"])", false, "no character"},
        {"i_string_surrogates_turned_round", "8.2 M", R"(["\uDD1E\uD834"])", false, "no character"},
        {"i_string_first_surrogate_then_letter", "8.2 M", R"(["\uD800abc"])", false, "no character"},
        {"i_string_first_surrogate_then_no_second", "8.2 M", R"(["\uD888\u1234"])", false, "no character"},
        {"i_string_overlong_two", "8.1 M", "[\"\xC0\xAF\"]", false, "RFC 3629 forbids it"},
        {"i_string_overlong_six", "8.1 M", "[\"\xFC\x83\xBF\xBF\xBF\xBF\"]", false, "RFC 3629 forbids it"},
        {"i_string_utf8_surrogate", "8.1 M", "[\"\xED\xA0\x80\"]", false, "RFC 3629 forbids it"},
        {"i_string_utf8_beyond_unicode", "8.1 M", "[\"\xF4\xBF\xBF\xBF\"]", false, "RFC 3629 forbids it"},
        {"i_string_latin1", "8.1 M", "[\"\xE9\"]", false, "RFC 8259 wants UTF-8"},
        {"i_string_utf16", "8.1 M", "\xFF\xFE[\0\"\0\xE9\0\"\0]\0"s, false, "RFC 8259 wants UTF-8"},
        {"i_structure_64_deep", "9", std::string(64, '[') + std::string(64, ']'), true, "within our depth"},
        {"i_structure_500_deep", "9 M", std::string(500, '[') + std::string(500, ']'), false, "beyond our depth"},
        // Valid by the grammar; ours refuses it by a limit of its own, told in docs/job-file.md and document.hpp.
        {"y_object_key_twice", "4 M", R"({"a":"b","a":"c"})", false, "a key twice is a slip of the writer"},
        {"y_object_key_and_value_twice", "4 M", R"({"a":"b","a":"b"})", false, "a key twice is a slip of the writer"},
        {"y_object_key_twice_by_escape", "4", R"({"a":1,"\u0061":2})", false, "a key twice is a slip of the writer"},
        {"y_string_escaped_nul", "7 M", R"(["\u0000"])", false, "no name or remark holds it"},
        {"y_object_escaped_nul_in_key", "7 M", R"({"foo\u0000bar":42})", false, "no key holds it"},
    };
    return choices;
}

void must_be_told(const std::string& text) {
    auto document = io::parse_document(text);
    REQUIRE(document.faults.any_errors());
    for (const auto& told : io::diagnostics_of(text, "f", document.root, std::move(document.faults))) {
        CHECK(told.line >= 1);
        CHECK(told.column >= 1);
        CHECK_FALSE(told.message.empty());
    }
    CHECK(io::has_errors(io::read_job(text, "f").diagnostics));
    CHECK(io::has_errors(io::read_yard(text, "f").diagnostics));
}

}  // namespace

TEST_CASE("conformance: what RFC 8259 allows is read", "[job][document][reference]") {
    for (const auto& [name, source, text] : valid()) {
        CAPTURE(name, source);
        CHECK(nlohmann::json::accept(text));
        const auto document = io::parse_document(text);
        CHECK(document.complete);
        CHECK_FALSE(document.faults.any_errors());
    }
}

TEST_CASE("conformance: what RFC 8259 forbids is refused with a place", "[job][document][reference]") {
    for (const auto& [name, source, text] : invalid()) {
        CAPTURE(name, source);
        CHECK_FALSE(nlohmann::json::accept(text));
        const auto document = io::parse_document(text);
        CHECK_FALSE(document.complete);
        REQUIRE(document.faults.in_full().size() == 1);  // nothing is guessed at after it
        CHECK(document.faults.in_full()[0].offset <= text.size());
        must_be_told(text);
    }
}

TEST_CASE("conformance: a NUL ends no document", "[job][document][reference]") {
    // Section 2 knows no NUL outside strings. No oracle: the JSON library takes it for the end of the text.
    for (const auto& text : {"[1]\0"s, "[1]\0[2]"s, "{}\n\0\0"s, "1\0"s, "\0"s, "\0[1]"s}) {
        CAPTURE(text.size());
        CHECK_FALSE(io::parse_document(text).complete);
        must_be_told(text);
    }
    CHECK(io::parse_document("[1] \0 {"s).faults.in_full().at(0).offset == 4);
}

TEST_CASE("conformance: where RFC 8259 leaves the choice, or we are stricter", "[job][document]") {
    for (const auto& [name, source, text, read, why] : ours()) {
        CAPTURE(name, source, why);
        if (read)
            CHECK_FALSE(io::parse_document(text).faults.any_errors());
        else
            must_be_told(text);
    }
}
