// What people type wrong in a circuit: located, named, all of it in one run, and never a crash.
#include <set>
#include <string>
#include <vector>

#include "netlists/text/problem_code.hpp"
#include "tests/netlists/circuit_texts.hpp"

using namespace voltfall;

TEST_CASE("five mistakes are five located problems in one run") {
    std::string text = example_text();
    text = replaced(text, "fuse 40A maxi, feed 30", "fuse 40 maxi, feed 30");
    text = replaced(text, "\"relay 40A, coil 90ohm\"", "relay 40A, coil 90ohm");
    text = replaced(text, "C101.4     6mm2    RD     0.9m", "C102.4     6mm2    RD     0.9m");
    text = replaced(text, "R1.1 > S1.1", "R1.5 > S1.1");
    text = replaced(text, "[care]\n542 ", "[care]\n543 ");
    const CircuitReading reading = read_circuit_text(text, "bad.toml");
    show(reading.problems);
    CHECK_FALSE(reading.circuit);
    REQUIRE(reading.problems.list().size() == 5);
    std::set<int> lines;
    for (const Problem& problem : reading.problems.list()) {
        CHECK(problem.place.file == "bad.toml");
        CHECK(problem.place.line > 0);
        CHECK(problem.place.column > 0);
        CHECK_FALSE(problem.suggestion.empty());
        lines.insert(problem.place.line);
    }
    CHECK(lines.size() == 5);
}

TEST_CASE("a line that cannot be read makes no further problems where its name is used") {
    CHECK(error_messages(replaced(example_text(), "\"motor 20A", "\"moter 20A")).size() == 1);
    CHECK(error_messages(replaced(example_text(), "F7   = \"fuse", "F7   \"fuse")).size() == 1);
    CHECK(error_messages(replaced(example_text(), "lo=1 ml=2", "=1 ml=2")).size() == 1);
    CHECK(error_messages(replaced(example_text(), "542  = \"C101.4 > M1.1     6mm2", "542  = \"C101.4 > M1.1     6"))
              .size() == 1);
}

TEST_CASE("a wire without a length is a metre and a warning, a colour unknown is a note") {
    const CircuitReading reading = read_circuit_text(
        small("M1 = \"motor 20A\"", "1 = \"F7.2 > M1.1 6mm2 QQ\"\n2 = \"M1.2 > 31 6mm2 1m\""), "x.toml");
    show(reading.problems);
    REQUIRE(reading.circuit);
    REQUIRE(reading.problems.list().size() == 2);
    CHECK(reading.problems.list()[0].severity == Severity::warning);
    CHECK(reading.problems.list()[0].message == "wire '1' has no length; ~1m is taken");
    CHECK(reading.problems.list()[1].severity == Severity::note);
    CHECK(reading.circuit->wires[0].length.value == 1);
    CHECK(reading.circuit->wires[0].length.guessed);
}

TEST_CASE("what people type wrong in a wire is located and named") {
    const std::string parts =
        "M1 = \"motor 20A\"\nR1 = \"pack 1 1.2ohm 2 0.7ohm 3\"\nSP1 = \"splice\"\nC101 = \"connector 8 way\"";
    const std::string good = "\n99 = \"F7.2 > M1.1 6mm2 1m\"\n";
    struct Case {
        std::string line;
        std::string under;
        std::string message;
    };
    const std::vector<Case> cases{
        {"1 = \"F7.2 > R1.5 6mm2 1m\"", "R1.5", "R1 has taps 1 2 3, not 5"},
        {"1 = \"F7.2 > X1.5 6mm2 1m\"", "X1.5", "no part is called 'X1'"},
        {"1 = \"F7.2 > F7.2 6mm2 1m\"", "F7.2", "wire '1' ends where it begins"},
        {"1 = \"SP1 > SP1.2 6mm2 1m\"", "SP1.2", "wire '1' ends where it begins"},
        {"1 = \"F7.2 > M1 6mm2 1m\"", "M1", "'M1' needs a terminal"},
        {"1 = \"F7.2 > C101 6mm2 1m\"", "C101", "'C101' needs a cavity"},
        {"1 = \"F7.2 > C101.9 6mm2 1m\"", "C101.9", "C101 has 8 cavities, not 9"},
        {"1 = \"F7.2 M1.1 6mm2 1m\"", "M1.1", "expected > between the ends of wire '1', found 'M1.1'"},
        {"1 = \"F7.2 to M1.1 6mm2 1m\"", "to", "expected > between the ends of wire '1', found 'to'"},
        {"1 = \"F7.2 > M1.1 RD 1m\"", "1", "wire '1' has no size"},
        {"1 = \"F7.2 > M1.1 6mm 1m\"", "6mm", "'6mm' is a length; wire '1' has no size"},
        {"1 = \"F7.2 > M1.1 6 1m\"", "6", "'6' has no unit"},
        {"1 = \"F7.2 > M1.1 6mm2 1m 2m\"", "1", "wire '1' has 2 lengths for 1 piece: 1m 2m"},
        {"1 = \"F7.2 >\"", "", "no wire end behind '>'"},
        {"1 = 'F7.2 > M1.1 \"\" 6mm2 1m'", "\"\"", "an empty text in wire '1'"},
        {"1 = 12", "12", "'1' is the number 12; expected a text in double quotes"},
        {"F7 = \"F7.2 > M1.1 6mm2 1m\"", "F7", "'F7' is the name of a wire and of a part"},
        {"a+b = \"F7.2 > M1.1 6mm2 1m\"", "a+b", "'a+b' is no name of a wire: letters, digits, _ - / only"},
    };
    for (const Case& wrong : cases) {
        INFO(wrong.line);
        const std::string text = small(parts, wrong.line + good);
        if (wrong.message == "no wire end behind '>'") {
            CHECK(error_messages(text).front() == wrong.message);
            continue;
        }
        CHECK(only_error(text, wrong.under).message == wrong.message);
    }
}

TEST_CASE("a figure or a word of a wire that cannot be is located and named") {
    const std::string good = "\n99 = \"M1.2 > 31 6mm2 1m\"\n";
    struct Case {
        std::string behind;  ///< what stands behind the ends
        std::string under;
        std::string message;
        std::string suggestion;
    };
    const std::vector<Case> cases{
        {"6mm2 1e-20m", "1e-20m", "'1e-20m' cannot be the length of a wire; expected 0.001m to 500m", "0.9m"},
        {"6mm2 -1m", "-1m", "'-1m' must not be below zero", "write 1m"},
        {"6mm2 0m", "0m", "'0m' must be more than zero", "0.9m"},
        {"6mm2 1n", "1n", "'1n' is no figure: 'n' is no unit", "did you mean 1in?"},
        {"6mm2 0,9", "0,9", "'0,9' has no unit", "0,9m"},
        {"1e-9mm2 1m", "1e-9mm2", "'1e-9mm2' cannot be the area of a wire; expected 0.005mm2 to 500mm2", "2.5mm2"},
        {"60AWG 1m", "60AWG", "'60AWG' is no wire gauge", "0000AWG to 40AWG"},
        {"6mm2 1m 150%", "150%", "'150%' cannot be the tolerance; expected 0% to 100%", "10%"},
        {"6mm2 1m x99", "x99", "'x99' cannot be the count in parallel of a wire; expected 1 to 20", "x2"},
        {"6mm2 RD 1m shielded", "shielded", "'shielded' is one word too many in wire '1'", "behind #"},
        {"6mm2 RD BK 1m", "BK", "'BK' is one word too many in wire '1'", "RD/BK"},
        {"6mm2 RD 1m FLRX", "FLRX", "'FLRX' is one word too many in wire '1'", "did you mean 'FLRY'?"},
        {"6mm2 RD 1m bundel 6", "bundel", "'bundel' is not known in wire '1'", "did you mean 'bundle'?"},
    };
    for (const Case& wrong : cases) {
        INFO(wrong.behind);
        const std::string line = "1 = \"F7.2 > M1.1 " + wrong.behind + "\"";
        const Problem problem = only_error(small("M1 = \"motor 20A\"", line + good), wrong.under);
        CHECK(problem.message == wrong.message);
        CHECK(problem.suggestion.find(wrong.suggestion) != std::string::npos);
    }
    const auto shaded = read_good(small("M1 = \"motor 20A\"", "1 = \"F7.2 > M1.1 6mm2 LT GN 1m FLRY-B\"" + good));
    CHECK(shaded->wires[0].colour == "LT GN");
    CHECK(shaded->wires[0].class_celsius == 105);
}

TEST_CASE("names that look like figures or end in a zero are names") {
    for (const std::string name : {"SP0", "G0", "10A", "30a", "x2", "bundle"}) {
        INFO(name);
        const auto circuit = read_good(small(
            "M1 = \"motor 20A\"\n" + name + " = \"splice\"",
            "1 = \"F7.2 > " + name + " 6mm2 1m\"\n2 = \"" + name + " > M1.1 6mm2 1m\"\n3 = \"M1.2 > 31 6mm2 1m\""));
        CHECK(circuit->wires.size() == 3);
    }
}

TEST_CASE("figures of limits, reach and strip-down that cannot be are refused") {
    const std::string good = small("M1 = \"motor 20A\"\nS1 = \"switch C: off hi=1\"",
                                   "1 = \"F7.2 > S1.C 6mm2 1m\"\n2 = \"S1.1 > M1.1 6mm2 1m\"\n"
                                   "3 = \"M1.2 > 31 6mm2 1m\"");
    const auto message = [&](const std::string& section, const std::string& line, const std::string& under) {
        return only_error(good + "[" + section + "]\n" + line + "\n", under).message;
    };
    CHECK(message("limits", "M1 = \"-300C\"", "-300C") ==
          "'-300C' cannot be the temperature of a limit; expected -60C to 1200C");
    CHECK(message("limits", "feed = \"1e20V\"", "1e20V") ==
          "'1e20V' cannot be the volts of a limit; expected 0V to 100V");
    CHECK(message("limits", "ground = \"-0.1V\"", "-0.1V") == "'-0.1V' must not be below zero");
    CHECK(message("limits", "hi.amps = \"18-21A @0V\"", "@0V") == "'@0V' must be more than zero");
    CHECK(message("limits", "hi.amps = \"18-21A @\"", "18-21A @") == "'18-21A @' is no limit of 'hi.amps', expected A");
    CHECK(message("reach", "M1 = 1e300", "1e300").find("expected 0s to 10000min") != std::string::npos);
    CHECK(message("reach", "M1 = -5", "-5") == "'-5' must not be below zero");
    CHECK(message("strip", "box = \"1e9min: M1\"", "1e9min: M1").find("expected 0s to 10000min") != std::string::npos);
}

TEST_CASE("a table of colours is named as it is, a near miss is an error, another table is a note") {
    const std::string good = small("M1 = \"motor 20A\"", "99 = \"F7.2 > M1.1 6mm2 1m\"");
    const auto with = [&](const std::string& name) {
        return replaced(good, "format = 1", "format = 1\ncolours = \"" + name + "\"");
    };
    CHECK(only_error(with("iecc"), "iecc").message == "no colour table is called 'iecc'");
    CHECK(only_error(with("IEC 60575")).suggestion == "did you mean 'IEC 60757'?");
    CHECK(only_error(with("germna"), "germna").suggestion == "did you mean 'german'?");
    CHECK(only_error(with("")).suggestion == "tables are IEC 60757, german, japanese, british, american, swedish");
    read_good(with("iec 60757"));
    read_good(with("maker's own"));
}

TEST_CASE("letters of a colour that published tables read differently are an error with the choices") {
    const auto with = [&](const std::string& letters) {
        return small("M1 = \"motor 20A\"", "99 = \"F7.2 > M1.1 6mm2 " + letters + " 1m\"");
    };
    const Problem grey = only_error(with("GR/BK"), "GR/BK");
    CHECK(grey.code == ProblemCode::two_meanings);
    CHECK(grey.message == "colour 'GR' is grey (german, japanese, swedish) or green (american)");
    CHECK(grey.suggestion == "write GY or GN, or above [parts] the table of the diagram: colours = \"german\"");
    CHECK(only_error(with("SB"), "SB").message == "colour 'SB' is sky blue (japanese) or black (swedish)");
    CHECK(only_error(with("P"), "P").message == "colour 'P' is pink (japanese, swedish) or purple (british, american)");
    const auto words = [&](const std::string& table, const std::string& letters) {
        const std::string text = small("M1 = \"motor 20A\"", "99 = \"F7.2 > M1.1 6mm2 " + letters + " 1m\"");
        const auto circuit = read_good(replaced(text, "format = 1", "format = 1\ncolours = \"" + table + "\""));
        CHECK(circuit->wires[0].colour == letters);
        return circuit->wires[0].colour_words;
    };
    CHECK(words("german", "GR/BK") == "grey with black");
    CHECK(words("american", "GR/BK") == "green with black");
    CHECK(words("IEC 60757", "RD/BK") == "red with black");
    // With a table that is not known the letters may mean anything: one mistake is told once.
    const std::string misspelt = replaced(small("M1 = \"motor 20A\"", "99 = \"F7.2 > M1.1 6mm2 GR 1m\""), "format = 1",
                                          "format = 1\ncolours = \"germna\"");
    only_error(misspelt, "germna");
    CHECK(words("maker's own", "GR") == "");
}

TEST_CASE("what people type wrong in parts and plugs is located and named") {
    const std::string wire = "99 = \"F7.2 > M1.1 6mm2 1m\"";
    const std::string motor = "M1 = \"motor 20A\"\n";
    CHECK(only_error(small(motor + "X1 = \"moter 20A\"", wire), "moter").suggestion == "did you mean 'motor'?");
    CHECK(only_error(small(motor + "X1 = \"zenner 24V\"", wire), "zenner").suggestion == "did you mean 'zener'?");
    CHECK(only_error(small(motor + "m1 = \"motor 10A\"", wire), "m1").message ==
          "part 'm1' stands twice; the first is in line 5");
    CHECK(only_error(small(motor + "X*1 = \"motor 10A\"", wire), "X*1").message ==
          "'X*1' is no name of a part: letters, digits, _ - / only");
    CHECK(only_error(small(motor + "30 = \"motor 10A\"", wire), "30").message ==
          "a part cannot be called '30', a word of the supply");
    CHECK(only_error(small(motor, wire, "[plugs]\nM2 = \"C1\""), "M2").message == "no part is called 'M2'");
    CHECK(only_error(small(motor + "C1 = \"connector\"", wire, "[plugs]\nM1 = \"C1\""), "C1").message ==
          "'C1' is a part already; the plug at 'M1' needs no line in [parts]");
    CHECK(only_error(small(motor, wire, "[plugs]\nM1 = \"C1\"\nF7 = \"C1\""), "C1").message ==
          "plug 'C1' is at 'M1' already");
}

TEST_CASE("what people type wrong around the sections is located and named") {
    const std::string good = small("M1 = \"motor 20A\"", "99 = \"F7.2 > M1.1 6mm2 1m\"");
    CHECK(only_error(replaced(good, "format = 1", "name = \"x\"")).message == "the file does not say its format");
    CHECK(only_error(replaced(good, "format = 1", "format = 2"), "2").message ==
          "format is the number 2; this version reads format 1");
    CHECK(only_error(replaced(good, "format = 1", "name = \"x\"\nformat = 1"), "format").message ==
          "format is not the first key");
    CHECK(only_error(replaced(good, "format = 1", "format = 1\nnaem = \"x\""), "naem").suggestion ==
          "did you mean 'name'?");
    CHECK(only_error(replaced(good, "format = 1", "format = 1\nsupply = \"48V\""), "48V").message ==
          "supply is '48V'; expected 12V or 24V");
    CHECK(only_error(good + "[limts]\n").suggestion == "did you mean 'limits'?");
    CHECK(only_error(good + "[reach]\nM3 = 5\n", "M3").message == "no part, plug or wire is called 'M3'");
    CHECK(only_error(good + "[reach]\nM1 = \"soon\"\n").message == "'M1' is the text 'soon'; expected minutes");
    CHECK(only_error(good + "[strip]\nbox = \"M1 F7\"\n").message ==
          "strip-down 'box' must say its minutes and a colon before the places");
    CHECK(only_error(good + "[strip]\nbox = \"8min: M1 F8\"\n", "F8").message ==
          "no part, plug or wire is called 'F8'");
    CHECK(only_error(good + "[limits]\nfeed = \"0.5A\"\n", "0.5A").message ==
          "'0.5A' is no limit of 'feed', expected V");
    CHECK(only_error(good + "[controls]\nM1 = \"fan\"\n", "M1").message == "'M1' is a motor, which nobody sets");
    CHECK(only_error(replaced(good, "B1 = \"battery 12.6V 8mohm\"\n", ""), "[parts]").message ==
          "the circuit has no battery");
    CHECK(error_messages("").size() == 2);
}

TEST_CASE("a circuit that is too large is one problem") {
    std::string parts;
    for (int i = 0; i < 20000; ++i) parts += "P" + std::to_string(i) + " = \"lamp 5W\"\n";
    CHECK(only_error(small(parts, "1 = \"F7.2 > P0.1 6mm2 1m\"")).message == "20002 parts; at most 2000 are read");
}

TEST_CASE("no single deleted character crashes the reader") {
    const std::string text = example_text();
    for (std::size_t i = 0; i < text.size(); ++i) {
        std::string shorter = text;
        shorter.erase(i, 1);
        const CircuitReading reading = read_circuit_text(shorter, "x.toml");
        INFO(i);
        if (!reading.circuit) REQUIRE(reading.problems.has_errors());
        if (reading.circuit) REQUIRE_FALSE(reading.problems.has_errors());
        show(reading.problems);
        REQUIRE(reading.problems.list().size() < 20);
    }
}

TEST_CASE("no cut file and no changed character crashes the reader") {
    const std::string text = example_text();
    const std::string signs = "\"'[]{}=#.,\\\n\t@~>\xC2\xFF:+-";
    for (std::size_t i = 0; i < text.size(); i += 7) {
        read_circuit_text(text.substr(0, i), "x.toml");
        std::string changed = text;
        changed[i] = signs[i % signs.size()];
        const CircuitReading reading = read_circuit_text(changed, "x.toml");
        REQUIRE((reading.circuit != nullptr) != reading.problems.has_errors());
    }
}
