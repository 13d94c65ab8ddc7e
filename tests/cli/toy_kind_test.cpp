// A kind of part added by one file and one row (toy_kind.cpp) is known to every room and every command.
#include "netlists/files/circuit_file.hpp"
#include "netlists/parts/kind.hpp"
#include "netlists/phrases/fault_phrase.hpp"
#include "tests/cli/command_line.hpp"
#include "tests/support/phrase_circuits.hpp"

using namespace voltfall;
using voltfall::testing::circuit_of;

namespace {

/// 12 V behind 0.1 ohm, a buzzer of 5.9 ohm, copper that is too short to matter.
const std::string text = R"(format = 1
name = "door buzzer"
[parts]
B1 = "battery 12V 0.1ohm, charging 12V"
F1 = "fuse 5A mini, feed 30"
S1 = "switch C: off on=1"
C1 = "connector"
X1 = "buzzer 5.9ohm"
G1 = "ground stud"
[wires]
1 = "F1.2 > S1.C 2.5mm2 RD 10mm"
2 = "S1.1 > C1.1 > X1.1 2.5mm2 RD 10mm 10mm"
3 = "X1.2 > G1 2.5mm2 BK 10mm"
)";

Said said(const std::vector<std::string>& words, const std::string& file, std::vector<std::string> more = {}) {
    std::vector<std::string> args = words;
    args.insert(args.begin() + 1, file);
    args.insert(args.end(), more.begin(), more.end());
    return command_line(args);
}

}  // namespace

TEST_CASE("a circuit with a toy kind is read by the kind's own file") {
    const auto circuit = circuit_of(text);
    const Part& toy = circuit->part(circuit->find_part("X1"));
    CHECK(toy.kind == find_kind("buzzer"));
    CHECK(toy.value("ohms") == 5.9);
    CHECK(canonical_terminal(toy, "-") == "2");
    const CircuitReading wrong =
        read_circuit_text(std::string(text).replace(text.find("5.9ohm"), 6, "5000ohm"), "toy.toml");
    REQUIRE_FALSE(wrong.circuit);
    CHECK(contains(wrong.problems.list().front().message, "cannot be the ohms of a buzzer"));
}

TEST_CASE("a toy mode is a fault phrase with a plain sentence") {
    const auto circuit = circuit_of(text);
    Problems problems;
    const auto fault = read_fault_phrase(TypedText::argument("fault", "X1 stiff reed 4"), *circuit, problems);
    REQUIRE(fault);
    CHECK(fault->size == 4);
    CHECK(fault->mode->plain == "reed of buzzer X1 stiff");
    CHECK(fault->mode->is(ModeFact::rubs));
    CHECK(circuit->part(fault->mode->part).name == "X1");
}

TEST_CASE("every command knows a toy kind and its faults") {
    const ScratchFile file("toy.toml", text);
    CHECK(said({"check"}, file.path()).status == 0);
    CHECK(contains(said({"show"}, file.path()).out, "X1"));
    // 12 V over 0.1 + 4 x 5.9 ohm is 0.506 A, with the contacts on the way a little less (by hand).
    const Said what = said({"whatif", "--fault", "X1 stiff-reed 4", "--state", "on", "--format", "plain"}, file.path());
    INFO(what.out << what.err);
    CHECK(what.status == 0);
    CHECK(contains(what.out, "0.50"));
    const Said faults = said({"faults", "--format", "plain"}, file.path());
    INFO(faults.out << faults.err);
    CHECK(faults.status == 0);
    CHECK(contains(faults.out, "X1 mute"));
    const Said next = said({"next", "--read", "on X1 dead"}, file.path());
    INFO(next.out << next.err);
    CHECK(next.status == 0);
    CHECK(said({"protect"}, file.path()).status == 0);
    CHECK(said({"deck"}, file.path()).status == 0);
}

TEST_CASE("readings lead to a toy fault") {
    const ScratchFile file("toy.toml", text);
    // All volts are there and nothing flows: 11.99 V over an open buzzer. By hand.
    const Said match = said(
        {"match", "--read", "on X1 dead", "--read", "on across X1 12.0V", "--read", "on clamp 3 0.0A"}, file.path());
    INFO(match.out << match.err);
    CHECK(match.status == 0);
    const auto first = match.out.find("1 ");
    REQUIRE(first != std::string::npos);
    CHECK(contains(match.out.substr(first, 120), "X1 mute"));
}
