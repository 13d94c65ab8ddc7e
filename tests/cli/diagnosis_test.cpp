// `match` and `next` as command lines; what they answer is the engine's, how they show it is tested here.
#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <sstream>

#include <nlohmann/json.hpp>

#include "cli/views/match_view.hpp"
#include "cli/views/next_view.hpp"
#include "netlists/files/circuit_file.hpp"
#include "netlists/phrases/test_phrase.hpp"
#include "tests/cli/command_line.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/phrase_circuits.hpp"

using namespace voltfall;
using voltfall::testing::cab_blower;
using Json = nlohmann::ordered_json;

namespace {

std::vector<std::string> keys_of(const Json& object) {
    std::vector<std::string> keys;
    for (const auto& item : object.items()) keys.push_back(item.key());
    return keys;
}

Candidate candidate(const std::string& fault, double probability) {
    Candidate one;
    one.fault = fault;
    one.probability = probability;
    return one;
}

MatchView sample_match() {
    MatchView view;
    view.concern = "weak air on every speed";
    view.answer.readings = 6;
    Candidate pin = candidate("C101.4 resistance", 0.93);
    pin.place = "C101.4";
    pin.mode = "resistance";
    pin.size = SizeEstimate{0.30, 0.27, 0.34, Unit::ohm};
    pin.because = {"reading 2: M1.1 to B1- 10.3 V, expected 10.2 to 10.4 V"};
    pin.alike_so_far = {"541 resistance"};
    pin.caused_by = {{"M1 drag", "M1", 0.2}};
    pin.repair = "C101.4";
    view.answer.candidates = {pin, candidate("541 resistance", 0.05)};
    view.answer.none_of_these = 0.01;
    view.answer.doubtful = {{"4", 0.6}};
    view.answer.ruled_out = {{"F7 blown", "1"}};
    static const auto circuit = read_circuit_file(scenario("cab-blower.toml")).circuit;
    view.circuit = circuit.get();
    view.next = "voltfall next weak-air.job.toml";
    return view;
}

NextView sample_next() {
    NextView view;
    view.circuit = {std::shared_ptr<const Circuit>(), &cab_blower()};
    TestProposal test;
    Problems problems;
    test.test = read_test_phrase(TypedText::argument("test", "hi  across C101.4"), cab_blower(), problems).value();
    test.minutes = 25;
    test.bits = 0.92;
    test.bits_per_minute = 0.037;
    test.expect = {{"C101.4 resistance", 3.4, 4.0, Unit::volt, ""}, {"M1 drag", 0.02, 0.06, Unit::volt, ""}};
    test.can_see = "50 mohm or more";
    test.caution = {"hot exhaust-gas tube near 542"};
    view.answer.tests = {test};
    StopAdvice& stop = view.answer.stop.emplace();
    stop.fault = "C101.4 resistance";
    stop.probability = 0.97;
    stop.why = "the next test costs more than it can save";
    view.next = "voltfall match x --read \"what you measured\"";
    return view;
}

}  // namespace

TEST_CASE("match as JSON has the keys of its contract in their order") {
    const Json answer = Json::parse(match_json(sample_match()));
    const std::vector<std::string> keys = keys_of(answer);
    REQUIRE(keys.size() >= 7);
    CHECK(
        std::vector<std::string>(keys.begin(), keys.begin() + 7) ==
        std::vector<std::string>{"schema", "command", "readings", "places", "candidates", "none_of_these", "doubtful"});
    const Json& first = answer["candidates"][0];
    const std::vector<std::string> inner = keys_of(first);
    CHECK(std::vector<std::string>(inner.begin(), inner.begin() + 11) ==
          std::vector<std::string>{"fault", "place", "mode", "probability", "size", "where", "because", "against",
                                   "caused_by", "alike_so_far", "same_as"});
    CHECK(first["size"] == Json({{"best", 0.30}, {"low", 0.27}, {"high", 0.34}, {"unit", "ohm"}}));
    CHECK(first["where"].is_null());
    CHECK(answer["doubtful"][0] == Json({{"reading", "4"}, {"probability", 0.6}}));
    CHECK(answer["ruled_out"][0] == Json({{"fault", "F7 blown"}, {"by", "1"}}));
}

TEST_CASE("match text says how likely in words, why, what is alike, what it costs and what to type next") {
    for (const int width : {44, 80}) {
        const std::string text = match_text(sample_match(), {width});
        INFO(text);
        CHECK(widest_line(text) <= width);
        CHECK(contains(text, "C101.4 resistance: about 9 in 10"));
        CHECK(contains(text, "0.27 to 0.34 ohm"));
        CHECK(contains(text, "because reading 2"));
        CHECK(contains(text, "alike so far 541 resistance"));
        CHECK(contains(text, "25 min"));
        CHECK(contains(text, "doubtful reading 4"));
        CHECK(contains(text, "next: voltfall next weak-air.job.toml"));
    }
}

TEST_CASE("none of these leads only when it beats the leader with all that is alike") {
    MatchAnswer answer;
    answer.candidates = {candidate("a", 0.3), candidate("b", 0.25)};
    answer.none_of_these = 0.4;
    CHECK(none_leads(answer));
    answer.candidates[0].alike_so_far = {"b"};
    CHECK_FALSE(none_leads(answer));
    CHECK(none_leads(MatchAnswer{}));
}

TEST_CASE("reasons that a better candidate has too are not written again") {
    MatchView view = sample_match();
    view.answer.candidates[1].because = view.answer.candidates[0].because;
    const std::string text = match_text(view, {80});
    CHECK(contains(text, "because as 1"));
    CHECK(text.find("because reading 2") == text.rfind("because reading 2"));
}

TEST_CASE("a cavity is reached with its connector and a socket with its part") {
    const Said said = command_line({"match", "--why", scenario("weak-air.job.toml"), "--top", "30"});
    INFO(said.out);
    CHECK(contains(said.out, "repair C101.4, 25 min there and back"));
    CHECK(contains(said.out, "repair F7.2, 2 min there and back"));
}

TEST_CASE("a supply that nothing tells is said") {
    MatchView view = sample_match();
    view.answer.supply_unknown = true;
    CHECK(contains(match_text(view, {80}), "supply unknown"));
}

TEST_CASE("next as JSON has the keys of its contract in their order") {
    const Json answer = Json::parse(next_json(sample_next()));
    const std::vector<std::string> keys = keys_of(answer["tests"][0]);
    CHECK(std::vector<std::string>(keys.begin(), keys.begin() + 7) ==
          std::vector<std::string>{"test", "minutes", "bits", "bits_per_minute", "expect", "can_see", "caution"});
    const Json& expect = answer["tests"][0]["expect"][0];
    CHECK(expect["low"] == 3.4);
    CHECK(expect["unit"] == "V");
    CHECK(keys_of(answer["stop"]) == std::vector<std::string>{"fault", "probability", "why", "repairs",
                                                              "second_repairs", "order", "cause", "hand_back"});
}

TEST_CASE("next text puts the caution before the step it belongs to") {
    for (const int width : {44, 80}) {
        NextView view = sample_next();
        view.answer.stop.reset();
        const std::string text = next_text(view, {width});
        INFO(text);
        CHECK(widest_line(text) <= width);
        REQUIRE(contains(text, "CAUTION hot exhaust-gas tube"));
        CHECK(text.find("CAUTION") < text.find("across C101.4"));
        CHECK(contains(text, "3.40 to 4.00 V"));
    }
}

TEST_CASE("a turn of the switch takes seconds: a limit of time stands before the test that takes minutes") {
    // Sound or not, the cab blower may stand under C101.4's heat for a minute; a voltmeter takes about that long.
    const Said said = command_line({"next", scenario("cab-blower.toml")}, page_of(80));
    INFO(said.out);
    const auto sweep = said.out.find("\n1 lo, ml, mh, hi blower");
    const auto limit = said.out.find("\nCAUTION switch on for");
    REQUIRE(sweep != std::string::npos);
    REQUIRE(limit != std::string::npos);
    CHECK(sweep < limit);
    CHECK(limit < said.out.find("\n2 hi "));
}

TEST_CASE("a fuse of a wrong rating is told as ratings that are made") {
    const std::string circuit = scenario("cab-blower.toml");
    const auto told = [&](const std::vector<std::string>& readings) {
        std::vector<std::string> args{"match", circuit, "--top", "20"};
        for (const std::string& reading : readings) args.insert(args.end(), {"--read", reading});
        const Said said = command_line(args, page_of(120));
        const auto at = said.out.find("fuse of the wrong rating in F7");
        INFO(said.out);
        REQUIRE(at != std::string::npos);
        return said.out.substr(at, said.out.find('\n', at) - at);
    };
    CHECK(contains(told({"fuse F7 rating 15A", "fuse F7 blown"}), " 15 A "));
    CHECK(contains(told({"fuse F7 rating 20A", "fuse F7 blown"}), " 20 A "));
    // Nobody read it: those within the spread, each one that is made.
    const Said unread = command_line({"match", circuit, "--read", "fuse F7 blown at hi after 20s", "--read",
                                      "new F7  fuse F7 blown at hi after 20s", "--top", "20", "--why"},
                                     page_of(120));
    const auto rating = unread.out.find(" F7 rating: ");
    INFO(unread.out);
    REQUIRE(rating != std::string::npos);
    CHECK(contains(unread.out.substr(rating, 100), "size 10 to 20 A"));
}

TEST_CASE("after stop there are no further tests, but what ends testing is said") {
    const NextView view = sample_next();
    CHECK(contains(next_text(view, {80}), "stop testing: C101.4 resistance"));
    CHECK_FALSE(contains(next_text(view, {80}), "across C101.4"));
    PageStyle all{80};
    all.all = true;
    CHECK(contains(next_text(view, all), "across C101.4"));
}

TEST_CASE("the weak-air job puts the bulkhead pin first, and the words tell against the motor") {
    const Said said = command_line({"match", scenario("weak-air.job.toml"), "--format", "json"});
    INFO(said.err);
    REQUIRE(said.status == 0);
    const Json answer = Json::parse(said.out);
    CHECK(answer["candidates"][0]["place"] == "C101.4");
    CHECK(answer["candidates"][0]["size"]["best"].get<double>() == Approx(0.3).margin(0.1));
}

TEST_CASE("a reading on the command line is weighed with the job's") {
    const Json without = Json::parse(command_line({"match", scenario("weak-air.job.toml"), "--format", "json"}).out);
    const Json with = Json::parse(
        command_line({"match", scenario("weak-air.job.toml"), "--read", "hi F7.2 to B1- 14.0V", "--format", "json"})
            .out);
    CHECK(with["readings"].get<int>() == without["readings"].get<int>() + 1);
    const Said wrong = command_line({"match", scenario("weak-air.job.toml"), "--read", "hi M1.9 to B1- 10V"});
    CHECK(wrong.status == 2);
    CHECK(contains(wrong.err, "M1.9"));
    CHECK(wrong.out.empty());
}

TEST_CASE("match and next text fit 44 and 80 columns") {
    for (const std::string command : {"match", "next", "plan"}) {
        for (const int width : {44, 80}) {
            // A path is one word and is never broken.
            const Said said = command_line({command, scenario("weak-air.job.toml")}, page_of(width));
            INFO(said.out << said.err);
            CHECK(said.status == 0);
            for (const std::string& line : lines_of(said.out))
                if (!contains(line, "/")) CHECK(text_width(line) <= width);
        }
    }
}

TEST_CASE("match and next as plain begin every line with the kind of record") {
    const Said match = command_line({"match", scenario("weak-air.job.toml"), "--format", "plain"});
    CHECK(contains(match.out, "\ncandidate\tC101.4 resistance\tC101.4\tresistance\t"));
    const Said next = command_line({"next", scenario("weak-air.job.toml"), "--format", "plain"});
    CHECK(next.status == 0);
    const std::string first = next.out.substr(0, next.out.find('\t'));
    CHECK((first == "test" || first == "stop" || first == "note"));
}

TEST_CASE("plan as JSON is a tree of tests and ends") {
    const Said said = command_line({"plan", scenario("weak-air.job.toml"), "--format", "json"});
    INFO(said.err);
    REQUIRE(said.status == 0);
    const Json answer = Json::parse(said.out);
    CHECK(keys_of(answer) == std::vector<std::string>{"schema", "command", "tree", "expected_minutes", "worst_minutes",
                                                      "right", "exact", "notes"});
    const Json& root = answer["tree"];
    CHECK(keys_of(root) == std::vector<std::string>{"test", "minutes", "expected_minutes", "caution", "branches"});
    REQUIRE(root["branches"].size() >= 2);
    CHECK(keys_of(root["branches"][0]) == std::vector<std::string>{"if", "from", "to", "probability", "then"});
    CHECK(answer["expected_minutes"].get<double>() <= answer["worst_minutes"].get<double>());
}

TEST_CASE("plan draws one page, and does not overwrite a file unasked") {
    const std::string file = "/tmp/voltfall-plan-" + std::to_string(getpid()) + ".svg";
    std::filesystem::remove(file);
    const std::vector<std::string> words{"plan", scenario("weak-air.job.toml"), "-o", file};
    CHECK(command_line(words).status == 0);
    std::ifstream stream(file);
    std::ostringstream text;
    text << stream.rdbuf();
    CHECK(text.str().starts_with("<svg"));
    CHECK(contains(text.str(), "repair C101"));
    CHECK(text.str().find("</svg>") != std::string::npos);
    const Said again = command_line(words);
    CHECK(again.status == 2);
    CHECK(contains(again.err, "exists already"));
    std::filesystem::remove(file);
}

TEST_CASE("two faults and tools are asked for on the command line") {
    const Said two = command_line({"match", scenario("weak-air.job.toml"), "--two", "--format", "json"});
    REQUIRE(two.status == 0);
    CHECK(Json::parse(two.out).contains("pairs"));
    CHECK_FALSE(
        Json::parse(command_line({"match", scenario("weak-air.job.toml"), "--format", "json"}).out).contains("pairs"));
    const Said lamp =
        command_line({"next", scenario("weak-air.job.toml"), "--tools", "clamp 1%+0.3A", "--format", "json"});
    REQUIRE(lamp.status == 0);
    const Json answer = Json::parse(lamp.out);
    for (const Json& test : answer["tests"]) CHECK(test["test"].get<std::string>().find("to B1-") == std::string::npos);
    const Said wrong = command_line({"plan", scenario("weak-air.job.toml"), "--tools", "meter,scoope"});
    CHECK(wrong.status == 2);
    CHECK(contains(wrong.err, "no tool is called 'scoope'"));
}
