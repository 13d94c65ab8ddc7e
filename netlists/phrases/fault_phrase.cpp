#include "netlists/phrases/fault_phrase.hpp"

#include <algorithm>
#include <array>

#include "netlists/parts/layout.hpp"
#include "netlists/phrases/fault_on_demand.hpp"
#include "netlists/phrases/fault_places.hpp"
#include "netlists/phrases/fault_size.hpp"
#include "netlists/phrases/places.hpp"
#include "netlists/phrases/reading_phrase.hpp"
#include "netlists/phrases/state_words.hpp"
#include "netlists/tables/defaults.hpp"
#include "netlists/text/misread.hpp"
#include "netlists/text/problem_code.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

class FaultReader {
public:
    FaultReader(const TypedText& phrase, const Circuit& circuit, Problems& problems)
        : words_(phrase, problems), circuit_(circuit), problems_(problems) {}

    std::optional<Fault> read() {
        if (words_.at_end())
            return fail(ProblemCode::empty_phrase, nullptr, "the fault is empty",
                        "for example C101.4 resistance 0.3ohm");
        fault_.mode = take_mode();
        if (!fault_.mode) return std::nullopt;
        fault_.where = default_value("place");
        if (fault_.mode->size) fault_.size = fault_.mode->size->usual;
        while (!words_.at_end()) {
            if (!take_tail()) return std::nullopt;
        }
        warn_of_usual_ohms();
        return std::move(fault_);
    }

private:
    std::nullopt_t fail(ProblemCode code, const Word* word, std::string message, std::string suggestion) {
        problems_.error(code, words_.place(word), std::move(message), std::move(suggestion));
        return std::nullopt;
    }
    ModePtr fail_mode(ProblemCode code, const Word* word, std::string message, std::string suggestion) {
        fail(code, word, std::move(message), std::move(suggestion));
        return nullptr;
    }
    bool fail_tail(ProblemCode code, const Word* word, std::string message, std::string suggestion) {
        fail(code, word, std::move(message), std::move(suggestion));
        return false;
    }

    /// A resistance without ohms is half a phrase: what is taken for it is said.
    void warn_of_usual_ohms() {
        if (sized_ || !fault_.mode->size || !fault_.mode->is(ModeFact::poor_contact)) return;
        const std::string usual = write_measure(fault_.size, fault_.mode->size->unit);
        problems_.warning(ProblemCode::missing_figure, words_.phrase().place,
                          "'" + fault_.mode->phrase() + "' says no ohms; " + usual + " is taken",
                          "write " + usual_phrase());
    }

    ModePtr take_mode() {
        const Word* first = words_.peek();
        if (same_word(first->text, "nothing") && !circuit_.find_part(first->text).valid()) {
            words_.take();
            return build_nothing();
        }
        if (const auto headed = take_headed(*first)) return *headed;
        const bool says_wire = words_.peek(1) && same_word(words_.peek(1)->text, "wire");
        const auto wire = says_wire ? find_wire_said(circuit_, first->text) : std::nullopt;
        const auto place = wire ? wire : find_fault_place(circuit_, first->text);
        words_.take();
        if (!place) return unknown_place(*first);
        if (wire) words_.take();
        const auto rows = modes_at(circuit_, *place);
        if (const ModePtr row = take_longest(rows)) return row;
        if (words_.peek() && same_word(words_.peek()->text, "bridge")) return take_bridge(*place);
        return unknown_mode(*first, *place, rows);
    }

    /// Rows whose words stand before the place, and `swapped 541 555`.
    std::optional<ModePtr> take_headed(const Word& first) {
        if (circuit_.find_part(first.text).valid()) return std::nullopt;
        for (const ModePtr& row : circuit_.modes) {
            if (row->head.empty() || !same_word(row->head, first.text)) continue;
            const Word* place = words_.peek(1);
            if (!place || !same_word(place->text, row->place)) continue;
            const std::size_t length = matched(*row, 2);
            if (length == none) continue;
            for (std::size_t i = 0; i < 2 + length; ++i) words_.take();
            return row;
        }
        if (!same_word(first.text, "swapped")) return std::nullopt;
        words_.take();
        const Word* a = words_.peek();
        const Word* b = words_.peek(1);
        if (!a || !b)
            return fail_mode(ProblemCode::missing_word, nullptr, "'swapped' takes two wires",
                             "for example swapped 541 555");
        words_.take();
        words_.take();
        return built(build_swapped(circuit_, a->text, b->text), circuit_.find_wire(a->text).valid() ? b : a);
    }

    ModePtr built(const BuiltMode& mode, const Word* at) {
        if (mode) return *mode;
        return fail_mode(mode.error().code, at, mode.error().message, mode.error().suggestion);
    }

    static constexpr std::size_t none = static_cast<std::size_t>(-1);

    /// How many typed words, from `ahead` on, the row's words take; `none` when they differ. Blanks and `-` are equal
    /// (`worn brushes`).
    std::size_t matched(const FaultMode& row, std::size_t ahead = 0) const {
        const auto wanted = mode_words(row.mode);
        if (wanted.empty()) return none;
        std::size_t next = 0, count = 0;
        while (next < wanted.size()) {
            const Word* word = words_.peek(ahead + count);
            if (!word || word->quoted) return none;
            for (const std::string& piece : mode_words(word->text)) {
                if (next >= wanted.size() || piece != wanted[next]) return none;
                ++next;
            }
            ++count;
        }
        return count;
    }

    ModePtr take_longest(const std::vector<ModePtr>& rows) {
        ModePtr best;
        std::size_t most = 0;
        for (const ModePtr& row : rows) {
            const std::size_t length = matched(*row);
            if (length != none && length > most) {
                most = length;
                best = row;
            }
        }
        for (std::size_t i = 0; i < most; ++i) words_.take();
        return best;
    }

    /// `542 bridge 555`, `C310 bridge 1-3`: the row written the other way round, or one built now.
    ModePtr take_bridge(const std::string& place) {
        words_.take();
        const Word* other = words_.peek();
        if (!other)
            return fail_mode(ProblemCode::missing_word, nullptr, "what '" + place + "' touches is missing",
                             "for example 542 bridge 555 50mohm");
        words_.take();
        const WireId wire = circuit_.find_wire(place);
        if (wire.valid()) {
            const auto far = find_fault_place(circuit_, other->text);
            if (const ModePtr row = far ? row_called(*far, wire_bridge_words(*far, place).words) : nullptr) return row;
            return built(build_wire_bridge(circuit_, wire, other->text), other);
        }
        const auto dash = other->text.find('-');
        if (dash != std::string::npos) {
            const ModeWords turned =
                cavity_bridge_words(place, other->text.substr(dash + 1), other->text.substr(0, dash));
            if (const ModePtr row = row_called(place, turned.words)) return row;
        }
        return built(build_cavity_bridge(circuit_, place, other->text), other);
    }

    ModePtr row_called(const std::string& place, const std::string& words) const {
        // Exact case wins: a switch may have positions m1 and M1.
        ModePtr loose;
        for (const ModePtr& row : modes_at(circuit_, place)) {
            if (row->mode == words) return row;
            if (!loose && same_word(row->mode, words)) loose = row;
        }
        return loose;
    }

    ModePtr unknown_place(const Word& word) {
        const auto pieces = pieces_of_chain(circuit_, word.text);
        if (!pieces.empty()) {
            return fail_mode(ProblemCode::two_meanings, &word,
                             "'" + word.text + "' runs in several pieces; a fault sits in one",
                             "write " + list_words(pieces));
        }
        const auto connector = find_connector(circuit_, word.text);
        if (connector || circuit_.find_part(word.text).valid()) {
            const std::string name = connector.value_or(word.text);
            if (words_.peek() && same_word(words_.peek()->text, "bridge")) return take_bridge(name);
            const auto cavities = cavities_of(circuit_, name);
            return fail_mode(ProblemCode::unknown_fault, &word, "'" + word.text + "' has no fault of its own",
                             cavities.empty() ? "" : "name one of its points: " + list_words(cavities));
        }
        if (find_place(circuit_, word.text)) {
            return fail_mode(ProblemCode::unknown_fault, &word, "no fault is known at '" + word.text + "'",
                             "name the part, wire or cavity");
        }
        std::vector<std::string> known = fault_place_names(circuit_);
        for (const Part& part : circuit_.parts) known.push_back(part.name);
        std::string advice = did_you_mean(word.text, known);
        return fail_mode(ProblemCode::unknown_place, &word, "nothing is called '" + word.text + "'",
                         advice.empty() ? "a fault is PLACE MODE, for example C101.4 resistance 0.3ohm" : advice);
    }

    ModePtr unknown_mode(const Word& place_word, const std::string& place, const std::vector<ModePtr>& rows) {
        std::vector<std::string> modes;
        for (const ModePtr& row : rows) modes.push_back(row->mode);
        const Word* typed = words_.peek();
        if (!typed) {
            return fail_mode(ProblemCode::missing_fault, &place_word,
                             "'" + place_word.text + "' says where, but not what is wrong there",
                             "it can have: " + list_words(modes));
        }
        // A poor contact of a plug or socket is a fault of that contact, not of the part.
        const auto contacts = cavities_of(circuit_, plug_or_part(place));
        for (const std::string& contact : contacts) {
            if (const ModePtr row = row_called(contact, typed->text)) {
                return fail_mode(ProblemCode::unknown_fault, typed,
                                 "'" + place + "' has no fault '" + typed->text + "'",
                                 "name the contact, for example " + row->phrase());
            }
        }
        std::string advice = did_you_mean(words_as_mode(), modes);
        if (advice.empty()) advice = did_you_mean(typed->text, modes);
        return fail_mode(ProblemCode::unknown_fault, typed, "'" + place + "' has no fault '" + words_as_mode() + "'",
                         advice.empty() ? "it can have: " + list_words(modes) : advice);
    }

    std::string plug_or_part(const std::string& place) const {
        const PartId part = circuit_.find_part(place);
        return part.valid() && !circuit_.part(part).plug.empty() ? circuit_.part(part).plug : place;
    }

    /// The typed words up to the first number or condition.
    std::string words_as_mode() const {
        std::string text;
        for (std::size_t i = 0; const Word* word = words_.peek(i); ++i) {
            const bool stop = (word->measure && word->measure->unit != Unit::none) || same_word(word->text, "at") ||
                              same_word(word->text, "when");
            if (stop && i > 0) break;
            text += (i > 0 ? " " : "") + word->text;
        }
        return text;
    }

    bool take_tail() {
        const Word* word = words_.peek();
        if (word->measure) return take_size(fault_.size);
        const bool negative = word->text.size() > 1 && word->text[0] == '-' && parse_measure(word->text.substr(1));
        if (negative && fault_.mode->size) {
            return fail_tail(ProblemCode::figure_out_of_range, word, "'" + word->text + "' must be more than zero",
                             "for example " + usual_phrase());
        }
        if (!word->quoted && looks_like_number(word->text)) return fail_misread(word->text, words_.place(word));
        if (words_.take_if("at")) return take_where();
        const bool when = words_.take_if("when");
        const Word* condition = words_.peek();
        if (!condition)
            return fail_tail(ProblemCode::missing_word, nullptr, "the condition after 'when' is missing",
                             "for example when hot");
        if (!condition->quoted && !is_condition_word(condition->text)) {
            const std::vector<std::string> known{"hot", "cold", "wet", "bump", "at", "when"};
            const std::string advice = did_you_mean(condition->text, known);
            const std::string example = when ? "when hot, when cold, when wet, when bump, or your own words in quotes"
                                             : "a fault is PLACE MODE [VALUE] [at WHERE] [when CONDITION]";
            return fail_tail(ProblemCode::unknown_word, condition, "'" + condition->text + "' is not understood here",
                             advice.empty() ? example : advice);
        }
        words_.take();
        fault_.condition = condition->quoted ? condition->text : lower(condition->text);
        const Word* next = words_.peek();
        if (!next || !next->measure) return true;
        if (!sized_) return take_size(fault_.size);
        double size = 0;
        if (!take_size(size)) return false;
        fault_.size_in_condition = size;
        return true;
    }

    bool fail_misread(std::string_view typed, SourcePlace place) {
        const Unit unit = fault_.mode->size ? fault_.mode->size->unit : Unit::percent;
        Misread misread = explain_misread(typed, std::array{unit});
        if (misread.suggestion.empty() && fault_.mode->size) misread.suggestion = "for example " + usual_phrase();
        problems_.error(misread.code, std::move(place), std::move(misread.message), std::move(misread.suggestion));
        return false;
    }

    bool take_size(double& size) {
        const Word* word = words_.peek();
        if (const TypedNumber typed = number_as_typed(words_.rest()); typed.words > 1)
            return fail_misread(typed.text, words_.phrase().place.shifted(word->offset, typed.length));
        words_.take();
        const FaultMode& mode = *fault_.mode;
        if (!mode.size) {
            return fail_tail(ProblemCode::extra_word, word,
                             "'" + mode.phrase() + "' takes no size, but '" + word->text + "' was found",
                             "leave it out");
        }
        if (&size == &fault_.size && sized_) {
            return fail_tail(ProblemCode::extra_word, word, "'" + word->text + "' is a second size",
                             "for two sizes write 40mohm, hot 0.4ohm");
        }
        const Measure& measure = *word->measure;
        const Unit wanted = mode.size->unit;
        const bool share_as_factor = wanted == Unit::none && measure.unit == Unit::percent;
        if (measure.unit != wanted && !share_as_factor)
            return fail_tail(ProblemCode::wrong_unit, word, wrong_unit(*word, wanted), size_advice(*word));
        const FigureBounds& bounds = size_bounds(mode);
        if (const auto wrong = outside_bounds(bounds, measure.value, word->text, usual_phrase())) {
            const bool as_open = wanted == Unit::ohm && measure.value > bounds.most;
            return fail_tail(ProblemCode::figure_out_of_range, word,
                             as_open ? "'" + word->text + "' is as good as open" : wrong->message, wrong->suggestion);
        }
        size = measure.value;
        if (&size == &fault_.size) sized_ = true;
        return true;
    }

    std::string wrong_unit(const Word& word, Unit wanted) const {
        const std::string name = fault_.mode->phrase();
        if (wanted == Unit::none) return "'" + name + "' takes a bare factor, not '" + word.text + "'";
        const std::string unit(unit_name(wanted));
        if (word.measure->unit == Unit::none) return "'" + word.text + "' has no unit; '" + name + "' takes " + unit;
        return "'" + name + "' takes " + unit + ", not '" + word.text + "'";
    }

    std::string size_advice(const Word& word) const {
        const bool no_unit = word.measure->unit == Unit::none && word.measure->value > 0;
        const bool ohms = no_unit && fault_.mode->size->unit == Unit::ohm;
        return ohms ? "write " + word.text + "ohm or " + word.text + "mohm" : "for example " + usual_phrase();
    }

    std::string usual_phrase() const {
        const SizeRange& range = *fault_.mode->size;
        return fault_.mode->phrase() + " " + write_measure(range.usual, range.unit);
    }

    /// `at 60%`, `at 0.5m`, `at middle`; for rows with points of their own `at 2`.
    bool take_where() {
        const Word* word = words_.peek();
        if (!word)
            return fail_tail(ProblemCode::missing_word, nullptr, "the place after 'at' is missing",
                             "for example at 60% or at 0.5m");
        words_.take();
        if (!fault_.mode->along_wire) return take_terminal(*word);
        const Wire& wire = circuit_.wire(circuit_.find_wire(fault_.mode->place));
        const double length = wire.length.value;
        const std::string whole = "'" + wire.name + "' is " + write_measure(length, Unit::metre) + " long";
        double share = 0.5;
        if (word->measure && word->measure->unit == Unit::percent)
            share = word->measure->value;
        else if (word->measure && word->measure->unit == Unit::metre && length > 0)
            share = word->measure->value / length;
        else if (!same_word(word->text, "middle")) {
            return fail_tail(ProblemCode::unknown_place, word, "'" + word->text + "' is no place along a wire",
                             "at 60% or at 0.5m, from its first-written end");
        }
        if (share < 0 || share > 1)
            return fail_tail(ProblemCode::figure_out_of_range, word,
                             "'" + word->text + "' is beyond the wire: " + whole, "at 60%");
        fault_.where = share;
        return true;
    }

    bool take_terminal(const Word& word) {
        std::vector<std::string> others;
        for (const ModePtr& row : modes_at(circuit_, fault_.mode->place)) {
            if (row->at.empty() || row->words_without_at() != fault_.mode->mode) continue;
            if (same_word(row->at, word.text)) {
                fault_.mode = row;
                return true;
            }
            others.push_back("at " + row->at);
        }
        if (!fault_.mode->at_unsaid.empty() && word.text == fault_.mode->at_unsaid) return true;
        return fail_tail(ProblemCode::unknown_place, &word,
                         "'" + fault_.mode->phrase() + "' has no place '" + word.text + "'",
                         others.empty() ? "only faults along a wire take 'at'" : "write " + list_words(others));
    }

    WordReader words_;
    const Circuit& circuit_;
    Problems& problems_;
    Fault fault_;
    bool sized_{false};
};

}  // namespace

std::optional<Fault> read_fault_in_order(const TypedText& phrase, const Circuit& circuit, Problems& problems) {
    Problems own;
    auto fault = FaultReader(phrase, circuit, own).read();
    problems.add_all(own);
    if (own.has_errors()) return std::nullopt;
    return fault;
}

}  // namespace voltfall
