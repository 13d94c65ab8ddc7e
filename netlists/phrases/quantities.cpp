// The pressure or temperature that moves a contact: `gas pressure 0.3bar`, `P1 pressure 0.3bar`, `T1 temp 95C`.
#include <algorithm>

#include "netlists/phrases/measurement.hpp"
#include "netlists/phrases/places.hpp"
#include "netlists/phrases/values.hpp"
#include "netlists/text/problem_code.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

std::nullopt_t refused(ProblemCode code, WordReader& words, const Word* word, std::string message,
                       std::string suggestion) {
    words.problems().error(code, words.place(word), std::move(message), std::move(suggestion));
    return std::nullopt;
}

/// `low side`, `high side`, before or behind the value; none where nothing is said.
std::optional<GasSide> take_side(WordReader& words) {
    const Word* word = words.peek();
    const Word* side = words.peek(1);
    if (!word || !side || !same_word(side->text, "side")) return std::nullopt;
    const bool low = same_word(word->text, "low");
    if (!low && !same_word(word->text, "high")) return std::nullopt;
    words.take();
    words.take();
    return low ? GasSide::low : GasSide::high;
}

std::vector<std::string> moved_by(const Circuit& circuit, Unit unit) {
    std::vector<std::string> names;
    for (const Part& part : circuit.parts) {
        if (part.moved_by && part.moved_by->unit == unit) names.push_back(part.name);
    }
    return names;
}

std::optional<QuantityTest> take_gas(WordReader& words, const Circuit& circuit) {
    const Word* gas = words.peek();
    words.take();
    if (!words.take_if("pressure"))
        return refused(ProblemCode::missing_word, words, words.peek(), "'pressure' is missing behind 'gas'",
                       "for example gas pressure 0.3bar");
    if (moved_by(circuit, Unit::pascal).empty()) {
        return refused(ProblemCode::does_not_fit, words, gas,
                       "no contact of this circuit is moved by a pressure that its figures tell",
                       "write its figures: contact opens 1.96bar, closes 2.25bar, healthy 8bar");
    }
    return QuantityTest{{}, take_side(words).value_or(GasSide::both)};
}

std::optional<QuantityTest> take_contact(WordReader& words, const Circuit& circuit) {
    const Word* word = words.peek();
    const PartId part = take_part(words, circuit, "pressure");
    const Word what = words.take();
    if (!part.valid()) return std::nullopt;
    const Unit unit = same_word(what.text, "temp") ? Unit::celsius : Unit::pascal;
    const auto& quantity = circuit.part(part).moved_by;
    if (quantity && quantity->unit == unit) return QuantityTest{part, GasSide::both};
    const auto others = moved_by(circuit, unit);
    return refused(ProblemCode::does_not_fit, words, word,
                   "'" + word->text + "' is no contact that a pressure moves by figures of its line",
                   others.empty() ? "write its figures: contact opens 1.96bar, closes 2.25bar, healthy 8bar"
                                  : "write " + list_words(others));
}

}  // namespace

bool is_moved_by_heat(const Circuit& circuit, const Word& word) {
    const PartId part = circuit.find_part(word.text);
    return part.valid() && circuit.part(part).moved_by && circuit.part(part).moved_by->unit == Unit::celsius;
}

std::optional<QuantityTest> take_quantity(WordReader& words, const Circuit& circuit) {
    const Word* word = words.peek();
    const bool gas = same_word(word->text, "gas") && !circuit.find_part(word->text).valid();
    auto test = gas ? take_gas(words, circuit) : take_contact(words, circuit);
    if (!test || !contacts_moved(circuit, *test).empty()) return test;
    return refused(ProblemCode::does_not_fit, words, word, "no contact here is moved by the gas of that side",
                   "leave the side out");
}

std::optional<Measurement> read_quantity(WordReader& words, const Circuit& circuit) {
    const Word* first = words.peek();
    auto test = take_quantity(words, circuit);
    if (!test) return std::nullopt;
    const bool heat = test->part.valid() && circuit.part(test->part).moved_by->unit == Unit::celsius;
    auto value = take_value_in(words, heat ? Unit::celsius : Unit::pascal, heat ? "95C" : "0.3bar");
    if (!value) return std::nullopt;
    if (!test->part.valid()) test->side = take_side(words).value_or(test->side);
    if (!contacts_moved(circuit, *test).empty()) return QuantityReading{*test, std::move(*value)};
    return refused(ProblemCode::does_not_fit, words, first, "no contact here is moved by the gas of that side",
                   "leave the side out");
}

}  // namespace voltfall
