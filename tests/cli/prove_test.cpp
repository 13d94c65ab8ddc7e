// `prove`, readings after the repair, and jobs that begin.
#include <filesystem>

#include "cli/views/shop_rate.hpp"
#include "tests/cli/command_line.hpp"
#include "tests/support/catch.hpp"

using namespace voltfall;

TEST_CASE("prove tells by its exit status whether the repair is proved") {
    const Said proved = command_line({"prove", scenario("weak-air-done.job.toml")});
    INFO(proved.out);
    CHECK(proved.status == 0);
    CHECK(contains(proved.out, "PROVED: "));
    CHECK(contains(proved.out, "hand back: yes"));
    for (const char* paragraph : {"concern: ", "cause: ", "correction: "}) CHECK(contains(proved.out, paragraph));
    const Said fuse = command_line({"prove", scenario("fuse-blows.job.toml"), "--repaired", "F7 new fuse", "--after",
                                    "lo,ml,mh,hi blower normal", "--after", "fuse F7 good"});
    INFO(fuse.out);
    CHECK(fuse.status == 1);
    CHECK(contains(fuse.out, "NOT PROVED"));
    CHECK(contains(fuse.out, "why F7 blew"));
    CHECK(contains(fuse.out, "hand back: no"));
}

TEST_CASE("what a pack in the feed takes by design is no drop that has to be read again") {
    const std::string circuit = std::string(PROJECT_DIR) + "/scenarios/bookmobile/rear-blower.toml";
    const auto job_with = [&](const std::string& volts) {
        return "format = 1\ncircuit = '" + circuit +
               "'\nconcern = \"slow on low\"\n[readings]\n1 = \"lo  blower slow\"\n2 = \"med,hi  blower normal\"\n"
               "[repaired]\nC210 = \"new terminal in cavity A\"\n[after]\n1 = \"lo,med,hi  blower normal\"\n"
               "2 = \"lo, key run  B1+ to B1-  14.17V\"\n3 = \"lo, key run  clamp 601  4.2A\"\n"
               "4 = \"lo, key run  C311.1 to B1-  " +
               volts + "\"\n5 = \"lo, key run  G301 to B1-  0.01V\"\n";
    };
    // A sound one has 7.13 V there: the pack takes 6.6 V of the feed, the wires 0.4 V of the 0.8 V that are allowed.
    const ScratchFile sound("sound.job.toml", job_with("7.13V"));
    const Said said = command_line({"prove", sound.path()});
    INFO(said.out);
    CHECK(contains(said.out, "PROVED: "));
    CHECK_FALSE(contains(said.out, "may wait"));
    const ScratchFile near("near.job.toml", job_with("6.78V"));
    CHECK(contains(command_line({"prove", near.path()}).out, "may wait: feed of M2 at lo"));
}

TEST_CASE("prove fits both pages and every format") {
    for (const int columns : {44, 80}) {
        const Said said = command_line({"prove", scenario("weak-air-done.job.toml")}, page_of(columns));
        INFO(said.out);
        CHECK(widest_line(said.out) <= columns);
    }
    const Said json = command_line({"prove", scenario("weak-air-done.job.toml"), "--format", "json"});
    CHECK(json.out.starts_with("{\"schema\":1,\"command\":\"prove\""));
    CHECK(contains(json.out, "\"proved\":true"));
    CHECK(contains(json.out, "\"hand_back\":true"));
    const Said plain = command_line({"prove", scenario("weak-air-done.job.toml"), "--format", "plain"});
    CHECK(plain.out.starts_with("proved\tyes\t"));
}

TEST_CASE("what was repaired is a place of the circuit, and a wrong one is an error with its line") {
    const std::string circuit = std::string(PROJECT_DIR) + "/scenarios/bookmobile/cab-blower.toml";
    const ScratchFile job("bad.job.toml", "format = 1\ncircuit = '" + circuit +
                                              "'\n[readings]\n1 = \"hi  blower slow\"\n[repaired]\nC10l = \"new\"\n");
    const Said said = command_line({"prove", job.path()});
    CHECK(said.status == 3);
    CHECK(contains(said.err, "'C10l'"));
    CHECK(contains(said.err, "C101"));
    const Said typed = command_line({"prove", scenario("weak-air.job.toml"), "--repaired", "nowhere at all"});
    CHECK(typed.status == 2);
}

TEST_CASE("a reading after the repair is kept under its own heading and everything else stays as it was") {
    const std::string text =
        "format  = 1\ncircuit = \"cab-blower.toml\"\n[readings]\n1 = \"hi  blower slow\"   # seen\n\n"
        "[repaired]\nC101.4 = \"new terminal\"\n";
    const ScratchFile job("open.job.toml", text);
    std::filesystem::copy_file(scenario("cab-blower.toml"),
                               std::filesystem::path(job.path()).parent_path() / "cab-blower.toml");
    const Said first = command_line({"read", job.path(), "--after", "hi  blower normal"});
    INFO(first.out << first.err);
    CHECK(first.status == 0);
    CHECK(job.text() == text + "\n[after]\n1 = \"hi  blower normal\"\n");
    CHECK(contains(first.out, "NOT PROVED"));
    CHECK(command_line({"read", job.path(), "--after", "lo  blower normal"}).status == 0);
    CHECK(job.text() == text + "\n[after]\n1 = \"hi  blower normal\"\n2 = \"lo  blower normal\"\n");
    // A reading before the repair still goes where it belongs.
    CHECK(command_line({"read", job.path(), "fuse F7 good"}).status == 0);
    CHECK(contains(job.text(), "# seen\n2 = \"fuse F7 good\"\n\n[repaired]"));
    const std::string kept = job.text();
    CHECK(command_line({"read", job.path(), "--after", "nonsense here"}).status == 2);
    CHECK(job.text() == kept);
}

TEST_CASE("a job begins from the customer's words and reads without a mistake") {
    const ScratchFile job("new.job.toml");
    const Said said = command_line({"new", "--job", scenario("cab-blower.toml"), "--concern",
                                    "works only on high, \"no air\" else", "-o", job.path()});
    INFO(said.err);
    REQUIRE(said.status == 0);
    CHECK(contains(said.err, "voltfall read"));
    CHECK(contains(job.text(), "concern = \"works only on high, \\\"no air\\\" else\""));
    CHECK(contains(job.text(), "# 1 = \"hi  M1 normal\""));
    CHECK(contains(job.text(), "# 2 = \"lo,ml,mh  M1 dead\""));
    const Said check = command_line({"check", job.path()});
    INFO(check.out << check.err);
    CHECK(check.status == 0);
    // It is read and added to as any other.
    CHECK(command_line({"read", job.path(), "hi  M1 normal"}).status == 0);
    CHECK(command_line({"new", "--job", scenario("cab-blower.toml"), "--concern", "x", "-o", job.path()}).status == 2);
}

TEST_CASE("a job that begins asks for the concern, and wants a circuit") {
    const Said asked = command_line({"new", "--job", scenario("cab-blower.toml")}, {}, "blows its fuse\n");
    CHECK(asked.status == 0);
    CHECK(contains(asked.out, "fuse F7 blown"));
    CHECK(command_line({"new", "--job", scenario("cab-blower.toml")}, {}, "").status == 2);
    CHECK(command_line({"new", "--job", scenario("weak-air.job.toml"), "--concern", "x"}).status == 2);
    CHECK(command_line({"new", "--job", "not-there.toml", "--concern", "x"}).status == 3);
}

TEST_CASE("the minutes of a job are told, and what they cost where the shop says its rate") {
    // weak-air-done: 5 readings of volts and a look at the fuse before, each place opened once: F7 2 min and C101 25
    // min by the file's [reach]; the rest as assumed in the defaults (volts 1, clamp 2, look 1; joint mended 10 min).
    const Said plain = command_line({"prove", scenario("weak-air-done.job.toml")});
    CHECK(contains(plain.out, "time: about "));
    CHECK(contains(plain.out, "repair 10"));  // the place was opened by a test
    CHECK_FALSE(contains(plain.out, "an hour"));
    const Said paid = command_line({"prove", scenario("weak-air-done.job.toml"), "--rate", "60 EUR/h"});
    CHECK(contains(paid.out, "at 60 EUR an hour"));
    const Said wrong = command_line({"prove", scenario("weak-air-done.job.toml"), "--rate", "cheap"});
    CHECK(wrong.status == 2);
    CHECK(contains(wrong.err, "no rate of a shop"));
    for (const auto& [typed, figure] :
         {std::pair{"95/h", 95.0}, {"$110", 110.0}, {"85,50 EUR per hour", 85.5}, {"95 CHF/hr", 95.0}}) {
        const auto rate = read_shop_rate(typed);
        INFO(typed);
        REQUIRE(rate);
        CHECK(rate->per_hour == Approx(figure));
    }
    for (const char* typed : {"", "0", "-5 EUR", "95 to 105", "1e99", "95.5.5"}) CHECK_FALSE(read_shop_rate(typed));
    // An hour at 60 costs as many as it has minutes.
    CHECK(time_text({30, 20, 10}, read_shop_rate("60 EUR/h")) ==
          "about 60 min: tests 30, repair 20, proof 10; at 60 EUR an hour 60 EUR");
}
