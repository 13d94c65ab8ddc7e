#include "netlists/phrases/measurement.hpp"

#include <algorithm>
#include <array>

#include "netlists/parts/kind.hpp"
#include "netlists/phrases/loads.hpp"
#include "netlists/phrases/places.hpp"
#include "netlists/phrases/state_words.hpp"
#include "netlists/phrases/values.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

using Reader = std::optional<Measurement>;

constexpr std::array<std::string_view, 16> measurement_words{"clamp",  "inrush",  "across", "lamp",  "beep", "relay",
                                                             "fuse",   "breaker", "link",   "air",   "look", "pin",
                                                             "ripple", "smell",   "smoke",  "swings"};

class MeasurementReader {
public:
    MeasurementReader(WordReader& words, const Circuit& circuit) : words_(words), circuit_(circuit) {}

    Reader read() {
        const Word* first = words_.peek();
        if (!first) return problem(nullptr, "no measurement stands behind the state", "for example M1.1 to B1- 12.6V");
        const bool as_keyword = is_measurement_word(lower(first->text)) &&
                                (is_measurement_word(first->text) || !is_exact_name(circuit_, first->text));
        if (as_keyword) return read_by_keyword(lower(first->text));
        return read_by_second_word(*first, words_.peek(1));
    }

private:
    Reader problem(const Word* word, std::string message, std::string suggestion) {
        words_.problems().error(words_.place(word), std::move(message), std::move(suggestion));
        return std::nullopt;
    }

    Reader read_by_keyword(const std::string& keyword) {
        if (keyword == "clamp" || keyword == "inrush" || keyword == "swings") return read_clamp(keyword);
        if (keyword == "across") return read_across();
        if (keyword == "lamp") {
            const Word* next = words_.peek(1);
            return next && is_running_word(next->text) ? read_load(words_, circuit_) : read_lamp();
        }
        if (keyword == "beep") return read_beep();
        if (keyword == "relay") return read_relay(words_, circuit_);
        if (keyword == "air") return read_air(words_);
        if (keyword == "look") return read_look(words_, circuit_);
        if (keyword == "pin") return read_pin_drag(words_, circuit_);
        if (keyword == "ripple") return read_ripple(words_, circuit_);
        if (keyword == "smell" || keyword == "smoke") return read_smell(words_, circuit_);
        return read_fuse(words_, circuit_);
    }

    Reader read_by_second_word(const Word& first, const Word* second) {
        const auto is = [&](std::string_view word) { return second && same_word(second->text, word); };
        if (is("rise") || is("temp")) return read_heat(words_, circuit_);
        if (is("hotter")) return read_hotter(words_, circuit_);
        if (is("good")) return read_good();
        if (is("duty")) return read_duty();
        const PartId part = circuit_.find_part(first.text);
        const bool joint = !joints_named(circuit_, first.text).empty();
        if (second && is_fuse_word(second->text) && part.valid() && circuit_.part(part).fuse)
            return read_fuse(words_, circuit_);
        if (second && is_relay_word(second->text) && part.valid()) return read_relay(words_, circuit_);
        const bool is_load =
            part.valid() ? !joint || circuit_.part(part).load_branch.valid() : is_load_word(circuit_, first.text);
        if (second && is_running_word(second->text) && is_load) return read_load(words_, circuit_);
        if (joint || is("to")) return read_two_points();
        // `blower backwards`: the load is right, its word is not. A part alone or before a number wants a point.
        const bool wants_point = part.valid() && (!second || begins_value(*second));
        if (is_load && !wants_point) return read_load(words_, circuit_);
        return explain(first, second);
    }

    /// A first word that begins no measurement: say what it is and what would be one.
    Reader explain(const Word& first, const Word* second) {
        const bool amps = second && second->measure && second->measure->unit == Unit::ampere;
        if (circuit_.find_wire(first.text).valid() && second && begins_value(*second)) {
            return problem(&first, "'" + first.text + "' is a wire; amps are measured by a clamp around it",
                           "write clamp " + first.text + " " + (amps ? second->text : "12.1A"));
        }
        if (is_running_word(first.text)) {
            return problem(&first, "'" + first.text + "' says how a load runs, but not which load",
                           "write the load in front: blower " + lower(first.text));
        }
        if (find_place(circuit_, first.text)) {
            read_point(first, words_, circuit_, words_.problems());
            return std::nullopt;
        }
        std::vector<std::string> known = place_names(circuit_);
        const auto state_words = state_word_list(circuit_);
        known.insert(known.end(), state_words.begin(), state_words.end());
        known.insert(known.end(), measurement_words.begin(), measurement_words.end());
        std::string advice = did_you_mean(first.text, known);
        for (const Part& part : circuit_.parts) {
            if (advice.empty() && part.position_named(first.text)) advice = "write " + part.name + "=" + first.text;
        }
        if (advice.empty())
            advice = "a reading is its state, then for example M1.1 to B1- 12.6V, clamp 542 12.1A or blower slow";
        return problem(&first, "'" + first.text + "' is neither a setting nor a point, wire or part", advice);
    }

    std::optional<Point> take_point(std::string_view example) {
        const Word* word = words_.peek();
        if (!word) {
            problem(nullptr, "a point is missing", "for example " + std::string(example));
            return std::nullopt;
        }
        words_.take();
        return read_point(*word, words_, circuit_, words_.problems());
    }

    struct TwoPoints {
        Point red;
        Point black;
    };

    /// `A to B`, `A to ?`, and `A` alone, which is `A to B1-`.
    std::optional<TwoPoints> take_points(std::string_view example) {
        auto red = take_point(example);
        if (!red) {
            skip_black();
            return std::nullopt;
        }
        if (!words_.take_if("to"))
            return TwoPoints{*red, {{circuit_.reference}, circuit_.joint(circuit_.reference).name}};
        if (words_.take_if("?")) return TwoPoints{*red, {{}, "?"}};
        const Word* word = words_.peek();
        auto black = take_point(example);
        if (!black) return std::nullopt;
        if (red->joints == black->joints) {
            problem(word, "both leads are on '" + black->text + "'", "for example " + std::string(example));
            return std::nullopt;
        }
        return TwoPoints{std::move(*red), std::move(*black)};
    }

    /// After an unknown red point the black one is looked at too, so that both problems show in one run.
    void skip_black() {
        if (!words_.take_if("to") || words_.take_if("?")) return;
        take_point("B1-");
    }

    Reader read_two_points() {
        auto points = take_points("M1.1 to B1- 12.6V");
        if (!points) return std::nullopt;
        const Word* word = words_.peek();
        if (word && (same_word(word->text, "live") || same_word(word->text, "dead"))) {
            const bool live = same_word(words_.take().text, "live");
            return LiveReading{std::move(points->red), std::move(points->black), live};
        }
        if (word && !begins_value(*word) && is_reading_word(word->text)) {
            return problem(word, "'" + word->text + "' needs the instrument in front",
                           "for example lamp M1.1 to B1- dim, beep R1.1 to R1.4 yes, or M1.1 to B1- live");
        }
        auto value = take_value(words_, "12.6V");
        if (!value) return std::nullopt;
        return by_unit(std::move(*points), std::move(*value), word);
    }

    static bool is_reading_word(std::string_view word) {
        static constexpr std::array<std::string_view, 6> known{"bright", "dim", "dark", "lit", "yes", "no"};
        return std::any_of(known.begin(), known.end(), [&](std::string_view w) { return same_word(w, word); });
    }

    Reader by_unit(TwoPoints points, ReadValue value, const Word* word) {
        if (value.unit == Unit::volt)
            return VoltsReading{std::move(points.red), std::move(points.black), std::move(value)};
        if (value.unit == Unit::ohm) {
            if (!points.black.joints.empty()) {
                return OhmsReading{std::move(points.red), std::move(points.black), std::move(value)};
            }
            return problem(word, "ohms between '" + points.red.text + "' and an unknown point tell nothing",
                           "name both points, for example R1.1 to R1.4 2.25ohm");
        }
        if (value.unit == Unit::ampere) {
            return problem(word, "'" + value.text + "' is amps; two points take volts or ohms",
                           "write the wire: clamp 542 " + value.text);
        }
        return problem(word, "'" + value.text + "' is neither volts nor ohms", "for example 12.6V, 2.25ohm or open");
    }

    Reader read_lamp() {
        words_.take();
        auto points = take_points("lamp M1.1 to B1- dim");
        if (!points) return std::nullopt;
        static constexpr std::array<std::string_view, 4> known{"bright", "dim", "dark", "lit"};
        const Word* word = words_.peek();
        if (word && (same_word(word->text, "off") || same_word(word->text, "out") || same_word(word->text, "on"))) {
            return problem(word, "'" + word->text + "' is no word of a lamp",
                           same_word(word->text, "on") ? "write lit, bright or dim" : "write dark");
        }
        auto seen = take_word_of(words_, known, "a lamp");
        if (!seen) return std::nullopt;
        return LampReading{std::move(points->red), std::move(points->black), std::move(*seen)};
    }

    Reader read_beep() {
        words_.take();
        auto points = take_points("beep R1.1 to R1.4 yes");
        if (!points) return std::nullopt;
        static constexpr std::array<std::string_view, 2> known{"yes", "no"};
        const auto heard = take_word_of(words_, known, "a beep");
        if (!heard) return std::nullopt;
        return BeepReading{std::move(points->red), std::move(points->black), *heard == "yes"};
    }

    WireId take_wire() {
        const Word* word = words_.peek();
        const bool named =
            word && (circuit_.find_wire(word->text).valid() || !pieces_of_chain(circuit_, word->text).empty());
        if (!word || (!named && begins_value(*word))) {
            problem(word, "the wire that the clamp is around is missing", "for example clamp 542 12.1A");
            return {};
        }
        words_.take();
        if (const WireId wire = circuit_.find_wire(word->text); wire.valid()) return wire;
        // The whole number of a chain: its first piece carries the same current as the next ones.
        const auto pieces = pieces_of_chain(circuit_, word->text);
        if (!pieces.empty()) return circuit_.find_wire(pieces.front());
        std::vector<std::string> wires;
        for (const Wire& wire : circuit_.wires) wires.push_back(wire.name);
        const PartId part = circuit_.find_part(word->text);
        if (!part.valid()) {
            problem(word, "no wire is called '" + word->text + "'", did_you_mean(word->text, wires));
            return {};
        }
        std::vector<std::string> at_part;
        for (const Wire& wire : circuit_.wires) {
            if (wire.from.part == part || wire.to.part == part) at_part.push_back("clamp " + wire.name);
        }
        problem(word, "'" + word->text + "' is a part; a clamp goes around one wire",
                at_part.empty() ? "" : "write " + list_words(at_part));
        return {};
    }

    /// `clamp 542 12.1A`, `clamp 542 inrush 78A`, `clamp 542 swings 3-19A`; the word may stand in front or behind too.
    Reader read_clamp(const std::string& keyword) {
        words_.take();
        const WireId wire = take_wire();
        AmpsReading reading{wire, keyword == "clamp" ? "" : keyword, {}};
        const auto take_what = [&] {
            if (words_.take_if("inrush")) reading.what = "inrush";
            if (words_.take_if("swings")) reading.what = "swings";
        };
        take_what();
        auto value = take_value_in(words_, Unit::ampere, "12.1A");
        if (!value) return std::nullopt;
        take_what();
        reading.value = std::move(*value);
        return wire.valid() ? Reader(std::move(reading)) : std::nullopt;
    }

    std::vector<JointId> sides_of_part(const Part& part) const {
        std::vector<JointId> sides;
        const auto add = [&](const std::string& terminal) {
            const auto pin = part.pins.find(terminal);
            if (pin != part.pins.end()) sides.push_back(pin->second);
        };
        if (part.kind) {
            for (const std::string& terminal : part.kind->terminals(part)) add(terminal);
        }
        if (sides.empty()) {
            for (const auto& [terminal, joint] : part.pins) sides.push_back(joint);
        }
        return sides;
    }

    /// The joints on both sides of what `across` names, first-written side first; anything but two is for a message.
    std::vector<JointId> sides_of(const std::string& place) const {
        if (const WireId wire = circuit_.find_wire(place); wire.valid()) {
            return {circuit_.wire(wire).from.joint, circuit_.wire(wire).to.joint};
        }
        std::vector<const Branch*> own;
        for (const Branch& branch : circuit_.branches) {
            if (same_word(branch.place, place)) own.push_back(&branch);
        }
        const PartId part = circuit_.find_part(place);
        if (part.valid() && circuit_.part(part).pins.size() > 1) return sides_of_part(circuit_.part(part));
        if (own.size() == 1) return {own.front()->a, own.front()->b};
        return {};
    }

    Reader read_across() {
        words_.take();
        const Word* word = words_.peek();
        auto place = take_place(words_, circuit_, "across");
        if (!place) return std::nullopt;
        const auto cavities = cavities_of(circuit_, *place);
        if (find_connector(circuit_, *place) && cavities.size() == 1) place = cavities.front();
        const auto sides = sides_of(*place);
        if (sides.size() != 2) return explain_across(*word, sides, cavities);
        const Word* value_word = words_.peek();
        auto value = take_value(words_, "0.12V");
        if (!value) return std::nullopt;
        TwoPoints points{{{sides[0]}, circuit_.joint(sides[0]).name}, {{sides[1]}, circuit_.joint(sides[1]).name}};
        return by_unit(std::move(points), std::move(*value), value_word);
    }

    Reader explain_across(const Word& word, const std::vector<JointId>& sides,
                          const std::vector<std::string>& cavities) {
        std::vector<std::string> names;
        for (const JointId joint : sides) names.push_back(circuit_.joint(joint).name);
        std::string advice;
        if (!cavities.empty()) advice = "write across " + list_words(cavities);
        if (sides.size() > 2) advice = "write two of its points: " + names[0] + " to " + names[1];
        return problem(&word, "'" + word.text + "' has not just two sides", advice);
    }

    Reader read_good() {
        const PartId part = take_part(words_, circuit_, "");
        if (!part.valid()) return std::nullopt;
        words_.take();
        if (circuit_.part(part).fuse) return FuseReading{part, "good", std::nullopt, std::nullopt};
        return GoodReading{part};
    }

    Reader read_duty() {
        auto point = take_point("M2.CMD duty 35% 400Hz");
        words_.take();
        const auto share = take_value_in(words_, Unit::percent, "35%");
        if (!share || !point) return std::nullopt;
        std::optional<double> hertz;
        if (!words_.at_end()) {
            hertz = take_figure(words_, Unit::hertz, "frequency", "the frequency is", "duty 35% 400Hz");
            if (!hertz) return std::nullopt;
        }
        return DutyReading{std::move(*point), share->low, hertz.value_or(0)};
    }

    WordReader& words_;
    const Circuit& circuit_;
};

}  // namespace

bool is_measurement_word(std::string_view word) {
    return std::find(measurement_words.begin(), measurement_words.end(), word) != measurement_words.end();
}

std::optional<Measurement> read_measurement(WordReader& words, const Circuit& circuit) {
    return MeasurementReader(words, circuit).read();
}

}  // namespace voltfall
