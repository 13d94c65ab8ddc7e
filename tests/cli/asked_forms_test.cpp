// What each command answers when it is asked in one of its less usual ways, and that its forms tell the same.
#include <functional>

#include "cli/views/json_document.hpp"
#include "tests/cli/asked_rows.hpp"

using namespace voltfall;
using namespace voltfall::testing;

namespace {

std::vector<std::vector<std::string>> records_of(const std::string& text) {
    std::vector<std::vector<std::string>> records;
    for (const std::string& line : lines_of(text)) {
        records.emplace_back();
        std::istringstream fields(line);
        for (std::string field; std::getline(fields, field, '\t');) records.back().push_back(field);
    }
    return records;
}

}  // namespace

TEST_CASE("every position by itself, ways that end nowhere and relays that hold themselves are shown") {
    check_rows({
        {{"show", "--all"},
         0,
         {"position off", "L1 no feed; back: 3 > G1", "position on", "1 > S1 > 2 > [L1] > 3 > G1"},
         unfused},
        {{"show", "--all"}, 0, {"position start", "another way goes around"}, latched},
        {{"show", scenario("clutch.toml"), "--format", "plain"}, 0, {"load\toff\tA1\tno"}},
    });
}

TEST_CASE("what a fault does is told at the wires that were asked for, over time and from standstill") {
    check_rows({
        {{"whatif", cab, "--points", "542,M1.1", "--fault", "542 chafe 20mohm at 60%", "--all"},
         0,
         {"from end A", "to end A", "542"}},
        {{"whatif", cab, "--points", "542,541", "--fault", "542 chafe 20mohm at 60%"},
         0,
         {"M1", "dead", "from end A", "541"}},
        {{"whatif", cab, "--points", "542,M1.1,C101"}, 2, {"'C101' is not one point"}},
        {{"whatif", cab, "--state", "hi", "--fault", "M1 seized", "--start", "--all"},
         0,
         {"rotor of M1 stuck", "dead"}},
        {{"whatif", cab, "--state", "lo", "--fault", "K3 welded"}, 0, {"M1", "normal", "fast"}},
        {{"whatif", cab, "--state", "hi, lamp in F7", "--fault", "542 chafe 20mohm", "--format", "plain"},
         0,
         {"fuse\thi, lamp in F7\thealthy\tF7"}},
        {{"whatif", cab, "--state", "hi, lamp in F7", "--fault", "542 chafe 20mohm", "--all"}, 0, {"OPEN"}},
        {{"whatif", cab, "--top", "2", "--all"}, 0, {"sound circuit, no fault", "normal"}},
        {{"whatif", scenario("clutch.toml"), "--fault", "P1 stuck closed"},
         0,
         {"no point differs by 0.01 V in any position"}},
        {{"whatif", "--fault", "L1 open"}, 0, {"lamp L1 burnt out", "key on", "lit", "out"}, unswitched},
        {{"whatif"}, 0, {"off", "all", "off", "on", "L1", "lit"}, unfused},
        {{"whatif", "--all"}, 0, {"state off", "relay K1 released", "state start", "relay K1 pulled"}, latched},
        {{"whatif", "--format", "plain"}, 0, {"load\toff\thealthy\tL1", "point\tstart\thealthy\tL1.1"}, latched},
        {{"whatif", "--fault", "S1 C-4 bridge"}, 2, {"'S1' has no fault 'C-4 bridge'"}, unfused},
    });
}

TEST_CASE("a circuit without a fuse is protected by nothing, one fuse is told with its wires") {
    check_rows({
        {{"protect"}, 0, {"no fuse in this circuit: nothing protects it", "1 chafe"}, unfused},
        {{"protect", "--all"}, 0, {"nothing protects it", "no fuse in the way", "its copper melts in about"}, unfused},
        {{"protect"}, 0, {"F1", "10", "L1", "OK"}, unswitched},
        {{"protect", "--all"}, 0, {"F1 10 A mini, red", "feeds L1", "opens in"}, unswitched},
        {{"protect", cab, "--all", "--top", "1"}, 0, {"F7 40 A maxi", "K3"}},
    });
}

TEST_CASE("a state, a reading, a tool or a rate that is none is a wrong usage of each command that takes it") {
    for (const std::string command : {"faults", "protect", "whatif"})
        check_rows({{{command, cab, "--state", "nonsense"}, 2, {"'nonsense' is no word of a state"}}});
    for (const std::string command : {"match", "next", "plan"})
        check_rows({{{command, weak, "--read", "nonsense"}, 2, {"'nonsense' is neither a setting nor a point"}}});
    for (const std::string command : {"next", "plan"})
        check_rows({{{command, weak, "--tools", "hammer"}, 2, {"no tool is called 'hammer'"}}});
    check_rows({{{"report", weak, "-o", "-", "--read", "nonsense"}, 2, {"'nonsense' is neither a setting nor a point"}},
                {{"report", weak, "-o", "-", "--tools", "hammer"}, 2, {"no tool is called 'hammer'"}},
                {{"report", weak}, 2, {"a report needs a file to write"}}});
    const std::string long_rate(60, '9');
    for (const std::string rate : {"much", "1.234,5 EUR/h", ".", long_rate.c_str()})
        check_rows({{{"prove", done, "--rate", rate}, 2, {"is no rate of a shop"}},
                    {{"report", weak, "--rate", rate, "-o", "-"}, 2, {"is no rate of a shop"}}});
    for (const std::string rate : {"95", "95 EUR/h", "95,50 EUR/h", "95 EUR per hour"})
        check_rows({{{"prove", done, "--rate", rate}, 0, {"PROVED: 8 checks passed"}}});
    check_rows({{{"read", cab, "hi M1 slow"}, 4, {"is a circuit; readings are kept in a job file"}},
                {{"plan", scenario("none.job.toml")}, 3, {"No such file"}},
                {{"help", "parts", "none.toml"}, 3, {"none.toml"}}});
}

TEST_CASE("help answers to a topic, a command, a kind of part and a slip") {
    check_rows({
        {{"help"}, 0, {"Usage: voltfall COMMAND"}},
        {{"help", "match"}, 0, {"voltfall match weak-air.job.toml", "--why"}},
        {{"help", "sensor"}, 0, {"terminals 1 2", "also called a=1 b=2", "ohms", "1ohm to 10Mohm", "in the panel"}},
        {{"help", "lamp"}, 0, {"terminals 1 2"}},
        {{"help", "readings", cab}, 0, {"M1.1 to B1-"}},
        {{"help", "mach"}, 2, {"there is no help on 'mach'", "did you mean 'match'?"}},
        {{"help", "xyzzy"}, 2, {"there is no help on 'xyzzy'", "a kind of part"}},
        {{"-h", "match"}, 0, {"Usage: voltfall match"}},
        {{"--version"}, 0, {"voltfall ", "ngspice"}},
        {{"xyzzy"}, 2, {"unknown command 'xyzzy'"}},
        {{"match", weak, "--xyzzy"}, 2, {"unknown option '--xyzzy'"}},
        {{"match", weak, "--wyh"}, 2, {"did you mean '--why'?"}},
        {{"match", "--", weak}, 0, {"C101.4 resistance"}},
        {{"match", "-"}, 3, {"the file is empty"}},
        {{"match"}, 2, {"match needs a file"}},
        {{"--top", "3", "next", weak}, 0, {"the maker's procedure"}},
        {{"--top=3", "next", weak}, 0, {"the maker's procedure"}},
        {{"--format", "json", "check", cab}, 0, {"\"ok\":true"}},
    });
}

TEST_CASE("`new` takes one beginning and names what is wrong with two") {
    check_rows({
        {{"new", "low-side-pack", "--job", cab}, 2, {"a starter, a wire list and a job at once"}},
        {{"new", "--from", "-"}, 3, {"the list is empty"}},
        {{"new", "--number", "7"}, 2, {"--concern and --number are of a job"}},
        {{"new", "--concern", "weak"}, 2, {"--concern and --number are of a job"}},
        {{"new", "xyzzy"}, 2, {"no starter is called 'xyzzy'", "voltfall new lists them"}},
        {{"new", "low-side-pak"}, 2, {"did you mean 'low-side-pack'?"}},
        {{"new", "--job", "-", "--concern", "no air"}, 2, {"a job names its circuit by a file"}},
        {{"new", "--job", cab, "--concern", "no air", "-o", "-"}, 0, {"concern = \"no air\"", "M1 dead"}},
    });
    const Json json = Json::parse(command_line({"new", "--format", "json"}).out);
    std::vector<std::vector<std::string>> starters;
    for (const Json& starter : json.at("starters"))
        starters.push_back({"starter", starter.at("name"), starter.at("line")});
    CHECK(starters.size() > 10);
    CHECK(records_of(command_line({"new", "--format", "plain"}).out) == starters);
}

TEST_CASE("a plan's records are the nodes of its tree") {
    const Json json = Json::parse(command_line({"plan", scenario("only-high.job.toml"), "--format", "json"}).out);
    std::vector<std::string> tests;
    const std::function<void(const Json&)> walk = [&](const Json& node) {
        if (!node.contains("test") || node.at("test").is_null()) return;
        tests.push_back(node.at("test"));
        for (const Json& branch : node.at("branches")) walk(branch.contains("then") ? branch.at("then") : branch);
    };
    walk(json.at("tree"));
    REQUIRE_FALSE(tests.empty());
    const Said plain = command_line({"plan", scenario("only-high.job.toml"), "--format", "plain"});
    std::size_t steps = 0;
    for (const auto& record : records_of(plain.out)) steps += !record.empty() && record[0] == "step";
    INFO(plain.out);
    CHECK(steps == tests.size());
    for (const std::string& test : tests) CHECK(contains(plain.out, "\t" + test + "\t"));
    const Said text = command_line({"plan", scenario("only-high.job.toml"), "--all"});
    const std::string first = tests.front().substr(tests.front().rfind("  ") + 2);
    CHECK(contains(text.out, first));
}

TEST_CASE("a reading that is added tells the same suspects as JSON and as records") {
    const auto added = [](const std::string& format, const std::string& reading) {
        const ScratchFile job(
            "kept.job.toml",
            "format = 1\ncircuit = \"" + cab + "\"\nconcern = \"weak\"\n[readings]\n1 = \"hi M1.1 to M1.2 9.8V\"\n");
        const Said said = command_line({"read", job.path(), reading, "--format", format});
        CHECK(said.status == 0);
        CHECK(contains(job.text(), reading));
        return said.out;
    };
    for (const std::string reading : {"hi across C101.4 3.6V", "lo M1 normal", "hi clamp 542 12A"}) {
        const Json json = Json::parse(added("json", reading));
        std::vector<std::string> named;
        for (const Json& suspect : json.at("suspects")) named.push_back(suspect.at("fault"));
        std::vector<std::string> recorded;
        for (const auto& record : records_of(added("plain", reading)))
            if (record[0] == "suspect") recorded.push_back(record[1]);
        INFO(reading);
        CHECK_FALSE(named.empty());
        CHECK(recorded == named);
    }
    check_rows({{{"match", weak, "--why", "--two", "--top", "1"}, 0, {"C101.4 resistance"}},
                {{"match", scenario("third-relay.job.toml"), "--format", "plain", "--why"}, 0, {"place\tK7"}},
                {{"next", scenario("dead-clutch.job.toml"), "--all", "--top", "3"}, 0, {"WARNING gas under pressure"}},
                {{"deck", cab, "--fault", "M1 seized", "--at", "after", "--state", "hi", "--format", "plain"},
                 0,
                 {"fault\tM1 seized", "at\tafter"}}});
}

TEST_CASE("a shell is offered what fits where it stands") {
    const auto offered = [](std::vector<std::string> words) {
        words.insert(words.begin(), {"complete", "--"});
        return lines_of(command_line(words).out);
    };
    const auto has = [](const std::vector<std::string>& lines, const std::string& word) {
        return std::find(lines.begin(), lines.end(), word) != lines.end();
    };
    CHECK(offered({"wh"}) == std::vector<std::string>{"whatif"});
    CHECK(has(offered({"-"}), "--version"));
    CHECK(has(offered({"match", "--"}), "--read"));
    CHECK(offered({"xyzzy", ""}).empty());
    CHECK(offered({"whatif", cab, "--fault", "'R1 l"}) == std::vector<std::string>{"R1 limiter open"});
    CHECK(offered({"whatif", cab, "--fault", "\"R1 l"}) == std::vector<std::string>{"R1 limiter open"});
    CHECK(has(offered({"whatif", cab, "--points", ""}), "M1.1"));
    CHECK(has(offered({"match", weak, "--read", "hi M"}), "hi M1.1"));
    CHECK(has(offered({"check", ""}), "*files"));
    CHECK(has(offered({"new", "--from", ""}), "*files"));
    CHECK(has(offered({"new", "--job", ""}), "*files"));
    CHECK(has(offered({"prove", done, "--repaired", "C1"}), "C101"));
    CHECK(has(offered({"whatif", cab, "--state", ""}), "hi"));
    CHECK_FALSE(has(offered({"match", weak, "--why", "zzz"}), "C101"));
    CHECK(has(lines_of(command_line({"complete", "wh"}).out), "whatif"));
    CHECK(command_line({"complete"}).status == 0);
}

TEST_CASE("each sort of what is seen, smelt, heard or felt speaks for the fault that shows it") {
    struct Evidence {
        std::string reading;
        std::string speaks_for;
        std::string rather_than;
    };
    // A short bursts a fuse at once, an overload of minutes slumps it (the trade's reading of a fuse's window).
    const std::vector<Evidence> rows{
        {"F7 looks burst", "542 chafe", "M1 drag"},
        {"F7 looks slumped", "M1 seized", "542 chafe"},
        {"F7 looks melted", "M1 seized", "542 chafe"},
        {"look M1 stuck", "M1 seized", "R1 limiter open"},
        {"hi  C101.4 hotter C303  30C", "C101.4 resistance", "F7 resistance"},
        {"hi  C101 rise  60C", "C101.4 resistance", "F7 resistance"},
        {"hi  C101 temp  90C", "C101.4 resistance", "F7 resistance"},
        {"ripple M1 gaps", "M1 worn-brushes", "M1 drag"},
        {"hi  smell C101", "C101.4 resistance", "R1 limiter open"},
        {"look C101.4 crust", "C101.4 resistance", "M1 drag"},
        {"pin C101.4 drag none", "C101.4 resistance", "F7 resistance"},
        {"hi  air weak", "M1 blocked-air", "F7 open"},
        {"new F7, hi  fuse F7 blown", "542 chafe", "C101.4 resistance"},
        {"R1 good", "M1 drag", "R1 limiter open"},
    };
    for (const Evidence& row : rows) {
        const Said said = command_line({"match", cab, "--read", row.reading, "--format", "json", "--why"});
        INFO(row.reading << "\n" << said.err);
        REQUIRE(said.status <= 1);
        const Json answer = Json::parse(said.out);
        const auto chance_of = [&](const std::string& fault) {
            double chance = 0;
            for (const Json& candidate : answer.at("candidates"))
                if (candidate.at("fault").get<std::string>().starts_with(fault))
                    chance = std::max(chance, candidate.at("probability").get<double>());
            return chance;
        };
        CHECK(chance_of(row.speaks_for) > chance_of(row.rather_than));
    }
}

TEST_CASE("a conversation at the vehicle takes back, skips, repairs and ends in more than one word") {
    const ScratchFile job("talk.job.toml", "format = 1\ncircuit = \"" + cab +
                                               "\"\nconcern = \"\"\n[readings]\n1 = \"hi M1.1 to M1.2 9.8V\"\n");
    const auto talk = [&](const std::string& lines) { return command_line({"read", job.path()}, {}, lines); };
    const Said first = talk("undo\n\n?\ncannot reach\ncannot\nskip\nhi across C101.4 3.6V\nundo\nexit\n");
    INFO(first.out << first.err);
    CHECK(first.status == 0);
    CHECK(contains(first.out + first.err, "nothing was kept here yet that could be taken back"));
    CHECK_FALSE(contains(job.text(), "3.6V"));
    const Said second = talk("hi across C101.4 3.6V\nrepaired C101.4 new terminal\nhi M1 normal\nhi M1 slow\nquit\n");
    INFO(second.out << second.err);
    CHECK(contains(job.text(), "[repaired]"));
    CHECK(contains(job.text(), "[after]"));
    CHECK(contains(job.text(), "3.6V"));
    const Said third = talk("list\nundo\nend\n");
    INFO(third.out << third.err);
    CHECK(third.status == 0);
    CHECK(command_line({"read", cab}, {}, "quit\n").status != 0);
}

TEST_CASE("the settings of a person are read, and what is wrong in them is told") {
    const auto with = [&](const std::string& text) {
        const ScratchFile settings("voltfall.toml", "format = 1\n" + text);
        Terminal terminal;
        terminal.settings = settings.path();
        const Said said = command_line({"next", weak}, terminal);
        return said;
    };
    const Said wide = with("columns = 120\ncolor = \"never\"\ntools = [\"meter\"]\n");
    CHECK_FALSE(contains(wide.err, "error"));
    CHECK(wide.status <= 1);
    CHECK(widest_line(with("columns = 60\ncolor = \"always\"\n").out) > 0);
    CHECK(contains(with("columns = 7\n").err, "columns"));
    CHECK(contains(with("columns = 100000\n").err, "columns"));
    CHECK(contains(with("columns = \"wide\"\n").err, "columns"));
    CHECK(contains(with("color = \"pink\"\n").err, "color"));
    CHECK(contains(with("color = 7\n").err, "color"));
    CHECK(contains(with("colums = 80\n").err, "colums"));
    CHECK(contains(with("tools = [\"hammer\"]\n").err, "hammer"));
    CHECK(contains(with("[parts]\nF7 = \"fuse\"\n").err, "parts"));
}
