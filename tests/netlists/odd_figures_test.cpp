// Figures, letters and table rows that few files have: what is read of them, and what is said of those that do not
// read.
#include <cmath>
#include <limits>

#include "netlists/laws/diode.hpp"
#include "netlists/laws/motor.hpp"
#include "netlists/laws/resistor.hpp"
#include "netlists/laws/source.hpp"
#include "netlists/tables/colours.hpp"
#include "netlists/tables/defaults.hpp"
#include "netlists/tables/figure_bounds.hpp"
#include "netlists/tables/fuse_model.hpp"
#include "netlists/tables/fuses.hpp"
#include "netlists/tables/insulation.hpp"
#include "netlists/text/characters.hpp"
#include "netlists/text/misread.hpp"
#include "netlists/text/problem_code.hpp"
#include "netlists/text/quantity.hpp"
#include "netlists/text/sealed_text.hpp"
#include "netlists/text/suggest.hpp"
#include "netlists/text/twin_letters.hpp"
#include "netlists/text/words.hpp"
#include "tests/support/catch.hpp"

using namespace voltfall;

namespace {

std::string joined(const std::vector<Word>& words) {
    std::string all;
    for (const Word& word : words) all += (all.empty() ? "" : " | ") + word.text;
    return all;
}

}  // namespace

TEST_CASE("a figure that does not read is told as it was meant") {
    struct Row {
        const char* typed;
        const char* message;
        const char* suggestion;
    };
    const Row rows[]{
        {"1e-3Q", "'Q' is no unit", ""},
        {"1e-Q", "'e-Q' is no unit", ""},
        {"2lV", "'lV' is no unit", "did you mean 21V?"},
        {"2OA", "'OA' is no unit", "did you mean 20A?"},
        {"99999ga", "is no wire gauge", "gauges are whole numbers"},
        {"99999gauge", "is no wire gauge", "gauges are whole numbers"},
        {"@", "is no number that can be read", ""},
        {"+5V", "has a sign", "write 5V"},
        {"-5V", "must not be below zero", "write 5V"},
        {"70Ah", "is no figure that anything here depends on", "leave it out"},
        {"3,5", "has no unit", ""},
    };
    for (const Row& row : rows) {
        const Misread told = explain_misread(row.typed);
        INFO(row.typed << ": " << told.message << " | " << told.suggestion);
        CHECK(told.message.find(row.message) != std::string::npos);
        CHECK(told.suggestion.find(row.suggestion) != std::string::npos);
    }
    for (const char* typed : {"1/0V", "1/0xyz", "5/0AWG"}) CHECK_FALSE(parse_measure(typed));
    CHECK(parse_measure("2/0AWG")->value == -1);
    CHECK_FALSE(parse_measure(std::string(400, '9') + "R5"));
    CHECK(parse_measure("4k7")->value == Approx(4700));  // letter and digit code, IEC 60062
}

TEST_CASE("commas are decimal where a unit follows, and part a list where none does") {
    CHECK(joined(cut_words("2X2,5mm2 RD")) == "2X2.5mm2 | RD");
    CHECK(joined(cut_words("@13,5V")) == "@13.5V");
    CHECK(joined(cut_words("3,2-4,1A")) == "3.2-4.1A");
    CHECK(joined(cut_words("1,2,3V")) == "1 | 2 | 3V");
    CHECK(joined(cut_words("lo,ml")) == "lo | ml");
    const std::vector<Word> quoted = cut_words("12,\"3\"");
    CHECK(number_as_typed(quoted).text == "12");
    const std::vector<Word> number = cut_words("12,3");
    CHECK(number_as_typed(number).text == "12,3");
}

TEST_CASE("bytes that are no UTF-8, marks and twins of letters are told apart") {
    // RFC 3629: an overlong form, a surrogate, and a code point above U+10FFFF.
    for (const char* bytes : {"\xC0\x80", "\xED\xA0\x80", "\xF4\x90\x80\x80"})
        CHECK_FALSE(characters_of(bytes).front().valid);
    CHECK(characters_of("\xF4\x8F\xBF\xBF").front().code == 0x10FFFF);
    CHECK(is_name("e\xCC\x81"));             // e and a combining acute accent
    CHECK_FALSE(is_name("1\xCC\x81"));       // nobody puts one on a digit
    CHECK_FALSE(is_name("a-\xCC\x81"));      // nor on a sign
    CHECK(as_it_looks("e\xCC\x81") == "e");  // the mark apart
    CHECK(as_it_looks("a\xE2\x80\x8B"
                      "b") == "ab");  // a zero-width blank is not seen
    CHECK(as_it_looks("\xD0\x9C"
                      "1") == "M1");  // Cyrillic Em
    CHECK(twin_letter_in("e\xCC\x81").find("stands apart from its letter") != std::string::npos);
    CHECK(twin_letter_in("M1").empty());
    // A near word with the same letters is offered, without a word about letters that only look so.
    const std::vector<std::string> known{"Geblä"};
    CHECK(did_you_mean("Geblä2", known) == "did you mean 'Geblä'?");
}

TEST_CASE("messages stay short and count what they leave out") {
    Problems problems;
    const SourcePlace place;
    std::string accents = "x";
    for (int i = 0; i < 200; ++i) accents += "é";
    problems.error(ProblemCode::no_value, place, "'" + accents + "' is not known", "");
    const std::string& message = problems.list().front().message;
    CHECK(message.size() < 80);
    // Cut between characters, never inside one.
    for (const Character& character : characters_of(message)) CHECK(character.valid);
    problems.add_all(problems);
    CHECK(problems.list().size() == 1);
    Problems many;
    for (int i = 0; i < 100'000; ++i) many.error(ProblemCode::no_value, place, "x", "");
    Problems both;
    both.add_all(many);
    CHECK(both.told().size() == many.told().size());
    CHECK(both.told().back().severity == Severity::error);
    CHECK_FALSE(unseal_text("sealed:"));
    CHECK_FALSE(unseal_text("plain"));
}

TEST_CASE("colours: other spellings, shades, and letters that no table joins") {
    CHECK(colour_meaning("gray").words == "grey");
    CHECK(colour_meaning("light gray").words == "light grey");
    CHECK(colour_meaning("red/").words.empty());
    CHECK(colour_meaning("RD/BK/WH/GN").words.empty());
}

TEST_CASE("rows of tables that only some fuses have") {
    CHECK(fuse_ohms(FuseType::breaker, 20) == Approx(default_value("breaker_drop_volts") / 20));
    CHECK(fuse_tau_seconds(FuseType::breaker, 20) == Approx(default_value("tau_breaker")));
    CHECK_THROWS_AS(figure_bounds("lamp", "no such figure", Unit::volt), std::logic_error);
    CHECK_THROWS_AS(default_range("diode_i_sat"), std::logic_error);
    // Littelfuse fuseology: a fuse stands 100,000 pulses of 22 % of its I2t; below that the last row holds.
    CHECK(pulses_survived(0.1) == Approx(1e5));
    CHECK(pulses_survived(1.0) == 0);
    CHECK(pulses_survived(0.48) == Approx(100));
    CHECK(std::isinf(melt_through_seconds(150, 25, 170, 0.5)));
    CHECK(melt_through_seconds(200, 180, 170, 0.5) == 0);
    CHECK(melt_through_seconds(400, 25, 170, 0.5) > 0);
}

TEST_CASE("a fuse that is past its heat is open, and one below the share has cooled") {
    const FuseModel model = fuse_model(FuseType::mini, 10, Edge::typical, 25);
    CHECK(seconds_to_open(model, {0.7, 0.4}, 5) == 0.0);
    CHECK_FALSE(seconds_to_open(model, {}, std::numeric_limits<double>::infinity()));
    CHECK_FALSE(seconds_to_open(model, {}, 5));
    CHECK(seconds_to_cool(model, {0.1, 0.1}, 0.5) == 0);
    const double cooled = seconds_to_cool(model, {0.5, 0.4}, 0.3);
    CHECK(heat_after(model, {0.5, 0.4}, 0, cooled).total() == Approx(0.3).epsilon(1e-6));
    // A fuse that hardly passes its least current comes to rest below opening.
    const double least = fuse_minimum_opening_amps(FuseType::mini, 10);
    CHECK_FALSE(seconds_to_open(model, {}, least));
    const FuseBand none = fuse_band(FuseType::mini, 10, std::numeric_limits<double>::infinity(), 25);
    CHECK_FALSE(none.earliest);
}

TEST_CASE("a branch that has opened conducts as a gap does") {
    BranchState open;
    open.open = true;
    const Diode diode{default_value("diode_i_sat"), default_value("diode_n")};
    CHECK(diode.least_slope(open) == 1 / open_ohms);
    CHECK(diode.slope_ohms(open, {}) == open_ohms);
    CHECK(diode.power(open, BatteryState::resting, {10, 0, 0}).spent == Approx(100 / open_ohms));
    const Source battery{12.6, 14.2, 0.008};
    CHECK(battery.tolerant_ohms(open) == 0);
    CHECK(battery.tolerant_ohms({}) == 0.008);
    CHECK(Contact{0.005, false}.slope_ohms({}, {}) == open_ohms);
    CHECK(Contact{0.005, true}.slope_ohms({}, {}) == Approx(0.005));
}

TEST_CASE("a diode behind ohms takes what they leave it") {
    const Diode diode{default_value("diode_i_sat"), default_value("diode_n")};
    BranchState behind;
    behind.added_ohms = 10;
    double memory = 0;
    const Flow flow = diode.flow(behind, 12, memory);
    // Kirchhoff: the junction's volts and those of the ohms are the branch's.
    CHECK(memory + 10 * flow.amps == Approx(12).epsilon(1e-9));
    CHECK(diode_amps(diode, memory) == Approx(flow.amps).epsilon(1e-6));
    CHECK(diode.power(behind, BatteryState::resting, {12, flow.amps, 0}).spent == Approx(12 * flow.amps));
    const Flow blocked = diode.flow(behind, -12, memory);
    CHECK(std::abs(blocked.amps) < 1e-9);
}

TEST_CASE("a motor's ohms for small changes: its armature, brushes, and the speed that follows the current") {
    Motor motor{0.3, 0, 1, 0.03, 0.01, 1e-6};
    const double turning = 200;
    const BranchPoint point{12, 5, turning};
    // K I = Tf + kb w + kq w^2 gives dw/dI = K / (kb + 2 kq w), and V = I Ra + K w.
    CHECK(motor.slope_ohms({}, point) == Approx(0.3 + 0.03 * 0.03 / (2 * 1e-6 * turning)));
    motor.shorted_brake = 1e-4;
    CHECK(motor.slope_ohms({}, point) == Approx(0.3 + 0.03 * 0.03 / (1e-4 + 2 * 1e-6 * turning)));
    motor.fan_torque = 0;
    CHECK(motor.slope_ohms({}, point) == Approx(0.3 + 0.03 * 0.03 / 1e-4));
    motor.shorted_brake = 0;
    CHECK(motor.slope_ohms({}, point) == Approx(0.3));  // its speed follows nothing but friction
    CHECK(motor.slope_ohms({}, {12, 5, 0}) == Approx(0.3));
    BranchState standing;
    standing.turning = Turning::standing;
    CHECK(motor.slope_ohms(standing, point) == Approx(0.3));
}
