// Heat by its closed forms and words: temperatures, waveforms, a link's pulse, ratings, limits of wires; packs and
// fuses of which there are two.
#include <cmath>

#include "engine/heat/fuse_pulse.hpp"
#include "engine/heat/gap_sizes.hpp"
#include "engine/heat/heat_words.hpp"
#include "engine/heat/protection.hpp"
#include "engine/heat/startup.hpp"
#include "tests/support/aftermaths.hpp"
#include "tests/support/lost_solves.hpp"

using namespace voltfall;
using voltfall::testing::LostSolves;

namespace {

/// Two fans on one switch, each with a pack of its own, in front of it or behind.
std::shared_ptr<const Circuit> two_packs(bool in_feed = false) {
    const auto way = [&](const std::string& number) {
        const std::string first = (in_feed ? "R" : "M") + number;
        const std::string second = (in_feed ? "M" : "R") + number;
        return number + "1 = \"F" + number + ".2 > " + first + ".1 6mm2 RD 1m\"\n" + number + "2 = \"" + first +
               ".2 > " + second + ".1 6mm2 BU 1m\"\n" + number + "3 = \"" + second + ".2 > S1.C 6mm2 BK 1m\"\n";
    };
    return read_text(R"(format = 1
[parts]
B1 = "battery 12.6V 8mohm, charging 14.2V"
F1 = "fuse 40A maxi, feed 30"
F2 = "fuse 40A maxi, feed 30"
M1 = "motor 20A @13.5V, 3500rpm, stall 80A"
M2 = "motor 20A @13.5V, 3500rpm, stall 80A"
R1 = "pack 1 0.5ohm 2, limiter 121C"
R2 = "pack 1 0.5ohm 2, limiter 121C"
S1 = "switch C: off on=1"
G1 = "ground"
[wires]
7 = "S1.1 > G1 6mm2 BK 0.5m"
)" + way("1") + way("2"));
}

/// A blower behind two fuses, one after the other.
std::shared_ptr<const Circuit> two_fuses(const std::string& first, const std::string& second) {
    return read_text("format = 1\n[parts]\nB1 = \"battery 12.6V 8mohm, charging 14.2V\"\nF1 = \"fuse " + first +
                     "A maxi, feed 30\"\nF2 = \"fuse " + second +
                     "A maxi\"\nM1 = \"motor 20A @13.5V, 3500rpm, stall 80A\"\nS1 = \"switch C: off hi=1\"\n"
                     "G1 = \"ground\"\n[wires]\n0 = \"F1.2 > F2.1 6mm2 RD 0.5m\"\n1 = \"F2.2 > M1.1 6mm2 RD 1m\"\n"
                     "2 = \"M1.2 > S1.C 6mm2 BK 1m\"\n3 = \"S1.1 > G1 6mm2 BK 0.5m\"\n");
}

double speed_of(const Circuit& circuit, const Settled& settled, const std::string& motor) {
    return std::abs(settled.point.speed[circuit.part(circuit.find_part(motor)).load_branch.index]);
}

}  // namespace

TEST_CASE("each body has its word, its harm and what acts at its limit") {
    const struct {
        BodyKind kind;
        const char* word;
        const char* harm;
        HeatEventKind at_limit;
    } rows[] = {{BodyKind::pack, "pack", ": it chars what holds it", HeatEventKind::limiter_opens},
                {BodyKind::winding, "winding", ": its insulation is harmed", HeatEventKind::cuts_out},
                {BodyKind::joint, "joint", ": its plastic softens", HeatEventKind::limiter_opens},
                {BodyKind::wire, "wire", ": its insulation is harmed", HeatEventKind::limiter_opens},
                {BodyKind::module, "module", ": its transistor is harmed", HeatEventKind::folds_back},
                {BodyKind::rating, "rating", "", HeatEventKind::limiter_opens}};
    const auto circuit = two_packs();
    const HeatModel model(solver(), *circuit);
    const SettleResult on = settle(solver(), *circuit, state_named(*circuit, "on"), {});
    REQUIRE(on);
    for (const auto& row : rows) {
        INFO(row.word);
        Body body;
        body.kind = row.kind;
        CHECK(body_word(row.kind) == row.word);
        CHECK(harm_of(row.kind) == row.harm);
        CHECK(limit_event(body) == row.at_limit);
        CHECK(acts_at_limit(limit_event(body)));
        // A rating has no temperature of its own: what runs through it makes no heat here.
        if (row.kind == BodyKind::rating) CHECK(model.watts(body, *on) == 0);
    }
    for (const HeatEventKind kind :
         {HeatEventKind::breaker_closes, HeatEventKind::folds_back, HeatEventKind::cuts_out, HeatEventKind::runs_again})
        CHECK(protects_itself(kind));
    for (const HeatEventKind kind :
         {HeatEventKind::fuse_opens, HeatEventKind::limiter_opens, HeatEventKind::harmed, HeatEventKind::warms})
        CHECK_FALSE(protects_itself(kind));
}

TEST_CASE("a body whose losses take back what its warmth adds warms in a straight line") {
    CHECK(temperature_after({2, 0}, 40, 30) == Approx(100));
    CHECK(*seconds_to_reach({2, 0}, 40, 100) == Approx(30));
    CHECK_FALSE(steady_temperature({2, 0}));
    // The pole beside it comes to rest at rise over feedback.
    CHECK(*steady_temperature({2, -0.02}) == Approx(100));
}

TEST_CASE("a wire bears its class alone beyond 240 h, whatever it carries (S68)") {
    const auto circuit = two_packs();
    const Wire& wire = circuit->wires.front();
    const double steady = wire_limit_for(*circuit, wire, std::nullopt);
    CHECK(wire_limit_for(*circuit, wire, 241 * 3600.0) == steady);
    CHECK(wire_limit_for(*circuit, wire, 239 * 3600.0) == steady + 25);
}

TEST_CASE("a waveform goes straight between its points and stands still outside them") {
    const Waveform ramp{{1, 2, 4}, {10, 20, 0}};
    CHECK(Waveform{}.at(3) == 0);
    CHECK(ramp.at(0.5) == 10);
    CHECK(ramp.at(1.5) == Approx(15));
    CHECK(ramp.at(3) == Approx(10));
    CHECK(ramp.at(5) == 0);
    // A point given twice has no slope: what lies at it is the first of both.
    const Waveform stopped{{1, 1, 1, 1}, {7, 9, 8, 3}};
    const Waveform thin = thinned(stopped, 3);
    CHECK(thin.values == std::vector<double>{7, 9, 3});
}

TEST_CASE("a link's pulse melts it when its heat at that steady current says, and a point given twice adds nothing") {
    const FuseModel link = fuse_model(FuseType::link, 30);
    REQUIRE(link.link);
    const double amps = 6 * link.minimum_amps;
    const auto opens = seconds_to_open(link, {}, amps);
    REQUIRE(opens);
    Waveform steady;
    for (int i = 0; i <= 200; ++i) {
        steady.seconds.push_back(2 * *opens * i / 200);
        steady.values.push_back(amps);
    }
    const FusePulse pulse = fuse_pulse(link, steady);
    REQUIRE(pulse.opens_after);
    CHECK(*pulse.opens_after == Approx(*opens).epsilon(0.01));
    CHECK(pulse.peak_heat == 1);
    CHECK(pulse.peak_amps == amps);
    Waveform twice = steady;
    twice.seconds.insert(twice.seconds.begin() + 50, twice.seconds[50]);
    twice.values.insert(twice.values.begin() + 50, amps);
    CHECK(*fuse_pulse(link, twice).opens_after == Approx(*pulse.opens_after));
}

TEST_CASE("a connector that names its rating has a rated contact in every cavity, called by the cavity") {
    const auto circuit = read_text(R"(format = 1
[parts]
B1 = "battery 12.6V 8mohm, charging 14.2V"
F1 = "fuse 40A maxi, feed 30"
M1 = "motor 20A @13.5V, 3500rpm, stall 80A"
S1 = "switch 25A, C: off hi=1"
C5 = "connector, 2 way, 10A"
G1 = "ground"
[wires]
1 = "F1.2 > C5.1 6mm2 RD 1m"
2 = "C5.1 > M1.1 6mm2 RD 1m"
3 = "M1.2 > S1.C 6mm2 BK 1m"
4 = "S1.1 > C5.2 6mm2 BK 0.5m"
5 = "C5.2 > G1 6mm2 BK 0.5m"
)");
    std::vector<std::string> names;
    for (const RatedContact& contact : rated_contacts(*circuit)) {
        names.push_back(contact.name);
        CHECK(contact.rating == (contact.name == "S1 contact 1" ? 25 : 10));
    }
    CHECK(names == std::vector<std::string>{"S1 contact 1", "C5.1", "C5.2"});
    const Aftermath after = followed(*circuit, "hi", "B1 not-charging", 1800);
    const HeatEvent* worn = event_named(after, "C5.1");
    REQUIRE(worn != nullptr);
    CHECK(worn->rating == 10);
    CHECK(worn->seconds == Approx(*contact_bears(10, worn->amps)).epsilon(0.05));
}

TEST_CASE("a limiter that opens leaves the pack of a twin fan as it is, for that has air of its own") {
    const bool in_feed = GENERATE(false, true);
    const auto circuit = two_packs(in_feed);
    const Aftermath after = followed(*circuit, "on", "M1 seized", 1800);
    const HeatEvent* first = event_named(after, "R1");
    REQUIRE(first != nullptr);
    CHECK(first->kind == HeatEventKind::limiter_opens);
    CHECK(event_named(after, "R2") == nullptr);
    CHECK(speed_of(*circuit, after.end(), "M2") == Approx(speed_of(*circuit, after.faulted, "M2")).epsilon(0.02));
    CHECK(speed_of(*circuit, after.end(), "M1") == Approx(0).margin(1e-9));
    // A vehicle of two faults loses both.
    Simulator& simulator = solver();
    const HeatModel model(simulator, *circuit);
    std::vector<Fault> both = faults_named(*circuit, "M1 seized");
    both.push_back(faults_named(*circuit, "M2 seized").front());
    const AftermathResult twice = run_aftermath(simulator, model, state_named(*circuit, "on"), both, 1800);
    REQUIRE(twice);
    REQUIRE(event_named(*twice, "R1") != nullptr);
    REQUIRE(event_named(*twice, "R2") != nullptr);
    CHECK(event_named(*twice, "R2")->kind == HeatEventKind::limiter_opens);
}

TEST_CASE("of two fuses in a row the smaller is the one that a held rotor may open") {
    for (const auto& [first, second, smaller] :
         {std::tuple{"40", "60", "F1"}, std::tuple{"60", "40", "F2"}, std::tuple{"40", "50", "F1"}}) {
        const auto circuit = two_fuses(first, second);
        const Aftermath held = followed(*circuit, "hi", "M1 seized", 1800);
        REQUIRE_FALSE(held.events.empty());
        INFO(first << " and " << second << ": " << held.events.front().what << ", " << held.events.front().otherwise);
        CHECK(held.events.front().otherwise.starts_with(std::string("unless ") + smaller + " opens before"));
    }
}

TEST_CASE("the size that a fuse bears is not guessed from cases without a solution") {
    const auto circuit = read_text(
        "format = 1\n[parts]\nB1 = \"battery 12.6V 8mohm\"\nF1 = \"fuse 10A mini, feed 30\"\nA1 = \"clutch 3.6ohm, "
        "pulls 7.5V\"\nS1 = \"switch C: off on=1\"\nG1 = \"ground\"\n[wires]\n1 = \"F1.2 > S1.C 1.5mm2 RD 1m\"\n2 = "
        "\"S1.1 > A1.1 1.5mm2 GN 1m\"\n3 = \"A1.2 > G1 1.5mm2 BK 1m\"\n");
    const ModePtr turns = faults_named(*circuit, "A1 coil shorted-turns 0.5").front().mode;
    const State on = state_named(*circuit, "on");
    const auto borne = size_borne(solver(), *circuit, turns, on);
    REQUIRE(borne);
    REQUIRE(*borne);
    // The fuse opens a coil of that share less and bears the share itself.
    const auto opens = [&](double size) {
        const Fault fault{turns, size, 0.5, {}, {}};
        const SettleResult settled = settle(solver(), *circuit, on, std::span(&fault, 1));
        REQUIRE(settled);
        return opening_seconds(*settled, circuit->find_part("F1")).has_value();
    };
    CHECK_FALSE(opens(**borne));
    CHECK(opens(0.99 * **borne));
    int told = 0;
    for (long lost = 1;; ++lost) {
        LostSolves simulator(lost);
        const auto now = size_borne(simulator, *circuit, turns, on);
        if (!simulator.has_lost()) break;
        INFO("solve " << lost);
        REQUIRE_FALSE(now);
        CHECK(now.error().message == "lost on purpose");
        ++told;
    }
    // Both ends of the range, and the halvings between them.
    CHECK(told > 2);
}

TEST_CASE("what fuses protect is not judged from some of the cases alone") {
    const auto circuit = two_fuses("40", "60");
    const HeatModel model(solver(), *circuit);
    const std::vector<State> states = default_states(*circuit);
    REQUIRE(judge_protection(solver(), model, states));
    for (const long lost : {1L, 5L, 20L, 100L}) {
        LostSolves simulator(lost, 1);
        const ProtectionResult now = judge_protection(simulator, model, states);
        INFO("from solve " << lost);
        REQUIRE_FALSE(now);
        CHECK(now.error().message == "lost on purpose");
    }
}

TEST_CASE("what a fuse bears is not told of cases that were lost on the way, and nothing is confirmed of them") {
    const auto circuit = scenario_circuit("clutch.toml");
    const HeatModel model(solver(), *circuit);
    const std::vector<State> states = default_states(*circuit);
    LostSolves counting(1'000'000'000);
    const ProtectionResult whole = judge_protection(counting, model, states);
    REQUIRE(whole);
    REQUIRE_FALSE(whole->gaps.empty());
    constexpr int tries = 12;
    for (int i = 0; i < tries; ++i) {
        LostSolves simulator(1 + counting.calls() * i / tries, 1);
        const ProtectionResult now = judge_protection(simulator, model, states);
        INFO("try " << i);
        REQUIRE_FALSE(now);
        CHECK(now.error().message == "lost on purpose");
    }
    LostSolves none(1, 1);
    CHECK_NOTHROW(confirm_gaps(none, *circuit, states, whole->gaps, whole->gaps.size()));
    CHECK(none.has_lost());
}

TEST_CASE("a start-up is told of what starts or is fused, and its failure where it has none") {
    const auto bare = read_text(
        "format = 1\n[parts]\nB1 = \"battery 12.6V 8mohm\"\nL1 = \"lamp 21W\"\nS1 = \"switch C: off on=1\"\nG1 = "
        "\"ground\"\n[wires]\n1 = \"B1+ > S1.C 1.5mm2 RD 1m\"\n2 = \"S1.1 > L1.1 1.5mm2 GN 1m\"\n3 = \"L1.2 > G1 "
        "1.5mm2 BK 1m\"\n");
    const StartUpResult nothing = run_startup(testing::ngspice(), *bare, state_named(*bare, "on"), {}, 1);
    REQUIRE(nothing);
    CHECK(nothing->motors.empty());
    CHECK(nothing->fuses.empty());
    LostSolves simulator(1, 1);
    const StartUpResult lost = run_startup(simulator, *bare, state_named(*bare, "on"), {}, 1);
    REQUIRE_FALSE(lost);
    CHECK(lost.error().message == "lost on purpose");
}
