// The offer as it leaves the house, and the estimator's view beside it.
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <map>
#include <regex>

#include "offer_jobs.hpp"
#include "support/signs.hpp"

using namespace patchwright;
using nlohmann::json;
using namespace patchwright::test;

namespace {

/// The tables of a sheet in JSON that have a column of that name.
std::vector<json> tables_with(const json& sheet, const std::string& column) {
    std::vector<json> list;
    for (const auto& block : sheet.at("blocks")) {
        if (!block.contains("table")) continue;
        const auto& columns = block.at("columns");
        if (std::find(columns.begin(), columns.end(), column) != columns.end()) list.push_back(block);
    }
    return list;
}

std::string yard_with_logo(const std::string& file) {
    return R"({"patchwright_yard": 1, "extends": "builtin", "name": "Ours, invented", "firm" : {
        "name" : "Ours, invented", "logo" : ")" +
           file + "\"}}";
}

}  // namespace

TEST_CASE("the firm's logo stands on the letter, PNG or SVG, from beside the yard file", "[program][quote]") {
    test::Folder folder;
    const std::string file = GENERATE("sign.png", "sign.svg");
    folder.write("sign.png", test::png_sign());
    folder.write("sign.svg", test::svg_sign());
    folder.write("job.json", mixed_job);
    folder.write("yard.json", yard_with_logo(file));
    folder.write("plain.json", R"({"patchwright_yard": 1, "extends": "builtin", "name": "Ours, invented"
})");
    const auto bytes = [&](const char* yard, const char* form) {
        const auto said = run({"quote", folder / "job.json", "--yard", folder / yard, "-q", "-f", form});
        CAPTURE(said.err);
        CHECK(said.status == 0);
        return said.out;
    };
    CHECK(says(bytes("yard.json", "html"), file == "sign.png" ? "<img alt=\"\" src=\"data:image/png;base64,"
                                                              : "<img alt=\"\" src=\"data:image/svg+xml;base64,"));
    CHECK_FALSE(says(bytes("plain.json", "html"), "<img"));
    CHECK(bytes("yard.json", "pdf") != bytes("plain.json", "pdf"));
}

TEST_CASE("nothing in the folder of the job is taken for a library", "[program][quote]") {
    // A libtool archive beside the job that names a library of the job's own: never opened.
    test::Folder folder;
    folder.write("sign.svg", test::svg_sign());
    folder.write("job.json", mixed_job);
    folder.write("yard.json", yard_with_logo("sign.svg"));
    const auto offer = [&](std::optional<std::string> from) {
        test::Call call{{"quote", folder / "job.json", "--yard", folder / "yard.json", "-q", "-f", "pdf"}, {}};
        call.folder = std::move(from);
        return run(call);
    };
    const auto usual = offer(std::nullopt);
    CHECK(usual.status == 0);
    for (const std::string name : {"librsvg-2.so.2", "librsvg-2.so.2.la", "librsvg-2-2.dll.la", "librsvg-2.2.dylib.la"})
        folder.write(name, "dlname='other.so'\nlibdir='" + folder.path() + "'\ninstalled=yes\n");
    const auto beside = offer(folder.path());
    CAPTURE(beside.err);
    CHECK(beside.status == 0);
    CHECK(beside.out == usual.out);
}

TEST_CASE("a logo that is not there or no picture is said before anything is written", "[program][quote][error]") {
    test::Folder folder;
    folder.write("job.json", mixed_job);
    folder.write("words.txt", "no picture");
    for (const auto& [file, fault] : {std::pair{"gone.svg", "No such file"}, {"words.txt", "neither PNG nor SVG"}}) {
        folder.write("yard.json", yard_with_logo(file));
        const auto said = run({"quote", folder / "job.json", "--yard", folder / "yard.json", "-o", folder / "o.pdf"});
        CHECK(said.status == 3);
        CHECK(says(said.err, fault));
        CHECK(std::regex_search(said.err, std::regex{"yard.json:[0-9]+:[0-9]+: error: the firm's logo"}));
        const auto checked = run({"check", folder / "job.json", "--yard", folder / "yard.json"});
        CHECK(checked.status == 3);
        CHECK(says(checked.out, fault));
        // A text shows no picture.
        CHECK(run({"quote", folder / "job.json", "--yard", folder / "yard.json", "-q"}).status == 0);
    }
    CHECK(folder.names() == std::vector<std::string>{"job.json", "words.txt", "yard.json"});
}

TEST_CASE("what only the camera can tell has both its prices in the letter, whatever the letter is",
          "[program][quote]") {
    const auto on_top = letter(mixed_job);
    CHECK(says(on_top, "To be confirmed by camera; not in the total"));
    CHECK(std::regex_search(
        on_top,
        std::regex{
            R"(B1, drain B at 3.00 m: if up to 30 mm wide, with sound wall round it, a patch: \+ [0-9.,]+ EUR; if larger, excavated: \+ [0-9.,]+ EUR net)"}));
    const auto advice = letter(one_hole);
    CHECK(says(advice, "Advice"));
    std::smatch found;
    REQUIRE(std::regex_search(
        advice, found, std::regex{R"(a patch: about ([0-9.,]+) EUR; if larger, excavated: about ([0-9.,]+) EUR net)"}));
    // What it would be offered at, were it known.
    auto known = one_hole;
    known.insert(known.find(R"("clock")"), R"("size": "30 mm", "surrounding_sound": true, )");
    CHECK(says(letter(known), "Total net " + found[1].str() + " EUR"));
    auto larger = std::regex_replace(one_hole, std::regex{"missing wall"}, "collapse");
    CHECK(says(letter(larger), "Total net " + found[2].str() + " EUR"));
}

TEST_CASE("an estimate speaks of no survey, and its range is in round figures", "[program][quote]") {
    const auto call = letter(with(mixed_job, R"("certainty": "call")"));
    CHECK(says(call, "What we were told"));
    CHECK(says(call, "As estimated"));
    for (const char* words : {"survey found", "As offered", "Offer", "R-102", "Accepted"}) {
        CAPTURE(words);
        CHECK_FALSE(says(call, words));
    }
    CHECK(std::regex_search(call, std::regex{"between [0-9,]+[05]\\.00 EUR and [0-9,]+[05]\\.00 EUR net"}));
    CHECK(says(letter(with(mixed_job, R"("certainty": "photo")")), "What the photographs show"));
    CHECK(says(letter(mixed_job), "What the survey found"));
}

TEST_CASE("a price at the minimum charge says so, in letter, inside view and JSON", "[program][quote]") {
    test::Folder folder;
    folder.write("yard.json", R"({"patchwright_yard": 1, "extends": "builtin", "name": "Ours, invented",
        "rates": {
        "minimum_charge" : "2500.00 EUR", "discount" : "10 %"}
})");
    auto job = std::regex_replace(only_dig, std::regex{"collapse\""}, "fissure\", \"size\": \"2 mm\"");
    const auto at = [&](std::vector<std::string> arguments) {
        arguments.insert(arguments.end(), {"--yard", folder / "yard.json", "-q"});
        return run_on(job, arguments).out;
    };
    const auto price = json::parse(at({"plan", "-f", "json"})).at("price");
    CHECK(price.at("minimum_charge") == "2500.00");
    CHECK(price.at("own") == "2500.00");
    CHECK(price.at("offered") == "2500.00");
    CHECK(says(on_one_line(at({"quote"})), "Total net 2,500.00 EUR"));
    CHECK(says(on_one_line(at({"quote"})), "This is our minimum charge for a visit."));
    CHECK(says(on_one_line(at({"quote", "--inside"})), "Minimum charge 2500.00 in force on this job"));
    CHECK_FALSE(says(letter(job), "minimum charge"));
}

TEST_CASE("inside, a price has one value: what has one name in two tables is one figure", "[program][quote]") {
    test::Folder folder;
    const std::string wish = GENERATE("", R"("price": {"net": "6100.00 EUR"}, )",
                                      R"("price": {"per_patch": "480.00 EUR"}, )", R"("price": {"profit": "30 %"}, )");
    auto job = mixed_job;
    job.insert(job.find("\"runs\""), wish);
    folder.write("job.json", job);
    const auto said = run({"quote", folder / "job.json", "--inside", "-q", "-f", "json"});
    const auto sheet = json::parse(said.out).at("sheets").at(0);
    const auto all = tables_with(sheet, "Why"), parts = tables_with(sheet, "Both");
    REQUIRE(all.size() == 1);
    REQUIRE(parts.size() == 1);
    const auto row = [](const json& table, const std::string& name) {
        for (const auto& r : table.at("rows"))
            if (r.at(0) == name) return r;
        FAIL("no row " + name);
        return json{};
    };
    const auto both = [&](const std::string& name) { return row(parts[0], name).at(3); };
    const auto over_all = [&](const std::string& name) { return row(all[0], name).at(1); };
    CHECK(both("Floor") == over_all("Floor"));
    CHECK(both("Own price") == over_all("Own price"));
    CHECK(both("Offered") == over_all("Offered, without extras"));
    CHECK(both("Beside it: by our price list") == over_all("By our price list"));
    // Patches, digs and extras make up each row, to the cent.
    for (const auto& r : parts[0].at("rows")) {
        const auto cents = [&](std::size_t i) { return std::llround(std::stod(r.at(i).get<std::string>()) * 100.0); };
        CAPTURE(r.dump());
        CHECK(cents(1) + cents(2) == cents(3));
        CHECK(cents(3) + cents(4) == cents(5));
    }
    std::map<std::string, int> names;
    for (const auto& r : all[0].at("rows")) ++names[r.at(0)];
    for (const auto& [name, count] : names) CHECK(count == 1);
    CHECK_FALSE(std::regex_search(on_one_line(run({"quote", folder / "job.json", "--inside", "-q"}).out),
                                  std::regex{"[Nn]et [0-9]"}));
}

TEST_CASE("where nothing is patched the estimator's view compares nothing, and where nothing is done it has no price",
          "[program][quote]") {
    const auto dig = inside(only_dig);
    CHECK(says(dig, "Own price of the digs"));
    for (const char* words : {"Chance that", "others' digging Days", "spread of others"}) CHECK_FALSE(says(dig, words));
    const auto none = inside(sound);
    CHECK(says(none, "There is nothing to patch and nothing to dig, so there is no price."));
    CHECK_FALSE(says(none, "0.00"));
    CHECK(says(letter(sound), "Nothing is offered."));
}

TEST_CASE("where the answer flips is said in sentences that fit the number", "[program][quote]") {
    const auto job = std::regex_replace(only_dig, std::regex{"collapse\""}, "fissure\", \"size\": \"2 mm\"");
    const auto view = inside(job);
    CHECK(says(view, "Patching is cheaper for the one place."));
    CHECK(says(inside(mixed_job), "Patching is cheaper for the first place alone and for both."));
    CHECK(says(view, "1 day "));
    CHECK_FALSE(says(view, "1 days"));
    CHECK_FALSE(says(view, "all 1 of"));
    CHECK_FALSE(std::regex_search(view, std::regex{" 0 expected"}));
}

TEST_CASE("the customer's letter never speaks with the estimator's voice", "[program][quote]") {
    const std::vector<std::string> jobs{mixed_job,
                                        one_hole,
                                        only_dig,
                                        sound,
                                        with(mixed_job, R"("certainty": "call")"),
                                        with(mixed_job, R"("price": {"net": "900.00 EUR"})")};
    for (const auto& job : jobs) {
        for (const char* form : {"text", "html"}) {
            auto words = run_on(job, {"quote", "-q", "-f", form}).out;
            if (std::string{form} == "html") {
                words = std::regex_replace(words.substr(words.find("<body")), std::regex{"<script>[^]*</script>"}, "");
                words = std::regex_replace(words, std::regex{"<[^>]*>"}, " ");
            }
            std::transform(words.begin(), words.end(), words.begin(), [](unsigned char c) { return std::tolower(c); });
            words = on_one_line(words);
            for (const char* ours : {"floor", "ceiling", "own price", "margin", "profit", "overhead", "job file",
                                     "yard file", "of the bore", "data sheet", "warning", "assumed", "not given",
                                     "verdict", "fissure", "infiltration", "below their cost", "file"}) {
                CAPTURE(job, form, ours);
                CHECK_FALSE(says(words, ours));
            }
        }
    }
}

TEST_CASE("a revision tells its changes in the customer's words", "[program][quote]") {
    test::Folder folder;
    folder.write("old.json", mixed_job);
    auto job =
        std::regex_replace(mixed_job, std::regex{R"("size": "2 mm")"}, R"("size": "4 mm", "remark": "Mind the dog.")");
    job = std::regex_replace(job, std::regex{"\"quantity\": 2, \"unit\": \"h\""}, "\"quantity\": 3");
    const auto said = on_one_line(run_on(job, {"quote", "-q", "--since", folder / "old.json"}).out);
    CHECK(says(said, "Changed: drain A: Crack (A1) at 4.00 m, 4 mm; before: drain A: Crack (A1) at 4.00 m, 2 mm"));
    CHECK(says(said, "Changed: Root cutting, 3; before: Root cutting, 2 h"));
    CHECK_FALSE(says(said, "Mind the dog"));
}

TEST_CASE("check asks what the offer still lacks, each thing once and by its file", "[program][check]") {
    test::Folder folder;
    folder.write("job.json", one_hole);
    folder.write("yard.json", R"({"patchwright_yard": 1, "extends": "builtin", "name": "Ours, invented"
})");
    const auto said = run({"check", folder / "job.json", "--yard", folder / "yard.json"}).out;
    for (const char* question :
         {"\"offer_date\" is", "when is the work?", "customer's name or address", "what lies over the drain?",
          "which soil?", "can the crew work from IC2 too?", "demonstration prices, not yours",
          "does not give \"name\", \"address\", \"phone\", \"payment_terms\", \"guarantee_years\""}) {
        CAPTURE(question, said);
        const auto first = said.find(question);
        REQUIRE(first != std::string::npos);
        CHECK(said.find(question, first + 1) == std::string::npos);
    }
    CHECK(says(said, "job.json: warning: for the offer: \"offer_date\""));
    CHECK(says(said, "yard.json: warning: for the offer"));
    // All answered: nothing is left to ask, and nothing but the signature to the pen.
    folder.write("job.json", with(std::regex_replace(one_hole, std::regex{"\"missing wall\", \"clock\": \"11\""},
                                                     "\"fissure\", \"size\": \"2 mm\""),
                                  R"("offer_date": "2026-04-20", "date": "2026-05-12",
        "customer": {"name": "J. Farrow", "address": "Orchard Road 12"}, "dig": {"surface": "grass", "soil": "B"})"));
    folder.write("job.json", std::regex_replace(folder.read("job.json"), std::regex{"\"depth\""},
                                                "\"access\": [\"IC1\"], \"depth\""));
    folder.write("yard.json",
                 R"({"patchwright_yard": 1, "extends": "builtin", "name": "Ours, invented", "demonstration": false,
        "firm": {
    "name" : "Ours, invented",
             "address" : "Quay 1",
                         "phone" : "000",
                                   "payment_terms" : "30 days",
                                                     "guarantee_years" : 10},
    "heaters": [{"id": "warm-air", "count": 0}, {"id": "warm-water", "count": 0}]
    })");
    CHECK(says(run({"check", folder / "job.json", "--yard", folder / "yard.json"}).out, "0 errors, 0 warnings"));
    const auto offer = on_one_line(run({"quote", folder / "job.json", "--yard", folder / "yard.json"}).out);
    CHECK_FALSE(says(offer.substr(0, offer.find("Accepted by the customer")), "____"));
    CHECK_FALSE(says(offer, "demonstration"));
}

TEST_CASE("from a survey to a letter that needs no pen: the edits are those that check asks for", "[program][check]") {
    test::Folder folder;
    REQUIRE(run({"import", test::example("survey.txt"), "--depth", "1.3 m", "-o", folder / "job.json"}).status == 0);
    const auto asked = run({"check", folder / "job.json"}).out;
    for (const char* question :
         {"offer_date", "\"date\"", "customer", "surface", "soil", "can the crew work from MH2 too?"}) {
        CAPTURE(question, asked);
        CHECK(says(asked, question));
    }
    auto job = json::parse(folder.read("job.json"));
    job["offer_date"] = "2026-04-20";
    job["date"] = "2026-05-12";
    job["customer"] = {{"name", "J. Farrow"}, {"address", "Orchard Road 12"}};
    job["dig"] = {{"surface", "block"}, {"soil", "B"}};
    for (auto& one : job["runs"]) one["access"] = {one["from"], one["to"]};
    folder.write("job.json", job.dump(1));
    CHECK_FALSE(says(run({"check", folder / "job.json"}).out, "for the offer"));
    const auto offer = on_one_line(run({"quote", folder / "job.json", "-q"}).out);
    CHECK_FALSE(says(offer.substr(0, offer.find("Accepted by the customer")), "____"));
}

TEST_CASE("the plan's JSON carries the letter's figures, and quote's the sheet itself", "[program][quote][json]") {
    const auto plan = json::parse(run_on(mixed_job, {"plan", "-f", "json", "-q"}).out);
    const auto& sent = plan.at("letter");
    CHECK(sent.at("kind") == "offer");
    CHECK(sent.at("number") == "R-102");
    CHECK(sent.at("valid_until") == "2026-05-20");
    CHECK(sent.at("net") == plan.at("price").at("offered"));
    // 20 % on all of it, rounded once.
    const auto cents = [](const json& money) { return std::llround(std::stod(money.get<std::string>()) * 100.0); };
    REQUIRE(sent.at("tax").size() == 1);
    CHECK(cents(sent.at("tax")[0].at("amount")) == (cents(sent.at("net")) * 20 + 50) / 100);
    CHECK(cents(sent.at("total")) == cents(sent.at("net")) + cents(sent.at("tax")[0].at("amount")));
    REQUIRE(sent.at("excavations").size() == 2);
    CHECK(sent.at("excavations")[0].at("defects") == json{"A3"});
    CHECK_FALSE(sent.at("conditions").empty());
    CHECK_FALSE(plan.at("price").at("drivers").at("patch").empty());
    const auto text = letter(mixed_job);
    CHECK(says(text, "Total incl. VAT " + sent.at("shown").at("total").get<std::string>()));
    for (const auto& condition : sent.at("conditions")) CHECK(says(text, condition.get<std::string>()));
    CHECK(json::parse(run_on(mixed_job, {"quote", "-f", "json", "-q"}).out).at("sheets")[0].at("kind") == "Offer");
    CHECK(json::parse(run_on(sound, {"plan", "-f", "json", "-q"}).out).at("letter").at("kind") == "advice");
}

TEST_CASE("the office's table says of a job what its plan says", "[program][quote][csv]") {
    for (const auto& job : {mixed_job, only_dig}) {
        const auto price = json::parse(run_on(job, {"plan", "-f", "json", "-q"}).out).at("price");
        std::istringstream in{run_on(job, {"quote", "-f", "csv", "-q"}).out};
        std::string names, values;
        std::getline(in, names);
        std::getline(in, values);
        std::map<std::string, std::string> row;
        std::istringstream name{names}, value{values + ","};
        for (std::string n, v; std::getline(name, n, ',') && std::getline(value, v, ',');) row[n] = v;
        for (const char* key : {"floor", "own", "suggested", "offered", "ceiling"}) CHECK(row.at(key) == price.at(key));
        CHECK(row.at("days") == (job == mixed_job ? "5" : "2"));  // the digs' days too, as in the letter
        CHECK(says(letter(job), "about " + row.at("days")) == (job == mixed_job));
        CHECK(row.at("chance_patch_cheaper").empty() == (job == only_dig));
    }
}
