// Pictures of figures that are less usual: what is too small or too many to be drawn is told in words.
#include "cli/pictures/axis.hpp"
#include "cli/pictures/fuse_drawing.hpp"
#include "cli/pictures/ladder_drawing.hpp"
#include "cli/pictures/speed_drawing.hpp"
#include "cli/serve/qr_code.hpp"
#include "cli/views/markup_text.hpp"
#include "tests/cli/command_line.hpp"
#include "tests/support/catch.hpp"

using namespace voltfall;

namespace {

std::string drawn(const Picture& picture) {
    return picture.inside();
}

std::size_t count_of(const std::string& text, const std::string& piece) {
    std::size_t count = 0;
    for (std::size_t at = text.find(piece); at != std::string::npos; at = text.find(piece, at + 1)) ++count;
    return count;
}

/// A 40 A fuse whose band has three currents that it opens at.
FuseCurve fuse() {
    FuseCurve curve;
    curve.fuse = "F7";
    curve.type = "maxi";
    curve.rating = 40;
    curve.openings = {
        {40, {}, {}, {}}, {54, 60, 600, {}}, {80, 2, 10, 60}, {240, 0.1, 0.3, 1}, {9000, 0.001, 0.002, 0.004}};
    curve.running = 20;
    curve.running_in = "hi";
    return curve;
}

const std::string green_line = "#009e73";

}  // namespace

TEST_CASE("a fuse's picture shows what runs, what the fault does, and tells what is too small to be drawn") {
    const std::string usual = drawn(fuse_drawing(fuse(), "fuse1"));
    CHECK(contains(usual, "Fuse F7: 40 A maxi, time and current"));
    CHECK(contains(usual, "runs: 20.0 A in hi"));
    CHECK_FALSE(contains(usual, "with the fault"));
    CHECK(contains(usual, "fill-opacity"));

    FuseCurve opens = fuse();
    opens.fault = 300;
    opens.fault_opens = 0.2;
    CHECK(contains(drawn(fuse_drawing(opens, "fuse1")), "with the fault: 300.0 A, opens after 0.20 s"));
    FuseCurve holds = fuse();
    holds.fault = 50;
    CHECK(contains(drawn(fuse_drawing(holds, "fuse1")), "with the fault: 50.0 A, never opens"));

    // A current that the fault leaves as it is says nothing; next to none has no line, and its words all the same.
    FuseCurve same = fuse();
    same.fault = 20.5;
    CHECK_FALSE(contains(drawn(fuse_drawing(same, "fuse1")), "with the fault"));
    FuseCurve little = fuse();
    little.running = 0.4;
    little.fault = 2;
    const std::string small = drawn(fuse_drawing(little, "fuse1"));
    CHECK(contains(small, "runs: 0.4 A in hi"));
    CHECK(contains(small, "with the fault: 2.0 A, never opens"));
    CHECK(count_of(small, "stroke-width=\"2\"") < count_of(usual, "stroke-width=\"2\""));
    FuseCurve idle = fuse();
    idle.running.reset();
    CHECK_FALSE(contains(drawn(fuse_drawing(idle, "fuse1")), "runs:"));
    idle.fault = 100;
    CHECK(contains(drawn(fuse_drawing(idle, "fuse1")), "with the fault: 100.0 A, never opens"));
}

TEST_CASE("of a fuse's wires three are drawn, and only where the picture reaches") {
    FuseCurve curve = fuse();
    for (const char* wire : {"541", "542", "543", "544"})
        curve.wires.push_back({wire, {{1, 100'000}, {10, 200}, {100, 60}, {1000, 1}}});
    const std::string picture = drawn(fuse_drawing(curve, "fuse1"));
    for (const char* wire : {"541", "542", "543"})
        CHECK(contains(picture, std::string("wire ") + wire + " bears it so long"));
    CHECK_FALSE(contains(picture, "wire 544"));
}

TEST_CASE("a ladder tells its lines apart, breaks where nothing holds a joint, and marks what was measured") {
    VoltageLadder ladder;
    CHECK(ladder_drawing(ladder).empty());
    ladder.load = "M1";
    ladder.state = "hi";
    ladder.rungs = {"B1+", "F7.2", "a joint with a name that is long", "M1.1", "M1.2", "B1-"};
    ladder.load_after = 3;
    ladder.measured.resize(ladder.rungs.size());
    ladder.lines.push_back({"sound", {14.2, 14.1, 14.0, 13.9, 0.2, 0.0}});
    const std::string sound = drawn(ladder_drawing(ladder));
    CHECK(contains(sound, "Where the volts fall: M1 in hi"));
    CHECK(contains(sound, "M1 lies between the two joints in bold"));
    CHECK_FALSE(contains(sound, ">measured<"));
    CHECK(contains(sound, "a joint with a …"));
    CHECK(count_of(sound, "font-weight=\"bold\"") == 2);
    ladder.lines.push_back({"C101.4 open", {14.2, 14.2, {}, {}, 0.0, 0.0}});
    for (const char* name : {"one", "two", "three"}) ladder.lines.push_back({name, {14.2, 14.1, 10.0, 9.9, 0.2, 0.0}});
    ladder.measured[3] = 10.2;
    const std::string many = drawn(ladder_drawing(ladder));
    CHECK(contains(many, "with C101.4 open"));
    CHECK(contains(many, "with two"));
    CHECK_FALSE(contains(many, "with three"));  // four lines are told apart
    CHECK(contains(many, ">measured<"));
    // Of the broken line two pieces are drawn: in the legend one more.
    CHECK(count_of(many, "stroke-dasharray=\"7 3\"") == 3);
}

TEST_CASE("bars show sound and now, and the speed where anything turns") {
    CHECK(speed_drawing({}, "").empty());
    const auto load = [](double amps, std::optional<double> rpm, LoadSeen seen, LoadKind kind) {
        LoadState state;
        state.amps = amps;
        state.rpm = rpm;
        state.seen = seen;
        state.kind = kind;
        return state;
    };
    const LoadState motor = load(20, 3500, LoadSeen::normal, LoadKind::motor);
    const LoadState slow = load(9, 2000, LoadSeen::slow, LoadKind::motor);
    const LoadState lamp = load(1.7, {}, LoadSeen::normal, LoadKind::lamp);
    const std::string lit = drawn(speed_drawing({{"on", "L1", lamp, {}}}, ""));
    CHECK(contains(lit, "amperes"));
    CHECK_FALSE(contains(lit, "revolutions"));
    CHECK(count_of(lit, "<rect") == 2);  // the legend's and the bar
    const std::string both =
        drawn(speed_drawing({{"hi", "M1", motor, slow}, {"hi", "L1", lamp, lamp}}, "with C101.4 resistance 0.3ohm"));
    CHECK(contains(both, "revolutions per minute"));
    CHECK(contains(both, "9.0 slow"));
    CHECK(contains(both, "2000 slow"));
    CHECK(contains(both, "with C101.4 resistance 0.3ohm"));
    CHECK(count_of(both, "<rect") == 2 + 4 + 2);
    const LoadState held = load(80, 0, LoadSeen::dead, LoadKind::motor);
    const LoadState gone = load(0, {}, LoadSeen::dead, LoadKind::motor);
    const std::string stuck = drawn(speed_drawing({{"hi", "M1", motor, held}, {"lo", "M1", motor, gone}}, "with it"));
    CHECK(contains(stuck, "80.0 dead"));
    CHECK(contains(stuck, "0.0 dead"));
    // Words of a bar that fills its row end in it.
    const auto anchored = [&](const std::string& words) {
        const std::size_t at = stuck.find(">" + words + "<");
        return contains(stuck.substr(stuck.rfind("<text", at), at - stuck.rfind("<text", at)), "text-anchor=\"end\"");
    };
    CHECK(anchored("80.0 dead"));
    CHECK_FALSE(anchored("0.0 dead"));
    const std::string none = drawn(speed_drawing({{"off", "M1", gone, {}}}, ""));
    CHECK(contains(none, "0.0"));
}

TEST_CASE("an address becomes squares, and what is none or too long becomes nothing") {
    CHECK(qr_modules("").empty());
    CHECK(qr_text(qr_modules("")).empty());
    CHECK(qr_svg(qr_modules("")).empty());
    CHECK(qr_modules(std::string(5000, 'x')).empty());  // ISO/IEC 18004: at most 2,953 bytes
    const QrModules modules = qr_modules("http://192.0.2.7:4000/?key=1");
    REQUIRE(modules.size() >= 21);
    for (const auto& row : modules) CHECK(row.size() == modules.size());
    // The three corners have a dark ring of seven.
    for (std::size_t i = 0; i < 7; ++i) CHECK((modules[0][i] && modules[i][0] && modules[0][modules.size() - 1 - i]));
    CHECK(contains(qr_svg(modules), "M4 4h1v1h-1z"));
    const std::string text = qr_text(modules);
    for (const char* square : {"█", "▀", "▄", " "}) CHECK(contains(text, square));
}

TEST_CASE("an axis ends at a round number with four to eight steps") {
    for (const double most : {0.13, 1.0, 9.9, 12.6, 14.2, 28.4, 40.0, 99.0}) {
        INFO(most);
        const double steps = axis_end(most) / axis_step(most);
        CHECK(axis_end(most) >= most - 1e-6);
        CHECK(steps > 3.99);
        CHECK(steps < 10.01);
    }
    CHECK(axis_step(14.2) == 2);
    CHECK(axis_step(24.0) == 5);
    CHECK(axis_step(4.5) == 1);
}
