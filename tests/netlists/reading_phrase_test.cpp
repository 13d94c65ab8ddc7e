#include "netlists/phrases/reading_phrase.hpp"

#include <cmath>

#include "tests/support/readings.hpp"

using namespace voltfall;
using namespace voltfall::testing;

TEST_CASE("two points and a number are volts or ohms by the unit") {
    const Reading reading = reading_of("off   M1.1 to B1-            12.60V");
    CHECK(settings_of(reading.state) == "S1=off");
    CHECK(reading.state.text == "off");
    const auto volts = std::get<VoltsReading>(reading.measurement);
    CHECK(joints_of(volts.red) == "M1.1");
    CHECK(joints_of(volts.black) == "B1-");
    CHECK(volts.value.low == Approx(12.6));
    CHECK(volts.value.high == Approx(12.6));
    CHECK(volts.value.last_digit == Approx(0.01));

    const auto ohms = measured<OhmsReading>("unplug C303  R1.1 to R1.4    2.25ohm");
    CHECK(joints_of(ohms.red) == "R1.1");
    CHECK(joints_of(ohms.black) == "R1.4");
    CHECK(ohms.value.low == Approx(2.25));
    CHECK(reading_of("unplug C303  R1.1 to R1.4 OL").state.unplugged == std::vector<std::string>{"C303"});
    CHECK(measured<OhmsReading>("unplug C303  R1.1 to R1.4 open").value.open);
    CHECK(measured<OhmsReading>("unplug C303  R1.1 to R1.4 0,2 ohm").value.low == Approx(0.2));
}

TEST_CASE("a point alone is to battery minus, and an unknown black lead is kept as such") {
    CHECK(joints_of(measured<VoltsReading>("hi M1.1 10.3V").black) == "B1-");
    CHECK(measured<VoltsReading>("hi M1.1 to ? 10.3V").black.joints.empty());
    CHECK(measured<VoltsReading>("hi M1.1 to ? 10.3V").black.text == "?");
    CHECK(joints_of(measured<VoltsReading>("hi M1.1 to ground 10.3V").black) == "31");
    CHECK(joints_of(measured<VoltsReading>("B1+ to B1- 13.9V").red) == "B1+");
    CHECK(joints_of(measured<VoltsReading>("30 to 31 12.4V").red) == "30");
    CHECK(problem_of("hi R1.1 to ? 10ohm").message == "ohms between 'R1.1' and an unknown point tell nothing");
}

TEST_CASE("a cavity may be either half, a plug's cavity is the harness half") {
    CHECK(joints_of(measured<VoltsReading>("hi C101.4 10V").red) == "C101.4@541 C101.4@542");
    CHECK(joints_of(measured<VoltsReading>("hi C101-4 10V").red) == "C101.4@541 C101.4@542");
    CHECK(joints_of(measured<VoltsReading>("hi C101/4 10V").red) == "C101.4@541 C101.4@542");
    CHECK(joints_of(measured<VoltsReading>("hi C101.4@542 10V").red) == "C101.4@542");
    CHECK(joints_of(measured<VoltsReading>("hi C303.1 10V").red) == "C303.1");
    CHECK(joints_of(measured<VoltsReading>("hi R1.1 10V").red) == "R1.1");
    CHECK(joints_of(measured<VoltsReading>("hi f7.2 10V").red) == "F7.2");
}

TEST_CASE("values may be bounds, ranges and guesses") {
    const auto value = [](const std::string& text) { return measured<VoltsReading>("hi M1.1 " + text).value; };
    CHECK(value(">10V").low == Approx(10));
    CHECK(std::isinf(value(">10V").high));
    CHECK(value("<0.1V").high == Approx(0.1));
    CHECK(std::isinf(value("<0.1V").low));
    CHECK(value("0.06-0.15V").low == Approx(0.06));
    CHECK(value("0.06-0.15V").high == Approx(0.15));
    CHECK(value("20-50mV").low == Approx(0.02));
    CHECK(value("20-50mV").high == Approx(0.05));
    CHECK(value("~12V").about);
    CHECK(value("~12V").low == Approx(12));
    CHECK(value("> 10 V").low == Approx(10));
    CHECK(value("10,3V").low == Approx(10.3));
    CHECK(value("-0.2V").low == Approx(-0.2));
    CHECK(value("10.3").unit == Unit::volt);
    CHECK(value("10,3").low == Approx(10.3));
    CHECK(value("10,3").last_digit == Approx(0.1));
}

TEST_CASE("across takes the two sides of a part, a cavity, a wire or a ground") {
    const auto sides = [](const std::string& what) {
        const auto volts = measured<VoltsReading>("hi across " + what + " 0.3V");
        return joints_of(volts.red) + " / " + joints_of(volts.black);
    };
    CHECK(sides("M1") == "M1.1 / M1.2");
    CHECK(sides("F7") == "F7.1 / F7.2");
    CHECK(sides("C101.4") == "C101.4@541 / C101.4@542");
    CHECK(sides("C101") == "C101.4@541 / C101.4@542");
    CHECK(sides("C303.1") == "C303.1 / R1.1");
    CHECK(sides("541") == "F7.2@541 / C101.4@541");
    CHECK(sides("G201") == "G201 / 31");
    CHECK(std::holds_alternative<OhmsReading>(reading_of("unplug C304 across M1 0.4ohm").measurement));
    CHECK(problem_of("hi across R1 3V").suggestion == "write two of its points: R1.1 to R1.2");
    CHECK(problem_of("hi across C303 3V").suggestion.find("C303.1") != std::string::npos);
}

TEST_CASE("a clamp is around a wire") {
    const auto amps = measured<AmpsReading>("hi    clamp 542              12.1A");
    CHECK(cab_blower().wire(amps.wire).name == "542");
    CHECK(amps.value.low == Approx(12.1));
    CHECK(amps.what.empty());
    CHECK(measured<AmpsReading>("hi clamp 542 inrush 78A").what == "inrush");
    CHECK(measured<AmpsReading>("hi clamp 542 78A inrush").what == "inrush");
    const auto swings = measured<AmpsReading>("hi wiggle 542 clamp 542 swings 3-19A");
    CHECK(swings.what == "swings");
    CHECK(swings.value.low == Approx(3));
    CHECK(swings.value.high == Approx(19));
    CHECK(two_controls().wire(measured<AmpsReading>("clamp 801 8A", two_controls()).wire).name == "801:1");
    CHECK(two_controls().wire(measured<AmpsReading>("clamp 801b 8A", two_controls()).wire).name == "801:2");
    // A wire may be called 30; as a point it is the bus.
    CHECK(two_controls().wire(measured<AmpsReading>("clamp 30 8A", two_controls()).wire).name == "30");
    CHECK(joints_of(measured<VoltsReading>("30 12V", two_controls()).red, two_controls()) == "30");
    CHECK(problem_of("hi clamp M1 12A").suggestion == "write hi clamp 542 12A");
    CHECK(problem_of("hi 542 12.1A").suggestion == "write hi clamp 542 12.1A");
    CHECK(problem_of("hi M1.1 to B1- 12.1A").suggestion == "write the wire: clamp 542 12.1A");
    CHECK(problem_of("hi clamp 542 12.1V").message == "'12.1V' is not in A");
}

TEST_CASE("lamps, beeps and live or dead points") {
    CHECK(measured<LampReading>("hi    lamp M1.1 to B1-       dim").word == "dim");
    CHECK(joints_of(measured<LampReading>("hi lamp M1.1 bright").black) == "B1-");
    CHECK(measured<LampReading>("lamp in F7  lamp M1.1 to ? DARK").word == "dark");
    CHECK(measured<LampReading>("hi lamp M1.1 to B1- off").word == "dark");
    CHECK(measured<BeepReading>("unplug C303 beep R1.1 to R1.4 yes").beeps);
    CHECK_FALSE(measured<BeepReading>("beep C303.1 to S1.1 no").beeps);
    CHECK(measured<LiveReading>("hi M1.1 to B1- live").live);
    CHECK_FALSE(measured<LiveReading>("hi M1.1 dead").live);
    CHECK_FALSE(measured<LiveReading>("key on F7.2 to 31 dead").live);
    CHECK(problem_of("hi M1.1 to B1- bright").suggestion.find("lamp M1.1") != std::string::npos);
}

TEST_CASE("heat is a temperature or a rise, and a rise in F has no offset") {
    const auto rise = measured<HeatReading>("hi    C101 rise              60C");
    CHECK(rise.place == "C101");
    CHECK(rise.rise);
    CHECK(rise.value.low == Approx(60));
    CHECK_FALSE(measured<HeatReading>("hi after 10min M1 temp 90C").rise);
    CHECK(measured<HeatReading>("M1 temp 212F").value.low == Approx(100));
    CHECK(measured<HeatReading>("M1 rise 90F").value.low == Approx(50));
    const auto hotter = measured<HotterReading>("hi C303.4 hotter C303.3 25C");
    CHECK(hotter.hotter == "C303.4");
    CHECK(hotter.colder == "C303.3");
    CHECK(hotter.value.low == Approx(25));
    CHECK(measured<HotterReading>("hi C303.4 hotter than C303.3 >10C").value.low == Approx(10));
}

TEST_CASE("loads are named by part or by their word") {
    const auto part = [](const std::string& phrase, const Circuit& circuit = cab_blower()) {
        return circuit.part(measured<LoadReading>(phrase, circuit).part).name;
    };
    for (const std::string word : {"dead", "slow", "normal", "fast", "runs", "weak", "erratic", "hums", "squeals"}) {
        CHECK(measured<LoadReading>("hi blower " + word).word == word);
    }
    CHECK(part("lo,ml,mh  blower slow") == "M1");
    CHECK(part("M1 slow") == "M1");
    CHECK(part("fan dead") == "M1");
    // Three motors: the control so named decides, through its contacts and no further than the loads.
    CHECK(part("S1=hi blower slow", two_controls()) == "M1");
    CHECK(part("clutch dead", two_controls()) == "A1");
    const Problem several = problem_of("fast fan dead", two_controls());
    CHECK(several.message == "'fan' may be more than one load");
    CHECK(several.suggestion == "write M2 dead or M3 dead");
    CHECK(problem_of("clutch dead").message == "no load here is a 'clutch'");
    CHECK(problem_of("S1 dead").message == "'S1' is no load that runs or lights");
    CHECK(measured<AirReading>("hi air weak").word == "weak");
    CHECK(problem_of("hi air slow").suggestion.find("weak") != std::string::npos);
}

TEST_CASE("relays, fuses and parts tested by other means") {
    CHECK(measured<RelayReading>("hi relay K3 clicks").word == "clicks");
    CHECK(measured<RelayReading>("hi K3 silent").word == "silent");
    const auto blown = measured<FuseReading>("fuse F7 blown at hi after 2min");
    CHECK(blown.word == "blown");
    REQUIRE(blown.at);
    CHECK(settings_of(*blown.at) == "S1=hi");
    CHECK(blown.after_seconds == Approx(120));
    CHECK(measured<FuseReading>("fuse F7 blown at once").after_seconds == Approx(0));
    const auto looked = reading_of("key off fuse F7 sometimes-blown at ml, hot at once");
    CHECK(looked.state.key == KeyPosition::off);
    CHECK(std::get<FuseReading>(looked.measurement).at->conditions == std::vector<std::string>{"hot"});
    CHECK(measured<FuseReading>("F7 good").word == "good");
    CHECK(measured<FuseReading>("fuse F7 ok").word == "good");
    CHECK(measured<FuseReading>("breaker CB1 tripped at S2=hi", two_controls()).word == "blown");
    CHECK(measured<FuseReading>("CB1 tripped", two_controls()).word == "blown");
    CHECK(problem_of("fuse M1 blown").message == "'M1' is neither a fuse, a breaker nor a link");
    CHECK(cab_blower().part(measured<GoodReading>("M1 good").part).name == "M1");
}

TEST_CASE("what is seen, felt and smelt") {
    const auto look = measured<LookReading>("look  C101.4 green crust");
    CHECK(look.place == "C101.4");
    CHECK(look.words == std::vector<std::string>{"green", "crust"});
    CHECK(measured<LookReading>("look C303 melted burned").words == std::vector<std::string>{"melted", "burnt"});
    CHECK(measured<LookReading>("look F7 slumped").words == std::vector<std::string>{"slumped"});
    CHECK(measured<LookReading>("look 542 \"squirrels chewed it\" rubbed").words ==
          std::vector<std::string>{"squirrels chewed it", "rubbed"});
    CHECK(problem_of("look C101.4 cruust").suggestion.find("crust") != std::string::npos);
    CHECK(problem_of("look C101.4").message == "what was seen at 'C101.4' is missing");
    CHECK(measured<DragReading>("unplug C303 pin C303.4 drag light").word == "light");
    CHECK(measured<RippleReading>("hi ripple M1 one-low").word == "one-low");
    CHECK(measured<SmellReading>("hi smell R1").word == "smell");
    CHECK(measured<SmellReading>("hi smoke M1").place == "M1");
}

TEST_CASE("the pressure that moves a contact") {
    const auto gas = measured<QuantityReading>("gas pressure 0.3bar", two_controls());
    CHECK_FALSE(gas.part.valid());
    CHECK(gas.side == GasSide::both);
    CHECK(gas.value.low == Approx(0.3e5));
    CHECK(measured<QuantityReading>("gas pressure low side 30psi", two_controls()).side == GasSide::low);
    CHECK(measured<QuantityReading>("gas pressure 0.3bar low side", two_controls()).side == GasSide::low);
    CHECK(two_controls().part(measured<QuantityReading>("P1 pressure 0.25MPa", two_controls()).part).name == "P1");
    CHECK(measured<QuantityReading>("S1=hi, key run  gas pressure <1bar", two_controls()).value.high == Approx(1e5));
    for (const std::string phrase : {"gas pressure 0.3bar", "gas pressure low side 0.3bar", "P1 pressure 0.3bar"}) {
        const Reading reading = reading_of(phrase, two_controls());
        const std::string written = write_reading(two_controls(), reading);
        INFO(written);
        CHECK(same_measurement(reading_of(written, two_controls()).measurement, reading.measurement));
    }
    CHECK(problem_of("gas pressure 0.3bar").message ==
          "no contact of this circuit is moved by a pressure that its figures tell");
    CHECK(problem_of("gas pressure 0.3V", two_controls()).message == "'0.3V' is not in bar");
    CHECK(problem_of("gas 0.3bar", two_controls()).message == "'pressure' is missing behind 'gas'");
    CHECK(problem_of("gas pressure high side 20bar", two_controls()).message ==
          "no contact here is moved by the gas of that side");
    CHECK(problem_of("M1 pressure 0.3bar", two_controls()).suggestion == "write P1");
}

TEST_CASE("a lamp is out, dim, lit or bright") {
    const auto circuit = voltfall::testing::circuit_of(
        "format = 1\n[parts]\nB1 = \"battery 12.6V 8mohm\"\nL1 = \"lamp 21W\"\nG1 = \"ground\"\n[wires]\n1 = \"B1+ > "
        "L1.1 1.5mm2 RD 1m\"\n2 = \"L1.2 > G1 1.5mm2 BK 1m\"\n");
    const struct {
        const char* said;
        const char* meant;
    } rows[] = {{"out", "dead"}, {"dim", "weak"}, {"lit", "normal"}, {"bright", "fast"}};
    for (const auto& row : rows) {
        for (const std::string& phrase : {std::string("L1 ") + row.said, std::string("lamp ") + row.said}) {
            INFO(phrase);
            CHECK(measured<LoadReading>(phrase, *circuit).word == row.meant);
            CHECK(write_value(*circuit, reading_of(phrase, *circuit).measurement) == row.said);
        }
    }
    CHECK(measured<LampReading>("lamp L1.1 to B1- dim", *circuit).word == "dim");
    // A motor has no light.
    CHECK(problem_of("M1 dim").message.find("dim") != std::string::npos);
}
