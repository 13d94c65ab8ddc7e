#include "engine/lessons/symptoms.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <map>

#include "netlists/parts/kind.hpp"
#include "netlists/phrases/loads.hpp"

namespace voltfall {

namespace {

/// "lo, m1 and m2".
std::string joined(const std::vector<std::string>& words) {
    std::string text;
    for (std::size_t i = 0; i < words.size(); ++i)
        text += (i == 0 ? "" : i + 1 == words.size() ? " and " : ", ") + words[i];
    return text;
}

std::string thing_of(const Circuit& circuit, PartId load) {
    const Part& part = circuit.part(load);
    const auto same =
        std::count_if(circuit.parts.begin(), circuit.parts.end(), [&](const Part& p) { return p.kind == part.kind; });
    const std::string_view words = part.kind ? part.kind->load_words : std::string_view{};
    return same == 1 && !words.empty() ? std::string(words.substr(0, words.find(' '))) : part.name;
}

}  // namespace

std::vector<Symptom> symptoms_of(Simulator& simulator, const Vehicle& vehicle) {
    const Circuit& circuit = *vehicle.circuit;
    std::vector<Symptom> symptoms;
    for (const State& state : default_states(circuit)) {
        const CourseResult now = run_course(simulator, circuit, state, vehicle.faults, vehicle.opened_parts());
        const SettleResult sound = settle(simulator, circuit, state, {});
        if (!now || !sound) continue;
        for (const PartId load : loads_of(circuit)) {
            symptoms.push_back(
                {state, load, load_state(*sound, load, &*sound).seen, load_state(now->end(), load, &*sound).seen});
        }
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
        for (const Event& event : run->aftermath) {
            if (!vehicle.has_opened(event.part)) vehicle.opened.push_back({event.part, event.seconds});
        }
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
                if (symptom.seen != LoadSeen::dead) well.push_back(symptom.state.label);
                continue;
            }
            if (!wrong.contains(symptom.seen)) order.push_back(symptom.seen);
            wrong[symptom.seen].push_back(symptom.state.label);
        }
        if (order.empty()) continue;
        text += text.empty() ? "the " : "; the ";
        text += thing_of(circuit, load);
        for (std::size_t i = 0; i < order.size(); ++i) {
            text += i == 0 ? " " : " and ";
            text += row_of(order[i]).concern;
            if (order.size() > 1 || !well.empty() || order[i] == LoadSeen::runs)
                text += " at " + joined(wrong[order[i]]);
        }
        if (!well.empty()) text += fmt::format("; {} {} as always", joined(well), well.size() == 1 ? "is" : "are");
    }
    return text.empty() ? "nothing seems wrong just now, but the customer has seen it fail" : text;
}

}  // namespace voltfall
