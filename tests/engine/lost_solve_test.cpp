// One solve of many that fails, wherever it stands: what is followed tells the failure, or the answer that it has
// without it, and never another one.
#include <fmt/format.h>

#include "engine/heat/aftermath.hpp"
#include "engine/heat/startup.hpp"
#include "tests/support/lost_solves.hpp"
#include "tests/support/scenario.hpp"

using namespace voltfall;
using voltfall::testing::LostSolves;

namespace {

std::string outcome_of(const AftermathResult& result) {
    if (!result) return "failure: " + result.error().message;
    std::string text;
    for (const HeatEvent& event : result->events) text += fmt::format("{} at {:.3g}; ", event.what, event.seconds);
    for (const BodyHeat& body : result->bodies) text += fmt::format("{} {:.3g}; ", body.name, body.hottest);
    return text;
}

}  // namespace

TEST_CASE("a solve that fails while a case is followed is told, or changes nothing") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    const HeatModel model(solver(), *circuit);
    for (const char* fault : {"M1 drag 1.4", "542 chafe 20mohm", "R1 limiter open", "M1 seized"}) {
        Problems problems;
        const auto read = read_fault_phrase(TypedText::argument("fault", fault), *circuit, problems);
        if (!read) continue;
        const std::vector<Fault> faults{*read};
        for (const char* label : {"hi", "lo"}) {
            constexpr double ten_minutes = 600;
            const State state = state_named(*circuit, label);
            const std::string right = outcome_of(run_aftermath(solver(), model, state, faults, ten_minutes));
            REQUIRE_FALSE(right.starts_with("failure"));
            int failures = 0;
            for (long lost = 1;; ++lost) {
                LostSolves simulator(lost);
                const std::string now = outcome_of(run_aftermath(simulator, model, state, faults, ten_minutes));
                if (!simulator.has_lost()) break;
                INFO(fault << ", " << label << ", solve " << lost);
                CHECK((now == right || now == "failure: lost on purpose"));
                failures += now == right ? 0 : 1;
            }
            CHECK(failures > 0);
        }
    }
}
