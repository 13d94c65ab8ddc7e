// Answers that few vehicles give, as a page: pairs of faults, doubts, what ends testing, how an exercise ended.
#include "cli/views/debrief_view.hpp"
#include "cli/views/match_view.hpp"
#include "cli/views/next_view.hpp"
#include "tests/cli/command_line.hpp"
#include "tests/cli/page_styles.hpp"
#include "tests/support/catch.hpp"

using namespace voltfall;
using voltfall::testing::page;
using voltfall::testing::whole;

namespace {

Candidate candidate(const std::string& fault, double probability) {
    Candidate one;
    one.fault = fault;
    one.place = fault.substr(0, fault.find(' '));
    one.probability = probability;
    one.repair = one.place;
    return one;
}

/// Two suspects, the first of them likelier.
MatchView view_of_two() {
    MatchView view;
    view.next = "voltfall next FILE";
    view.answer.readings = 2;
    view.answer.candidates = {candidate("M1 drag", 0.6), candidate("R1 limiter open", 0.3)};
    view.answer.none_of_these = 0.1;
    return view;
}

}  // namespace

TEST_CASE("what no single fault explains is said before any fault") {
    MatchView view = view_of_two();
    view.answer.none_of_these = 0.7;
    CHECK(contains(match_text(view, page()), "NO FAULT FITS: none of these is about 7 in 10"));
    // Together with what the readings cannot tell from it the leader is likelier.
    view.answer.candidates[0].alike_so_far = {"R1 limiter open"};
    CHECK_FALSE(contains(match_text(view, page()), "NO FAULT FITS"));
    view.answer.candidates[0].alike_so_far.clear();
    view.answer.candidates[0].same_as = {"R1 limiter open"};
    view.answer.none_of_these = 0.65;
    CHECK_FALSE(contains(match_text(view, page()), "NO FAULT FITS"));
    MatchView none;
    none.answer.none_of_these = 1;
    CHECK(contains(match_text(none, page()), "NO FAULT FITS: none of these is more than 99 in 100"));
    CHECK(contains(match_text(none, whole()), "0 readings weighed"));
}

TEST_CASE("two faults at once are told with their repairs, where they fit better and where none does") {
    MatchView view = view_of_two();
    CHECK_FALSE(contains(match_text(view, page()), "two faults at once"));
    view.answer.pairs_asked = true;
    CHECK(contains(match_text(view, page()), "no two faults fit better than one"));
    FaultPair pair;
    pair.faults = {"R1 limiter open", "G201 resistance 0.15ohm"};
    pair.repairs = {"R1", "G201"};
    pair.probability = 0.8;
    pair.of_repairs = 0.8;
    FaultPair same = pair;
    same.of_repairs = 0;  // told with the first of its repairs
    view.answer.pairs = {pair, same};
    const std::string told = match_text(view, page());
    CHECK(contains(told, "two faults at once fit better than any one of these"));
    CHECK(contains(told, "R1 limiter open and G201 resistance 0.15ohm: about 8 in 10; repair R1 and G201"));
    CHECK(told.find("repair R1 and G201") == told.rfind("repair R1 and G201"));
    view.answer.pairs[0].probability = 0.2;
    CHECK_FALSE(contains(match_text(view, whole()), "fit better than any one"));
}

TEST_CASE("a suspect has its size as the supply lets it be known, its causes and what it has broken") {
    MatchView view = view_of_two();
    Candidate& first = view.answer.candidates[0];
    first.size = SizeEstimate{0.3, 0.28, 0.32, Unit::ohm};
    first.because = {"reading 1 fits"};
    first.against = {"reading 2 hardly fits"};
    first.caused_by = {{"M2 seized", "M2", 0.4}};
    first.led_to = {{"F7 open", "F7"}, {"R1 limiter open", "R1"}};
    view.answer.candidates[1].because = first.because;
    view.answer.candidates[1].against = first.against;
    const std::string known = match_text(view, page());
    for (const char* piece :
         {"1 M1 drag: about 6 in 10", "size 0.28 to 0.32 ohm", "because reading 1 fits",
          "against reading 2 hardly fits", "caused by M2 seized (about 4 in 10)", "has led to F7 open, R1 limiter open",
          "repair M1 and F7 and R1", "2 R1 limiter open", "because as 1"}) {
        INFO(piece << "\n" << known);
        CHECK(contains(known, piece));
    }
    view.answer.supply_unknown = true;
    const std::string rough = match_text(view, page());
    CHECK(contains(rough, "size roughly 0.3 ohm"));
    CHECK(contains(rough, "note supply unknown: no reading of B1+ to B1-"));
    view.answer.notes = {"the supply is guessed"};
    CHECK_FALSE(contains(match_text(view, page()), "supply unknown"));
    first.where = SizeEstimate{0.5, 0.4, 0.6, Unit::percent};
    CHECK(contains(match_text(view, page()), "40% to 60% along it"));
    first.where = SizeEstimate{0.5, 0.1, 0.9, Unit::percent};
    CHECK_FALSE(contains(match_text(view, page()), "along it"));
    first.size.reset();
    first.where = SizeEstimate{0.5, 0.4, 0.6, Unit::percent};
    CHECK(contains(match_text(view, page()), "size 40% to 60% along it"));
}

TEST_CASE("doubts, what is ruled out and what is left out are told with their readings") {
    MatchView view = view_of_two();
    view.answer.doubtful = {{"3", 0.4}};
    view.answer.ruled_out = {{"F7 open", "1"}, {"K3 welded", "2"}};
    const std::string told = match_text(view, page(100, 1));
    CHECK(contains(told, "doubtful reading 3: about 4 in 10 that it is wrong; take it again"));
    CHECK(contains(told, "ruled out F7 open (by reading 1) and 1 more: --top 2"));
    CHECK(contains(told, "1 more: --top 2"));
    CHECK(contains(match_text(view, page()), "ruled out F7 open (by reading 1), K3 welded (by reading 2)"));
    view.why = false;
    const std::string first = match_text(view, page());
    CHECK(contains(first, "doubtful: reading 3, about 4 in 10 that it is wrong"));
    CHECK_FALSE(contains(first, "ruled out"));
    view.answer.places = {{"M1", false, "M1", 0.6, {"M1 drag"}},
                          {"nothing", true, "", 0.2, {}},
                          {"R1", false, "R1", 0.1, {"R1 limiter open"}},
                          {"C101", false, "C101", 0.001, {"C101.4 open"}}};
    const std::string places = match_text(view, page());
    CHECK(contains(places, "M1 drag"));
    CHECK(contains(places, "no fault found"));
    CHECK_FALSE(contains(places, "C101.4 open"));
    CHECK(contains(places, "1 less likely: --why"));
    view.answer.contrast =
        Contrast{"M1 drag", "R1 limiter open", {{"1", "hi M1.1 to B1-", "10.20V", "10.2 V", "13.9 V"}}};
    CHECK(contains(match_text(view, page()), "why M1 drag before R1 limiter open"));
    view.answer.contrast->rows[0].speaks_for_first = false;
    view.answer.supply_unknown = true;
    const std::string against = match_text(view, page());
    CHECK(contains(against, "M1 drag leads by how often it happens; beside R1 limiter open"));
    CHECK(contains(against, "about 13.9 V"));
    CHECK(contains(against, "the second"));
}

TEST_CASE("testing ends with one place, with several that nothing parts, with two, or with nothing") {
    const auto written = [](const StopAdvice& stop) {
        TextPage text(page());
        write_stop(text, stop);
        return text.text();
    };
    StopAdvice stop;
    stop.fault = "C101.4 resistance";
    stop.probability = 0.97;
    stop.repairs = {"C101"};
    CHECK(written(stop) == "stop testing: repair C101 (about 97 in 100); likeliest there: C101.4 resistance\n");
    stop.why = "every reading fits";
    stop.order = {"seal", "terminal"};
    stop.cause = "what burnt it?";
    stop.hand_back = "not on high";
    stop.repairs = {"C101", "541"};
    const std::string several = written(stop);
    for (const char* piece :
         {"stop testing: C101 and 541 together (about 97 in 100), not settled between them", "why every reading fits",
          "with it seal, terminal", "cause what burnt it?", "until then not on high"})
        CHECK(contains(several, piece));
    stop.second_repairs = {"G201"};
    CHECK(contains(written(stop), "two faults, repair both: C101 or 541 and G201 (about 97 in 100)"));
    stop.second_repairs.clear();
    stop.repairs.clear();
    CHECK(contains(written(stop), "stop testing: C101.4 resistance (about 97 in 100)"));
}

TEST_CASE("a test's worth is told in words, and what it would read as a figure, a range or a word") {
    TestProposal test;
    const std::pair<double, const char*> worths[] = {{1.5, "several groups"},
                                                     {1.0, "about in half"},
                                                     {0.8, "about a quarter"},
                                                     {0.5, "about a tenth"},
                                                     {0.1, "tells little, but something"}};
    for (const auto& [bits, words] : worths) {
        test.bits = bits;
        CHECK(contains(std::string(worth_words(test)), words));
    }
    test.finds_complaint = true;
    CHECK(worth_words(test) == "is it there now?");
    CHECK(expected_text({"f", 10.2, 11.5, Unit::volt, ""}) == "10.20 to 11.50 V");
    CHECK(expected_text({"f", 10.2, 10.2, Unit::ampere, ""}) == "10.2 A");
    CHECK(expected_text({"f", 3, 4, Unit::none, ""}) == "3.0 to 4.0");
    CHECK(expected_text({"f", 0, 0, Unit::volt, "slow"}) == "slow");
    CHECK(without_mark("warning: hands off") == "hands off");
    CHECK(without_mark("caution: hot") == "hot");
    CHECK(without_mark("as it is") == "as it is");
    CHECK(caution_word("warning: hands off") == "WARNING");
    CHECK(caution_word("caution: hot") == "CAUTION");
}

namespace {

DebriefStep step(const std::string& test, double minutes) {
    DebriefStep one;
    one.test = test;
    one.value = "10.2 V";
    one.minutes = minutes;
    return one;
}

}  // namespace

TEST_CASE("a debrief tells what each test told, and how it ended") {
    LearnerResult result;
    Debrief& debrief = result.debrief;
    debrief.sentence = "nothing was repaired";
    debrief.hidden = {"C101.4 resistance 0.3ohm"};
    debrief.proof = "none was taken";
    debrief.afterwards = "draw it";
    const auto told = [&](const DebriefStep& one) {
        debrief.steps = {one};
        return debrief_text(result, page(120));
    };
    DebriefStep one = step("hi, key run M1.1 to B1-", 2);
    CHECK(contains(told(one), "hi M1.1 to B1-"));
    one.bits = 0.01;
    CHECK(contains(told(one), "told nothing new"));
    one.bits = 0.3;
    CHECK(contains(told(one), "told a little"));
    one.bits = 1.2;
    CHECK(contains(told(one), "told a good deal"));
    one.repeated = true;
    CHECK(contains(told(one), "the same test again"));
    one.ruled_out = {"a", "b", "c", "d", "e", "f"};
    CHECK(contains(told(one), "the same test again; ruled out a, b, c, d and 2 more"));
    one.repeated = false;
    CHECK(contains(told(one), "ruled out a, b, c, d and 2 more"));
    one.blind = "no current";
    CHECK(contains(told(one), "could not show it: no current; it ruled out a"));
    one.ruled_out.clear();
    CHECK(contains(told(one), "could not show it: no current"));
    one.untouched = true;
    CHECK(contains(told(one), "the probe had not touched"));
    one.lamp_section = true;
    CHECK(contains(told(one), "the last section that shows millivolts"));
    one.after_work = true;
    CHECK(contains(told(one), "after the repair"));
    CHECK_FALSE(contains(told(one), "guesses"));
    one.is_work = true;
    CHECK(contains(told(one), "guesses none: the readings spoke for every repair"));
    one.guess = true;
    CHECK(contains(told(one), "a guess: no reading spoke for it"));
    const DebriefStep free = step("hi M1", 0);
    CHECK(contains(told(free), "and 1 look that cost nothing"));
}

TEST_CASE("how an exercise ended is one sentence, with what was hidden and what it cost") {
    LearnerResult result;
    Debrief& debrief = result.debrief;
    debrief.sentence = "it runs";
    debrief.proof = "M1 at hi normal";
    const std::pair<Verdict, const char*> ends[] = {
        {Verdict::solved, "Solved: it runs"},
        {Verdict::cause_left, "Mended, but its cause is left: it runs"},
        {Verdict::not_mended, "Not mended: it runs"},
        {Verdict::false_alarm, "A sound part was renewed for nothing: it runs"},
        {Verdict::unsafe, "Stopped, because it was unsafe: it runs"}};
    debrief.hidden = {"R1 limiter open"};
    for (const auto& [verdict, words] : ends) {
        debrief.verdict = verdict;
        const std::string told = debrief_text(result, page(120));
        INFO(told);
        CHECK(told.starts_with(words));
        CHECK(contains(told, "proof M1 at hi normal") == (verdict != Verdict::unsafe));
        PageStyle coloured = page(120);
        coloured.colour = Colour::on;
        CHECK(debrief_text(result, coloured).starts_with("\x1b["));
    }
    debrief.verdict = Verdict::solved;
    debrief.roots = {"M1 drag 1.4"};
    CHECK(contains(debrief_text(result, page(120)), "hidden R1 limiter open; behind it M1 drag 1.4"));
    debrief.hidden.clear();
    CHECK(contains(debrief_text(result, page(120)), "hidden M1 drag 1.4"));
    debrief.roots.clear();
    const std::string sound = debrief_text(result, page(120));
    CHECK(contains(sound, "hidden nothing"));
    CHECK_FALSE(contains(sound, "proof"));
    DebriefFigures& figures = debrief.figures;
    figures.minutes = 30;
    figures.budget_minutes = 25;
    figures.plan_minutes = 12;
    CHECK(contains(debrief_text(result, page(120)),
                   "minutes 30 min of 25 min; the tool's own plan did not find it in 12 min"));
    figures.plan_solved = true;
    figures.parts = 2;
    figures.wrong_parts = {"M1"};
    figures.unwarranted = {"M1"};
    figures.risk = true;
    DebriefStep work = step("new M1", 10);
    work.is_work = true;
    debrief.steps = {work};
    debrief.own_numbers = "hi gave 3.7 V";
    debrief.reason = {"the volts fall in C101.4"};
    const std::string told = debrief_text(result, page(120));
    for (const char* piece :
         {"the tool's own plan took 12 min", "parts 2 fitted; for nothing: M1", "guesses M1: no reading spoke for it",
          "risk an unsafe action ended the exercise", "yours hi gave 3.7 V", "why the volts fall in C101.4"})
        CHECK(contains(told, piece));
}
