// A command added by one file (toy_command.cpp) and its row in the table is found, told of and run as any other.
#include "cli/commands/command.hpp"
#include "cli/commands/complete.hpp"
#include "cli/commands/manual.hpp"
#include "tests/cli/command_line.hpp"
#include "tests/support/catch.hpp"

using namespace voltfall;

TEST_CASE("a toy command runs, in each format, with options of its own and those of every command") {
    const Said said = command_line({"ratings", scenario("cab-blower.toml")});
    INFO(said.out << said.err);
    CHECK(said.status == 0);
    CHECK(contains(said.out, "F7 40 A\n"));
    CHECK(command_line({"ratings", scenario("cab-blower.toml"), "--sum"}).out.find("F7") == std::string::npos);
    const Said json = command_line({"--format", "json", "ratings", scenario("cab-blower.toml")});
    CHECK(json.out.starts_with("{\"schema\":1,\"command\":\"ratings\""));
    CHECK(command_line({"ratings", scenario("cab-blower.toml"), "--format=plain"}).out.starts_with("ratings\t"));
}

TEST_CASE("a toy command's mistakes are told as those of any command") {
    CHECK(command_line({"ratngs"}).err == "voltfall: unknown command 'ratngs'\n  did you mean 'ratings'?\n");
    CHECK(contains(command_line({"ratings"}).err, "ratings needs a file: voltfall ratings CIRCUIT [--sum]"));
    CHECK(contains(command_line({"ratings", "x.toml", "--smu"}).err, "did you mean '--sum'?"));
    CHECK(command_line({"ratings", "no-such-file.toml"}).status == 3);
}

TEST_CASE("a toy command stands in every help, in the manual and in the completions") {
    CHECK(contains(command_line({}).out, "the amperes on every fuse"));
    CHECK(contains(command_line({"--help"}).out, "ratings"));
    for (const std::vector<std::string>& asked : {std::vector<std::string>{"ratings", "--help"}, {"help", "ratings"}}) {
        const Said help = command_line(asked);
        CHECK(help.status == 0);
        CHECK(help.out.starts_with("Examples\n  voltfall ratings cab-blower.toml"));
        CHECK(contains(help.out, "--sum"));
    }
    CHECK(completions({"rat"}) == std::vector<std::string>{"ratings"});
    CHECK(completions({"ratings", "--su"}) == std::vector<std::string>{"--sum"});
    CHECK(contains(manual_pages().front().text, "the amperes on every fuse"));
}
