// Circuits whose wiring is unusual: what is right in them is not called wrong, and what is wrong is told with its
// reason.
#include <vector>

#include "tests/support/wiring.hpp"

using namespace voltfall;
using namespace voltfall::testing;

namespace {

const std::string fed = "F1 = \"fuse 20A regular, feed 30\"\n";

/// A lamp as everything else of a drawing, so that the battery is used.
const std::string lamp = "L9 = \"lamp 5W\"\n";
const std::string lit = "98 = \"B1+ > L9.1 1mm2 RD 1m\"\n99 = \"L9.2 > G1 1mm2 BK 1m\"\n";

struct Case {
    std::string parts;
    std::string wires;
    std::string told;  ///< empty: no error and no warning
    Severity severity{Severity::error};
};

void check_cases(const std::vector<Case>& cases) {
    for (const Case& one : cases) {
        const Problems problems = problems_of(small(lamp + one.parts, lit + one.wires));
        INFO(one.parts << one.wires << all(problems));
        std::size_t serious = 0;
        for (const Problem& problem : problems.list()) serious += problem.severity != Severity::note;
        CHECK((serious == 0) == one.told.empty());
        INFO("looked for '" << one.told << "'");
        const Problem* found = find(problems, one.told);
        CHECK((found != nullptr || problems.list().empty()));
        const bool is_so = one.told.empty() || (found != nullptr && found->severity == one.severity);
        CHECK(is_so);
    }
}

}  // namespace

TEST_CASE("what three switches in a row feed is right, and what no position feeds and grounds together is not") {
    const std::string switches =
        fed + "S1 = \"switch C: off on=1\"\nS2 = \"switch C: off on=1\"\nS3 = \"switch C: off on=1\"\n";
    const std::string row =
        "1 = \"F1.2 > S1.C 1mm2 RD 1m\"\n2 = \"S1.1 > S2.C 1mm2 RD 1m\"\n3 = \"S2.1 > S3.C 1mm2 RD 1m\"\n";
    const std::string coil = fed + "K1 = \"relay 30A, coil 90ohm\"\nL1 = \"lamp 21W\"\n";
    const std::string switched =
        "1 = \"F1.2 > K1.30 1mm2 RD 1m\"\n2 = \"K1.87 > L1.1 1mm2 RD 1m\"\n3 = \"L1.2 > G1 1mm2 BK 1m\"\n";
    check_cases({
        {switches + "L1 = \"lamp 21W\"\n", row + "4 = \"S3.1 > L1.1 1mm2 RD 1m\"\n5 = \"L1.2 > G1 1mm2 BK 1m\"\n", ""},
        {switches + "K1 = \"relay 30A, coil 90ohm\"\n",
         row + "4 = \"S3.1 > K1.86 1mm2 RD 1m\"\n5 = \"K1.85 > G1 1mm2 BK 1m\"\n6 = \"F1.2 > K1.30 1mm2 RD 1m\"\n"
               "7 = \"K1.87 > L9.1 1mm2 RD 1m\"\n",
         ""},
        // The switch feeds one side in one position and grounds the other side in another.
        {coil + "S1 = \"switch C: off a=1 b=2\"\nS2 = \"switch C: off a=1 b=2\"\n",
         switched + "4 = \"F1.2 > S1.C 1mm2 RD 1m\"\n5 = \"S1.1 > K1.86 1mm2 RD 1m\"\n6 = \"S1.2 > K1.85 1mm2 RD 1m\"\n"
                    "7 = \"S2.C > G1 1mm2 BK 1m\"\n8 = \"S2.1 > K1.86 1mm2 BK 1m\"\n9 = \"S2.2 > K1.86 1mm2 BK 1m\"\n",
         ""},
        {coil + "S1 = \"switch C: off on=1\"\n",
         switched +
             "4 = \"F1.2 > S1.C 1mm2 RD 1m\"\n5 = \"S1.1 > K1.86 1mm2 RD 1m\"\n6 = \"S1.1 > K1.85 1mm2 RD 1m\"\n",
         "relay K1 can never pull: neither side has a way to ground"},
        {fed + "K1 = \"relay 30A, coil 90ohm\"\nL1 = \"lamp 21W\"\nS1 = \"switch C: off on=1\"\n",
         "1 = \"F1.2 > K1.30 1mm2 RD 1m\"\n2 = \"K1.87a > L1.1 1mm2 RD 1m\"\n3 = \"L1.2 > G1 1mm2 BK 1m\"\n"
         "4 = \"F1.2 > S1.C 1mm2 RD 1m\"\n5 = \"S1.1 > K1.86 1mm2 RD 1m\"\n6 = \"K1.85 > G1 1mm2 BK 1m\"\n",
         ""},
        {fed + "K1 = \"relay 30A, coil 90ohm, pulls 13V\"\nL1 = \"lamp 21W\"\n",
         switched + "4 = \"F1.2 > K1.86 1mm2 RD 1m\"\n5 = \"K1.85 > G1 1mm2 BK 1m\"\n",
         "K1 pulls in at 13V, more than B1 has at rest", Severity::warning},
    });
}

TEST_CASE("a resistor in a load's way is a part of that way, and a load behind a load is told once") {
    check_cases({
        {fed + "L1 = \"lamp 21W\"\nR1 = \"resistor 1ohm 50W\"\n",
         "1 = \"F1.2 > L1.1 1mm2 RD 1m\"\n2 = \"L1.2 > R1.1 1mm2 RD 1m\"\n3 = \"R1.2 > G1 1mm2 BK 1m\"\n", ""},
        {fed + "L1 = \"lamp 21W\"\nL2 = \"lamp 21W\"\n",
         "1 = \"F1.2 > L1.1 1mm2 RD 1m\"\n2 = \"L1.2 > L2.1 1mm2 RD 1m\"\n3 = \"L2.2 > G1 1mm2 BK 1m\"\n",
         "current reaches L1 only through another load", Severity::warning},
        {fed + "L1 = \"lamp 21W\"\nS1 = \"switch C: off a=1 b=2\"\n",
         "1 = \"F1.2 > S1.C 1mm2 RD 1m\"\n2 = \"S1.1 > L1.1 1mm2 RD 1m\"\n3 = \"S1.2 > L1.2 1mm2 RD 1m\"\n",
         "both sides of L1 lead to the supply"},
        {fed + "L1 = \"lamp 21W\"\nS1 = \"switch C: off a=1 b=2\"\nS2 = \"switch C: off a=1\"\n",
         "1 = \"F1.2 > S1.C 1mm2 RD 1m\"\n2 = \"S1.1 > L1.1 1mm2 RD 1m\"\n3 = \"S2.C > G1 1mm2 BK 1m\"\n"
         "4 = \"S2.1 > S1.2 1mm2 BK 1m\"\n",
         "L1.2 has no wire, so L1 has no way back to ground"},
    });
    // Many loads that nothing grounds have one reason; each is told all the same.
    std::string parts;
    std::string wires;
    for (int i = 1; i <= 60; ++i) {
        const std::string n = std::to_string(i);
        parts += "L" + n + " = \"lamp 5W\"\n";
        wires += n + " = \"F1.2 > L" + n + ".1 1mm2 RD 1m\"\n";
    }
    parts.erase(parts.find("L9 ="), std::string("L9 = \"lamp 5W\"\n").size());
    wires.erase(wires.find("9 = \"F1.2 > L9.1"), std::string("9 = \"F1.2 > L9.1 1mm2 RD 1m\"\n").size());
    const Problems problems = problems_of(small(fed + lamp + parts, lit + wires));
    std::size_t told = 0;
    for (const Problem& problem : problems.list())
        told += problem.message.find("has no way back to ground") != std::string::npos;
    CHECK(told == 59);
}

TEST_CASE("batteries and their charging are held against each other") {
    const auto with_battery = [](const std::string& battery, const std::string& parts, const std::string& wires) {
        return problems_of("format = 1\n[parts]\nB1 = \"battery " + battery + "\"\nG1 = \"ground\"\n" + parts +
                           "[wires]\n" + wires);
    };
    const std::string load = "F1 = \"fuse 10A mini, feed 30\"\nL1 = \"lamp 21W\"\n";
    const std::string wires = "1 = \"F1.2 > L1.1 1mm2 RD 1m\"\n2 = \"L1.2 > G1 1mm2 BK 1m\"\n";
    CHECK(find(with_battery("12.6V 8mohm, charging 12V", load, wires), "B1 charges at 12V, below its rest of 12.6V"));
    CHECK_FALSE(find(with_battery("12.6V 8mohm, charging 14V", load, wires), "B1 charges at"));
    // Two of 12 V in series are a supply of 24 V: no figure of one is held against the system's.
    const Problems series =
        with_battery("12.6V 8mohm", "B2 = \"battery 12.6V 8mohm\"\nL1 = \"lamp 21W\"\n",
                     "1 = \"B1+ > B2- 16mm2 RD 1m\"\n2 = \"B2+ > L1.1 1mm2 RD 1m\"\n3 = \"L1.2 > G1 1mm2 BK 1m\"\n");
    INFO(all(series));
    CHECK_FALSE(find(series, "in a system of"));
    // Three side by side, one of them of another sort; and one whose minus hangs on the plus of the next.
    const Problems three =
        with_battery("12.6V 8mohm", "B2 = \"battery 12.6V 8mohm\"\nB3 = \"battery 6V 8mohm\"\nL1 = \"lamp 21W\"\n",
                     "1 = \"B1+ > B2+ 16mm2 RD 1m\"\n2 = \"B2- > G1 16mm2 BK 1m\"\n3 = \"B2+ > B3+ "
                     "16mm2 RD 1m\"\n4 = \"B3- > G1 16mm2 BK 1m\"\n5 = \"B1+ > L1.1 1mm2 RD 1m\"\n6 "
                     "= \"L1.2 > G1 1mm2 BK 1m\"\n");
    INFO(all(three));
    CHECK(find(three, "B3 (6V) fights"));
    const Problems apart =
        with_battery("12.6V 8mohm", "B2 = \"battery 24V 8mohm\"\nL1 = \"lamp 21W\"\nL2 = \"lamp 21W\"\n",
                     "1 = \"B1+ > L1.1 1mm2 RD 1m\"\n2 = \"L1.2 > G1 1mm2 BK 1m\"\n3 = \"B2+ > L2.1 1mm2 RD 1m\"\n"
                     "4 = \"L2.2 > B2- 1mm2 BK 1m\"\n");
    INFO(all(apart));
    CHECK_FALSE(find(apart, "fights"));
    const Problems shorted = with_battery("12.6V 8mohm", load, wires + "3 = \"B1+ > B1- 16mm2 BK 1m\"\n");
    INFO(all(shorted));
    CHECK(find(shorted, "dead short as drawn: B1+ reaches battery minus through wire 3 and no load"));
}

TEST_CASE("commands and what they command are held against each other") {
    const auto commanded = [](const std::string& module, const std::string& head, const std::string& more_parts,
                              const std::string& more_wires) {
        return problems_of(
            "format = 1\n[parts]\nB1 = \"battery 12.6V 8mohm, charging 14.2V\"\nF1 = \"fuse 40A maxi, feed 30\"\n"
            "F2 = \"fuse 10A mini, feed 30\"\nM1 = \"motor 20A @13.5V, 3500rpm, stall 80A\"\nG1 = \"ground\"\nZ1 = \"" +
            module + "\"\nH1 = \"" + head + "\"\n" + more_parts +
            "[wires]\n10 = \"F1.2 > M1.1 6mm2 RD 1m\"\n12 = \"M1.2 > Z1.M- 6mm2 OG 1m\"\n"
            "13 = \"F1.2 > Z1.+ 4mm2 RD 1m\"\n14 = \"Z1.- > G1 6mm2 BK 1m\"\n20 = \"F2.2 > H1.+ 1mm2 BN 1m\"\n"
            "21 = \"H1.OUT > Z1.CMD 1mm2 GN 1m\"\n22 = \"H1.- > G1 1mm2 BK 1m\"\n" +
            more_wires);
    };
    const std::string linear = "module linear, side low, command 0.8V-6.9V, open command off";
    const std::string volts = "head OUT: off=0V lo=2.1V hi=6.9V";
    const std::string pulled = "module pwm 400Hz, side low, command 10%-90%, pulls up, open command off";
    struct Row {
        std::string module, head, parts, wires, told, cure;
    };
    const std::vector<Row> rows{
        {linear, "head OUT: off=0% lo=30%", "", "", "but Z1 reads 0.8V to 6.9V", "or both in volts"},
        {pulled, volts, "", "", "but Z1 reads 10% to 90%", "or both in per cent"},
        {linear, "head OUT: off=0V lo=2.1V hi=11V", "", "", "position hi of H1 gives 11V", "more than that"},
        {linear, "head OUT: off=0V lo=0.3V hi=6.9V", "", "", "position lo of H1 gives 0.3V", "less than that"},
        {linear, "head OUT: off=0% lo=20%, bus", "", "", "H1 talks on a bus wire, Z1 does not", "write bus in both"},
        {linear, volts, "L1 = \"lamp 5W\"\n", "30 = \"Z1.CMD > L1.1 1mm2 GN 1m\"\n31 = \"L1.2 > G1 1mm2 BK 1m\"\n",
         "L1 hangs on the command wire of Z1", "take its wire off"},
    };
    for (const Row& row : rows) {
        const Problems problems = commanded(row.module, row.head, row.parts, row.wires);
        INFO(row.module << " " << row.head << "\n" << all(problems));
        const Problem* found = find(problems, row.told);
        REQUIRE(found != nullptr);
        CHECK(found->suggestion.find(row.cure) != std::string::npos);
    }
    for (const std::string& head : {volts, std::string("head OUT: off=0V lo=2.1V hi=7.2V")}) {
        const Problems problems = commanded(linear, head, "", "");
        INFO(all(problems));
        CHECK_FALSE(find(problems, "but Z1 reads"));
    }
    // A sensor beside the command takes next to nothing; a relay's coil on it is the relay's own matter.
    const Problems beside = commanded(linear, volts, "U1 = \"sensor 200kohm\"\n",
                                      "30 = \"Z1.CMD > U1.1 1mm2 GN 1m\"\n31 = \"U1.2 > G1 1mm2 BK 1m\"\n");
    INFO(all(beside));
    CHECK_FALSE(find(beside, "relay"));
}

TEST_CASE("fuses are held against what runs for minutes and what starts, where nothing else shares it") {
    const auto fused = [](const std::string& parts, const std::string& wires, const std::string& more = "") {
        return problems_of("format = 1\n[parts]\nB1 = \"battery 12.6V 8mohm, charging 13.7V\"\nG1 = \"ground\"\n" +
                           parts + "[wires]\n" + wires + more);
    };
    const std::string blower = "M1 = \"motor 19.8A @13.5V, 3500rpm, stall 79A, inertia 0.002kgm2\"\n";
    const std::string straight = "1 = \"F1.2 > M1.1 4mm2 RD 0.2m\"\n2 = \"M1.2 > G1 4mm2 BK 0.2m\"\n";
    const std::string small_fuse = "F1 = \"fuse 25A regular, feed 30\"\n";
    CHECK(find(fused(small_fuse + blower, straight), "of its rating"));
    // Two side by side, each with half of it.
    const Problems shared = fused("F1 = \"fuse 25A regular, feed 30\"\nF2 = \"fuse 25A regular, feed 30\"\n" + blower,
                                  straight + "3 = \"F2.2 > M1.1 4mm2 RD 0.2m\"\n");
    INFO(all(shared));
    CHECK_FALSE(find(shared, "of its rating"));
    CHECK_FALSE(find(shared, "of its melting heat"));
    // A breaker stands a start.
    CHECK_FALSE(find(fused("F1 = \"breaker 25A resets, feed 30\"\n" + blower, straight), "of its"));
    // In the heat of an engine's room a fuse bears less.
    const std::string tight = "F1 = \"fuse 30A regular, feed 30\"\n";
    const std::string calm = "M1 = \"motor 21.5A @13.5V, 3500rpm, stall 86A\"\n";
    CHECK_FALSE(find(fused(tight + calm, straight), "of its rating"));
    CHECK(find(fused(tight + calm, straight, "[heat]\nambient-fuse = \"85C\"\n"), "of its rating at 85C"));
    // The position in which it carries most is told; a lamp beside the motor counts, and its start is none.
    const Problems switched =
        fused(small_fuse + "S1 = \"switch C: off on=1\"\nL1 = \"lamp 21W\"\n" + blower,
              "1 = \"F1.2 > S1.C 4mm2 RD 0.2m\"\n2 = \"S1.1 > M1.1 4mm2 RD 0.2m\"\n3 = \"M1.2 > G1 "
              "4mm2 BK 0.2m\"\n4 = \"S1.1 > L1.1 1mm2 RD 1m\"\n5 = \"L1.2 > G1 1mm2 BK 1m\"\n");
    INFO(all(switched));
    const Problem* with_switch = find(switched, "of its rating");
    REQUIRE(with_switch != nullptr);
    CHECK(with_switch->message.find(" with S1 at on, ") != std::string::npos);
    CHECK(find(switched, "while the load starts"));
    CHECK(find(fused("F1 = \"fuse 15A mini, feed 30\"\n" + blower, straight), "has all of its melting heat"));
    // A resistor in the motor's way is a part of that way, not a load beside it.
    const Problems ballast =
        fused(small_fuse + "R1 = \"resistor 0.6ohm 250W\"\n" + blower,
              "1 = \"F1.2 > R1.1 4mm2 RD 0.2m\"\n2 = \"R1.2 > M1.1 4mm2 RD 0.2m\"\n3 = \"M1.2 > G1 4mm2 BK 0.2m\"\n");
    INFO(all(ballast));
    CHECK_FALSE(find(ballast, "of its rating"));
}

TEST_CASE("positions and contacts that lead nowhere are told by what is missing, and a key by what it feeds") {
    check_cases({
        {fed + "S1 = \"switch C: off lo=1 hi=1+2\"\nL1 = \"lamp 21W\"\n",
         "1 = \"F1.2 > S1.C 1mm2 RD 1m\"\n2 = \"S1.1 > L1.1 1mm2 RD 1m\"\n3 = \"L1.2 > G1 1mm2 BK 1m\"\n",
         "contact 2 of S1 has no wire", Severity::warning},
        {fed + "S1 = \"switch C: off on=1\"\nC1 = \"connector\"\n",
         "1 = \"F1.2 > S1.1 1mm2 RD 1m\"\n2 = \"S1.C > C1.1 1mm2 RD 1m\"\n",
         "position on of S1 reaches nothing: what is wired to S1.C leads neither"},
        {"S9 = \"key: off on=15\"\nF1 = \"fuse 10A mini, feed 30\"\nL1 = \"lamp 5W\"\n",
         "1 = \"F1.2 > L1.1 1mm2 RD 1m\"\n2 = \"L1.2 > G1 1mm2 BK 1m\"\n3 = \"B1+ > S9.30 1mm2 RD 1m\"\n"
         "4 = \"S9.15 > L1.1 1mm2 RD 1m\"\n",
         ""},
        {fed + "P1 = \"contact normally closed, opens 3bar, closes 2bar, healthy 1bar\"\nL1 = \"lamp 21W\"\n",
         "1 = \"F1.2 > P1.1 1mm2 RD 1m\"\n2 = \"P1.2 > L1.1 1mm2 RD 1m\"\n3 = \"L1.2 > G1 1mm2 BK 1m\"\n", ""},
        {fed + "D1 = \"diode\"\nL1 = \"lamp 21W\"\n",
         "1 = \"F1.2 > D1.1 1mm2 RD 1m\"\n2 = \"D1.2 > L1.1 1mm2 RD 1m\"\n3 = \"L1.2 > G1 1mm2 BK 1m\"\n", ""},
        {"F1 = \"fuse 20A regular\"\nL1 = \"lamp 21W\"\n",
         "1 = \"F1.2 > L1.1 1mm2 RD 1m\"\n2 = \"L1.2 > G1 1mm2 BK 1m\"\n",
         "F1.1 has neither a wire nor a feed: F1 gets no current"},
        {fed + "F2 = \"fuse 20A regular\"\n", "1 = \"F1.2 > F2.1 1mm2 RD 1m\"\n", "F2.2 has no wire: F2 feeds nothing"},
    });
}
