#include <catch2/catch.hpp>

#include "paper_tools.hpp"
#include "patchwright/sheet/html.hpp"
#include "patchwright/sheet/image.hpp"
#include "patchwright/sheet/page.hpp"
#include "patchwright/units/error.hpp"
#include "support/signs.hpp"

using namespace patchwright;
using namespace patchwright::sheet;

namespace {

Sheet with(const Image& sign) {
    Sheet sheet;
    sheet.kind = "Offer";
    sheet.blocks.push_back({sign});
    sheet.blocks.push_back({Paragraph{"below it", Emphasis::normal}});
    return sheet;
}
PageOptions dated() {
    PageOptions o;
    o.created = "2026-04-14T07:00:00Z";
    return o;
}

}  // namespace

TEST_CASE("a firm's sign keeps its shape in the room that it is given", "[image]") {
    const bool vector = GENERATE(true, false);
    const Image sign = image(vector ? test::svg_sign() : test::png_sign(), 55.0, 18.0);
    CHECK(sign.vector == vector);
    // Twice as wide as high, as drawn: 36 mm by 18 mm.
    CHECK(sign.width == Approx(36.0));
    CHECK(sign.height == Approx(18.0));
    CHECK(image(test::svg_sign(), 20.0, 18.0).height == Approx(10.0));
}

TEST_CASE("the sign is on the page, in its own colours and its full size", "[image][page]") {
    paper::pin_fonts();
    const bool vector = GENERATE(true, false);
    CAPTURE(vector);
    const Image sign = image(vector ? test::svg_sign() : test::png_sign(), 55.0, 18.0);
    const auto pages = pdf({with(sign)}, dated());
    // All of it is red: 36 mm by 18 mm at 50 dots an inch, but for its rim.
    const double dots = 36.0 / 25.4 * 50.0 * 18.0 / 25.4 * 50.0;
    CHECK(paper::coloured_dots(pages.pdf, 50) == Approx(dots).epsilon(0.08));
    CHECK(pdf({with(sign)}, dated()).pdf == pages.pdf);
    Sheet plain = with(sign);
    plain.blocks.erase(plain.blocks.begin());
    CHECK(paper::coloured_dots(pdf({plain}, dated()).pdf, 50) == 0);
}

TEST_CASE("a web page holds the sign itself", "[image][html]") {
    const auto page = html({with(image(test::png_sign(), 55.0, 18.0))}, [](const Drawing&) { return std::string{}; });
    CHECK(page.find("src=\"data:image/png;base64,iVBORw0KGgo") != std::string::npos);  // RFC 2397; RFC 4648 of 89 50 4e
}

TEST_CASE("what is no picture is refused in words", "[image][error]") {
    CHECK_THROWS_WITH(image("GIF89a", 55, 18), Catch::Contains("neither PNG nor SVG"));
    CHECK_THROWS_WITH(image(test::png_sign().substr(0, 60), 55, 18), Catch::Contains("no PNG that can be read"));
    CHECK_THROWS_WITH(image("<svg xmlns=\"http://www.w3.org/2000/svg\"><g>", 55, 18),
                      Catch::Contains("no SVG that can be read"));
    CHECK_THROWS_WITH(image("<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"100%\"/>", 55, 18),
                      Catch::Contains("gives no size"));
    CHECK_THROWS_AS(image("", 55, 18), InputError);
}
