// Small circuits that are wired wrong in one place, and what is said of each.
#include <fstream>
#include <iterator>
#include <vector>

#include "tests/support/wiring.hpp"

using namespace voltfall;
using namespace voltfall::testing;

TEST_CASE("what current cannot reach, leave or switch is told with the end that lacks its wire") {
    struct Row {
        std::string parts;
        std::string wires;
        Severity severity;
        std::string told;
    };
    const std::string fed = "F1 = \"fuse 20A regular, feed 30\"\n";
    const std::string lamp = fed + "L1 = \"lamp 21W\"\n";
    const std::string relay = fed + "K1 = \"relay 30A, coil 90ohm\"\nL1 = \"lamp 21W\"\n";
    const std::string lit = "8 = \"F1.2 > L1.1 1mm2 RD 1m\"\n9 = \"L1.2 > G1 1mm2 BK 1m\"\n";
    const std::string coil = "1 = \"F1.2 > K1.86 1mm2 RD 1m\"\n2 = \"K1.85 > G1 1mm2 BK 1m\"\n";
    const auto error = Severity::error;
    const auto warning = Severity::warning;
    const std::vector<Row> rows{
        {lamp, "1 = \"F1.2 > L1.1 1mm2 RD 1m\"\n2 = \"F1.2 > L1.2 1mm2 RD 1m\"\n", error,
         "both sides of L1 lead to the supply"},
        {lamp, "1 = \"G1 > L1.1 1mm2 BK 1m\"\n2 = \"L1.2 > G1 1mm2 BK 1m\"\n", error,
         "both sides of L1 lead to ground"},
        {lamp + "C1 = \"connector\"\nC2 = \"connector\"\n",
         "1 = \"C1.1 > L1.1 1mm2 RD 1m\"\n2 = \"L1.2 > C2.1 1mm2 BK 1m\"\n", error,
         "no way to the supply and no way back to ground"},
        {lamp + "C1 = \"connector\"\n", "1 = \"C1.1 > L1.1 1mm2 RD 1m\"\n2 = \"F1.2 > L1.2 1mm2 RD 1m\"\n", error,
         "what is tied to L1.1 ends nowhere"},
        {lamp + "C1 = \"connector\"\n", "1 = \"F1.2 > L1.1 1mm2 RD 1m\"\n2 = \"C1.1 > L1.2 1mm2 RD 1m\"\n", error,
         "what is tied to L1.2 ends nowhere"},
        {lamp + "C1 = \"connector\"\n", "1 = \"G1 > L1.1 1mm2 BK 1m\"\n2 = \"C1.1 > L1.2 1mm2 BK 1m\"\n", error,
         "what is tied to L1.2 ends nowhere"},
        {lamp + "C1 = \"connector\"\n", "1 = \"C1.1 > L1.1 1mm2 BK 1m\"\n2 = \"G1 > L1.2 1mm2 BK 1m\"\n", error,
         "what is tied to L1.1 ends nowhere"},
        // The switch brings L1.1 to the supply or to ground, and never lights it.
        {lamp + "S1 = \"switch C: off a=1 b=2\"\nC1 = \"connector\"\n",
         "1 = \"F1.2 > S1.1 1mm2 RD 1m\"\n2 = \"G1 > S1.2 1mm2 BK 1m\"\n3 = \"S1.C > L1.1 1mm2 RD 1m\"\n4 = "
         "\"L1.2 > C1.1 1mm2 BK 1m\"\n",
         error, "L1 has no way back to ground in any position: what is tied to L1.2 ends nowhere"},
        {relay, lit + "3 = \"F1.2 > K1.87 1mm2 RD 1m\"\n", error, "its coil is not"},
        {relay, lit + "3 = \"F1.2 > K1.87a 1mm2 RD 1m\"\n", error, "its coil is not"},
        {fed + "R1 = \"pack 1 ~1.2ohm 2 0.7ohm 3\"\n", "8 = \"F1.2 > R1.1 4mm2 RD 1m\"\n9 = \"R1.3 > G1 4mm2 BK 1m\"\n",
         Severity::note, "guessed: coil 1-2 of R1"},
        {lamp + "P1 = \"contact normally open, opens 3bar\"\n", lit, warning, "P1"},
        {relay, lit + "1 = \"F1.2 > K1.86 1mm2 RD 1m\"\n2 = \"F1.2 > K1.85 1mm2 RD 1m\"\n", error,
         "neither side has a way to ground"},
        {relay, lit + coil + "3 = \"F1.2 > K1.30 1mm2 RD 1m\"\n", warning,
         "K1.87 has no wire: relay K1 switches nothing"},
        {relay, coil + "3 = \"K1.87 > L1.1 1mm2 RD 1m\"\n9 = \"L1.2 > G1 1mm2 BK 1m\"\n", warning,
         "K1.30 has no wire: relay K1 switches nothing"},
        {relay, coil + lit, warning, "no contact of relay K1 is wired"},
        {relay, lit + "3 = \"F1.2 > K1.30 1mm2 RD 1m\"\n", error, "its coil is not"},
        {fed + "K1 = \"relay 30A, coil 90ohm, pulls 20V\"\nL1 = \"lamp 21W\"\n", coil + lit, error,
         "K1 pulls in at 20V, more than the vehicle has"},
        {"F1 = \"fuse 20A regular\"\nL1 = \"lamp 21W\"\n",
         "1 = \"B1+ > F1.1 1mm2 RD 1m\"\n2 = \"B1+ > L1.1 1mm2 RD 1m\"\n9 = \"L1.2 > G1 1mm2 BK 1m\"\n", error,
         "F1.2 has no wire: F1 feeds nothing"},
        {lamp + "D1 = \"diode\"\n", lit + "1 = \"F1.2 > D1.1 1mm2 RD 1m\"\n", warning,
         "D1.2 has no wire: D1 ends in the air"},
        {lamp + "C1 = \"connector\"\n",
         "1 = \"C1.1 > F1.2 1mm2 RD 1m\"\n2 = \"C1.1 > L1.1 1mm2 RD 1m\"\n9 = \"L1.2 > G1 1mm2 BK 1m\"\n", error,
         "wires 1 and 2 are all written from C1.1"},
        {"F1 = \"fuse 60A maxi, feed 30\"\nL1 = \"lamp 21W\"\n",
         "8 = \"F1.2 > L1.1 18AWG x2 RD 1m\"\n9 = \"L1.2 > G1 18AWG BK 1m\"\n", warning, "18AWG x2 carries"},
        {fed + "M1 = \"motor ~10A @13.5V\"\n", "8 = \"F1.2 > M1.1 4mm2 RD 1m\"\n9 = \"M1.2 > G1 4mm2 BK 1m\"\n",
         Severity::note, "guessed: the rated amps of M1"},
        {lamp + "P1 = \"contact normally open, opens 3bar, closes 2bar, healthy 1bar\"\n", lit, warning,
         "P1 is said to be normally open, but by its figures it is closed"},
        {lamp + "S1 = \"switch C: off on=1\"\n", lit + "1 = \"F1.2 > S1.1 1mm2 RD 1m\"\n", error,
         "S1.C has no wire: no position of S1 reaches anything"},
        {lamp + "S1 = \"switch C: off on=1+2\"\n", lit + "1 = \"F1.2 > S1.C 1mm2 RD 1m\"\n", error,
         "position on of S1 reaches nothing: S1.1 and S1.2 have no wire"},
    };
    for (const Row& row : rows) {
        const Problems problems = problems_of(small(row.parts, row.wires));
        INFO(row.parts << row.wires << all(problems));
        const Problem* found = find(problems, row.told);
        INFO("looked for " << row.told);
        CHECK(found != nullptr);
        if (found != nullptr) CHECK(found->severity == row.severity);
    }
}

TEST_CASE("circuits of odd names, of a key alone, of a sensor alone and of two modules on one wire are wired well") {
    for (const char* name : {"odd-names", "key-only", "sensor", "twins"}) {
        std::ifstream file(PROJECT_DIR "/tests/files/" + std::string(name) + ".toml");
        const Problems problems = problems_of({std::istreambuf_iterator<char>(file), {}});
        INFO(name << all(problems));
        CHECK_FALSE(problems.has_errors());
    }
}

TEST_CASE("one battery that cannot be the vehicle's is a slip in one of the two figures") {
    const auto supplied = [](const std::string& supply, const std::string& battery) {
        return problems_of("format = 1\nsupply = \"" + supply + "\"\n[parts]\nB1 = \"battery " + battery +
                           "\"\nF1 = \"fuse 10A mini, feed 30\"\nL1 = \"lamp 21W\"\nG1 = \"ground\"\n[wires]\n"
                           "1 = \"F1.2 > L1.1 1mm2 RD 1m\"\n2 = \"L1.2 > G1 1mm2 BK 1m\"\n");
    };
    const Problem* twice = find(supplied("12V", "25V 8mohm, charging 28V"), "rests at 25V in a system of 12V");
    CHECK(twice != nullptr);
    CHECK(find(supplied("24V", "12.6V 8mohm, charging 14V"), "rests at 12.6V in a system of 24V") != nullptr);
    CHECK(find(supplied("24V", "25V 8mohm, charging 28V"), "in a system of") == nullptr);
    CHECK(find(supplied("12V", "12.6V 8mohm, charging 14V"), "in a system of") == nullptr);
}

TEST_CASE("a battery of ohms for milliohms is told with what it means") {
    const auto with = [](const std::string& ohms) {
        return problems_of("format = 1\n[parts]\nB1 = \"battery 12.6V " + ohms +
                           "\"\nF1 = \"fuse 20A regular, feed 30\"\nL1 = \"lamp 21W\"\nG1 = \"ground\"\n[wires]\n"
                           "8 = \"F1.2 > L1.1 1mm2 RD 1m\"\n9 = \"L1.2 > G1 1mm2 BK 1m\"\n");
    };
    // 10 A through 8 ohm by Ohm's law.
    check_problem(with("8ohm"), Severity::warning, "B1 has 8ohm inside: 10A take 80V of its 12.6V", "B1");
    CHECK(count(with("8mohm"), Severity::warning) == 0);
    CHECK(count(with("200mohm"), Severity::warning) == 0);
}
