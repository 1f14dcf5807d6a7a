// What results look like on standard output: text for every terminal, nothing that a customer should not see.
#include <algorithm>
#include <catch2/catch.hpp>
#include <fstream>
#include <nlohmann/json.hpp>
#include <regex>
#include <set>
#include <sstream>

#include "support/jobs.hpp"
#include "support/program.hpp"

using namespace patchwright;
using test::example;
using test::run;
using test::says;

namespace {

std::string lower(std::string text) {
    for (auto& c : text) c = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
    return text;
}

/// Longest line in code points.
std::size_t width(const std::string& text) {
    std::size_t longest = 0, now = 0;
    for (const char c : text) {
        if (c == '\n')
            now = 0;
        else if ((static_cast<unsigned char>(c) & 0xC0U) != 0x80U)
            longest = std::max(longest, ++now);
    }
    return longest;
}

bool is_ascii(const std::string& text) {
    return std::all_of(text.begin(), text.end(), [](char c) { return c == '\n' || (c >= ' ' && c <= '~'); });
}

const std::vector<std::vector<std::string>> text_sheets{{"daysheet"}, {"quote"},        {"quote", "--inside"},
                                                        {"plan"},     {"picklist"},     {"check"},
                                                        {"why"},      {"why", "price"}, {"whatif"}};

test::Call sheet(std::vector<std::string> command, const std::string& job, std::vector<std::string> environment) {
    test::Call call;
    call.arguments = std::move(command);
    call.arguments.insert(call.arguments.begin() + 1, example(job));
    call.arguments.emplace_back("-q");
    call.environment = std::move(environment);
    return call;
}

}  // namespace

TEST_CASE("text sheets are ASCII where the locale is not UTF-8, and without the day's strip within 80 columns",
          "[program][text]") {
    const std::string job = GENERATE("demo.json", "us-slab.json");
    if (test::under_sanitizers && job == "demo.json") return;  // the estimator's view of it takes a minute there
    for (const auto& command : text_sheets) {
        CAPTURE(job, command);
        const auto plain = run(sheet(command, job, {"LC_ALL=C"}));
        const auto rich = run(sheet(command, job, {"LC_ALL=C.UTF-8"}));
        CHECK(plain.status == 0);
        CHECK(rich.status == 0);
        CHECK(is_ascii(plain.out));
        const bool with_strip = command.front() == "daysheet" || command.front() == "plan";
        if (!with_strip) CHECK(width(plain.out) <= 80);
        if (!with_strip) CHECK(width(rich.out) <= 80);
        CHECK_FALSE(plain.out.empty());
    }
    CHECK(run(sheet({"quote"}, job, {})).out == run(sheet({"quote"}, job, {"LC_ALL=C"})).out);
    CHECK(run(sheet({"quote"}, job, {"LANG=de_DE.UTF-8"})).out == run(sheet({"quote"}, job, {"LC_ALL=C.UTF-8"})).out);
    CHECK_FALSE(is_ascii(run(sheet({"daysheet"}, "demo.json", {"LC_ALL=C.UTF-8"})).out));
}

TEST_CASE("figures do not change with the locale", "[program][text]") {
    const auto c = run(sheet({"plan", "-f", "json"}, "us-slab.json", {"LC_ALL=C"}));
    CHECK(c.out == run(sheet({"plan", "-f", "json"}, "us-slab.json", {"LC_ALL=de_DE.UTF-8"})).out);
    CHECK(c.out == run(sheet({"plan", "-f", "json"}, "us-slab.json", {"LC_ALL=C.UTF-8", "TZ=Asia/Tokyo"})).out);
}

TEST_CASE("no escape sequence reaches a file or a pipe, nor with NO_COLOR", "[program][text]") {
    CHECK_FALSE(says(run(sheet({"daysheet"}, "demo.json", {"LC_ALL=C.UTF-8", "TERM=xterm"})).out, "\x1b"));
    CHECK_FALSE(says(run(sheet({"daysheet"}, "demo.json", {"NO_COLOR=1", "TERM=xterm"})).out, "\x1b"));
    CHECK(says(run(sheet({"daysheet", "--color", "always"}, "demo.json", {"TERM=xterm"})).out, "\x1b["));
    CHECK_FALSE(says(run(sheet({"daysheet", "--color", "never"}, "demo.json", {"TERM=xterm"})).out, "\x1b"));
}

TEST_CASE("each sheet that shows money of the built-in yard says whose prices they are", "[program][text]") {
    const std::string job = GENERATE("demo.json", "us-slab.json");
    if (test::under_sanitizers && job == "demo.json") return;
    for (const auto& command : text_sheets) {
        const auto said = run(sheet(command, job, {"LC_ALL=C"}));
        CAPTURE(job, command);
        // The words may break over a line.
        const auto text = std::regex_replace(said.out, std::regex{"\\s+"}, " ");
        const bool money = std::regex_search(text, std::regex{"[0-9]\\.[0-9][0-9] EUR|EUR [0-9]"});
        if (money) CHECK(says(lower(text), "demonstration prices, not yours"));
    }
    CHECK(says(run(sheet({"quote"}, job, {})).out, "EUR"));
}

TEST_CASE("the customer's offer never shows what the work costs us", "[program][quote]") {
    const std::string job = GENERATE("demo.json", "us-slab.json");
    if (test::under_sanitizers && job == "demo.json") return;
    const auto plan = nlohmann::json::parse(run(sheet({"plan", "-f", "json"}, job, {})).out);
    const auto& price = plan["price"];
    for (const std::vector<std::string>& form :
         std::vector<std::vector<std::string>>{{"quote"}, {"quote", "-f", "json"}}) {
        const auto offer = run(sheet(form, job, {"LC_ALL=C"})).out;
        CAPTURE(job, form);
        for (const char* word : {"margin", "overhead", "markup", "profit", "floor", "direct cost",
                                 "not in the job file", "yard file", "of the bore", "data sheet", "warning\": \""}) {
            CAPTURE(word);
            CHECK_FALSE(says(lower(offer), word));
        }
        const auto bare = std::regex_replace(offer, std::regex{"([0-9]),([0-9])"}, "$1$2");
        CHECK(says(bare, price["offered"].get<std::string>()));
        std::set<std::string> secret{price["floor"].get<std::string>()};
        for (const char* side : {"patch", "dig"}) {
            for (const char* layer : {"direct", "risk", "overhead", "profit", "p10", "p50", "p80"})
                secret.insert(price[side][layer]);
        }
        for (const auto& p : plan["patches"]) secret.insert(p["cost"].get<std::string>());
        for (const auto& line : price["patch"]["lines"]) secret.insert(line["amount"].get<std::string>());
        // What the customer may read although it equals a cost by chance or by nature: the two prices and their
        // difference.
        for (const char* open : {"suggested", "offered", "own", "ceiling", "saving_to_customer"})
            secret.erase(price[open].get<std::string>());
        for (const auto& line : price["lines"]) secret.erase(line["net"].get<std::string>());
        for (const auto& amount : secret) {
            CAPTURE(amount);
            CHECK_FALSE(std::regex_search(
                bare, std::regex{"(^|[^0-9.])" + std::regex_replace(amount, std::regex{"\\."}, "\\.") + "([^0-9]|$)"}));
        }
        const auto inside = run(sheet({"quote", "--inside"}, job, {})).out;
        CHECK(
            says(std::regex_replace(inside, std::regex{"([0-9]),([0-9])"}, "$1$2"), price["floor"].get<std::string>()));
    }
}

TEST_CASE("a full or closed standard output is an error, not a crash", "[program][output]") {
    for (const auto& command : text_sheets) {
        CAPTURE(command);
        auto call = sheet(command, "us-slab.json", {});
        call.output_to = "/dev/full";
        const auto full = run(call);
        CHECK(full.status == 1);
        CHECK(says(full.err, "No space left on device"));
    }
    auto call = sheet({"plan", "-f", "json"}, "us-slab.json", {});
    call.reader_leaves = true;
    const auto closed = run(call);
    // Ended by SIGPIPE as other tools are, or by a plain failure that says so.
    CHECK((closed.status == 128 + 13 || (closed.status == 1 && says(closed.err, "Broken pipe"))));
}

TEST_CASE("a character that no page can show is an error of the program", "[program][output]") {
    const test::Folder folder;
    auto job = nlohmann::json::parse(std::ifstream{example("us-slab.json")});
    job["customer"]["name"] = "\xEE\x84\xA3";  // U+E123, for private use
    folder.write("job.json", job.dump());
    const auto offer = run({"quote", folder / "job.json", "-q", "-o", folder / "offer.pdf"});
    CHECK(offer.status == 1);
    CHECK(says(offer.err, "the character U+E123 of"));
    CHECK(folder.names() == std::vector<std::string>{"job.json"});
}
