#include "netlists/phrases/leads.hpp"

#include <algorithm>

#include "netlists/parts/kind.hpp"
#include "netlists/phrases/measurement.hpp"
#include "netlists/phrases/places.hpp"
#include "netlists/phrases/values.hpp"
#include "netlists/text/problem_code.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

void report(ProblemCode code, WordReader& words, const Word* word, std::string message, std::string suggestion) {
    words.problems().error(code, words.place(word), std::move(message), std::move(suggestion));
}

/// After an unknown red point the black one is looked at too, so that both problems show in one run.
void skip_black(WordReader& words, const Circuit& circuit) {
    if (!words.take_if("to") || words.take_if("?")) return;
    take_point(words, circuit, "B1-");
}

std::vector<JointId> sides_of_part(const Part& part) {
    std::vector<JointId> sides;
    const auto add = [&](const std::string& terminal) {
        const auto pin = part.pins.find(terminal);
        if (pin != part.pins.end()) sides.push_back(pin->second);
    };
    for (const std::string& terminal : part.kind->terminals(part)) add(terminal);
    if (sides.empty()) {
        for (const auto& [terminal, joint] : part.pins) sides.push_back(joint);
    }
    return sides;
}

void explain_across(WordReader& words, const Word& word, const Circuit& circuit, const std::vector<JointId>& sides,
                    const std::vector<std::string>& cavities) {
    std::vector<std::string> names;
    for (const JointId joint : sides) names.push_back(circuit.joint(joint).name);
    std::string advice;
    if (!cavities.empty()) advice = "write across " + list_words(cavities);
    if (sides.size() > 2) advice = "write two of its points: " + names[0] + " to " + names[1];
    report(ProblemCode::two_meanings, words, &word, "'" + word.text + "' has not just two sides", advice);
}

}  // namespace

Point point_at(const Circuit& circuit, JointId joint) {
    return {{joint}, circuit.joint(joint).name};
}

std::optional<Point> take_point(WordReader& words, const Circuit& circuit, std::string_view example) {
    const Word* word = words.peek();
    if (!word) {
        report(ProblemCode::missing_word, words, nullptr, "a point is missing", "for example " + std::string(example));
        return std::nullopt;
    }
    const bool value = word->measure && word->measure->unit != Unit::none;
    if ((value || same_word(word->text, "to")) && joints_named(circuit, word->text).empty()) {
        if (!value) words.take();
        report(ProblemCode::missing_word, words, word, "a point is missing in front of '" + word->text + "'",
               "for example " + std::string(example));
        return std::nullopt;
    }
    words.take();
    return read_point(*word, words, circuit, words.problems());
}

std::optional<VoltsTest> take_leads(WordReader& words, const Circuit& circuit, std::string_view example) {
    const Word* first = words.peek();
    auto red = take_point(words, circuit, example);
    if (!red) {
        skip_black(words, circuit);
        return std::nullopt;
    }
    if (!words.take_if("to")) {
        Point black = point_at(circuit, circuit.reference);
        if (red->joints == black.joints) {
            report(ProblemCode::contradiction, words, first,
                   "both leads are on '" + black.text + "': a point alone is measured against it",
                   "for example " + std::string(example));
            return std::nullopt;
        }
        return VoltsTest{{*red, std::move(black)}, {}};
    }
    if (words.take_if("?")) return VoltsTest{{*red, {{}, "?"}}, {}};
    const Word* word = words.peek();
    auto black = take_point(words, circuit, example);
    if (!black) return std::nullopt;
    if (red->joints == black->joints) {
        report(ProblemCode::contradiction, words, word, "both leads are on '" + black->text + "'",
               "for example " + std::string(example));
        return std::nullopt;
    }
    return VoltsTest{{std::move(*red), std::move(*black)}, {}};
}

std::vector<JointId> sides_of(const Circuit& circuit, const std::string& place) {
    if (const WireId wire = circuit.find_wire(place); wire.valid()) {
        return {circuit.wire(wire).from.joint, circuit.wire(wire).to.joint};
    }
    std::vector<const Branch*> own;
    for (const Branch& branch : circuit.branches) {
        if (same_word(branch.place, place)) own.push_back(&branch);
    }
    const PartId part = circuit.find_part(place);
    if (part.valid() && circuit.part(part).pins.size() > 1) return sides_of_part(circuit.part(part));
    if (own.size() == 1) return {own.front()->a, own.front()->b};
    return {};
}

std::optional<VoltsTest> take_across(WordReader& words, const Circuit& circuit) {
    const Word* word = words.peek();
    auto place = take_place(words, circuit, "across");
    if (!place) return std::nullopt;
    const auto cavities = cavities_of(circuit, *place);
    if (find_connector(circuit, *place) && cavities.size() == 1) place = cavities.front();
    const auto sides = sides_of(circuit, *place);
    if (sides.size() != 2) {
        explain_across(words, *word, circuit, sides, cavities);
        return std::nullopt;
    }
    return VoltsTest{{point_at(circuit, sides[0]), point_at(circuit, sides[1])}, *place};
}

VoltsTest volts_between(const Circuit& circuit, JointId red, JointId black, const std::string& place) {
    const bool just_these = !place.empty() && sides_of(circuit, place) == std::vector{red, black};
    return {{point_at(circuit, red), point_at(circuit, black)}, just_these ? place : std::string()};
}

std::optional<std::string> take_connector(WordReader& words, const Circuit& circuit) {
    const Word* word = words.peek();
    auto connector = word ? find_connector(circuit, word->text) : std::nullopt;
    if (connector) words.take();
    return connector;
}

std::optional<VoltsTest> take_command(WordReader& words, const Circuit& circuit) {
    const Word word = words.take();
    std::vector<PartId> commanded;
    for (std::uint32_t i = 0; i < circuit.parts.size(); ++i) {
        const auto& pins = circuit.parts[i].harness;
        if (pins.count("CMD") && pins.count("-")) commanded.push_back({i});
    }
    PartId part = commanded.size() == 1 ? commanded.front() : PartId{};
    words.take_if("at");
    if (const Word* next = words.peek(); next && circuit.find_part(next->text).valid()) {
        part = circuit.find_part(words.take().text);
        if (std::find(commanded.begin(), commanded.end(), part) == commanded.end()) {
            report(ProblemCode::does_not_fit, words, next, "'" + next->text + "' has no control input",
                   "name a module or fan-unit");
            return std::nullopt;
        }
    }
    if (!part.valid()) {
        report(ProblemCode::two_meanings, words, &word,
               commanded.empty() ? "no part here has a control input" : "several parts have a control input",
               "name the point: for example Z1.CMD to Z1-");
        return std::nullopt;
    }
    const auto& pins = circuit.part(part).harness;
    return volts_between(circuit, pins.at("CMD"), pins.at("-"));
}

WireId take_wire(WordReader& words, const Circuit& circuit) {
    const Word* word = words.peek();
    const bool named = word && (circuit.find_wire(word->text).valid() || !pieces_of_chain(circuit, word->text).empty());
    // A bare number is meant as a wire where something follows it: `clamp 545 12.1A`.
    const bool as_wire = word && word->measure && word->measure->unit == Unit::none && words.peek(1);
    if (!word || (!named && !as_wire && begins_value(*word))) {
        report(ProblemCode::missing_word, words, word, "the wire that the clamp is around is missing",
               "for example clamp 542 12.1A");
        return {};
    }
    words.take();
    if (const WireId wire = circuit.find_wire(word->text); wire.valid()) return wire;
    // The whole number of a chain: its first piece carries the same current as the next ones.
    const auto pieces = pieces_of_chain(circuit, word->text);
    if (!pieces.empty()) return circuit.find_wire(pieces.front());
    std::vector<std::string> wires;
    for (const Wire& wire : circuit.wires) wires.push_back(wire.name);
    const PartId part = circuit.find_part(word->text);
    if (!part.valid()) {
        report(ProblemCode::unknown_wire, words, word, "no wire is called '" + word->text + "'",
               did_you_mean_or_known(word->text, wires));
        return {};
    }
    std::vector<std::string> at_part;
    for (const Wire& wire : circuit.wires) {
        if (wire.from.part == part || wire.to.part == part) at_part.push_back("clamp " + wire.name);
    }
    report(ProblemCode::does_not_fit, words, word, "'" + word->text + "' is a part; a clamp goes around one wire",
           at_part.empty() ? "" : "write " + list_words(at_part));
    return {};
}

}  // namespace voltfall
