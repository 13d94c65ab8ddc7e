#include "cli/views/problem_view.hpp"

#include "netlists/text/problem_code.hpp"
#include "tests/cli/command_line.hpp"
#include "tests/support/catch.hpp"

using namespace voltfall;

namespace {

std::string shown(const Problem& problem, int width = 80) {
    TextPage page({width});
    write_problems(page, {problem});
    return page.text();
}

}  // namespace

TEST_CASE("a problem shows its place, its line, a caret and its suggestion") {
    const Problem problem{ProblemCode::unknown_part,
                          Severity::error,
                          {"x.toml", 23, 16, 6, "541 = \"F7.2 > C11.4  6mm2\""},
                          "no part 'C11'",
                          "did you mean 'C101'?"};
    CHECK(shown(problem) ==
          "x.toml:23:16: error: no part 'C11'\n"
          "  541 = \"F7.2 > C11.4  6mm2\"\n"
          "                 ^~~~~~\n"
          "  did you mean 'C101'?\n");
}

TEST_CASE("a problem of the file as a whole has no line and no caret") {
    const Problem problem{
        ProblemCode::unknown_part, Severity::error, {"gone.toml", 0, 0, 1, ""}, "cannot read this file", ""};
    CHECK(shown(problem) == "gone.toml: error: cannot read this file\n");
}

TEST_CASE("a tab before the place does not move the caret off it") {
    const Problem problem{ProblemCode::unknown_part, Severity::note, {"x.toml", 1, 3, 1, "\tab"}, "m", ""};
    CHECK(shown(problem) == "x.toml:1:3: note: m\n   ab\n    ^\n");
}

TEST_CASE("the caret counts characters, not bytes") {
    const Problem problem{ProblemCode::unknown_part, Severity::error, {"x.toml", 1, 4, 1, "90\xCE\xA9!"}, "m", ""};
    CHECK(shown(problem) == "x.toml:1:4: error: m\n  90\xCE\xA9!\n     ^\n");
}

TEST_CASE("a long line is cut around the place and still fits 44 columns") {
    const std::string line = std::string(200, 'a') + "WRONG" + std::string(300, 'b');
    const Problem problem{
        ProblemCode::unknown_part, Severity::warning, {"x.toml", 7, 201, 5, line}, "this is wrong", ""};
    const std::string text = shown(problem, 44);
    CHECK(widest_line(text) <= 44);
    const std::vector<std::string> lines = lines_of(text);
    const std::size_t caret = lines[2].find("^~~~~");
    REQUIRE(caret != std::string::npos);
    CHECK(lines[1].substr(caret, 5) == "WRONG");
}

TEST_CASE("problems are counted by severity") {
    const Problem error{ProblemCode::unknown_part, Severity::error, {}, "a", ""};
    const Problem note{ProblemCode::unknown_part, Severity::note, {}, "b", ""};
    CHECK(problem_counts({}) == "no problems");
    CHECK(problem_counts({error, note, error}) == "2 errors, 1 note");
}

TEST_CASE("mistakes of one kind are told once; one that wants another mend keeps its own suggestion") {
    const auto at = [](int line, const std::string& word, const std::string& suggestion) {
        return Problem{ProblemCode::unknown_word,
                       Severity::error,
                       {"x.toml", line, 1, static_cast<int>(word.size()), word},
                       "'" + word + "' is not known in the line of a fuse",
                       suggestion};
    };
    TextPage page({80});
    write_problems(page, {at(5, "maxy", "did you mean 'maxi'?"), at(6, "fed", "did you mean 'feed'?"),
                          at(7, "maksi", "did you mean 'maxi'?")});
    const std::string text = page.text();
    INFO(text);
    CHECK(text.find("the same in line 7 (maksi)\n") != std::string::npos);
    CHECK(text.find("also in line 6 (fed): did you mean 'feed'?") != std::string::npos);
}
