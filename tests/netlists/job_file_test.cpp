#include "netlists/files/job_file.hpp"

#include <filesystem>
#include <fstream>

#include <unistd.h>

#include "netlists/files/job_draft.hpp"
#include "netlists/files/tools_line.hpp"
#include "netlists/phrases/loads.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/phrase_circuits.hpp"

using namespace voltfall;
using namespace voltfall::testing;

namespace {

/// A folder with the example circuit and one job, gone at the end.
class JobFolder {
public:
    JobFolder() : path_(std::filesystem::temp_directory_path() / ("voltfall-job-" + std::to_string(::getpid()))) {
        std::filesystem::create_directories(path_);
        std::filesystem::copy_file(PROJECT_DIR "/scenarios/bookmobile/cab-blower.toml", path_ / "bookmobile.toml",
                                   std::filesystem::copy_options::overwrite_existing);
    }
    ~JobFolder() { std::filesystem::remove_all(path_); }
    JobFolder(const JobFolder&) = delete;
    JobFolder& operator=(const JobFolder&) = delete;

    JobReading read(const std::string& text) const {
        std::ofstream(path_ / "job.toml") << text;
        return read_job_file((path_ / "job.toml").string());
    }
    std::string circuit() const { return (path_ / "bookmobile.toml").string(); }

private:
    std::filesystem::path path_;
};

std::vector<std::string> messages(const JobReading& reading) {
    std::vector<std::string> list;
    for (const Problem& problem : reading.problems.list()) {
        if (problem.severity == Severity::error) list.push_back(problem.message);
    }
    return list;
}

}  // namespace

TEST_CASE("a job is read with its circuit, readings, fitted parts, history and tools") {
    const JobFolder folder;
    const JobReading reading = folder.read(R"(format  = 1
circuit = "bookmobile.toml"
job     = 48213
concern = "weak air on every speed"
tools   = ["meter 0.5%+2digits", "clamp", "lamp 5W", "load 55W"]

[readings]                        # state   measurement        value   note
1 = "off   M1.1 to B1-            12.6V"
2 = "hi    M1.1 to B1-            10.3V"
3 = "hi    clamp 542              12.1A"
4 = "hi    C101 rise              60C"
5 = "lo,ml,mh  blower slow"
6 = "look  C101.4 green crust"
7 = "unplug C303  R1.1 to R1.4    2.25ohm"
8 = "fuse F7 blown at hi after 2min"
9 = "hi    lamp M1.1 to B1-       dim"
[fitted]
R1 = "7 days ago, second, worked at first"
[history]
1 = "dash taken out last month"
)");
    INFO(all_problems(reading.problems));
    REQUIRE(reading.job);
    const Job& job = *reading.job;
    CHECK(job.job == "48213");
    CHECK(job.concern == "weak air on every speed");
    REQUIRE(job.readings.size() == 9);
    CHECK(job.readings[0].id == "1");
    CHECK(job.readings[0].place.line == 8);
    CHECK(job.readings[8].text == "hi    lamp M1.1 to B1-       dim");
    REQUIRE(job.fitted.size() == 1);
    CHECK(reading.circuit->part(job.fitted[0].part).name == "R1");
    CHECK(job.fitted[0].words == "7 days ago, second, worked at first");
    CHECK(job.history == std::vector<std::string>{"dash taken out last month"});
    REQUIRE(job.tools.size() == 4);
    CHECK(job.tools[0].relative == Approx(0.005));
    CHECK(job.tools[0].digits == Approx(2));
    CHECK(job.tools[1].relative == Approx(0.025));  // reference wires M13: 2.5 % + 0.3 A
    CHECK(job.tools[1].absolute == Approx(0.3));
    CHECK(job.tools[2].watts == Approx(5));
    CHECK(job.tools[3].watts == Approx(55));
}

TEST_CASE("without tools a meter, a clamp and a lamp are at hand") {
    const JobFolder folder;
    const JobReading reading = folder.read("format = 1\ncircuit = \"bookmobile.toml\"\n");
    INFO(all_problems(reading.problems));
    REQUIRE(reading.job);
    REQUIRE(reading.job->tools.size() == 3);
    CHECK(reading.job->tools[0].name == "meter");
    CHECK(reading.job->tools[0].relative == Approx(0.008));  // reference wires M2, E17
    CHECK(reading.job->tools[0].digits == Approx(3));
    CHECK(reading.job->tools[2].name == "lamp");
    CHECK(reading.job->tools[2].watts == Approx(21));
}

TEST_CASE("a tool with a figure that cannot be, or with half of one, is refused") {
    const auto message = [](const std::string& tool) {
        Problems problems;
        CHECK_FALSE(read_tool(typed(tool), problems));
        REQUIRE(problems.list().size() == 1);
        return problems.list().front().message;
    };
    CHECK(message("clamp 1%+") == "'1%+' is no figure of a clamp");
    CHECK(message("clamp 150%") == "'150%' cannot be the accuracy of a tool; expected 0% to 100%");
    CHECK(message("meter 0.5%+1e9digits") == "'1e9digits' cannot be the digits of a tool; expected 0 to 1000");
    CHECK(message("load 1e20W") == "'1e20W' cannot be the watts of a tool; expected 0.1W to 10000W");
    CHECK(message("lamp 0W") == "'0W' must be more than zero");
}

TEST_CASE("every mistake of a job is reported in one run, each where it stands") {
    const JobFolder folder;
    const JobReading reading = folder.read(R"(format = 1
circuit = "bookmobile.toml"
concren = "weak air"
tools = ["metre", "lamp 21V"]
[readings]
1 = "off M1.1 to B1- 12.6X"
2 = "hii clamp 542 12.1A"
3 = 12
[fited]
R1 = "new"
[fitted]
R9 = "new"
)");
    CHECK_FALSE(reading.job);
    CHECK_FALSE(reading.circuit);
    const auto all = messages(reading);
    INFO(all_problems(reading.problems));
    REQUIRE(all.size() == 8);
    CHECK(all[0] == "'concren' is no key of a job");
    CHECK(all[1] == "no tool is called 'metre'");
    CHECK(all[2] == "'21V' is no figure of a lamp");
    CHECK(all[3] == "'12.6X' is no figure: 'X' is no unit");
    CHECK(all[4] == "'hii' is neither a setting nor a point, wire or part");
    CHECK(all[5] == "reading '3' must be a text");
    CHECK(all[6] == "'[fited]' is no section of a job");
    CHECK(all[7] == "no part or plug is called 'R9'");
    CHECK(reading.problems.list()[3].place.line == 6);
    CHECK(reading.problems.list()[3].place.column == 22);
    CHECK(reading.problems.list()[0].suggestion == "did you mean 'concern'?");
}

TEST_CASE("a circuit that is not there is a problem at its key") {
    const JobFolder folder;
    const JobReading reading =
        folder.read("format = 1\ncircuit = \"bokmobile.toml\"\n[readings]\n1 = \"hi blower slow\"\n");
    REQUIRE(messages(reading) == std::vector<std::string>{"there is no circuit file 'bokmobile.toml'"});
    CHECK(reading.problems.list().front().place.line == 2);
    CHECK(reading.problems.list().front().suggestion == "did you mean 'bookmobile.toml'?");
    CHECK(messages(folder.read("format = 1\n")) ==
          std::vector<std::string>{"the file is no circuit, no job and no lesson"});
    CHECK(messages(folder.read("format = 1\nconcern = \"weak\"\n")) ==
          std::vector<std::string>{"the job does not name its circuit"});
    CHECK_FALSE(messages(read_job_file("no-such-folder/job.toml")).empty());
}

TEST_CASE("the circuit's own mistakes come with the job's") {
    const JobFolder folder;
    std::ofstream(folder.circuit()) << "format = 1\n[parts]\nB1 = \"batery 12.6V\"\n";
    const JobReading reading = folder.read("format = 1\ncircuit = \"bookmobile.toml\"\nconcren = \"x\"\n");
    CHECK_FALSE(reading.job);
    bool circuit_told = false;
    for (const Problem& problem : reading.problems.list()) circuit_told |= problem.place.file == folder.circuit();
    CHECK(circuit_told);
    CHECK(messages(reading).size() >= 2);
}

TEST_CASE("a circuit file given as a job is a job without readings") {
    const JobFolder folder;
    const JobReading reading = read_job_file(folder.circuit());
    INFO(all_problems(reading.problems));
    REQUIRE(reading.job);
    CHECK(reading.job->readings.empty());
    CHECK(reading.job->tools.size() == 3);
    CHECK(reading.circuit->find_part("M1").valid());
}

TEST_CASE("a reading added on the command line gets the next free number") {
    const JobFolder folder;
    const JobReading reading =
        folder.read("format = 1\ncircuit = \"bookmobile.toml\"\n[readings]\n2 = \"hi blower slow\"\n");
    REQUIRE(reading.job);
    Job job = *reading.job;
    Problems problems;
    add_reading(job, *reading.circuit, TypedText::argument("--read", "hi M1.1 to B1- 10.3V"), problems);
    add_reading(job, *reading.circuit, TypedText::argument("--read", "hi M1.1 to B1- 10.3X"), problems);
    REQUIRE(job.readings.size() == 2);
    CHECK(job.readings[1].id == "3");
    REQUIRE(problems.list().size() == 1);
    CHECK(problems.list()[0].place.file == "--read");
    CHECK(problems.list()[0].place.column == 16);
}

TEST_CASE("what was mended and the readings after it stand apart from the readings before") {
    const JobFolder folder;
    const JobReading reading = folder.read(
        "format = 1\ncircuit = \"bookmobile.toml\"\n[readings]\n1 = \"hi  blower slow\"\n"
        "[repaired]\nc101.4 = \"terminal and seal renewed\"\nC303 = \"plug renewed\"\n542 = \"sleeved\"\n"
        "[after]\n1 = \"hi  blower normal\"\n2 = \"hi  clamp 542  20.3A\"\n");
    REQUIRE(messages(reading).empty());
    REQUIRE(reading.job);
    CHECK(reading.job->readings.size() == 1);  // `match` weighs what showed the fault, not what followed
    REQUIRE(reading.job->after.size() == 2);
    CHECK(reading.job->after[1].id == "2");
    REQUIRE(reading.job->repaired.size() == 3);
    CHECK(reading.job->repaired[0].place == "C101.4");  // as the circuit writes it
    CHECK(reading.job->repaired[0].words == "terminal and seal renewed");
}

TEST_CASE("a job may end with nothing found, and says where a mended place is unknown") {
    const JobFolder folder;
    const std::string head = "format = 1\ncircuit = \"bookmobile.toml\"\n[repaired]\n";
    const JobReading nothing = folder.read(head + "nothing = \"not reproduced\"\n");
    REQUIRE(nothing.job);
    CHECK(nothing.job->repaired.front().nothing_found());
    const JobReading wrong = folder.read(head + "C11 = \"new\"\n542 = 3\n");
    const std::vector<std::string> said = messages(wrong);
    REQUIRE(said.size() == 2);
    CHECK(said[0] == "nothing that can be repaired is called 'C11'");
    CHECK(said[1] == "what was done at '542' must be a text");
    CHECK(wrong.problems.list()[0].place.line == 4);
}

TEST_CASE("a job that begins reads without a mistake, whatever the customer says") {
    const JobFolder folder;
    const auto circuit = folder.read("format = 1\ncircuit = \"bookmobile.toml\"\n").circuit;
    REQUIRE(circuit);
    for (const std::string concern : {"weak air", "a \"quoted\" \\ line\nand another", "\xE2\x80\xAE turned", "#"}) {
        const JobReading reading = folder.read(job_draft(*circuit, {"bookmobile.toml", concern, "48213"}));
        INFO(concern);
        REQUIRE(messages(reading).empty());
        REQUIRE(reading.job);
        CHECK(reading.job->readings.empty());
        CHECK(reading.job->job == "48213");
    }
}

TEST_CASE("a concern speaks of the load that it names, not of a coil before it") {
    // A fan whose low speed runs over a resistor, which is a load too: "fan" is the motor.
    const CircuitReading read = read_circuit_file(PROJECT_DIR "/scenarios/starters/two-speed-fan-coil.toml");
    REQUIRE(read.circuit);
    const std::vector<std::string> meant{"hi  M1 normal", "lo  M1 dead"};
    CHECK(readings_meant(*read.circuit, "fan runs only on high") == meant);
    CHECK(readings_meant(*read.circuit, "works only on high") == meant);
    CHECK(word_of_load(*read.circuit, read.circuit->find_part("M1")) == "fan");
}

TEST_CASE("a motor that nothing calls a blower or a fan has its name") {
    const auto called = [](const std::string& name, const std::string& words) {
        const std::string text = "format = 1\nname = \"" + name +
                                 "\"\n[parts]\nB1 = \"battery\"\nF1 = \"fuse 10A mini, feed 30\"\n"
                                 "S1 = \"switch C: off in=1\"\nM1 = \"motor 5A" +
                                 words +
                                 "\"\nG1 = \"ground\"\n[wires]\n1 = \"F1.2 > S1.C 1mm2 RD 1m\"\n"
                                 "2 = \"S1.1 > M1.1 1mm2 RD 1m\"\n3 = \"M1.2 > G1 1mm2 BK 1m\"\n";
        const CircuitReading read = read_circuit_text(text, "called.toml");
        REQUIRE(read.circuit);
        return word_of_load(*read.circuit, read.circuit->find_part("M1"));
    };
    CHECK(called("awning", "").empty());
    CHECK(called("awning", ", roof fans") == "fan");
    CHECK(called("van blower", "") == "blower");
}

TEST_CASE("what the customer's words may mean is offered in the circuit's own words, as readings that read") {
    const JobFolder folder;
    const auto circuit = folder.read("format = 1\ncircuit = \"bookmobile.toml\"\n").circuit;
    REQUIRE(circuit);
    using List = std::vector<std::string>;
    CHECK(readings_meant(*circuit, "weak air on every speed") == List{"lo,ml,mh,hi  M1 slow"});
    CHECK(readings_meant(*circuit, "No air on low.") == List{"lo  M1 dead"});
    CHECK(readings_meant(*circuit, "only works on high, no air else") == List{"hi  M1 normal", "lo,ml,mh  M1 dead"});
    CHECK(readings_meant(*circuit, "dead on low and second, high ok") == List{"lo,ml  M1 dead", "hi  M1 normal"});
    CHECK(readings_meant(*circuit, "third speed weak") == List{"mh  M1 slow"});
    CHECK(readings_meant(*circuit, "blows its fuse") == List{"fuse F7 blown"});
    // How it behaves is told in any way that a reading takes.
    CHECK(readings_meant(*circuit, "rattles on high") == List{"hi  M1 squeals"});
    CHECK(readings_meant(*circuit, "buzzing, low") == List{"lo  M1 hums"});
    CHECK(readings_meant(*circuit, "looks odd").empty());
    CHECK(readings_meant(*circuit, "works, weak").front() == "lo,ml,mh,hi  M1 slow");
    CHECK(readings_meant(*circuit, "M1_x is ZEN dead_9").empty());
    const auto all_read = [](const Circuit& of, std::string_view concern) {
        for (const std::string& phrase : readings_meant(of, concern)) {
            Problems problems;
            INFO(phrase);
            CHECK(read_reading_phrase(TypedText::argument("reading", phrase), "1", of, problems));
            CHECK_FALSE(problems.has_errors());
        }
    };
    all_read(*circuit, "only high works, weak, fuse");
    // A circuit whose only control is its key, and one with neither a load nor a control.
    for (const char* name : {"key-only", "sensor", "twins"}) {
        const CircuitReading read = read_circuit_file(PROJECT_DIR "/tests/files/" + std::string(name) + ".toml");
        REQUIRE(read.circuit);
        all_read(*read.circuit, "only on works, dead, fuse");
    }
}

TEST_CASE("what was mended has its place in front, or anywhere in a sentence, and says what was done") {
    const JobFolder folder;
    const auto circuit = folder.read("format = 1\ncircuit = \"bookmobile.toml\"\n").circuit;
    REQUIRE(circuit);
    const auto mended = [&](const std::string& line) -> std::string {
        Job job;
        Problems problems;
        add_repaired(job, *circuit, TypedText::argument("repaired", line), problems);
        if (job.repaired.empty()) return "? " + problems.list().front().message;
        return job.repaired.front().place + " = " + job.repaired.front().words;
    };
    CHECK(mended("") == "? nothing is said to be mended");
    CHECK(mended("C101.4") == "C101.4 = mended");
    CHECK(mended("C101.4 :") == "C101.4 = mended");
    CHECK(mended("C101.4: new terminal") == "C101.4 = new terminal");
    CHECK(mended("c101.4 = new terminal and seal") == "C101.4 = new terminal and seal");
    CHECK(mended("replaced R1, and its plug") == "R1 = replaced R1, and its plug");
    CHECK(mended("cleaned the pins of C303.") == "C303 = cleaned the pins of C303.");
    CHECK(mended("no fault found") == "nothing = no fault found");
    CHECK(mended("nothing found") == "nothing = nothing found");
    CHECK(mended("Q9 new") == "? nothing that can be repaired is called 'Q9'");
}

TEST_CASE("a concern that says how or what, but not both, makes no more of it than it says") {
    const auto unfused = circuit_of(
        "format = 1\n[parts]\nB1 = \"battery 12.6V 8mohm\"\nH1 = \"resistor 2ohm 100W, seat "
        "heater\"\n[wires]\n1 = \"30 > H1.1 1mm2 RD 1m\"\n2 = \"H1.2 > 31 1mm2 BK 1m\"\n");
    CHECK(readings_meant(*unfused, "blows its fuse").empty());
    CHECK(readings_meant(*unfused, "seat is cold").empty());
    using List = std::vector<std::string>;
    CHECK(readings_meant(cab_blower(), "it flickers") == List{"lo,ml,mh,hi  M1 erratic"});
    CHECK(readings_meant(cab_blower(), "cuts out") == List{"lo,ml,mh,hi  M1 erratic"});
    CHECK(readings_meant(cab_blower(), "won't run on 2nd speed") == List{"ml  M1 dead"});
    CHECK(readings_meant(cab_blower(), "everything but lo, ml, mh, hi").empty());
    CHECK(readings_meant(cab_blower(), "please have a look").empty());
    CHECK(readings_meant(two_controls(), "no air").size() == 1);
}
