// Every number of every circuit and job of the scenarios typed wrong: reading tells a located problem, or gives a
// circuit or reading whose every figure is finite and inside the table of bounds.
#include <algorithm>
#include <cmath>
#include <filesystem>
#include <map>
#include <memory>
#include <string>
#include <vector>

#include "netlists/files/circuit_file.hpp"
#include "netlists/files/job_file.hpp"
#include "netlists/files/toml_file.hpp"
#include "netlists/files/tools_line.hpp"
#include "netlists/parts/kind.hpp"
#include "netlists/tables/figure_bounds.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/mutated_numbers.hpp"

using namespace voltfall;
using namespace voltfall::testing;
namespace fs = std::filesystem;

namespace {

std::string complaint_of(std::string_view of, std::string_view figure, Unit unit, double value) {
    const Kind* kind = find_kind(of);
    const FigureBounds* bounds = kind ? find_figure(*kind, figure, unit) : find_figure(of, figure, unit);
    if (!bounds) return std::string(of) + " " + std::string(figure) + " has no bounds";
    return bounds->holds(value) ? "" : bounds->name() + " is " + write_measure(value, unit);
}

struct BadLaw {
    static std::string number(double value, double least, double most) {
        return std::isfinite(value) && value >= least && value <= most ? "" : "a law has " + std::to_string(value);
    }
    std::string operator()(const Resistor& law) const { return number(law.ohms, 0, 1e9); }
    std::string operator()(const Contact& law) const { return number(law.ohms, 0, 100); }
    std::string operator()(const Source& law) const {
        return number(law.volts, 3, 60) + number(law.charging_volts, 3, 60) + number(law.ohms, 1e-4, 10);
    }
    std::string operator()(const Diode& law) const {
        return number(law.saturation_amps, 0, 1) + number(law.emission, 0.01, 10);
    }
    std::string operator()(const Motor& law) const {
        std::string bad;
        for (const double value : {law.armature_ohms, law.constant, law.fan_torque, law.inertia, law.inductance})
            bad += number(value, 1e-300, 1e12);
        return bad + number(law.friction_torque, 0, 1e12) + number(law.brush_volts, 0, 5);
    }
    /// A limit of amperes is laid as many volts behind many ohms, its clamp as a junction sharper than a real one.
    std::string operator()(const Stage& law) const {
        return number(law.siemens, -1e12, 1e12) + number(law.emf, -1e5, 1e5);
    }
};

/// What a circuit has that it must not, or empty.
std::string bad_figure(const Circuit& circuit) {
    std::string bad;
    for (const Part& part : circuit.parts) {
        for (const Parameter& p : part.parameters) {
            if (p.typed) bad += complaint_of(part.kind->word, p.name, p.unit, p.value);
            bad += complaint_of("figure", "tolerance", Unit::percent, p.tolerance);
        }
        for (const Coil& coil : part.coils) bad += complaint_of("pack", "coil ohms", Unit::ohm, coil.ohms.value);
    }
    for (const Wire& wire : circuit.wires) {
        bad += complaint_of("wire", "length", Unit::metre, wire.length.value);
        if (!std::isfinite(wire.ohms) || wire.ohms <= 0) bad += "wire " + wire.name + " has no ohms";
    }
    for (const Branch& branch : circuit.branches) {
        bad += std::visit(BadLaw{}, branch.law);
        if (!std::isfinite(branch.tolerance) || branch.tolerance < 0) bad += "a tolerance of " + branch.place;
    }
    for (const auto& [place, minutes] : circuit.reach)
        bad += complaint_of("place", "time to reach it", Unit::second, minutes * 60);
    for (const Limit& limit : circuit.limits) {
        if (limit.at_volts != 0) bad += complaint_of("limit", "supply", Unit::volt, limit.at_volts);
        if (std::isnan(limit.low) || std::isnan(limit.high)) bad += "a limit is no number";
    }
    return bad;
}

/// Is every error located where something was typed?
std::string unlocated(const Problems& problems) {
    for (const Problem& problem : problems.list()) {
        if (problem.place.line <= 0 || problem.place.column <= 0) return "not located: " + problem.message;
        if (problem.message.empty()) return "an empty message";
    }
    return problems.has_errors() ? "" : "no circuit, and no error";
}

bool is_inside(const ReadValue& value, std::string_view figure) {
    const FigureBounds& bounds = figure_bounds("reading", figure, value.unit);
    const auto held = [&](double end) { return std::isinf(end) || bounds.holds(end); };
    return held(value.low) && held(value.high) && std::isfinite(value.last_digit);
}

bool is_sound(const Reading& reading) {
    if (reading.state.after_seconds && !std::isfinite(*reading.state.after_seconds)) return false;
    if (const auto* volts = std::get_if<VoltsReading>(&reading.measurement)) return is_inside(volts->value, "volts");
    if (const auto* ohms = std::get_if<OhmsReading>(&reading.measurement)) return is_inside(ohms->value, "ohms");
    if (const auto* amps = std::get_if<AmpsReading>(&reading.measurement)) return is_inside(amps->value, "amps");
    if (const auto* heat = std::get_if<HeatReading>(&reading.measurement))
        return is_inside(heat->value, heat->rise ? "rise" : "temperature");
    if (const auto* number = std::get_if<RatingReading>(&reading.measurement))
        return is_inside(number->value, "fuse rating");
    if (const auto* gauge = std::get_if<QuantityReading>(&reading.measurement))
        return is_inside(gauge->value, gauge->value.unit == Unit::celsius ? "temperature" : "pressure");
    const auto* fuse = std::get_if<FuseReading>(&reading.measurement);
    return !fuse || !fuse->after_seconds || std::isfinite(*fuse->after_seconds);
}

/// The circuit of a job, read once.
const Circuit& circuit_of(const fs::path& job, const TomlFile& file) {
    static std::map<std::string, std::shared_ptr<const Circuit>> read;
    const TomlEntry* named = file.find("")->find("circuit");
    REQUIRE(named);
    const std::string path = (job.parent_path() / named->text().text).lexically_normal().string();
    auto& circuit = read[path];
    if (!circuit) circuit = read_circuit_file(path).circuit;
    REQUIRE(circuit);
    return *circuit;
}

}  // namespace

TEST_CASE("no number of a circuit can be typed wrong into a circuit that cannot be") {
    std::size_t read = 0;
    std::size_t refused = 0;
    for (const fs::path& path : scenario_files(false)) {
        const std::string text = file_text(path);
        REQUIRE(read_circuit_text(text, path.string()).circuit);
        for (const TypedNumber& number : numbers_of(text)) {
            for (const std::string& wrong : mutations(text, number)) {
                const CircuitReading reading = read_circuit_text(wrong, path.string());
                const std::string bad = reading.circuit ? bad_figure(*reading.circuit) : unlocated(reading.problems);
                ++read;
                if (!reading.circuit) ++refused;
                if (bad.empty()) continue;
                const std::size_t line = text.rfind('\n', number.begin) + 1;
                INFO(path.filename().string() << ": " << wrong.substr(line, wrong.find('\n', line) - line));
                FAIL(bad);
            }
        }
    }
    CHECK(read > 5000);
    CHECK(refused > read / 2);
}

TEST_CASE("no number of a job can be typed wrong into a reading that cannot be") {
    std::size_t read = 0;
    std::size_t refused = 0;
    for (const fs::path& path : scenario_files(true)) {
        Problems unused;
        const TomlFile file = read_toml_file(path.string(), unused);
        const Circuit& circuit = circuit_of(path, file);
        const TomlSection* readings = file.find("readings");
        REQUIRE(readings);
        for (const TomlEntry& entry : readings->entries) {
            const std::string text = entry.text().text;
            for (const TypedNumber& number : numbers_of(text)) {
                for (const std::string& wrong : mutations(text, number)) {
                    Problems problems;
                    const TypedText phrase = TypedText::argument(path.string(), wrong);
                    const auto reading = read_reading_phrase(phrase, entry.key, circuit, problems);
                    INFO(path.filename().string() << ": " << wrong);
                    ++read;
                    if (!reading) ++refused;
                    if (reading ? !is_sound(*reading) : !unlocated(problems).empty()) FAIL("neither refused nor sound");
                }
            }
        }
    }
    CHECK(read > 300);
    CHECK(refused > read / 2);
}
