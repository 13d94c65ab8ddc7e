// A corpus of bad files, by kind: each is refused with status 3, on its line and on no other, and the message names
// the thing. The score by kind is printed.
#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <set>

#include "cli/views/json_document.hpp"
#include "netlists/text/problem_code.hpp"
#include "tests/cli/command_line.hpp"
#include "tests/files/bad_file.hpp"
#include "tests/support/catch.hpp"

using namespace voltfall;
using namespace voltfall::testing;

namespace {

constexpr int refused = 3;

bool is_code(std::string_view name) {
    const auto codes = problem_codes();
    return std::any_of(codes.begin(), codes.end(), [&](ProblemCode code) { return code_name(code) == name; });
}

/// What is wrong with how a file was refused; empty where nothing is.
std::string fault_of(const Said& said, int line, std::string_view told) {
    if (said.status != refused) return fmt::format("status {}", said.status);
    const Json answer = Json::parse(said.out);
    bool found = false;
    for (const Json& problem : answer.at("problems")) {
        if (problem.at("severity") != "error") continue;
        const std::string message = problem.at("message");
        if (!is_code(problem.at("code").get<std::string>())) return "a problem has no code of the table";
        if (problem.at("line") != line) return fmt::format("line {} is blamed: {}", problem.at("line").dump(), message);
        const std::string fix = problem.at("suggestion").is_null() ? "" : problem.at("suggestion").get<std::string>();
        found = found || message.find(told) != std::string::npos || fix.find(told) != std::string::npos;
    }
    return found ? "" : fmt::format("line {} is not blamed with '{}'", line, told);
}

Said said_of(const Bench& bench, const BadFile& row) {
    const std::string path = bench.write(row.file, changed_text(row.file, row.piece, row.typed));
    if (row.file != SoundFile::wire_list) return command_line({"check", path, "--format", "json"});
    // A wire list is read by `new`, which tells its problems as text.
    Said said = command_line({"new", "--from", path});
    return said;
}

/// A row of a wire list: the message names its line, and no circuit is written.
std::string fault_of_list(const Said& said, int line, std::string_view told) {
    if (said.status != refused) return fmt::format("status {}", said.status);
    if (!said.out.empty()) return "a circuit is written all the same";
    // Where a line is folded depends on the path before it.
    std::string all = said.out + said.err;
    std::replace(all.begin(), all.end(), '\n', ' ');
    all.erase(std::unique(all.begin(), all.end(), [](char a, char b) { return a == ' ' && b == ' '; }), all.end());
    if (all.find(told) == std::string::npos) return fmt::format("'{}' is not told: {}", told, all.substr(0, 300));
    const bool placed = all.find(fmt::format(":{}:", line)) != std::string::npos ||
                        all.find(fmt::format("line {}", line)) != std::string::npos;
    return placed ? "" : fmt::format("line {} is not told: {}", line, all.substr(0, 300));
}

void check_kind(std::string_view name, std::span<const BadFile> rows) {
    const Bench bench;
    std::size_t right = 0;
    for (const BadFile& row : rows) {
        const int line = line_of(row.file, row.piece) + row.lines_on;
        const Said said = said_of(bench, row);
        const std::string fault =
            row.file == SoundFile::wire_list ? fault_of_list(said, line, row.told) : fault_of(said, line, row.told);
        if (fault.empty()) ++right;
        INFO("'" << row.piece << "' as '" << row.typed << "'\n" << said.out << said.err);
        CHECK(fault == "");
    }
    fmt::print("{:<24} {:>4} of {:>4}\n", name, right, rows.size());
}

}  // namespace

TEST_CASE("the sound files of the corpus are sound") {
    const Bench bench;
    for (const SoundFile file : {SoundFile::circuit, SoundFile::job}) {
        const Said said = command_line({"check", bench.write(file, sound_text(file))});
        INFO(said.out << said.err);
        CHECK(said.status == 0);
    }
    const Said lesson =
        command_line({"teach", bench.write(SoundFile::lesson, sound_text(SoundFile::lesson)), "--handout"});
    INFO(lesson.err);
    CHECK(lesson.status == 0);
}

TEST_CASE("figures that cannot be are refused on their line") {
    check_kind("impossible figures", impossible_figures());
}
TEST_CASE("half a phrase is refused on its line") {
    check_kind("half phrases", half_phrases());
}
TEST_CASE("a wrong word of a closed set is refused on its line") {
    check_kind("wrong words", wrong_words());
}
TEST_CASE("characters that cannot be seen, controls and emoji are refused on their line") {
    check_kind("strange characters", strange_characters());
}
TEST_CASE("slips in a circuit are refused on their line") {
    check_kind("slips in circuits", slips_in_circuits());
}
TEST_CASE("slips in a job or a lesson are refused on their line") {
    check_kind("slips in jobs", slips_in_jobs());
}
TEST_CASE("slips in a wire list are told on their line") {
    check_kind("slips in lists", slips_in_lists());
}

TEST_CASE("slips in a reading are refused on its line") {
    check_kind("slips in states", slips_in_states());
}
TEST_CASE("slips in a lesson are refused on their line") {
    check_kind("slips in lessons", slips_in_lessons());
}
TEST_CASE("slips in electronics are refused on their line") {
    check_kind("slips in electronics", slips_in_electronics());
}

TEST_CASE("slips of the keyboard are refused on their line") {
    check_kind("slips of hands", slips_of_hands());
}
TEST_CASE("slips in how a line is written are refused on it") {
    check_kind("slips in lines", slips_in_lines());
}
TEST_CASE("slips in the line of a part are refused on it") {
    check_kind("slips in parts", slips_in_parts());
}

TEST_CASE("what is right in the same way passes") {
    const Bench bench;
    for (const GoodFile& row : good_files()) {
        const std::string path = bench.write(row.file, changed_text(row.file, row.piece, row.typed));
        const bool lesson = row.file == SoundFile::lesson;
        const Said said = lesson                             ? command_line({"teach", path, "--handout"})
                          : row.file == SoundFile::wire_list ? command_line({"new", "--from", path})
                                                             : command_line({"check", path});
        INFO(row.why << ": '" << row.typed << "'\n" << said.out << said.err);
        CHECK(said.status == 0);
    }
}

TEST_CASE("parts and wires as inline tables or with dotted keys are the same circuit") {
    const std::string headed =
        "format = 1\n[parts]\nB1 = \"battery 12.6V 8mohm\"\nF7 = \"fuse 40A maxi, feed 30\"\nL1 = \"lamp 21W\"\n"
        "[wires]\n1 = \"F7.2 > L1.1 1mm2 RD 1m\"\n2 = \"L1.2 > 31 1mm2 BK 1m\"\n";
    const std::string inlined =
        "format = 1\nparts = { B1 = \"battery 12.6V 8mohm\", F7 = \"fuse 40A maxi, feed 30\", L1 = \"lamp 21W\" }\n"
        "wires = { 1 = \"F7.2 > L1.1 1mm2 RD 1m\", 2 = \"L1.2 > 31 1mm2 BK 1m\" }\n";
    const std::string dotted =
        "format = 1\nparts.B1 = \"battery 12.6V 8mohm\"\nparts.F7 = \"fuse 40A maxi, feed 30\"\nparts.L1 = \"lamp "
        "21W\"\n"
        "wires.1 = \"F7.2 > L1.1 1mm2 RD 1m\"\nwires.2 = \"L1.2 > 31 1mm2 BK 1m\"\n";
    const Bench bench;
    const Said first = command_line({"whatif", bench.write("a.toml", headed), "--format", "json"});
    CHECK(first.status == 0);
    for (const std::string& same : {inlined, dotted}) {
        const Said said = command_line({"whatif", bench.write("a.toml", same), "--format", "json"});
        INFO(same << said.err);
        CHECK(said.out == first.out);
    }
    // A mistake in one of them stands where it was typed.
    const Said said = command_line(
        {"check",
         bench.write("a.toml", inlined.substr(0, inlined.find("21W")) + "0W" + inlined.substr(inlined.find("21W") + 3)),
         "--format", "json"});
    CHECK(Json::parse(said.out).at("problems").at(0).at("line") == 2);
}

TEST_CASE("a mistake in a table on one line or in a key with a point is told there and nowhere else") {
    const std::string parts =
        "parts = { B1 = \"battery 12.6V 8mohm\", F7 = \"fuse 40A maxi, feed 30\", L1 = \"lamp 21W\" }\n";
    const std::string wires = "wires = { 1 = \"F7.2 > L1.1 1mm2 RD 1m\", 2 = \"L1.2 > 31 1mm2 BK 1m\" }\n";
    const std::string dotted =
        "parts.B1 = \"battery 12.6V 8mohm\"\nparts.F7 = \"fuse 40A maxi, feed 30\"\nparts.L1 = \"lamp 21W\"\n"
        "wires.1 = \"F7.2 > L1.1 1mm2 RD 1m\"\nwires.2 = \"L1.2 > 31 1mm2 BK 1m\"\n";
    struct Row {
        std::string text;
        std::string_view piece;
        std::string_view typed;
        int line;
        std::string_view told;
    };
    const Bench bench;
    for (const Row& row :
         {Row{parts + wires, "L1 = \"lamp", "F7 = \"lamp", 2, "'F7' stands twice"},
          Row{parts + wires, "2 = \"L1", "1 = \"L1", 3, "'1' stands twice"},
          Row{parts + wires, "21W\" }", "21W\"", 2, "{ F7 ="}, Row{parts + wires, ", L1 =", "; L1 =", 2, "';'"},
          Row{parts + wires, "40A", "40V", 2, "'40V'"}, Row{parts + wires, "> L1.1", "L1.1", 3, ">"},
          Row{dotted, "wires.2", "wire.2", 6, "wires.2"}, Row{dotted, "parts.L1", "part.L1", 4, "parts.L1"},
          Row{dotted, "parts.L1 = \"lamp 21W\"", "parts.L1.kind = \"lamp\"", 4, "L1"}}) {
        std::string text = "format = 1\n" + row.text;
        text.replace(text.find(row.piece), row.piece.size(), row.typed);
        const Said said = command_line({"check", bench.write("a.toml", text), "--format", "json"});
        INFO(text << said.out);
        CHECK(fault_of(said, row.line, row.told) == "");
    }
}

TEST_CASE("an error in a text over several lines is told on its own line") {
    const std::string text =
        "format = 1\n[parts]\nB1 = \"battery 12.6V 8mohm\"\nF7 = \"fuse 40A maxi, feed 30\"\nL1 = \"lamp 21W\"\n"
        "[wires]\n1 = \"\"\"F7.2 > L1.1\n  1mm2 RD\n  9m9\"\"\"\n2 = \"\"\"L1.2 > 31 \\\n     1mm2 \\\n   12V\"\"\"\n";
    const Bench bench;
    const Said said = command_line({"check", bench.write("a.toml", text), "--format", "json"});
    const Json problems = Json::parse(said.out).at("problems");
    REQUIRE(problems.size() == 2);
    CHECK(problems.at(0).at("line") == 9);
    CHECK(problems.at(0).at("column") == 3);
    CHECK(problems.at(1).at("line") == 12);
    CHECK(problems.at(1).at("column") == 4);
}

TEST_CASE("several mistakes of one run are all told, each on its line") {
    const Bench bench;
    std::string text = sound_text(SoundFile::circuit);
    const auto exchange = [&](std::string_view from, std::string_view to) {
        text.replace(text.find(from), from.size(), to);
    };
    exchange("fuse 40A maxi, feed 30", "fuse 40 maxy, fed 30");
    exchange("breaker 30A resets", "breaker 0A reset");
    exchange("6mm2    RD     0.9m", "6mm    RD RD     0.9x");
    exchange("C101 = 25", "C109 = -25");
    const Said said = command_line({"check", bench.write("a.toml", text)});
    INFO(said.out);
    for (const char* thing : {"'40'", "'maxy'", "(fed)", "'0A'", "'reset'", "0.9x", "C109"}) {
        INFO(thing);
        CHECK(contains(said.out, thing));
    }
}

TEST_CASE("a thousand problems are told by the first of them and their number") {
    const Bench bench;
    std::string list = "[\"R1 burnt\"";
    for (int i = 0; i < 999; ++i) list += ", \"R1 burnt\"";
    const std::string text = changed_text(SoundFile::lesson, "[\"R1 limiter open\"]", list + "]");
    const Said said = command_line({"check", bench.write(SoundFile::lesson, text), "--format", "json"});
    CHECK(said.status == 3);
    const Json problems = Json::parse(said.out).at("problems");
    CHECK(problems.size() == Problems::most_kept + 1);
    bool counted = false;
    for (const Json& problem : problems)
        counted |= problem.at("code") == "more-problems" && problem.at("message") == "and 800 more";
    CHECK(counted);
}

TEST_CASE("a circuit of many switches and loads is checked in a moment, and in little memory") {
    const Bench bench;
    std::string parts = "format = 1\n[parts]\nB1 = \"battery 12.6V 8mohm\"\nF1 = \"fuse 10A mini, feed 30\"\n";
    std::string wires = "[wires]\n";
    for (int i = 0; i < 900; ++i) {
        parts += fmt::format("S{0} = \"switch C: off on=1\"\nL{0} = \"lamp 21W\"\n", i);
        wires += fmt::format(
            "a{0} = \"F1.2 > S{0}.C 1mm2 1m\"\nc{0} = \"S{0}.1 > L{0}.1 1mm2 1m\"\nd{0} = \"L{0}.2 > 31 1mm2 1m\"\n",
            i);
    }
    const auto begun = std::chrono::steady_clock::now();
    CHECK(command_line({"check", bench.write("a.toml", parts + wires)}).status == 0);
    // It took half a minute. Ten seconds is what a loaded machine under a sanitizer may need for what takes one.
    CHECK(std::chrono::steady_clock::now() - begun < std::chrono::seconds(10));
}

TEST_CASE("what is beyond any file that is typed is refused by its stated limit") {
    const Bench bench;
    const auto refusal = [&](SoundFile file, std::string_view piece, const std::string& typed) {
        const Said said =
            command_line({"check", bench.write(file, changed_text(file, piece, typed)), "--format", "json"});
        CHECK(said.status == 3);
        CHECK(said.out.size() < 20000);
        return said.out;
    };
    const std::string million(1'000'000, '1');
    std::string arrows;
    for (int i = 0; i < 300'000; ++i) arrows += "> ";
    std::string splices;
    for (int i = 0; i < 3000; ++i) splices += fmt::format("SP{} = \"splice\"\n", i + 10);
    CHECK(contains(refusal(SoundFile::circuit, "fuse 40A", "fuse " + million + "A"), "at most"));
    CHECK(contains(refusal(SoundFile::circuit, "F7.2 > C101.4", "F7.2 " + arrows + "C101.4"), "at most"));
    CHECK(contains(refusal(SoundFile::circuit, "F7.2 > C101.4", "F7.2 " + arrows.substr(0, 30000) + "C101.4"),
                   "at most"));
    std::string tools;
    for (int i = 0; i < 20'000; ++i) tools += "\"meter\", ";
    CHECK(contains(refusal(SoundFile::job, "\"lamp 21W\"", tools + "\"lamp 21W\""), "at most 100 are read"));
    CHECK(contains(refusal(SoundFile::circuit, "[plugs]", splices + "[plugs]"), "at most 2000 are read"));
    CHECK(contains(refusal(SoundFile::circuit, "SP2  =", std::string(10'000, 'S') + " ="), "at most"));
    CHECK(contains(refusal(SoundFile::circuit, "SP2  =", std::string(100, 'S') + " ="), "at most 60 are read"));
    CHECK(contains(refusal(SoundFile::circuit, "[plugs]", std::string(60'000, '\n') + "[plugs]"), "50000 are read"));
    std::string care;
    for (int i = 0; i < 7000; ++i) care += fmt::format("Q{} = \"hot\"\n", i);
    CHECK(contains(refusal(SoundFile::circuit, "[care]", "[care]\n" + care), "6000 are read"));
    CHECK(contains(refusal(SoundFile::job, "S1=hi M1.1", million + "M1.1"), "at most"));
    CHECK(contains(refusal(SoundFile::job, "[readings]", std::string(3'000, '[') + "readings]"), "readings"));
}

TEST_CASE("every code of a problem stands at some place that makes one") {
    std::string sources;
    for (const char* room : {"netlists", "engine"}) {
        for (const auto& entry :
             std::filesystem::recursive_directory_iterator(std::filesystem::path(PROJECT_DIR) / room)) {
            if (entry.path().extension() != ".cpp") continue;
            std::ifstream stream(entry.path());
            sources.append(std::istreambuf_iterator<char>(stream), {});
        }
    }
    std::set<std::string_view> names;
    for (const ProblemCode code : problem_codes()) {
        std::string name(code_name(code));
        CHECK(names.insert(code_name(code)).second);
        std::replace(name.begin(), name.end(), '-', '_');
        if (name == "not_utf_8") name = "not_utf8";
        INFO(name);
        CHECK(sources.find("ProblemCode::" + name) != std::string::npos);
    }
}
