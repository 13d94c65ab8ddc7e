// What a machine without Graphviz can do: everything but the drawing of the wiring.
#include "tests/cli/command_line.hpp"
#include "tests/support/catch.hpp"

using namespace voltfall;

TEST_CASE("without Graphviz a report has all but the drawing of the wiring, and says so") {
    const ScratchFile page("page.html");
    const Said said = command_line({"report", scenario("weak-air.job.toml"), "-o", page.path()});
    INFO(said.err);
    REQUIRE(said.status == 0);
    const std::string text = page.text();
    CHECK(text.find("Not drawn: Graphviz") != std::string::npos);
    CHECK(text.find("<svg") != std::string::npos);  // the ladder and the speeds need no layout
    CHECK(text.find("C101.4 resistance") != std::string::npos);
    CHECK(text.ends_with("</html>\n"));
}

TEST_CASE("without Graphviz a picture that is asked for by itself is refused, with the reason") {
    const ScratchFile picture("wiring.svg");
    const Said said = command_line({"show", scenario("cab-blower.toml"), "--svg", picture.path()});
    CHECK(said.status == 4);
    CHECK(said.err.find("Graphviz is not there") != std::string::npos);
}
