// What any command prints as a fault, a test, a state or a place can be typed back as it stands: asked of every answer
// of every command on jobs and circuits of several kinds, key by key of its JSON.
#include <map>
#include <nlohmann/json.hpp>

#include "netlists/files/circuit_file.hpp"
#include "netlists/files/job_file.hpp"
#include "netlists/phrases/fault_phrase.hpp"
#include "netlists/phrases/reading_phrase.hpp"
#include "netlists/phrases/test_phrase.hpp"
#include "tests/cli/command_line.hpp"
#include "tests/support/catch.hpp"

using namespace voltfall;
using Json = nlohmann::ordered_json;

namespace {

enum class Sort { fault, test, state, place };

/// The keys whose texts are phrases. Elements of a list belong to the list's key.
const std::map<std::string, Sort> phrase_keys{
    {"fault", Sort::fault},  {"faults", Sort::fault}, {"alike_so_far", Sort::fault}, {"same_as", Sort::fault},
    {"test", Sort::test},    {"state", Sort::state},  {"position", Sort::state},     {"works_in", Sort::state},
    {"pulled", Sort::place}, {"across", Sort::place},
};

bool reads(const Circuit& circuit, Sort sort, const std::string& phrase) {
    Problems problems;
    const TypedText typed = TypedText::argument("typed back", phrase);
    switch (sort) {
        case Sort::fault:
            return phrase == "nothing" || phrase == "no fault" ||
                   read_fault_phrase(typed, circuit, problems).has_value();
        case Sort::test:
            return read_test_phrase(typed, circuit, problems).has_value();
        case Sort::state:
            return read_state_phrase(typed, circuit, problems).has_value();
        case Sort::place:
            return find_place(circuit, phrase).has_value();
    }
    return false;
}

/// Walks an answer and asks each phrase in it; gives the number asked.
class Asked {
public:
    explicit Asked(const Circuit& circuit) : circuit_(circuit) {}

    void walk(const Json& value, const std::string& key) {
        if (value.is_object()) {
            for (const auto& [name, inner] : value.items()) walk(inner, name);
        } else if (value.is_array()) {
            for (const Json& inner : value) walk(inner, key);
        } else if (value.is_string()) {
            ask(key, value.get<std::string>());
        }
    }

    std::size_t count() const { return count_; }

private:
    void ask(const std::string& key, const std::string& phrase) {
        const auto sort = phrase_keys.find(key);
        if (sort == phrase_keys.end() || phrase.empty()) return;
        ++count_;
        INFO(key << ": " << phrase);
        CHECK(reads(circuit_, sort->second, phrase));
    }

    const Circuit& circuit_;
    std::size_t count_{0};
};

std::size_t ask_answer(const Circuit& circuit, std::vector<std::string> line) {
    line.insert(line.end(), {"--format", "json", "--all"});
    const Said said = command_line(line);
    INFO(line[0] << " " << line[1] << "\n" << said.err);
    REQUIRE((said.status == 0 || said.status == 1));
    Asked asked(circuit);
    asked.walk(Json::parse(said.out), "");
    return asked.count();
}

}  // namespace

TEST_CASE("faults, tests, states and places of every command's answer read when they are typed back") {
    const std::string scenarios = std::string(PROJECT_DIR) + "/scenarios/";
    for (const std::string job : {"bookmobile/weak-air", "bookmobile/fuse-blows", "bookmobile/dead-clutch",
                                  "bookmobile/third-relay", "bookmobile/weak-air-done", "electronic/full-speed"}) {
        const std::string file = scenarios + job + ".job.toml";
        const auto circuit = read_job_file(file).circuit;
        REQUIRE(circuit);
        for (const std::string command : {"match", "next", "plan", "show", "faults"})
            CHECK(ask_answer(*circuit, {command, file}) > 0);
        (void)ask_answer(*circuit, {"prove", file});
        (void)ask_answer(*circuit, {"protect", file});
        const std::string first = circuit->modes.front()->phrase();
        CHECK(ask_answer(*circuit, {"whatif", file, "--fault", first}) > 0);
    }
}
