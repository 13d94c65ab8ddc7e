// Reading TOML as technicians type it: located problems, and what could be read.
#include <algorithm>
#include <string>

#include "netlists/files/toml_file.hpp"
#include "tests/support/catch.hpp"

using namespace voltfall;

namespace {

struct Read {
    TomlFile file;
    Problems problems;
};

Read read(std::string_view text) {
    Read result;
    result.file = read_toml_text(text, "x.toml", result.problems);
    return result;
}

const Problem& only_problem(const Read& result) {
    for (const Problem& problem : result.problems.list())
        UNSCOPED_INFO(problem.place.line << ":" << problem.place.column << " " << problem.message);
    REQUIRE(result.problems.list().size() == 1);
    return result.problems.list().front();
}

std::string text_at(const Read& result, std::string_view section, std::string_view key) {
    const TomlSection* found = result.file.find(section);
    REQUIRE(found);
    const TomlEntry* entry = found->find(key);
    REQUIRE(entry);
    return entry->text().text;
}

/// What stands at a place in the typed line.
std::string typed_at(const SourcePlace& place) {
    return place.text.str().substr(static_cast<std::size_t>(place.column - 1), static_cast<std::size_t>(place.length));
}

}  // namespace

TEST_CASE("sections and entries keep the order in which they were written") {
    const Read result = read("format = 1\n[wires]\nz = \"1\"\na = \"2\"\n[parts]\nm = \"3\"\nb = \"4\"\n");
    REQUIRE(result.problems.empty());
    REQUIRE(result.file.sections.size() == 3);
    CHECK(result.file.sections[0].name.empty());
    CHECK(result.file.sections[1].name == "wires");
    CHECK(result.file.sections[2].name == "parts");
    CHECK(result.file.sections[1].entries[0].key == "z");
    CHECK(result.file.sections[1].entries[1].key == "a");
    CHECK(result.file.sections[2].entries[0].key == "m");
}

TEST_CASE("values know the place of their first character inside the quotes") {
    const Read result = read("[parts]\n  F7   = \"fuse 40A\"   # note\n");
    const TomlEntry& entry = result.file.sections[1].entries[0];
    CHECK(entry.key_place.line == 2);
    CHECK(typed_at(entry.key_place) == "F7");
    CHECK(entry.value.place.line == 2);
    CHECK(typed_at(entry.value.place) == "fuse 40A");
    CHECK(entry.value.place.text == "  F7   = \"fuse 40A\"   # note");
}

TEST_CASE("bare keys with signs of a technician's name are one key and keep their columns") {
    const Read result = read(
        "[x]\nhi.amps = \"a\"\nC101.4@541 = \"b\"\n  801:1 = \"c\"\nA/C = \"d\"\nB1+ = \"e\"\nC101 = \"f\"\nC101.4 = "
        "\"g\"\n\"S.1\" = \"h\"\n");
    REQUIRE(result.problems.empty());
    const auto& entries = result.file.sections[1].entries;
    REQUIRE(entries.size() == 8);
    const std::vector<std::string> keys{"hi.amps", "C101.4@541", "801:1", "A/C", "B1+", "C101", "C101.4", "S.1"};
    for (std::size_t i = 0; i < keys.size(); ++i) {
        CHECK(entries[i].key == keys[i]);
        CHECK(entries[i].key_place.line == static_cast<int>(i) + 2);
        CHECK(entries[i].value.place.length == 1);
        CHECK(typed_at(entries[i].value.place) == entries[i].text().text);
        if (i < 7) CHECK(typed_at(entries[i].key_place) == keys[i]);
    }
}

TEST_CASE("columns count characters, not bytes") {
    const Read result = read("[x]\nk = \"8mΩ\" \nü = \"µ°\" zz\n");
    const Problem& problem = only_problem(result);
    CHECK(problem.place.line == 3);
    CHECK(problem.place.column == 10);
    CHECK(problem.message == "'zz' stands behind the closing quotes");
    CHECK(result.file.sections[1].entries[0].value.place.length == 3);
}

TEST_CASE("numbers, lists and booleans are kept as they are") {
    const Read result =
        read("format = 1\nr = 2.5\nb = true\nl = [\"a\", \"b c\"]\nm = [\n  \"d\",  # first\n  \"e\",\n]\n");
    REQUIRE(result.problems.empty());
    const TomlSection& top = result.file.sections[0];
    CHECK(std::get<long long>(top.find("format")->value.value) == 1);
    CHECK(std::get<double>(top.find("r")->value.value) == 2.5);
    CHECK(std::get<bool>(top.find("b")->value.value));
    const auto& list = std::get<TextList>(top.find("l")->value.value);
    REQUIRE(list.size() == 2);
    CHECK(list[1].text == "b c");
    CHECK(typed_at(list[1].place) == "b c");
    const auto& lines = std::get<TextList>(top.find("m")->value.value);
    REQUIRE(lines.size() == 2);
    CHECK(lines[1].place.line == 7);
}

TEST_CASE("an unclosed quote is one problem, and its text is read") {
    const Read result = read("[parts]\nF7 = \"fuse 40A maxi\nF8 = \"fuse 10A\"\n");
    const Problem& problem = only_problem(result);
    CHECK(problem.place.line == 2);
    CHECK(problem.place.column == 6);
    CHECK(problem.message == "the quotes of 'F7' are not closed");
    CHECK(problem.suggestion == "close the quotes");
    CHECK(text_at(result, "parts", "F7") == "fuse 40A maxi");
    CHECK(text_at(result, "parts", "F8") == "fuse 10A");
}

TEST_CASE("a text without quotes is one problem, and its text is read") {
    const Read result = read("[parts]\nF7 = fuse 40A maxi  # the big one\nF8 = \"fuse 10A\"\n");
    const Problem& problem = only_problem(result);
    CHECK(problem.place.column == 6);
    CHECK(problem.suggestion == "texts stand in double quotes: F7 = \"fuse 40A maxi\"");
    CHECK(text_at(result, "parts", "F7") == "fuse 40A maxi");
}

TEST_CASE("a line without an equals sign is one problem") {
    const Read result = read("[parts]\nF7 \"fuse 40A\"\nhello\nF8 = \"fuse 10A\"\n");
    REQUIRE(result.problems.list().size() == 2);
    CHECK(result.problems.list()[0].message == "expected '=' behind 'F7'");
    CHECK(result.problems.list()[1].message == "expected '=' behind 'hello'");
    CHECK(text_at(result, "parts", "F7") == "fuse 40A");
    CHECK(result.file.find("parts")->lost == std::vector<std::string>{"hello"});
}

TEST_CASE("every syntax error of a file is reported in one run and the rest is read") {
    const Read result = read(
        "format = 1\n[parts\nA = \"a\nB = b\nC \"c\"\nD = \nE = [\"e\" \"f\"]\nF = \"ok\"\n[wires]\nG = \"ok\"\n= "
        "\"x\"\n");
    std::vector<int> lines;
    for (const Problem& problem : result.problems.list()) lines.push_back(problem.place.line);
    std::sort(lines.begin(), lines.end());
    CHECK(lines == std::vector<int>{2, 3, 4, 5, 6, 7, 11});
    CHECK(text_at(result, "parts", "A") == "a");
    CHECK(text_at(result, "parts", "F") == "ok");
    CHECK(text_at(result, "wires", "G") == "ok");
    for (const Problem& problem : result.problems.list()) {
        CHECK_FALSE(problem.message.empty());
        CHECK_FALSE(problem.suggestion.empty());
        CHECK((problem.message[0] < 'A' || problem.message[0] > 'Z'));
    }
}

TEST_CASE("an unclosed list does not swallow the lines after it") {
    const Read result = read("[together]\nR1 = [\"a\", \"b\"\nF7 = [\"c\"]\n[closed]\nM1 = \"sealed\"\n");
    const Problem& problem = only_problem(result);
    CHECK(problem.place.line == 2);
    CHECK(problem.message == "the list 'R1' is not closed");
    CHECK(result.file.find("together")->find("F7"));
    CHECK(text_at(result, "closed", "M1") == "sealed");
}

TEST_CASE("an unclosed text of three quotes does not swallow the file") {
    const Read result = read("name = \"\"\"cab\nformat = 1\n[parts]\nF7 = \"fuse 40A\"\n");
    const Problem& problem = only_problem(result);
    CHECK(problem.place.line == 1);
    CHECK(text_at(result, "parts", "F7") == "fuse 40A");
}

TEST_CASE("a text over several lines is one text") {
    const Read result = read("note = \"\"\"\nfirst\n[parts] = second\"\"\"\nname = '''x'''\n");
    REQUIRE(result.problems.empty());
    CHECK(text_at(result, "", "note") == "first [parts] = second");
    CHECK(text_at(result, "", "name") == "x");
    CHECK(result.file.sections[0].find("note")->value.place.line == 2);
}

TEST_CASE("a key that stands twice names the line of the first") {
    const Read result = read("[wires]\n541 = \"a\"\n542 = \"b\"\n541 = \"c\"\n");
    const Problem& problem = only_problem(result);
    CHECK(problem.place.line == 4);
    CHECK(problem.place.column == 1);
    CHECK(problem.place.length == 3);
    CHECK(problem.message == "'541' stands twice; the first is in line 2");
    CHECK(problem.suggestion == "give one of them another name, such as '541b'");
    // The same line typed twice is one too many, and no other thing.
    const Read same = read("[wires]\n541 = \"a\"\n542 = \"b\"\n  541 = \"a\"\n");
    CHECK(only_problem(same).suggestion == "take one of them out");
    CHECK(text_at(result, "wires", "541") == "a");
}

TEST_CASE("a section that stands twice is a problem, and both are read") {
    const Read result = read("[wires]\na = \"1\"\n[parts]\nb = \"2\"\n[wires]\nc = \"3\"\n");
    const Problem& problem = only_problem(result);
    CHECK(problem.place.line == 5);
    CHECK(problem.message == "section [wires] stands twice; the first is in line 1");
    CHECK(text_at(result, "wires", "c") == "3");
    CHECK(result.file.sections.size() == 3);
}

TEST_CASE("characters of phone keyboards are named where TOML takes none of them") {
    SECTION("curly quotes around a text") {
        const Read result = read("[parts]\nF7 = “fuse 40A”\n");
        const Problem& problem = only_problem(result);
        CHECK(problem.place.column == 6);
        CHECK(problem.message == "a curly quote '“' (U+201C) is not read here");
        CHECK(problem.suggestion == "type a plain \" instead");
        CHECK(text_at(result, "parts", "F7") == "fuse 40A");
    }
    SECTION("a curly quote at the end only") {
        const Read result = read("[parts]\nF7 = \"fuse 40A”\n");
        CHECK(only_problem(result).place.column == 15);
        CHECK(text_at(result, "parts", "F7") == "fuse 40A");
    }
    SECTION("a no-break space before the equals sign") {
        const Read result = read("[parts]\nF7\u00A0= \"fuse 40A\"\n");
        const Problem& problem = only_problem(result);
        CHECK(problem.place.column == 3);
        CHECK(problem.message.find("no-break space") != std::string::npos);
        CHECK(text_at(result, "parts", "F7") == "fuse 40A");
    }
    SECTION("a dash in a key") {
        const Read result = read("[parts]\nF–7 = \"fuse 40A\"\n");
        CHECK(only_problem(result).message.find("en dash") != std::string::npos);
        CHECK(text_at(result, "parts", "F-7") == "fuse 40A");
    }
    SECTION("inside a text and in a note they are left alone") {
        const Read result = read("[care]\nM1 = \"under – the “cowl”\" # – note “\n");
        CHECK(result.problems.empty());
        CHECK(text_at(result, "care", "M1") == "under – the “cowl”");
    }
}

TEST_CASE("a file of zeros is one clear problem") {
    const Read result = read(std::string(100000, '\0'));
    CHECK(only_problem(result).message.find("not a text file") != std::string::npos);
    CHECK(result.file.sections.empty());
}

TEST_CASE("a byte that is no UTF-8 is located, and the rest is read") {
    const Read result = read(
        "[parts]\nF7 = \"fuse 40A\"\nR1 = \"limit 121\xB0"
        "C \xB0\"\n");
    const Problem& problem = only_problem(result);
    CHECK(problem.place.line == 3);
    CHECK(problem.place.column == 16);
    CHECK(problem.message == "byte 0xB0 is not UTF-8 text, and 1 more");
    CHECK(text_at(result, "parts", "F7") == "fuse 40A");
}

TEST_CASE("a file of rubbish bytes is one problem") {
    std::string rubbish;
    for (int i = 0; i < 5000; ++i) rubbish += static_cast<char>(128 + i % 100);
    const Read result = read(rubbish);
    only_problem(result);
    CHECK(result.file.sections.empty());
}

TEST_CASE("control characters are located") {
    const Read result = read("[parts]\nF7 = \"fuse\x07 40A\"\n");
    const Problem& problem = only_problem(result);
    CHECK(problem.place.line == 2);
    CHECK(problem.place.column == 11);
    CHECK(problem.message == "control character U+0007");
    CHECK(text_at(result, "parts", "F7") == "fuse  40A");
}

TEST_CASE("byte order mark and line ends of other systems are no problem") {
    const Read result = read(
        "\xEF\xBB\xBF"
        "format = 1\r\n[parts]\r\nF7 = \"fuse 40A\"\r\n");
    CHECK(result.problems.empty());
    CHECK(text_at(result, "parts", "F7") == "fuse 40A");
    CHECK(result.file.sections[0].entries[0].key_place.column == 1);
}

TEST_CASE("deep nesting is refused before it is parsed") {
    const Read result = read("[x]\na = " + std::string(100000, '[') + "\nb = \"ok\"\n");
    CHECK(only_problem(result).message.find("nested 100000 deep") != std::string::npos);
    CHECK(text_at(result, "x", "b") == "ok");
}

TEST_CASE("a file that is too large is refused") {
    const Read result = read(std::string(largest_file_bytes + 1, '#'));
    CHECK(only_problem(result).place.line == 0);
    CHECK(result.file.sections.empty());
}

TEST_CASE("a missing file and a folder are problems") {
    for (const char* path : {"/no/such/file.toml", "/"}) {
        Problems problems;
        CHECK(read_toml_file(path, problems).sections.empty());
        REQUIRE(problems.list().size() == 1);
        CHECK(problems.list()[0].message == "cannot read '" + std::string(path) + "'");
    }
}

TEST_CASE("dates, tables and lists of other things are problems of their own") {
    const Read result = read("[x]\na = 2024-01-01\nb = {c = 1}\nd = [\"e\", 2]\nf = \"ok\"\n[[y]]\ng = \"z\"\n");
    std::vector<int> lines;
    for (const Problem& problem : result.problems.list()) lines.push_back(problem.place.line);
    std::sort(lines.begin(), lines.end());
    CHECK(lines == std::vector<int>{2, 3, 4, 6});
    CHECK(text_at(result, "x", "f") == "ok");
    CHECK(text_at(result, "y", "g") == "z");
}

TEST_CASE("thousands of bad lines end in a bounded list of problems") {
    std::string text = "[parts]\n";
    for (int i = 0; i < 5000; ++i) text += "x" + std::to_string(i) + " = ] bad [\n";
    const Read result = read(text);
    CHECK(result.problems.has_errors());
    CHECK(result.problems.list().size() <= Problems::most_kept);
    CHECK(result.problems.told().size() <= Problems::most_kept + 1);
}

TEST_CASE("thousands of doubled keys end in a bounded list of problems") {
    std::string text = "[parts]\n";
    for (int i = 0; i < 5000; ++i) text += "F7 = \"fuse 40A\"\n";
    const Read result = read(text);
    CHECK(result.problems.list().size() == Problems::most_kept);
    CHECK(result.problems.told().back().message.find(" more") != std::string::npos);
    CHECK(text_at(result, "parts", "F7") == "fuse 40A");
}
