// `read`: readings kept in the job's file, and the conversation at the vehicle.
#include <filesystem>

#include "netlists/files/job_file.hpp"
#include "netlists/phrases/short_answer.hpp"
#include "netlists/phrases/test_phrase.hpp"
#include "tests/cli/command_line.hpp"
#include "tests/support/answers.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/scenario.hpp"

using namespace voltfall;

namespace {

/// The weak-air job without its last two numbers, beside a copy of its circuit.
class OpenJob {
public:
    OpenJob() : file_("open.job.toml", text()) {
        std::filesystem::copy_file(scenario("cab-blower.toml"),
                                   std::filesystem::path(file_.path()).parent_path() / "cab-blower.toml");
    }
    std::string path() const { return file_.path(); }
    std::string now() const { return file_.text(); }
    static std::string text() {
        return "format  = 1\ncircuit = \"cab-blower.toml\"\nconcern = \"weak air\"\n\n[readings]  # at the kerb\n"
               "1 = \"key run, ml,mh,hi  blower slow\"\n2 = \"key run, hi  B1+ to B1-   14.10V\"\n";
    }

private:
    ScratchFile file_;
};

}  // namespace

TEST_CASE("a reading is kept and what it changed is told") {
    const OpenJob job;
    const Said said = command_line({"read", job.path(), "key run, hi  M1.1 to B1-  10.20V"});
    INFO(said.out << said.err);
    CHECK(said.status == 0);
    CHECK(contains(said.out, "kept as reading 3"));
    CHECK(contains(said.out, "it may be"));
    CHECK(contains(said.out, "ruled out by it"));
    CHECK(contains(said.out, "next ("));
    CHECK(job.now() == OpenJob::text() + "3 = \"key run, hi  M1.1 to B1-  10.20V\"\n");
    CHECK(widest_line(said.out) <= 80);
    // What was kept is what `match` weighs.
    const Said match = command_line({"match", job.path(), "--why"});
    CHECK(contains(match.out, "3 readings weighed"));
}

TEST_CASE("what is no reading, no job or no file is refused, and nothing is changed") {
    const OpenJob job;
    const Said misspelt = command_line({"read", job.path(), "hi  M1.1 to Q7  10.20V"});
    CHECK(misspelt.status == 2);
    CHECK(contains(misspelt.err, "Q7"));
    CHECK(job.now() == OpenJob::text());
    const std::string circuit = std::filesystem::path(job.path()).parent_path() / "cab-blower.toml";
    const Said wrong_file = command_line({"read", circuit, "M1 dead"});
    CHECK(wrong_file.status == 4);
    CHECK(contains(wrong_file.err, "is a circuit"));
    CHECK(command_line({"read", job.path() + ".none", "M1 dead"}).status == 4);
    CHECK(command_line({"read", "-", "M1 dead"}).status == 2);
}

TEST_CASE("the conversation takes numbers and words as answers to the test that it asks for") {
    const OpenJob job;
    const Said said =
        command_line({"read", job.path()}, page_of(80),
                     "help\nother key run, hi  M1.1 to B1-  10,2V\nlist\nskip\nundo\nnonsense here\nquit\n");
    INFO(said.out << said.err);
    CHECK(said.status == 0);
    CHECK(contains(said.out, "kept as reading 3"));
    CHECK(contains(said.out, "took out reading 3"));
    CHECK(contains(said.err, "nonsense"));
    CHECK(job.now() == OpenJob::text());
    CHECK(widest_line(said.out) <= 80);
}

TEST_CASE("an answer alone is kept with the words of the test") {
    const OpenJob job;
    // The position that nobody has told of is asked first, and then a number, volts or amperes.
    const Said said = command_line({"read", job.path()}, page_of(44), "slow\n10.3\n");
    INFO(said.out << said.err);
    CHECK(said.status == 0);
    const std::string kept = job.now().substr(OpenJob::text().size());
    CHECK(kept.starts_with("3 = \"lo  blower  slow\"\n4 = \""));
    CHECK((kept.ends_with("  10.3V\"\n") || kept.ends_with("  10.3A\"\n")));
    CHECK(widest_line(said.out) <= 44);
    CHECK(command_line({"check", job.path()}).status == 0);
}

TEST_CASE("a number alone takes the test's words and unit, a whole reading stays as it is") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    const auto answer = [&](const std::string& asked, const std::string& line) {
        return testing::kept_answer(*circuit, asked, line);
    };
    CHECK(answer("hi, key run  M1.1 to B1-", "10.3") == "hi, key run  M1.1 to B1-  10.3V");
    CHECK(answer("hi, key run  M1.1 to B1-", "10,3 V") == "hi, key run  M1.1 to B1-  10,3 V");
    CHECK(answer("hi, key run  M1.1 to B1-", "~12") == "hi, key run  M1.1 to B1-  ~12V");
    CHECK(answer("unplug C303  ohms R1.1 to R1.4", "2.2") == "unplug C303  R1.1 to R1.4  2.2ohm");
    CHECK(answer("unplug C303  ohms R1.1 to R1.4", "OL") == "unplug C303  R1.1 to R1.4  OL");
    CHECK(answer("hi  clamp 542", "12.4") == "hi  clamp 542  12.4A");
    CHECK(answer("hi  blower", "dead") == "hi  blower  dead");
    CHECK(answer("hi  M1.1 to B1-", "hi  clamp 542  12.4A") == "hi  clamp 542  12.4A");
    CHECK(answer("hi  M1.1 to B1-", "I do not know") == "none");
    // On a range of volts it is an overflow and tells of no ohms.
    CHECK(answer("hi  M1.1 to B1-", "OL") == "none");
    CHECK(answer("hi  M1.1 to B1-", "dead") == "hi  M1.1 to B1-  dead");
    CHECK(answer("hi  M1.1 to B1-", "12 amps on wire 542") == "clamp 542 12amps");
}

TEST_CASE("what is typed in another order is kept in the order of a reading, and shown so") {
    const OpenJob job;
    const Said said = command_line({"read", job.path(), "10,2v at plug C304 pin 1 on high"});
    INFO(said.out << said.err);
    CHECK(said.status == 0);
    CHECK(contains(said.out, "kept as reading 3"));
    CHECK(contains(said.out, "on high C304.1"));
    CHECK(job.now() == OpenJob::text() + "3 = \"on high C304.1 10,2v\"\n");
    CHECK(command_line({"check", job.path()}).status == 0);
    // A line that may mean two things is asked back, and nothing is changed.
    const Said two = command_line({"read", job.path(), "fuse blown"});
    CHECK(two.status == 2);
    CHECK(contains(two.err, "write fuse F7 blown, or fuse F12 blown"));
    CHECK(job.now() == OpenJob::text() + "3 = \"on high C304.1 10,2v\"\n");
}

TEST_CASE("an argument of match is not turned about: its message tells the line that reads") {
    const Said said = command_line({"match", scenario("cab-blower.toml"), "--read", "blower dead on lo"});
    CHECK(said.status != 0);
    CHECK(contains(said.err, "write on lo blower dead"));
}

TEST_CASE("a conversation goes from the complaint over the repair to the proof") {
    const OpenJob job;
    const Said said = command_line({"read", job.path()}, page_of(80),
                                   "key run, hi  M1.1 to B1-  10.20V\nkey run, hi  M1.2 to B1-  0.12V\n"
                                   "key run, hi  clamp 542  12.4A\nkey run, hi  across C101.4  3.61V\n"
                                   "repaired C101.4 terminal and seal renewed\n"
                                   "all normal\nundo\nlo,ml,mh,hi  blower normal\n"
                                   "key run, hi  B1+ to B1-  14.05V\nkey run, hi  clamp 542  20.3A\n"
                                   "key run, hi  M1.1 to B1-  13.70V\nkey run, hi  G201 to B1-  0.03V\n");
    INFO(said.out << said.err);
    CHECK(said.status == 0);
    CHECK(contains(said.out, "when it is mended, say so: repaired C101"));
    CHECK(contains(said.out, "next, after the repair: lo, ml, mh, hi"));
    CHECK(contains(said.out, "NOT PROVED"));
    CHECK(contains(said.out, "took out lo, ml, mh, hi"));
    CHECK(contains(said.out, "PROVED: "));
    CHECK(contains(said.out, "correction: C101.4: terminal and seal renewed"));
    CHECK(contains(job.now(), "[repaired]\nC101.4 = \"terminal and seal renewed\"\n"));
    CHECK(contains(job.now(), "[after]\n1 = \""));
    CHECK(command_line({"prove", job.path()}).status == 0);
}

TEST_CASE("what was mended is kept by one command, and tells what proves it") {
    const OpenJob job;
    const Said said = command_line({"read", job.path(), "--repaired", "C101.4 new terminal"});
    INFO(said.out << said.err);
    CHECK(said.status == 0);
    CHECK(contains(said.out, "NOT PROVED"));
    CHECK(contains(job.now(), "C101.4 = \"new terminal\""));
    CHECK(command_line({"read", job.path(), "fuse F7 good", "--repaired", "F7 new"}).status == 2);
}

TEST_CASE("a job with nothing but a concern begins with the switch, and one answer tells of all positions") {
    const ScratchFile file("fresh.job.toml",
                           "format  = 1\ncircuit = \"cab-blower.toml\"\nconcern = \"weak air\"\n[readings]\n");
    std::filesystem::copy_file(scenario("cab-blower.toml"),
                               std::filesystem::path(file.path()).parent_path() / "cab-blower.toml");
    const Said said = command_line({"read", file.path()}, page_of(44), "only hi works\n");
    INFO(said.out << said.err);
    CHECK(contains(said.out, "next (0 min): lo, ml, mh, hi blower"));
    CHECK(contains(said.out, "turn S1 through them"));
    CHECK(contains(said.out, "kept as readings 1 and 2"));
    CHECK(widest_line(said.out) <= 44);
    const JobReading now = read_job_file(file.path());
    REQUIRE(now.job);
    CHECK(now.job->readings.size() == 2);
}
