#include <nlohmann/json.hpp>

#include "tests/cli/command_line.hpp"
#include "tests/support/catch.hpp"

using namespace voltfall;

TEST_CASE("a deck goes to stdout, with a title, options and an end") {
    const Said said = command_line({"deck", scenario("cab-blower.toml"), "--state", "hi"});
    CHECK(said.status == 0);
    CHECK(said.err.empty());
    CHECK(contains(said.out, ".end"));
    CHECK(contains(said.out, "reltol"));
    CHECK(contains(said.out, "C101.4@541"));
    CHECK(said.out == command_line({"deck", scenario("cab-blower.toml"), "--state", "hi", "-o", "-"}).out);
}

TEST_CASE("a deck is written to a file once, and over it only by force") {
    const ScratchFile file("hi.cir");
    const std::vector<std::string> args = {"deck", scenario("cab-blower.toml"), "--state", "hi", "-o", file.path()};
    const Said first = command_line(args);
    CHECK(first.status == 0);
    CHECK(first.out.empty());
    CHECK(contains(first.err, "next: ngspice -b " + file.path()));
    CHECK(contains(file.text(), ".end"));
    const Said again = command_line(args);
    CHECK(again.status == 2);
    CHECK(contains(again.err, "exists already"));
    CHECK(contains(again.err, "--force"));
    std::vector<std::string> forced = args;
    forced.insert(forced.end(), {"--force", "--quiet"});
    const Said third = command_line(forced);
    CHECK(third.status == 0);
    CHECK(third.err.empty());
}

TEST_CASE("the deck after the fuse has opened differs from the one before") {
    const std::vector<std::string> args = {"deck",    scenario("cab-blower.toml"), "--state", "hi",
                                           "--fault", "542 chafe 20mohm at 60%",   "--at"};
    std::vector<std::string> before = args;
    before.push_back("faulted");
    std::vector<std::string> after = args;
    after.push_back("after");
    CHECK(command_line(before).status == 0);
    CHECK(command_line(before).out != command_line(after).out);
    std::vector<std::string> wrong = args;
    wrong.push_back("afterwards");
    CHECK(command_line(wrong).status == 2);
}

TEST_CASE("a deck is one state") {
    const std::string file = scenario("cab-blower.toml");
    const Said two = command_line({"deck", file, "--state", "lo,ml"});
    CHECK(two.status == 2);
    CHECK(contains(two.err, "one state"));
    CHECK(command_line({"deck", file, "-o", "/no/such/folder/x.cir"}).status == 4);
}

TEST_CASE("for programs a deck names the node of every place") {
    const std::vector<std::string> args = {"deck", scenario("cab-blower.toml"), "--state", "hi", "--fault", "542 open"};
    const std::string text = command_line(args).out;
    const auto with = [&](std::vector<std::string> more) {
        more.insert(more.begin(), args.begin(), args.end());
        return command_line(more);
    };
    const auto json = nlohmann::json::parse(with({"--format", "json"}).out);
    CHECK(json.at("state") == "hi");
    CHECK(json.at("at") == "faulted");
    CHECK(json.at("faults") == nlohmann::json({"542 open"}));
    std::string joined;
    for (const auto& line : json.at("deck")) joined += line.get<std::string>() + "\n";
    CHECK(joined == text);
    CHECK(json.at("nodes").at("31") == "0");
    const std::string node = json.at("nodes").at("C101.4@541");
    CHECK(contains(text, "* " + node + " = "));
    CHECK(contains(with({"--format", "plain"}).out, "node\tC101.4@541\t" + node + "\n"));

    const ScratchFile file("named.cir");
    const auto written = nlohmann::json::parse(with({"--format", "json", "--quiet", "--force", "-o", file.path()}).out);
    CHECK(written.at("file") == file.path());
    CHECK(written.at("deck").empty());
}
