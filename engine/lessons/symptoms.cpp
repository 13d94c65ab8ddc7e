#include "engine/lessons/symptoms.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <map>

#include "engine/figures/symptoms.hpp"
#include "netlists/parts/kind.hpp"
#include "netlists/phrases/loads.hpp"
#include "netlists/text/lists.hpp"

namespace voltfall {

namespace {

/// "the blower"; a load that shares its word with another is called by its name.
std::string thing_of(const Circuit& circuit, PartId load) {
    const std::string word = word_of_load(circuit, load);
    return word.empty() || word == circuit.part(load).name ? circuit.part(load).name : "the " + word;
}

/// Is it seen where nobody has switched it on? Then the position belongs to what is told.
bool is_unwanted(LoadSeen seen) {
    const Vigour vigour = row_of(seen).vigour;
    return vigour == Vigour::unwanted || vigour == Vigour::faint;
}

}  // namespace

std::vector<Symptom> symptoms_of(Simulator& simulator, const Vehicle& vehicle) {
    const std::vector<State> states = default_states(*vehicle.circuit);
    const SymptomTable table(simulator, *vehicle.circuit, states);
    const std::vector<PartId> opened = vehicle.opened_parts();
    const FaultList as_it_stands{vehicle.faults, opened};
    const Noticed now = table.noticed(std::span(&as_it_stands, 1)).front();
    std::vector<Symptom> symptoms;
    for (std::size_t s = 0; s < states.size(); ++s) {
        if (!table.solved(s)) continue;
        const std::vector<LoadSeen> healthy = table.healthy_loads(s);
        for (std::size_t l = 0; l < table.loads().size(); ++l)
            if (now.seen[s][l]) symptoms.push_back({states[s], table.loads()[l], healthy[l], *now.seen[s][l]});
    }
    return symptoms;
}

bool anything_wrong(const std::vector<Symptom>& symptoms) {
    return std::any_of(symptoms.begin(), symptoms.end(), [](const Symptom& symptom) { return symptom.is_wrong(); });
}

Vehicle with_conditions_met(Vehicle vehicle) {
    for (Fault& fault : vehicle.faults) {
        if (fault.size_in_condition) fault.size = *fault.size_in_condition;
        fault.condition.clear();
        fault.size_in_condition.reset();
    }
    return vehicle;
}

void let_blow(Simulator& simulator, Vehicle& vehicle) {
    for (const State& state : default_states(*vehicle.circuit)) {
        const CourseResult run = run_course(simulator, *vehicle.circuit, state, vehicle.faults, vehicle.opened_parts());
        if (!run) continue;
        for (const Event& event : run->aftermath) vehicle.opened.push_back({event.part, event.seconds});
    }
}

std::string concern_in_words(const Circuit& circuit, const std::vector<Symptom>& symptoms) {
    std::string text;
    for (const PartId load : loads_of(circuit)) {
        std::map<LoadSeen, std::vector<std::string>> wrong;
        std::vector<LoadSeen> order;
        std::vector<std::string> well;
        for (const Symptom& symptom : symptoms) {
            if (symptom.load != load) continue;
            if (!symptom.is_wrong()) {
                if (symptom.seen != LoadSeen::off) well.push_back(symptom.state.label);
                continue;
            }
            if (!wrong.contains(symptom.seen)) order.push_back(symptom.seen);
            wrong[symptom.seen].push_back(symptom.state.label);
        }
        if (order.empty()) continue;
        text += (text.empty() ? "" : "; ") + thing_of(circuit, load);
        for (std::size_t i = 0; i < order.size(); ++i) {
            text += i == 0 ? " " : " and ";
            text += row_of(order[i]).concern;
            if (order.size() > 1 || !well.empty() || is_unwanted(order[i])) text += " at " + joined(wrong[order[i]]);
        }
        if (!well.empty()) text += fmt::format("; {} {} as always", joined(well), well.size() == 1 ? "is" : "are");
    }
    return text.empty() ? "nothing seems wrong just now, but the customer has seen it fail" : text;
}

}  // namespace voltfall
