// What the letter says of the firm, and the other offers that can be made of a job.
#include <catch2/catch.hpp>

#include <cmath>
#include <nlohmann/json.hpp>

#include "offer_jobs.hpp"

using namespace patchwright::test;
using nlohmann::json;

TEST_CASE("whatever the yard says of the firm stands in the letter", "[program][quote]") {
    const Folder folder;
    const std::vector<std::pair<std::string, std::string>> given{
        {"name", "Ours, invented"},      {"address", "Quay 1, Hythe"},       {"phone", "01 23 45"},
        {"mail", "us@drains.example"},   {"registration", "Register 77"},    {"tax_number", "T-4711"},
        {"tax_name", "sales tax"},       {"bank", "Bank of Hythe, XX77"},    {"payment_terms", "Within 21 days"},
        {"deposit", "A third on order"}, {"guarantee", "Not for the rest."}, {"terms", "Our own terms, part one."}};
    json firm{{"guarantee_years", 10}, {"validity_days", 14}};
    for (const auto& [key, words] : given) firm[key] = words;
    folder.write("yard.json",
                 json{{"patchwright_yard", 1}, {"extends", "builtin"}, {"name", "Yard"}, {"firm", firm}}.dump());
    const auto said = on_one_line(run_on(mixed_job, {"quote", "-q", "--yard", folder / "yard.json"}).out);
    for (const auto& [key, words] : given) {
        CAPTURE(key, said);
        CHECK(says(said, words));
    }
    CHECK(says(said, "Guarantee on the patches: 10 years. Not for the rest."));
    CHECK(says(said, "Valid until: 2026-05-04"));  // 14 days from 2026-04-20
    CHECK(says(said, "Total incl. sales tax"));
    CHECK_FALSE(says(said, "VAT"));
    CHECK_FALSE(says(said, "legal right to cancel"));  // its own terms stand in place of ours
}

TEST_CASE("a tax on materials of its own is a line of its own, with what it is on", "[program][quote]") {
    const Folder folder;
    folder.write("yard.json", R"({"patchwright_yard": 1, "extends": "builtin", "name": "Ours, invented",
        "rates": {"tax": "5 %", "tax_materials": "20 %"}})");
    const auto said = json::parse(run_on(mixed_job, {"quote", "-q", "-f", "json", "--yard", folder / "yard.json"}).out);
    const auto& tax = said.at("letter").at("tax");
    REQUIRE(tax.size() == 2);
    const auto cents = [](const json& money) { return std::llround(std::stod(money.get<std::string>()) * 100.0); };
    CHECK(cents(tax[0].at("on")) + cents(tax[1].at("on")) == cents(said.at("letter").at("net")));
    CHECK(cents(tax[0].at("amount")) == (cents(tax[0].at("on")) * 20 + 50) / 100);
    CHECK(cents(tax[1].at("amount")) == (cents(tax[1].at("on")) * 5 + 50) / 100);
    const auto letter = on_one_line(run_on(mixed_job, {"quote", "-q", "--yard", folder / "yard.json"}).out);
    CHECK(says(letter, "Tax 20 % on materials (" + tax[0].at("on").get<std::string>() + " EUR)"));
}

TEST_CASE("a variant of the inside view is printed as the offer by its number", "[program][quote]") {
    const auto job = std::regex_replace(only_dig, std::regex{"collapse\""}, "fissure\", \"size\": \"2 mm\"");
    const auto ways =
        json::parse(run_on(job, {"quote", "--inside", "-q", "-f", "json"}).out).at("price").at("variants");
    REQUIRE(ways.size() >= 2);
    CHECK(ways.size() <= 3);
    for (std::size_t i = 0; i < ways.size(); ++i) {
        const auto said = run_on(job, {"quote", "-q", "-f", "json", "--variant", std::to_string(i + 1)});
        CAPTURE(i, said.err);
        CHECK(json::parse(said.out).at("price").at("offered") == ways[i].at("offered"));
        CHECK(says(run_on(job, {"quote", "--inside", "-q", "-f", "json"}).out, ways[i].at("words").get<std::string>()));
    }
    if (ways.size() == 2) CHECK(run_on(job, {"quote", "--variant", "3"}).status == 2);
    CHECK(says(run_on(only_dig, {"quote", "--variant", "2"}).err, "no other way worth offering"));
}

TEST_CASE("extras alone are an offer with its scope, at the minimum charge or above", "[program][quote]") {
    const auto job = with(sound, R"("extras": [{"words": "Root cutting", "quantity": 2}])");
    const auto said = letter(job);
    CHECK(says(said, "Also included: Root cutting."));
    CHECK(says(said, "Up to our minimum charge 90.00 EUR"));
    CHECK(says(said, "Total net 380.00 EUR"));
    CHECK(says(inside(job), "nothing to dig: extras alone"));
    const Folder folder;
    folder.write("yard.json", R"({"patchwright_yard": 1, "extends": "builtin", "name": "Ours, invented",
        "rates": {"minimum_charge": "0.00 EUR"}, "price_list": {"extras": [{"words": "Root cutting", "rate": "145.00 EUR"}]}})");
    const auto no_least = on_one_line(run_on(job, {"quote", "-q", "--yard", folder / "yard.json"}).out);
    CHECK(says(no_least, "Total net 290.00 EUR"));
    CHECK_FALSE(says(no_least, "minimum charge"));
    CHECK(says(letter(mixed_job), "Also included: Root cutting."));
    CHECK(says(letter(mixed_job), "Price, net, without"));  // beside digging, where the total holds them
    const auto loose = with(sound, R"("extras": [{"words": "Manhole cover", "quantity": 3, "rate": "150.00 EUR"}])");
    CHECK(says(letter(loose), "Manhole cover, 3 450.00 EUR"));
}
