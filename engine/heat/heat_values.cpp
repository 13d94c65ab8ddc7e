#include "engine/heat/heat_values.hpp"

#include "netlists/tables/defaults.hpp"
#include "netlists/tables/heat_rows.hpp"

namespace voltfall {

double heat_value(const Circuit& circuit, std::string_view row) {
    const auto typed = circuit.heat.find(row);
    return typed == circuit.heat.end() ? default_value(row) : typed->second;
}

std::vector<std::string> assumed_heat(const Circuit& circuit) {
    std::vector<std::string> words;
    for (const HeatRow& row : heat_rows()) {
        const bool assumed = default_row(row.row).source.find("ASSUMED") != std::string_view::npos;
        if (!assumed || circuit.heat.count(row.row) > 0) continue;
        words.push_back(std::string(row.key) + " " + write_measure(default_value(row.row), row.unit));
    }
    return words;
}

double wire_class(const Circuit& circuit, const Wire& wire) {
    return wire.class_celsius.value_or(heat_value(circuit, "wire_class"));
}

}  // namespace voltfall
