#include "netlists/phrases/state_phrase.hpp"

#include <filesystem>

#include "netlists/files/job_file.hpp"
#include "netlists/phrases/loads.hpp"
#include "tests/support/readings.hpp"

using namespace voltfall;
using namespace voltfall::testing;

namespace {

/// The cab blower with a position that is called like its motor but for the case.
Circuit with_position_m1() {
    return *cab_blower_with("ml=2", "m1=2");
}

}  // namespace

TEST_CASE("at the front exact case decides between a position and a part") {
    const Circuit circuit = with_position_m1();
    CHECK(settings_of(reading_of("m1 blower slow", circuit).state, circuit) == "S1=m1");
    CHECK(circuit.part(measured<LoadReading>("M1 slow", circuit).part).name == "M1");
    CHECK(settings_of(reading_of("m1 M1 slow", circuit).state, circuit) == "S1=m1");
    CHECK(settings_of(reading_of("HI blower slow", circuit).state, circuit) == "S1=hi");
    // `m1` is the position however the rest goes on; the load is then missing.
    CHECK(problem_of("m1 slow", circuit).suggestion == "write the load in front: blower slow");
}

TEST_CASE("a position called like a unit of inductance needs no control beside it; one called like volts does") {
    CHECK(write_state(cab_blower(), reading_of("mh blower slow").state) == "mh");
    const auto circuit = cab_blower_with("mh=3", "mv=3");
    CHECK(write_state(*circuit, reading_of("S1=mv blower slow", *circuit).state) == "S1=mv");
}

TEST_CASE("a plug that was renewed is not the part behind it") {
    const StatePhrase plug = reading_of("new C303, hi blower dead").state;
    CHECK(plug.new_plugs == std::vector<std::string>{"C303"});
    CHECK(plug.fitted_new.empty());
    CHECK(write_state(cab_blower(), plug) == "hi, new C303");
    const StatePhrase connector = reading_of("hi, new c101 blower dead").state;
    CHECK(connector.new_plugs == std::vector<std::string>{"C101"});
    const StatePhrase part = reading_of("new R1, hi blower dead").state;
    CHECK(part.new_plugs.empty());
    CHECK(part.fitted_new.size() == 1);
    CHECK_FALSE(plug == part);
}

TEST_CASE("a switch switches what its relay's contacts feed, the one that rests closed too") {
    const auto circuit = circuit_of(R"(format = 1
[parts]
B1 = "battery 12.6V 8mohm"
F1 = "fuse 30A regular, feed 30"
F2 = "fuse 30A regular, feed 30"
S1 = "switch C: off on=1"
K1 = "relay 40A, coil 90ohm"
K2 = "relay 40A, coil 90ohm"
L1 = "lamp 21W"
L2 = "lamp 21W"
L3 = "lamp 21W"
L4 = "lamp 21W"
[wires]
1 = "F1.2 > S1.C 1mm2 RD 1m"
2 = "S1.1 > K1.86 1mm2 RD 1m"
3 = "K1.85 > 31 1mm2 BK 1m"
4 = "F1.2 > K1.30 1mm2 RD 1m"
5 = "K1.87 > L1.1 1mm2 RD 1m"
6 = "K1.87a > L2.1 1mm2 RD 1m"
7 = "L1.2 > 31 1mm2 BK 1m"
8 = "L2.2 > 31 1mm2 BK 1m"
9 = "B1+ > L3.1 1mm2 RD 1m"
10 = "L3.2 > 31 1mm2 BK 1m"
11 = "S1.1 > K2.86 1mm2 RD 1m"
12 = "K2.85 > 31 1mm2 BK 1m"
13 = "F2.2 > K2.30 1mm2 RD 1m"
14 = "K2.87a > L4.1 1mm2 RD 1m"
15 = "L4.2 > 31 1mm2 BK 1m"
)");
    // K2 has no other contact; L3 hangs on the battery itself.
    CHECK(loads_switched_by(*circuit, circuit->find_part("S1")) ==
          std::vector<PartId>{circuit->find_part("L1"), circuit->find_part("L2"), circuit->find_part("L4")});
}

TEST_CASE(
    "where case does not decide, the parse that leaves a whole measurement does; if both do, an instrument's word is "
    "the instrument") {
    const auto circuit = circuit_of(R"(format = 1
[parts]
B1 = "battery 12.6V 8mohm"
F1 = "fuse 30A regular, feed 30"
S1 = "switch C: off m1x=1 m2x=2"
M1X = "motor 10A"
G1 = "ground frame"
[wires]
1 = "F1.2 > S1.C 3mm2 RD 1m"
2 = "S1.1 > M1X.1 3mm2 OG 1m"
3 = "M1X.2 > G1 3mm2 OG 1m"
4 = "S1.2 > M1X.1 3mm2 OG 1m"
[controls]
S1 = "blower"
)");
    CHECK(circuit->part(measured<LoadReading>("M1x slow", *circuit).part).name == "M1X");
    CHECK(settings_of(reading_of("M1x blower slow", *circuit).state, *circuit) == "S1=m1x");
    const auto words = circuit_of(R"(format = 1
[parts]
B1 = "battery 12.6V 8mohm"
F1 = "fuse 30A regular, feed 30"
S1 = "switch C: off lamp=1 fuse=2"
M1 = "motor 10A"
G1 = "ground frame"
[wires]
1 = "F1.2 > S1.C 3mm2 RD 1m"
2 = "S1.1 > M1.1 3mm2 OG 1m"
3 = "M1.2 > G1 3mm2 OG 1m"
4 = "S1.2 > M1.1 3mm2 OG 1m"
[controls]
S1 = "blower"
)");
    CHECK(settings_of(reading_of("lamp M1.1 12V", *words).state, *words) == "S1=lamp");
    CHECK(measured<LampReading>("lamp M1.1 dim", *words).word == "dim");
    CHECK(measured<FuseReading>("fuse F1 good", *words).word == "good");
    CHECK(settings_of(reading_of("fuse F1 good", *words).state, *words).empty());
    CHECK(settings_of(reading_of("S1=fuse F1 good", *words).state, *words) == "S1=fuse");
}

TEST_CASE("states take settings, key, plugs, fuses, new parts, leads and circumstances") {
    CHECK(settings_of(state_of("hi")) == "S1=hi");
    CHECK(settings_of(state_of("S1=hi, lo")) == "S1=hi S1=lo");
    CHECK(settings_of(state_of("lo ml,mh")) == "S1=lo S1=ml S1=mh");
    CHECK(settings_of(state_of("blower=hi")) == "S1=hi");
    CHECK(settings_of(state_of("blower = hi")) == "S1=hi");
    CHECK(state_of("hi, key acc").key == KeyPosition::acc);
    CHECK(state_of("key START").key == KeyPosition::start);
    CHECK(state_of("unplug c303").unplugged == std::vector<std::string>{"C303"});
    CHECK(state_of("unplug C101.4").unplugged == std::vector<std::string>{"C101.4"});
    CHECK(state_of("pull F7, pull K3").pulled.size() == 2);
    CHECK(state_of("unplug K3").pulled.size() == 1);
    CHECK(state_of("unplug F7").pulled == std::vector<PartId>{cab_blower().find_part("F7")});
    CHECK(state_of("unplug F7").unplugged.empty());
    CHECK(state_of("lamp in F7").lamp_in.size() == 1);
    CHECK(state_of("new M1, new F7").fitted_new.size() == 2);
    const auto leads = state_of("jumper S1.C to B1-, feed M1.1, load 55W C101.4@541 to 31").leads;
    REQUIRE(leads.size() == 3);
    CHECK(leads[0].kind == AddedLead::Kind::jumper);
    CHECK(cab_blower().joint(leads[0].a).name == "S1.C");
    CHECK(write_lead(cab_blower(), leads[0]) == "jumper S1.C to B1-");
    CHECK(leads[1].kind == AddedLead::Kind::feed);
    CHECK_FALSE(leads[1].b.valid());
    CHECK(leads[2].watts == Approx(55));
    CHECK(state_of("tap M1, turn M1, wiggle 542, heat C101, cool k3").handled ==
          std::vector<std::string>{"tap M1", "turn M1", "wiggle 542", "heat C101", "cool K3"});
    CHECK(state_of("after 10min").after_seconds == Approx(600));
    CHECK(state_of("hot wet \"left turn\"").conditions == std::vector<std::string>{"hot", "wet", "left turn"});
    CHECK(state_of("earlier").earlier);
    CHECK(state_of("sometimes").sometimes);
    CHECK(state_of("").empty());
    CHECK(settings_of(state_of("P1=open", two_controls()), two_controls()) == "P1=open");
    CHECK(state_of("hi, unplug C303").text == "hi, unplug C303");
}

TEST_CASE("mistakes in a state name the word and what would be right") {
    CHECK(state_problem_of("hii").suggestion.find("hi") != std::string::npos);
    CHECK(state_problem_of("S1=max").suggestion == "write S1=off, S1=lo, S1=ml, S1=mh or S1=hi");
    CHECK(state_problem_of("key off, key bogus").place.column == 14);
    CHECK(state_problem_of("unplug 542").message == "'542' is a wire and has no plug");
    CHECK(state_problem_of("pull R1").suggestion == "write unplug R1");
    CHECK(state_problem_of("jumper C101.4 to B1-").suggestion == "write C101.4@541 or C101.4@542");
    CHECK(state_problem_of("load M1.1 to B1-").message == "the watts of the load are missing");
    CHECK(state_problem_of("hi", two_controls()).suggestion == "write S1=hi or S2=hi");
    CHECK(state_problem_of("hi", two_controls()).message == "'hi' is a position of more than one control");
    CHECK(settings_of(state_of("S1=lo,hi", two_controls()), two_controls()) == "S1=lo S1=hi");
    CHECK(state_problem_of("M1", with_position_m1()).suggestion.find("m1") != std::string::npos);
}

TEST_CASE("doubts and notes are kept apart from the reading") {
    CHECK(reading_of("hi M1.1 to B1- 12.6V ?").doubted);
    CHECK(reading_of("hi M1.1 to B1- 12.6V?").doubted);
    CHECK_FALSE(reading_of("hi M1.1 to ? 12.6V").doubted);
    CHECK(reading_of("hi M1.1 to ? 12.6V?").doubted);
    const Reading noted = reading_of("hi M1.1 12.6V?  # meter was flat");
    CHECK(noted.note == "meter was flat");
    CHECK(noted.doubted);
    CHECK(noted.text == "hi M1.1 12.6V?");
    CHECK(reading_of("hi blower slow").note.empty());
}

TEST_CASE("a new part with the blower's word behind it is one reading, alone it is kept too") {
    const Reading reading = reading_of("new M1  hi blower slow");
    CHECK(reading.state.fitted_new.size() == 1);
    CHECK(settings_of(reading.state) == "S1=hi");
    CHECK(std::holds_alternative<NoMeasurement>(reading_of("new M1").measurement));
    CHECK(problem_of("hi").message == "no measurement stands behind the state");
}

TEST_CASE("what is not understood is a problem where it stands, with a suggestion") {
    const Problem name = problem_of("hi M1.3 to B1- 12V");
    CHECK(name.message == "no point is called 'M1.3'");
    CHECK(name.place.column == 4);
    CHECK(problem_of("hi K3.87a to B1- 12V").message == "nothing is wired to 'K3.87a' in this circuit");
    CHECK(problem_of("hi M1 to B1- 12V").message == "'M1' is not one point");
    CHECK(problem_of("S1 to B1- 12V").suggestion.find("as a state write S1=hi") != std::string::npos);
    CHECK(problem_of("hi M1 to B1- 12V").suggestion == "name a point of it: M1.1 or M1.2");
    CHECK(problem_of("hi 542 to B1- 12V").suggestion == "a probe stands at an end of the wire: C101.4@542 or C304.1");
    CHECK(problem_of("hi M1.1 to B1- 12V key on").suggestion == "write hi key on M1.1 to B1- 12V");
    CHECK(problem_of("hi M1.1 to M1.1 12V").message == "both leads are on 'M1.1'");
    CHECK(problem_of("hi B1- 9.14V").message == "both leads are on 'B1-': a point alone is measured against it");
    CHECK(problem_of("clmp 542 12A").suggestion.find("clamp") != std::string::npos);
    CHECK(problem_of("hi blower slwo").suggestion.find("slow") != std::string::npos);
    CHECK(problem_of("").message == "the reading is empty");
    CHECK(problem_of("# only a note").message == "the reading is empty");
    for (const std::string phrase : {"hi",
                                     "to",
                                     "= =",
                                     "?",
                                     "clamp",
                                     "lamp",
                                     "across",
                                     "fuse",
                                     "look",
                                     "jumper",
                                     "feed",
                                     "\"",
                                     "hi 12V",
                                     "key",
                                     "after",
                                     "load",
                                     "new",
                                     "S1=",
                                     "=hi",
                                     "@",
                                     "M1.",
                                     ".1",
                                     "fuse F7 blown at",
                                     "pin C303.4"}) {
        CHECK_FALSE(problem_of(phrase).message.empty());
    }
}

TEST_CASE("what confirmed cases report can be typed") {
    // Phrases after readings in the collection of confirmed blower and climate cases: unloaded volts, swapped parts,
    // jumpers, tapping, lamps at a motor, ohms while turning, volts in every position.
    for (const std::string phrase : {"off,lo,ml,mh,hi unplug C304  C304.1 to ? 12.5V",
                                     "hi unplug C304 C304.1 to B1- 14V",
                                     "hi C304.1 to B1- 0V",
                                     "hi tap M1 blower runs",
                                     "turn M1 unplug C304 M1.1 to M1.2 open ?",
                                     "unplug C304 M1.1 to M1.2 0.2ohm",
                                     "hi unplug C305 jumper S1.C to C305.4 blower dead",
                                     "feed M1.1 jumper M1.2 to ground M1 runs",
                                     "hi lamp M1.1 to ground bright",
                                     "key on lamp F12.2 dark",
                                     "new K3, hi blower dead",
                                     "new K3 after 10min look K3 melted",
                                     "hi fuse F7 blown at once",
                                     "new F7 hi F7 blown at hi after 3s",
                                     "earlier, hi blower runs",
                                     "sometimes hi blower dead",
                                     "bump hi blower runs",
                                     "cold hi blower slow",
                                     "key off blower runs",
                                     "lo,ml,mh blower dead",
                                     "hi blower runs",
                                     "R1.1 12.5V",
                                     "lo R1.4 to B1- <0.1V",
                                     "hi clamp 542 >16A",
                                     "look R1 \"mouse nest\" debris",
                                     "smell R1",
                                     "pull K3 jumper K3.30 to K3.87 blower runs",
                                     "hi K3.86 to B1- 12V",
                                     "beep S1.1 to R1.1 yes",
                                     "unplug C303 R1.1 to R1.2 4.5ohm",
                                     "M1 erratic",
                                     "M1 squeals",
                                     "air none",
                                     "lamp in F7 hi M1.1 to B1- 3.2V",
                                     "hi across F7 0.06-0.15V",
                                     "unplug C304 M1 good",
                                     "K3 clicks",
                                     "wiggle C101 hi clamp 542 swings 3-19A"}) {
        reading_of(phrase);
    }
}

TEST_CASE("any run of words is read or refused with a reason, and a whole reading reads the same again") {
    const std::vector<std::string> words{"hi",     "ml",           "M1",        "M1.1", "C101.4", "to",    "B1-",
                                         "?",      "12.6V",        "0.3ohm",    "open", "clamp",  "542",   "across",
                                         "lamp",   "in",           "F7",        "dim",  "blown",  "at",    "after",
                                         "2min",   "once",         "new",       "pull", "unplug", "C303",  "jumper",
                                         "feed",   "load",         "55W",       "look", "crust",  "=",     "S1=hi",
                                         "key",    "on",           "blower",    "slow", "dead",   "rise",  "60C",
                                         ",",      "\"wet road\"", "#",         "-",    "~",      ">",     "K3",
                                         "clicks", "good",         "hotter",    "pin",  "drag",   "light", "S1=",
                                         "@541",   "\xC2\xB5",     "sometimes", "hot"};
    unsigned seed = 12345;
    int whole = 0;
    for (int round = 0; round < 20000; ++round) {
        std::string phrase;
        for (unsigned count = 1 + round % 7; count > 0; --count) {
            seed = seed * 1664525u + 1013904223u;
            phrase += words[(seed >> 8) % words.size()] + " ";
        }
        Problems problems;
        const auto reading = read_reading_phrase(typed(phrase), "1", cab_blower(), problems);
        INFO(phrase);
        if (!reading) {
            REQUIRE(problems.has_errors());
            continue;
        }
        REQUIRE_FALSE(problems.has_errors());
        ++whole;
        Problems again;
        const auto twice = read_reading_phrase(typed(reading->text), "1", cab_blower(), again);
        REQUIRE(twice);
        REQUIRE(twice->text == reading->text);
        REQUIRE(twice->measurement.index() == reading->measurement.index());
    }
    CHECK(whole > 20);
}

TEST_CASE("the jobs of the scenarios can be read") {
    int jobs = 0;
    for (const auto& entry : std::filesystem::directory_iterator(PROJECT_DIR "/scenarios/bookmobile")) {
        if (entry.path().string().find(".job.toml") == std::string::npos) continue;
        const JobReading reading = read_job_file(entry.path().string());
        INFO(entry.path().filename().string() << "\n" << all_problems(reading.problems));
        CHECK(reading.job);
        ++jobs;
    }
    CHECK(jobs > 0);
}
