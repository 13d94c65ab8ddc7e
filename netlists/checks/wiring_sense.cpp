#include "netlists/checks/wiring_sense.hpp"

#include "netlists/checks/rules.hpp"

namespace voltfall {

Problems check_wiring(const Circuit& circuit) {
    Problems problems;
    const WiredTerminals ends(circuit);
    const Survey survey = survey_positions(circuit);
    check_parts(circuit, ends, problems);
    check_loads(circuit, ends, survey, problems);
    check_relays(circuit, ends, survey, problems);
    check_switches(circuit, ends, problems);
    check_commands(circuit, ends, problems);
    check_supply(circuit, survey, problems);
    check_fuse_loads(circuit, problems);
    problems.sort();
    return problems;
}

}  // namespace voltfall
