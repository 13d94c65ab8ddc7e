// The scoring program on folders made for the purpose: it ranks what can be ranked and says what it left out.
#include <filesystem>
#include <fstream>

#include <fmt/format.h>
#include <unistd.h>
#include <nlohmann/json.hpp>

#include "netlists/text/csv.hpp"
#include "tests/support/catch.hpp"
#include "tests/tools/process.hpp"

using namespace voltfall;
using nlohmann::json;
namespace fs = std::filesystem;

namespace {

const std::string header =
    "id,circuit,expected_places,expected_part,certainty,cause_kind,readings,evidence,not_separable,notes\n";

const std::string job =
    "format = 1\ncircuit = \"cab-blower.toml\"\nconcern = \"only high works\"\n\n[readings]\n"
    "1 = \"lo,ml,mh  blower dead\"\n2 = \"hi  blower normal\"\n";

/// A folder with the cab blower, gone afterwards.
class Folder {
public:
    Folder() : path_(fs::temp_directory_path() / fmt::format("voltfall-score-{}", getpid())) {
        fs::create_directories(path_);
        fs::copy_file(PROJECT_DIR "/scenarios/bookmobile/cab-blower.toml", path_ / "cab-blower.toml");
    }
    ~Folder() {
        std::error_code ignored;
        fs::remove_all(path_, ignored);
    }
    Folder(const Folder&) = delete;
    Folder& operator=(const Folder&) = delete;

    void write(const std::string& name, const std::string& text) const {
        std::ofstream(path_ / name, std::ios::binary) << text;
    }
    std::string path() const { return path_.string(); }

private:
    fs::path path_;
};

}  // namespace

TEST_CASE("a table of values keeps commas, quotes and line ends inside quotes") {
    const auto rows = cut_csv("\xEF\xBB\xBFid,notes\r\n\nA,\"one, \"\"two\"\"\nthree\"\r\nB,\n");
    REQUIRE(rows.size() == 3);
    CHECK(rows[0].fields == std::vector<std::string>{"id", "notes"});
    CHECK(rows[1].fields == std::vector<std::string>{"A", "one, \"two\"\nthree"});
    CHECK(rows[1].line == 3);
    CHECK(rows[2].fields == std::vector<std::string>{"B", ""});
}

TEST_CASE("scoring survives bad rows, says which, and ranks the others") {
    const Folder folder;
    folder.write("good.job.toml", job);
    folder.write("unexpected.job.toml", job);
    folder.write("broken.job.toml", "format = 1\ncircuit = \"not-there.toml\"\n");
    folder.write("expect.csv", header + "good,cab-blower.toml,M1|R1 limiter open,R1,confirmed,,2,narrows to a few,,\n" +
                                   "broken,not-there.toml,R1,R1,confirmed,,0,hardly at all,,\n" +
                                   "missing,cab-blower.toml,R1,R1,confirmed,,0,hardly at all,,\n" +
                                   "good,cab-blower.toml,R1 coil 9-8 open,R1,confirmed,,2,pins it down,,\n" +
                                   "short\n");
    const ProcessResult result = run_process({SCORE_BINARY, "--json", folder.path()});
    INFO(result.out << result.err);
    REQUIRE(result.status == 0);
    const json answer = json::parse(result.out);
    REQUIRE(answer.at("cases").size() == 1);
    CHECK(answer["cases"][0].at("id") == "good");
    CHECK(answer["cases"][0].at("rank").get<int>() >= 1);
    CHECK(answer["cases"][0].at("rank").get<int>() <= 8);
    CHECK(answer.at("scores").at(0).at("evidence") == "all");
    CHECK(answer.at("skipped").size() == 5);
    for (const char* thing : {"not-there.toml", "missing.job.toml", "unexpected.job.toml", "9-8", "expect.csv:6"}) {
        INFO(thing);
        CHECK(result.err.find(thing) != std::string::npos);
    }
}

TEST_CASE("scoring a folder without expectations is refused by name") {
    const Folder folder;
    const ProcessResult result = run_process({SCORE_BINARY, folder.path()});
    CHECK(result.status == 3);
    CHECK(result.err.find("expect.csv") != std::string::npos);
    CHECK(run_process({SCORE_BINARY}).status == 2);
    CHECK(run_process({SCORE_BINARY, "--jsn"}).status == 2);
}

TEST_CASE("vehicles drawn at random are worked to an end, the same ones for the same seed") {
    const Folder folder;
    folder.write("good.job.toml", job);
    folder.write("expect.csv", header + "good,cab-blower.toml,R1 limiter open,R1,confirmed,,2,narrows to a few,,\n");
    const auto worked = [&](const char* seed) {
        const ProcessResult result =
            run_process({SCORE_BINARY, "--json", "--vehicles", "4", "--seed", seed, "--circuit",
                         PROJECT_DIR "/scenarios/bookmobile/cab-blower.toml", folder.path()});
        INFO(result.err);
        REQUIRE(result.status == 0);
        return json::parse(result.out);
    };
    const json once = worked("5");
    REQUIRE(once.at("vehicles").size() == 4);
    CHECK(worked("5").at("vehicles") == once.at("vehicles"));
    for (const json& vehicle : once["vehicles"]) {
        INFO(vehicle.dump());
        CHECK(vehicle.at("verdict") != "wrong");
        CHECK(vehicle.at("minutes").get<double>() >= 0);
        CHECK(vehicle.at("stated").get<double>() <= 1);
    }
    CHECK(run_process({SCORE_BINARY, "--vehicles", "many", folder.path()}).status == 2);
}

TEST_CASE("every job of the scenarios, followed by what is proposed next, ends at the right repair") {
    const ProcessResult result = run_process(
        {SCORE_BINARY, "--json", "--to-the-end", PROJECT_DIR "/scenarios/bookmobile", PROJECT_DIR "/scenarios/bench"});
    REQUIRE(result.status == 0);
    CHECK(result.err.empty());
    const json answer = json::parse(result.out);
    constexpr std::size_t all_but_the_repaired_one = 16;
    REQUIRE(answer.at("jobs").size() == all_but_the_repaired_one);
    // A workshop gives nobody longer than two hours to find such a fault (common practice, no source).
    constexpr double most_minutes = 120;
    for (const json& one : answer["jobs"]) {
        INFO(one.dump());
        CHECK(one.at("ends") == "right");
        CHECK(one.at("minutes").get<double>() <= most_minutes);
        CHECK(one.at("taken").size() >= one.at("tests").get<std::size_t>());
    }
}
