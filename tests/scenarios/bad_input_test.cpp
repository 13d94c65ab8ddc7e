// Bad input as a person, a phone or a broken disk makes it: always status 2, 3 or 4 and a message that names the thing,
// never a crash. Run as real processes.
#include <filesystem>
#include <fstream>

#include <fmt/format.h>
#include <unistd.h>

#include "tests/support/catch.hpp"
#include "tests/tools/process.hpp"

using namespace voltfall;
namespace fs = std::filesystem;

namespace {

/// A folder of its own for the files of one test, gone afterwards.
class Scratch {
public:
    Scratch() : folder_(fs::temp_directory_path() / fmt::format("voltfall-bad-input-{}-{}", getpid(), ++count_)) {
        fs::create_directories(folder_);
    }
    ~Scratch() {
        std::error_code ignored;
        fs::remove_all(folder_, ignored);
    }
    Scratch(const Scratch&) = delete;
    Scratch& operator=(const Scratch&) = delete;

    std::string write(const std::string& name, const std::string& text) const {
        const fs::path path = folder_ / name;
        std::ofstream(path, std::ios::binary) << text;
        return path.string();
    }

private:
    fs::path folder_;
    inline static int count_ = 0;
};

ProcessResult voltfall_run(std::vector<std::string> words) {
    words.insert(words.begin(), VOLTFALL_BINARY);
    return run_process(words);
}

/// A small sound circuit with one thing exchanged.
std::string circuit_text(const std::string& parts, const std::string& wires) {
    return "format = 1\nname = \"small\"\n\n[parts]\n" + parts + "\n[wires]\n" + wires;
}

const std::string sound_parts =
    "B1 = \"battery 12.6V 8mohm, charging 14.2V\"\n"
    "F1 = \"fuse 30A regular, feed 30\"\n"
    "S1 = \"switch C: off hi=1\"\n"
    "M1 = \"motor 12A @13.5V, 3500rpm, stall 48A\"\n"
    "G1 = \"ground left\"\n";
const std::string sound_wires =
    "1 = \"F1.2 > S1.C 4mm2 RD 1m\"\n"
    "2 = \"S1.1 > M1.1 4mm2 OG 1m\"\n"
    "3 = \"M1.2 > G1 4mm2 BK 1m\"\n";

std::string replaced(std::string text, const std::string& from, const std::string& to) {
    const auto at = text.find(from);
    REQUIRE(at != std::string::npos);
    return text.replace(at, from.size(), to);
}

std::string file_text(const std::string& path) {
    std::ifstream in(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), {}};
}

bool refused(int status) {
    return status == 2 || status == 3 || status == 4;
}

/// The file is refused by `check` with status 3, and both `whatif` and `match` refuse it too; some message names
/// `thing`.
void check_refused(const std::string& path, const std::string& thing) {
    const ProcessResult checked = voltfall_run({"check", path});
    INFO(checked.out << checked.err);
    CHECK(checked.status == 3);
    CHECK((checked.out + checked.err).find(thing) != std::string::npos);
    for (const char* command : {"whatif", "match", "next", "show", "faults", "deck"}) {
        const ProcessResult result = voltfall_run({command, path});
        INFO(command << ": " << result.status << "\n" << result.err);
        CHECK(refused(result.status));
        CHECK(result.err.find(thing) != std::string::npos);
    }
}

}  // namespace

TEST_CASE("the sound circuit behind these tests is sound") {
    const Scratch scratch;
    const ProcessResult result =
        voltfall_run({"check", scratch.write("sound.toml", circuit_text(sound_parts, sound_wires))});
    INFO(result.out << result.err);
    CHECK(result.status == 0);
}

TEST_CASE("two batteries that fight are refused by name") {
    const Scratch scratch;
    const std::string text =
        circuit_text(sound_parts + "B2 = \"battery 12.6V 8mohm\"\n",
                     sound_wires + "4 = \"B1+ > B2- 16mm2 RD 0.3m\"\n5 = \"B2+ > B1- 16mm2 BK 0.3m\"\n");
    check_refused(scratch.write("batteries.toml", text), "B2");
}

TEST_CASE("a motor that stalls below its running current is refused by name") {
    const Scratch scratch;
    const std::string text = circuit_text(replaced(sound_parts, "stall 48A", "stall 8A"), sound_wires);
    check_refused(scratch.write("stall.toml", text), "stall");
}

TEST_CASE("a wire onto itself is refused by name") {
    const Scratch scratch;
    const std::string text = circuit_text(sound_parts, sound_wires + "44 = \"M1.1 > M1.1 4mm2 OG 1m\"\n");
    check_refused(scratch.write("itself.toml", text), "44");
}

TEST_CASE("a fault of 0.3 without a unit is refused by name") {
    const Scratch scratch;
    const std::string path = scratch.write("sound.toml", circuit_text(sound_parts, sound_wires));
    const ProcessResult result = voltfall_run({"whatif", path, "--fault", "M1.1 resistance 0.3"});
    INFO(result.err);
    CHECK(refused(result.status));
    CHECK(result.err.find("0.3") != std::string::npos);
    CHECK(result.err.find("ohm") != std::string::npos);
}

TEST_CASE("a fuse of 30 without a unit is refused by name") {
    const Scratch scratch;
    const std::string text = circuit_text(replaced(sound_parts, "30A", "30"), sound_wires);
    check_refused(scratch.write("unit.toml", text), "30");
}

TEST_CASE("names with the characters of SPICE are refused by name or do no harm") {
    const Scratch scratch;
    for (const std::string name : {"M1;quit", "M{1}", "M1\\n.end", "M 1", "M1$x", "M1'"}) {
        INFO(name);
        const std::string quoted = "\"" + name + "\"";
        const std::string parts = replaced(sound_parts, "M1 =", quoted + " =");
        const ProcessResult result =
            voltfall_run({"check", scratch.write("spice.toml", circuit_text(parts, sound_wires))});
        INFO(result.out << result.err);
        CHECK(result.status == 3);
        CHECK((result.out + result.err).find(name.substr(0, 2)) != std::string::npos);
    }
}

TEST_CASE("a name that is a SPICE word is an ordinary name") {
    const Scratch scratch;
    for (const std::string name : {"end", "tran", "V1", "0", "gnd"}) {
        INFO(name);
        std::string text = circuit_text(replaced(sound_parts, "M1 =", name + " ="), sound_wires);
        text = replaced(replaced(text, "M1.1", name + ".1"), "M1.2", name + ".2");
        const ProcessResult result = voltfall_run({"whatif", scratch.write("word.toml", text), "--format", "json"});
        INFO(result.out << result.err);
        CHECK(result.status == 0);
        CHECK(result.out.find("\"" + name + "\"") != std::string::npos);
    }
}

TEST_CASE("a file of twenty thousand parts ends, in an answer or a refusal") {
    const Scratch scratch;
    std::string parts = sound_parts;
    std::string wires = sound_wires;
    for (int i = 0; i < 20000; ++i) {
        parts += fmt::format("L{} = \"lamp 5W\"\n", i);
        wires += fmt::format("w{0}a = \"F1.2 > L{0}.1 4mm2 RD 1m\"\nw{0}b = \"L{0}.2 > G1 4mm2 BK 1m\"\n", i);
    }
    const std::string path = scratch.write("large.toml", circuit_text(parts, wires));
    const ProcessResult result = voltfall_run({"check", path});
    INFO(result.err.substr(0, 2000));
    CHECK((result.status == 0 || refused(result.status)));
    CHECK_FALSE((result.out + result.err).empty());
    const ProcessResult solved = voltfall_run({"whatif", path});
    INFO(solved.err.substr(0, 2000));
    CHECK((solved.status == 0 || refused(solved.status)));
}

TEST_CASE("a file of zeros is refused by name") {
    const Scratch scratch;
    check_refused(scratch.write("zeros.toml", std::string(4096, '\0')), "zeros.toml");
}

TEST_CASE("an empty file and a missing file are refused by name") {
    const Scratch scratch;
    check_refused(scratch.write("empty.toml", ""), "empty.toml");
    const std::string missing = scratch.write("there.toml", "") + ".not";
    const ProcessResult result = voltfall_run({"check", missing});
    INFO(result.err);
    CHECK(refused(result.status));
    CHECK((result.out + result.err).find("there.toml.not") != std::string::npos);
}

TEST_CASE("text that is not UTF-8 is refused by name and line") {
    const Scratch scratch;
    const std::string text = circuit_text(replaced(sound_parts, "ground left", "ground le\xE9t\xFF"), sound_wires);
    check_refused(scratch.write("latin.toml", text), "latin.toml:9");
}

TEST_CASE("a file cut off anywhere never crashes the reader") {
    const Scratch scratch;
    const std::string whole = file_text(PROJECT_DIR "/scenarios/bookmobile/cab-blower.toml");
    REQUIRE(whole.size() > 1000);
    for (std::size_t length = 1; length < whole.size(); length += 37) {
        const ProcessResult result = voltfall_run({"check", scratch.write("cut.toml", whole.substr(0, length))});
        INFO("cut after " << length << " bytes: status " << result.status << "\n" << result.err);
        CHECK((result.status == 0 || refused(result.status)));
    }
}

TEST_CASE("a job cut off anywhere never crashes the reader") {
    const Scratch scratch;
    scratch.write("cab-blower.toml", file_text(PROJECT_DIR "/scenarios/bookmobile/cab-blower.toml"));
    const std::string whole = file_text(PROJECT_DIR "/scenarios/bookmobile/weak-air.job.toml");
    for (std::size_t length = 1; length < whole.size(); length += 23) {
        const ProcessResult result = voltfall_run({"check", scratch.write("cut.job.toml", whole.substr(0, length))});
        INFO("cut after " << length << " bytes: status " << result.status << "\n" << result.err);
        CHECK((result.status == 0 || refused(result.status)));
    }
}

TEST_CASE("wrong usage is status 2 and names the word") {
    const ProcessResult command = voltfall_run({"mach"});
    CHECK(command.status == 2);
    CHECK(command.err.find("mach") != std::string::npos);
    const ProcessResult option = voltfall_run({"check", "--formt", "json"});
    CHECK(option.status == 2);
    CHECK(option.err.find("--formt") != std::string::npos);
}

TEST_CASE("five mistakes are five located problems in one run") {
    const Scratch scratch;
    std::string text = file_text(PROJECT_DIR "/scenarios/bookmobile/cab-blower.toml");
    text = replaced(text, "fuse 40A maxi", "fuse 40 maxi");
    text = replaced(text, "coil 90ohm", "coil 90V");
    text = replaced(text, "F7.2 > C101.4", "F8.2 > C101.4");
    text = replaced(text, "M1.2 > SP1 ", "M1.3 > SP1 ");
    text = replaced(text, "S1 = \"blower\"", "S9 = \"blower\"");
    const std::string path = scratch.write("five.toml", text);
    const ProcessResult result = voltfall_run({"check", path, "--format", "plain"});
    const std::string all = result.out + result.err;
    INFO(all);
    CHECK(result.status == 3);
    for (const char* thing : {"40", "90V", "F8", "not 3", "S9"}) {
        INFO(thing);
        CHECK(all.find(thing) != std::string::npos);
    }
}
