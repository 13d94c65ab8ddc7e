#include "netlists/phrases/measurement.hpp"

#include <algorithm>

#include "netlists/parts/command_input.hpp"
#include "netlists/parts/kind.hpp"
#include "netlists/phrases/leads.hpp"
#include "netlists/phrases/load_words.hpp"
#include "netlists/phrases/loads.hpp"
#include "netlists/phrases/phrase_forms.hpp"
#include "netlists/phrases/places.hpp"
#include "netlists/phrases/state_words.hpp"
#include "netlists/phrases/values.hpp"
#include "netlists/phrases/vocabulary.hpp"
#include "netlists/text/problem_code.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

using Reader = std::optional<Measurement>;

/// The words that begin a measurement.
const std::vector<std::string_view>& measurement_words() {
    static const std::vector<std::string_view> words = first_words(reading_forms());
    return words;
}

class MeasurementReader {
public:
    MeasurementReader(WordReader& words, const Circuit& circuit, MeasuredAt where)
        : words_(words), circuit_(circuit), between_points_(where == MeasuredAt::on_vehicle ? "V" : "") {}

    Reader read() {
        const Word* first = words_.peek();
        if (!first)
            return problem(ProblemCode::missing_word, nullptr, "no measurement stands behind the state",
                           "for example M1.1 to B1- 12.6V");
        const bool as_keyword = is_measurement_word(lower(first->text)) &&
                                (is_measurement_word(first->text) || !is_exact_name(circuit_, first->text));
        if (as_keyword) return read_by_keyword(lower(first->text));
        return read_by_second_word(*first, words_.peek(1));
    }

private:
    Reader problem(ProblemCode code, const Word* word, std::string message, std::string suggestion) {
        words_.problems().error(code, words_.place(word), std::move(message), std::move(suggestion));
        return std::nullopt;
    }

    Reader read_by_keyword(const std::string& keyword) {
        if (keyword == "clamp" || keyword == "inrush" || keyword == "swings") return read_clamp(keyword);
        if (keyword == "command") return read_command();
        if (keyword == "bus") return read_bus();
        if (keyword == "across") return read_across();
        if (keyword == "lamp") {
            return says_whole(load_sayings(LoadKind::lamp)) ? read_load(words_, circuit_) : read_lamp();
        }
        if (keyword == "beep") return read_beep();
        if (keyword == "relay") return read_relay(words_, circuit_);
        if (keyword == "air") return read_air(words_);
        if (keyword == "look") return read_look(words_, circuit_);
        if (keyword == "pin") return read_pin_drag(words_, circuit_);
        if (keyword == "ripple") return read_ripple(words_, circuit_);
        if (keyword == "gas") return read_quantity(words_, circuit_);
        if (keyword == "smell" || keyword == "smoke") return read_smell(words_, circuit_);
        return read_fuse(words_, circuit_);
    }

    Reader read_by_second_word(const Word& first, const Word* second) {
        const auto is = [&](std::string_view word) { return second && same_word(second->text, word); };
        if (is("pressure") || (is("temp") && is_moved_by_heat(circuit_, first))) return read_quantity(words_, circuit_);
        if (is("rise") || is("feels") || is("temp")) return read_heat(words_, circuit_);
        if (is("hotter")) return read_hotter(words_, circuit_);
        if (is("duty")) return read_duty();
        if (same_word(first.text, "duty"))
            return problem(ProblemCode::unknown_point, &first, "the point in front of 'duty' is missing",
                           "for example M2.CMD duty 35% 400Hz");
        const PartId part = circuit_.find_part(first.text);
        if (part.valid() && says_good(part)) return read_good();
        const bool joint = !joints_named(circuit_, first.text).empty();
        const bool of_fuse = is("is") || is("rating") || is("holds") || is("looks");
        if (second && part.valid() && circuit_.part(part).fuse && (of_fuse || says(fuse_sayings())))
            return read_fuse(words_, circuit_);
        if (part.valid() && circuit_.part(part).relay && says(relay_sayings())) return read_relay(words_, circuit_);
        const bool is_load =
            part.valid() ? !joint || circuit_.part(part).load_branch.valid() : is_load_word(circuit_, first.text);
        const LoadKind kind = part.valid() ? load_kind_of(circuit_.part(part)) : LoadKind::lamp;
        if (is_load && !is("to") && (says(load_sayings(kind)) || says(by_hand_sayings())))
            return read_load(words_, circuit_);
        if (joint || is("to")) return read_two_points();
        // `blower backwards`: the load is right, its word is not. A part alone or before a number wants a point.
        const bool wants_point = part.valid() && (!second || begins_value(*second));
        if (is_load && !wants_point) return read_load(words_, circuit_);
        return explain(first, second);
    }

    /// `K3 good`, `S1 is ok`: a part that was tested by other means. Of a load only `good` says so: `M1 ok` runs well.
    bool says_good(PartId part) const {
        const auto said = find_saying(words_, 1, load_sayings(LoadKind::none));
        if (!said || said->word != "ok") return false;
        const Word& last = *words_.peek(said->words);
        const Part& of = circuit_.part(part);
        const bool has_words = of.load_branch.valid() || of.fuse || of.relay;
        return !has_words || same_word(last.text, "good");
    }

    /// Does one of these follow the next word?
    bool says(Sayings sayings) const { return find_saying(words_, 1, sayings).has_value(); }
    /// The same, with nothing behind it.
    bool says_whole(Sayings sayings) const {
        const auto said = find_saying(words_, 1, sayings);
        return said && !words_.peek(1 + said->words);
    }

    /// A first word that begins no measurement: say what it is and what would be one.
    Reader explain(const Word& first, const Word* second) {
        const bool amps = second && second->measure && second->measure->unit == Unit::ampere;
        if (circuit_.find_wire(first.text).valid() && second && begins_value(*second)) {
            return problem(ProblemCode::does_not_fit, &first,
                           "'" + first.text + "' is a wire; amps are measured by a clamp around it",
                           "write clamp " + first.text + " " + (amps ? second->text : "12.1A"));
        }
        if (is_said(load_sayings(LoadKind::none), first.text)) {
            return problem(ProblemCode::missing_word, &first,
                           "'" + first.text + "' says how a load runs, but not which load",
                           "write the load in front: blower " + lower(first.text));
        }
        if (begins_value(first) && !second) {
            return problem(ProblemCode::missing_word, &first, "'" + first.text + "' stands alone: where was it read?",
                           "write the place in front, for example M1.1 to B1- 12.6V");
        }
        if (find_place(circuit_, first.text)) {
            read_point(first, words_, circuit_, words_.problems());
            return std::nullopt;
        }
        report_unknown(words_, first, circuit_,
                       "a reading is its state, then for example M1.1 to B1- 12.6V, clamp 542 12.1A or blower slow");
        return std::nullopt;
    }

    Reader read_two_points() {
        auto points = take_leads(words_, circuit_, "M1.1 to B1- 12.6V");
        if (!points) return std::nullopt;
        const Word* word = words_.peek();
        if (const auto said = take_saying(words_, live_sayings()))
            return LiveReading{std::move(*points), *said == live_sayings().front().word};
        if (word && !begins_value(*word) && is_reading_word(word->text)) {
            return problem(ProblemCode::missing_word, word, "'" + word->text + "' needs the instrument in front",
                           "for example lamp M1.1 to B1- dim, beep R1.1 to R1.4 yes, or M1.1 to B1- live");
        }
        auto value = take_value(words_, "12.6V", between_points_);
        if (!value) return std::nullopt;
        return by_unit(std::move(*points), std::move(*value), word);
    }

    /// `command 2.3V`, `command Z1 2.3V`: volts at a part's control input against that part's own ground.
    Reader read_command() {
        const Word word = *words_.peek();
        auto points = take_command(words_, circuit_);
        if (!points) return std::nullopt;
        auto value = take_value(words_, "2.3V", "V");
        if (!value) return std::nullopt;
        if (value->unit != Unit::volt)
            return problem(ProblemCode::wrong_unit, &word, "a command is measured in volts",
                           "command 2.3V; a duty is Z1.CMD duty 35%");
        return VoltsReading{std::move(*points), std::move(*value)};
    }

    /// `bus 21 idle|busy|dead`: the mean volts of a bus wire, as a meter shows them, in words. They stand as volts.
    Reader read_bus() {
        const Word first = words_.take();
        words_.take_if("wire");
        const WireId wire = take_wire(words_, circuit_);
        if (!wire.valid()) return std::nullopt;
        const auto word = take_word_of(words_, bus_sayings(), "a bus wire");
        if (!word) return std::nullopt;
        const double supply = circuit_.supply;
        constexpr double dead_below = 0.1;
        ReadValue value;
        value.unit = Unit::volt;
        value.low = *word == "idle" ? bus_idle_below * supply : *word == "busy" ? bus_busy_above * supply : 0;
        value.high = *word == "dead" ? dead_below * supply : *word == "busy" ? bus_idle_below * supply : 1.25 * supply;
        value.text = write_fixed(value.low, 1) + "-" + write_fixed(value.high, 1) + "V";
        return VoltsReading{volts_between(circuit_, circuit_.wire(wire).from.joint, circuit_.reference),
                            std::move(value)};
    }

    static bool is_reading_word(std::string_view word) {
        return is_said(test_lamp_sayings(), word) || is_said(beep_sayings(), word);
    }

    Reader by_unit(VoltsTest points, ReadValue value, const Word* word) {
        if (value.unit == Unit::volt) return VoltsReading{std::move(points), std::move(value)};
        if (value.unit == Unit::ohm) {
            if (!points.black.joints.empty()) return OhmsReading{{std::move(points)}, std::move(value)};
            return problem(ProblemCode::missing_word, word,
                           "ohms between '" + points.red.text + "' and an unknown point tell nothing",
                           "name both points, for example R1.1 to R1.4 2.25ohm");
        }
        if (value.unit == Unit::ampere) {
            return problem(ProblemCode::wrong_unit, word, "'" + value.text + "' is amps; two points take volts or ohms",
                           "write the wire: clamp 542 " + value.text);
        }
        return problem(ProblemCode::wrong_unit, word, "'" + value.text + "' is neither volts nor ohms",
                       "for example 12.6V, 2.25ohm or open");
    }

    Reader read_lamp() {
        words_.take();
        auto points = take_leads(words_, circuit_, "lamp M1.1 to B1- dim");
        if (!points) return std::nullopt;
        auto seen = take_word_of(words_, test_lamp_sayings(), "a test lamp");
        if (!seen) return std::nullopt;
        return LampReading{{std::move(*points)}, std::move(*seen)};
    }

    Reader read_beep() {
        words_.take();
        auto points = take_leads(words_, circuit_, "beep R1.1 to R1.4 yes");
        if (!points) return std::nullopt;
        const auto heard = take_word_of(words_, beep_sayings(), "a beep");
        if (!heard) return std::nullopt;
        return BeepReading{{std::move(*points)}, *heard == beep_sayings().front().word};
    }

    /// `clamp 542 12.1A`, `clamp 542 inrush 78A`, `clamp 542 swings 3-19A`; the word may stand in front or behind too.
    Reader read_clamp(const std::string& keyword) {
        words_.take();
        const WireId wire = take_wire(words_, circuit_);
        AmpsReading reading{{wire, keyword == "clamp" ? "" : keyword}, {}};
        const auto take_what = [&] {
            if (words_.take_if("inrush")) reading.what = "inrush";
            if (words_.take_if("swings")) reading.what = "swings";
        };
        take_what();
        auto value = take_value_in(words_, Unit::ampere, "12.1A");
        if (!value) return std::nullopt;
        take_what();
        const bool between_two = value->low < value->high;
        if (reading.what == "swings" && !between_two)
            return problem(ProblemCode::missing_figure, nullptr,
                           "'" + value->text + "' is one figure; what swings has two", "for example swings 3-9A");
        reading.value = std::move(*value);
        return wire.valid() ? Reader(std::move(reading)) : std::nullopt;
    }

    Reader read_across() {
        words_.take();
        auto points = take_across(words_, circuit_);
        if (!points) return std::nullopt;
        const Word* value_word = words_.peek();
        auto value = take_value(words_, "0.12V", between_points_);
        if (!value) return std::nullopt;
        return by_unit(std::move(*points), std::move(*value), value_word);
    }

    Reader read_good() {
        const PartId part = take_part(words_, circuit_, "");
        take_saying(words_, load_sayings(LoadKind::none));
        if (circuit_.part(part).fuse) return FuseReading{{part}, "good", std::nullopt, std::nullopt};
        return GoodReading{{}, part};
    }

    Reader read_duty() {
        auto point = take_point(words_, circuit_, "M2.CMD duty 35% 400Hz");
        words_.take();
        const auto share = take_value_in(words_, Unit::percent, "35%");
        if (!share || !point) return std::nullopt;
        std::optional<double> hertz;
        if (!words_.at_end()) {
            hertz = take_figure(words_, Unit::hertz, "frequency", "the frequency is", "duty 35% 400Hz");
            if (!hertz) return std::nullopt;
        }
        return DutyReading{{std::move(*point)}, share->low, hertz.value_or(0)};
    }

    WordReader& words_;
    const Circuit& circuit_;
    std::string_view between_points_;  ///< the unit of a bare number there; empty: it must be said
};

/// "S1 has off, lo, ml, mh and hi; " of the circuit's only control; empty where there are several or none.
std::string positions_of(const Circuit& circuit) {
    if (circuit.controls.size() != 1 || circuit.controls.front().part == circuit.key) return {};
    const Part& control = circuit.part(circuit.controls.front().part);
    std::vector<std::string> names;
    for (const Position& position : control.positions) names.push_back(position.name);
    return control.name + " has " + list_words(names) + "; ";
}

}  // namespace

void report_unknown(WordReader& words, const Word& word, const Circuit& circuit, std::string_view otherwise) {
    std::vector<std::string> known = state_word_list(circuit);
    known.insert(known.end(), measurement_words().begin(), measurement_words().end());
    std::string advice;
    // `ml,mx,hi`: in a list of positions another one is meant.
    if (word.after_comma) {
        std::vector<std::string> positions;
        for (const Control& control : circuit.controls) {
            for (const Position& position : circuit.part(control.part).positions) positions.push_back(position.name);
        }
        advice = word_near(word.text, positions);
    }
    if (advice.empty()) advice = names_near(circuit, word.text);
    if (advice.empty()) advice = word_near(word.text, known);
    for (const Part& part : circuit.parts) {
        if (advice.empty() && part.position_named(word.text)) advice = "write " + part.name + "=" + word.text;
    }
    words.problems().error(ProblemCode::unknown_place, words.place(&word),
                           "'" + word.text + "' is neither a setting nor a point, wire or part",
                           advice.empty() ? positions_of(circuit) + std::string(otherwise) : advice);
}

bool is_measurement_word(std::string_view word) {
    const auto& words = measurement_words();
    return std::find(words.begin(), words.end(), word) != words.end();
}

std::optional<Measurement> read_measurement(WordReader& words, const Circuit& circuit, MeasuredAt where) {
    return MeasurementReader(words, circuit, where).read();
}

}  // namespace voltfall
