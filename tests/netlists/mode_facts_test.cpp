// What the parts' files state of their faults: one plain sentence each, and facts that agree with their words.
#include <algorithm>
#include <filesystem>
#include <map>
#include <set>
#include <string>
#include <vector>

#include "netlists/parts/kind.hpp"
#include "netlists/phrases/fault_phrase.hpp"
#include "netlists/phrases/fault_size.hpp"
#include "tests/support/phrase_circuits.hpp"

using namespace voltfall;
using voltfall::testing::cab_blower;
using voltfall::testing::circuit_of;
using voltfall::testing::two_controls;

namespace {

namespace fs = std::filesystem;

/// Every circuit under scenarios, and one with the kinds that no scenario has.
const std::vector<std::shared_ptr<const Circuit>>& circuits() {
    static const auto all = [] {
        std::vector<std::shared_ptr<const Circuit>> list;
        for (const auto& entry : fs::recursive_directory_iterator(PROJECT_DIR "/scenarios")) {
            const std::string name = entry.path().filename().string();
            if (!name.ends_with(".toml") || name.ends_with(".job.toml")) continue;
            if (const CircuitReading reading = read_circuit_file(entry.path().string()); reading.circuit)
                list.push_back(reading.circuit);
        }
        list.push_back(circuit_of(R"(format = 1
[parts]
B1 = "battery 12.6V 8mohm"
L1 = "link 16AWG 0.2m, feed 30"
F1 = "fuse 20A regular, feed 15"
CB1 = "breaker 20A resets"
K0 = "key: off acc=75 on=75+15 start=15+50"
S1 = "switch C: off lo=1 hi=2+3"
P1 = "contact opens 1.96bar, closes 2.25bar, healthy 2.5bar"
K1 = "relay 40A, coil 90ohm, diode"
R1 = "pack 1 1.2ohm 2 0.7ohm 3, limiter 121C at 1, limiter 121C at 3"
R2 = "resistor 0.6ohm 250W"
D1 = "diode"
A1 = "clutch 3.6ohm, pulls 7.5V, diode"
H1 = "lamp 21W"
Z1 = "module linear, command 0.5V-7V, folds 110C"
M1 = "motor 10A @13.5V, 3500rpm, stall 40A"
C1 = "connector, 4 way"
SP1 = "splice"
G1 = "ground stud"
[wires]
1 = "L1.2 > CB1.1 3mm2 RD 1m"
2 = "CB1.2 > C1.1 > S1.C 3mm2 RD 1m 1m"
3 = "S1.1 > R1.1 3mm2 BN 1m"
4 = "S1.2 > R1.2 3mm2 BU 1m"
5 = "S1.3 > C1.2 > SP1 3mm2 BU 1m 1m"
6 = "R1.3 > SP1 3mm2 OG 1m"
7 = "SP1 > R2.1 3mm2 OG 1m"
8 = "R2.2 > M1.1 3mm2 OG 1m"
9 = "M1.2 > G1 3mm2 BK 1m"
10 = "F1.2 > P1.1 1mm2 GN 1m"
11 = "P1.2 > K1.86 1mm2 GN 1m"
12 = "K1.85 > G1 1mm2 BK 1m"
13 = "B1+ > K1.30 3mm2 RD 1m"
14 = "K1.87 > A1.1 3mm2 RD 1m"
15 = "A1.2 > G1 3mm2 BK 1m"
16 = "K1.87a > D1.1 1mm2 YE 1m"
17 = "D1.2 > H1.1 1mm2 YE 1m"
18 = "H1.2 > G1 1mm2 BK 1m"
)"));
        return list;
    }();
    return all;
}

bool has_word(const FaultMode& mode, const std::string& word) {
    return mode.mode.find(word) != std::string::npos;
}

std::string plain_of(const Circuit& circuit, const std::string& phrase) {
    Problems problems;
    const auto fault = read_fault_phrase(TypedText::argument("fault", phrase), circuit, problems);
    INFO(phrase);
    REQUIRE(fault);
    return fault->mode->plain;
}

std::set<std::string> phrases_with(const Circuit& circuit, ModeFact fact) {
    std::set<std::string> phrases;
    for (const ModePtr& mode : circuit.modes) {
        if (mode->is(fact)) phrases.insert(mode->phrase());
    }
    return phrases;
}

}  // namespace

TEST_CASE("every fault of every circuit has a plain sentence of its own that names the thing") {
    REQUIRE(circuits().size() > 10);
    std::size_t seen = 0;
    for (const auto& circuit : circuits()) {
        std::map<std::string, std::string> told;
        for (const ModePtr& mode : circuit->modes) {
            INFO(circuit->name << ": " << mode->phrase() << ": '" << mode->plain << "'");
            CHECK(mode->plain.find(mode->place) != std::string::npos);
            CHECK(mode->plain.size() > mode->place.size() + 4);
            CHECK(mode->plain.find("  ") == std::string::npos);
            CHECK(mode->plain.back() != '.');
            CHECK(mode->plain != mode->phrase());  // beside which it stands
            const auto [other, added] = told.emplace(mode->plain, mode->phrase());
            INFO("also " << other->second);
            CHECK(added);
            ++seen;
        }
    }
    CHECK(seen > 1000);
}

TEST_CASE("a fault is told in a technician's words") {
    const Circuit& cab = cab_blower();
    CHECK(plain_of(cab, "542 chafe") == "wire 542 rubbed through to metal");
    CHECK(plain_of(cab, "542 open") == "wire 542 broken");
    CHECK(plain_of(cab, "542 resistance 1ohm") == "wire 542 corroded or partly broken");
    CHECK(plain_of(cab, "C101.4 resistance 1ohm") == "poor contact in C101.4");
    CHECK(plain_of(cab, "C101.4 open") == "no contact in C101.4");
    CHECK(plain_of(cab, "C101.4 pushed-out") == "pin of C101.4 pushed out");
    CHECK(plain_of(cab, "R1 limiter open") == "thermal limiter of R1 open");
    CHECK(plain_of(cab, "M1 drag 1.5") == "M1 drags (dry bearing)");
    CHECK(plain_of(cab, "M1 short-to-case") == "winding of M1 touches the case near terminal 1");
    CHECK(plain_of(cab, "M1 short-to-case 1ohm at 2") == "winding of M1 touches the case near terminal 2");
    CHECK(plain_of(cab, "F7 blown") == "fuse F7 blown");
    CHECK(plain_of(cab, "F7 missing") == "no fuse in F7");
    CHECK(plain_of(cab, "nothing") == "nothing wrong in the circuit");
    const Circuit& two = two_controls();
    CHECK(plain_of(two, "CB1 blown") == "breaker CB1 tripped");
    CHECK(plain_of(two, "S1 stuck hi") == "S1 stuck in hi");
    CHECK(plain_of(two, "swapped 62 61") == "wires 61 and 62 swapped");
    CHECK(plain_of(two, "61 bridge 32") == "wires 61 and 32 touch");
    CHECK(plain_of(two, "C310 bridge 3-1") == "cavities 1 and 3 of C310 bridged (water or dirt)");
}

TEST_CASE("what a fault's words say and what its part states of it agree") {
    for (const auto& circuit : circuits()) {
        for (const ModePtr& mode : circuit->modes) {
            INFO(mode->phrase());
            CHECK(mode->is(ModeFact::poor_contact) == mode->mode.ends_with("resistance"));
            CHECK(mode->is(ModeFact::lost_contact) == (mode->mode == "open" || mode->mode == "pushed-out"));
            CHECK(mode->is(ModeFact::rubbed_to_metal) == (mode->mode == "chafe"));
            CHECK(mode->is(ModeFact::winding_to_case) == mode->mode.starts_with("short-to-case"));
            CHECK(mode->is(ModeFact::limiter_open) == mode->mode.starts_with("limiter"));
            CHECK(mode->is(ModeFact::fuse_blown) == (mode->mode == "blown"));
            CHECK(mode->is(ModeFact::fuse_missing) == (mode->mode == "missing"));
            CHECK(mode->is(ModeFact::wrong_rating) == (mode->mode == "rating"));
            const bool sometimes = mode->mode == "dead-spot" || mode->mode == "fades" || mode->mode == "cuts-out";
            CHECK(mode->is(ModeFact::only_sometimes) == sometimes);
            CHECK(mode->is(ModeFact::folds_back) == (mode->mode == "folded-back"));
            CHECK(mode->is(ModeFact::cuts_out) == (mode->mode == "too-hot"));
            const bool outside = mode->mode == "pressure" || mode->mode == "temp";
            CHECK(mode->is(ModeFact::outside_circuit) == outside);
            CHECK((mode->fault_class == FaultClass::outside) == outside);
        }
    }
}

TEST_CASE("what is loose, worn or rubbing may come and go; what is burnt, shorted or dead does not") {
    const std::vector<std::string> loose{"open",  "resistance", "pushed-out", "worn-brushes", "dead-spot",
                                         "stuck", "welded",     "chafe",      "bridge"};
    for (const auto& circuit : circuits()) {
        for (const ModePtr& mode : circuit->modes) {
            // Electronics come and go with heat, whatever it is in them.
            if (mode->part.valid() && circuit->part(mode->part).electronics &&
                mode->place == circuit->part(mode->part).name)
                continue;
            const FaultClass of = mode->fault_class;
            const bool lasting = of == FaultClass::pack || of == FaultClass::fuse_itself || of == FaultClass::battery ||
                                 of == FaultClass::load;
            const bool may = std::any_of(loose.begin(), loose.end(), [&](const auto& w) { return has_word(*mode, w); });
            INFO(mode->phrase());
            // A clutch with a wide gap pulls in cold and not hot.
            const bool wide = mode->mode == "gap";
            CHECK(mode->is(ModeFact::may_touch) == ((may && !lasting) || wide));
        }
    }
}

TEST_CASE("the motor's faults state what is felt and heard of them") {
    const Circuit& cab = cab_blower();
    using Phrases = std::set<std::string>;
    CHECK(phrases_with(cab, ModeFact::air_side) == Phrases{"M1 blocked-air", "M1 fouled"});
    CHECK(phrases_with(cab, ModeFact::air_blocked) == Phrases{"M1 blocked-air"});
    CHECK(phrases_with(cab, ModeFact::rubs) == Phrases{"M1 drag", "M1 fouled", "M1 seized"});
    CHECK(phrases_with(cab, ModeFact::uneven) == Phrases{"M1 dead-spot", "M1 shorted-turns", "M1 worn-brushes"});
    CHECK(phrases_with(cab, ModeFact::only_sometimes) == Phrases{"M1 dead-spot"});
    CHECK(phrases_with(cab, ModeFact::starts_by_hand) == Phrases{"M1 dead-spot"});
}

TEST_CASE("a bearing's drag has bounds of its own, other factors share theirs") {
    const auto mode = [&](const std::string& phrase) {
        const auto& modes = cab_blower().modes;
        return *std::find_if(modes.begin(), modes.end(), [&](const ModePtr& m) { return m->phrase() == phrase; });
    };
    CHECK(size_bounds(*mode("M1 drag")).least == 1);
    CHECK(size_bounds(*mode("M1 fouled")).least < 1);
    CHECK(size_bounds(*mode("C101.4 resistance")).unit == Unit::ohm);
}

TEST_CASE("what joins wires, what is looked for and what drops volts by design") {
    std::set<std::string_view> joining;
    std::set<std::string_view> dropping;
    std::set<std::string_view> with_duty;
    for (const Kind& kind : kinds()) {
        if (kind.joining != Joining::nothing) joining.insert(kind.word);
        if (kind.drop == Drop::by_design) dropping.insert(kind.word);
        if (kind.duty != Duty::other) with_duty.insert(kind.word);
    }
    CHECK(joining == std::set<std::string_view>{"connector", "ground", "splice"});
    CHECK(dropping ==
          std::set<std::string_view>{"diode", "module", "pack", "pot", "resistor", "sensor", "source", "zener"});
    CHECK(with_duty == std::set<std::string_view>{"battery", "contact", "head", "key", "switch"});
}

TEST_CASE("branches state what they are") {
    const Circuit& cab = cab_blower();
    for (const Branch& branch : cab.branches) {
        INFO(branch.place << " " << branch.role);
        CHECK((branch.sort == BranchSort::socket) == (branch.role == "socket" || branch.role == "plug"));
        CHECK((branch.sort == BranchSort::pack_coil) == branch.role.starts_with("coil "));
        CHECK((branch.sort == BranchSort::contact) == (branch.role.starts_with("contact") || branch.role == "leg"));
        CHECK((branch.sort == BranchSort::tie) ==
              (branch.role == "feed" || branch.role == "bus" || branch.role == "body"));
    }
}
