#include "netlists/phrases/tested.hpp"

#include <algorithm>
#include <array>

#include "netlists/phrases/leads.hpp"
#include "netlists/phrases/loads.hpp"
#include "netlists/phrases/measurement.hpp"
#include "netlists/phrases/places.hpp"
#include "netlists/phrases/state_words.hpp"
#include "netlists/text/problem_code.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

using Asked = std::optional<Tested>;

class TestedReader {
public:
    TestedReader(WordReader& words, const Circuit& circuit) : words_(words), circuit_(circuit) {}

    Asked read() {
        const Word* first = words_.peek();
        if (!first)
            return problem(ProblemCode::missing_word, nullptr, "no measurement stands behind the state",
                           "for example M1.1 to B1-");
        const std::string word = lower(first->text);
        const bool is_name = is_exact_name(circuit_, first->text);
        if (is_measurement_word(word) && (is_measurement_word(first->text) || !is_name)) return read_by_keyword(word);
        if (is_bench_word(word) && (word == first->text || !is_name)) return read_by_bench_word(word);
        return read_by_name(*first, words_.peek(1));
    }

private:
    Asked problem(ProblemCode code, const Word* word, std::string message, std::string suggestion) {
        words_.problems().error(code, words_.place(word), std::move(message), std::move(suggestion));
        return std::nullopt;
    }

    /// Words that a bench knows beside those of readings.
    static bool is_bench_word(std::string_view word) { return word == "drop" || !plain_of(word).empty(); }

    /// What is measured, by its unit or by its name.
    static std::string_view plain_of(std::string_view word) {
        if (word == "volts" || word == "voltage") return "volts";
        if (word == "ohms" || word == "resistance") return "ohms";
        return word == "amps" || word == "current" ? "amps" : "";
    }

    Asked read_by_keyword(const std::string& keyword) {
        if (keyword == "clamp" || keyword == "inrush" || keyword == "swings") return read_clamp(keyword);
        if (keyword == "across") {
            words_.take();
            return asked(take_across(words_, circuit_));
        }
        if (keyword == "lamp" && !words_.peek(1)) return read_load();
        if (keyword == "fuse" || keyword == "breaker" || keyword == "link") return read_fuse();
        if (keyword == "relay") return read_relay();
        if (keyword == "gas") return quantity();
        if (keyword == "bus") return read_bus();
        if (keyword == "command") return asked(take_command(words_, circuit_));
        const Word& word = words_.take();
        if (keyword == "lamp") return lamp(take_leads(words_, circuit_, "lamp M1.1 to B1-"));
        if (keyword == "beep") return beep(take_leads(words_, circuit_, "beep R1.1 to R1.4"));
        if (keyword == "air") return AirTest{};
        if (keyword == "ripple") return of_part(word, [](PartId part) { return RippleTest{part}; });
        if (keyword == "look") return of_place(word, [](std::string place) { return LookTest{std::move(place)}; });
        if (keyword == "pin") return read_pin(word);
        words_.take_if("at");
        return of_place(word, [](std::string place) { return SmellTest{std::move(place)}; });
    }

    Asked read_by_bench_word(const std::string& typed) {
        words_.take();
        const std::string word(typed == "drop" ? "drop" : plain_of(typed));
        if (word == "amps") return clamped("");
        const bool across = words_.take_if("across");
        const Word* first = words_.peek();
        const Word* second = words_.peek(1);
        const bool two_points = second && same_word(second->text, "to");
        const bool point = two_points || (first && !joints_named(circuit_, first->text).empty());
        auto leads = across || !point || (word == "drop" && !two_points)
                         ? take_across(words_, circuit_)
                         : take_leads(words_, circuit_, word == "ohms" ? "ohms R1.1 to R1.4" : "M1.1 to B1-");
        if (!leads || word != "ohms") return asked(std::move(leads));
        return OhmsTest{{std::move(leads->red), std::move(leads->black)}};
    }

    /// A name in front: a fuse is looked at, a relay listened to, a load watched, a point measured.
    Asked read_by_name(const Word& first, const Word* second) {
        const auto is = [&](std::string_view word) { return second && same_word(second->text, word); };
        if (is("pressure") || (is("temp") && is_moved_by_heat(circuit_, first))) return quantity();
        if (is("rise") || is("feels") || is("temp")) return read_heat();
        if (is("hotter")) return read_hotter();
        const PartId part = circuit_.find_part(first.text);
        const bool joint = !joints_named(circuit_, first.text).empty();
        if (is("duty")) return read_duty();
        if (part.valid() && !is("to")) {
            if (circuit_.part(part).fuse) return read_fuse();
            if (circuit_.part(part).relay) return read_relay();
        }
        if (joint || is("to")) return asked(take_leads(words_, circuit_, "M1.1 to B1-"));
        if (part.valid() ? circuit_.part(part).load_branch.valid() : is_load_word(circuit_, first.text))
            return read_load();
        return explain(first);
    }

    Asked explain(const Word& first) {
        if (circuit_.find_wire(first.text).valid()) {
            return problem(ProblemCode::does_not_fit, &first,
                           "'" + first.text + "' is a wire; amps are measured by a clamp around it",
                           "write clamp " + first.text);
        }
        if (find_place(circuit_, first.text)) {
            read_point(first, words_, circuit_, words_.problems());
            return std::nullopt;
        }
        report_unknown(words_, first, circuit_,
                       "a test is its state, then for example M1.1 to B1-, clamp 542 or fuse F7");
        return std::nullopt;
    }

    static Asked asked(std::optional<VoltsTest> volts) { return volts ? Asked(std::move(*volts)) : std::nullopt; }
    static Asked lamp(std::optional<VoltsTest> leads) {
        return leads ? Asked(LampTest{{std::move(leads->red), std::move(leads->black)}}) : std::nullopt;
    }
    static Asked beep(std::optional<VoltsTest> leads) {
        return leads ? Asked(BeepTest{{std::move(leads->red), std::move(leads->black)}}) : std::nullopt;
    }

    template <class Make>
    Asked of_place(const Word& word, const Make& make) {
        auto place = take_place(words_, circuit_, lower(word.text));
        return place ? Asked(make(std::move(*place))) : std::nullopt;
    }
    template <class Make>
    Asked of_part(const Word& word, const Make& make) {
        const PartId part = take_part(words_, circuit_, lower(word.text));
        return part.valid() ? Asked(make(part)) : std::nullopt;
    }

    Asked read_clamp(const std::string& keyword) {
        words_.take();
        return clamped(keyword == "clamp" ? "" : keyword);
    }

    Asked clamped(std::string what) {
        const WireId wire = take_wire(words_, circuit_);
        for (const std::string_view word : {"inrush", "swings"}) {
            if (words_.take_if(word)) what = word;
        }
        return wire.valid() ? Asked(AmpsTest{wire, std::move(what)}) : std::nullopt;
    }

    /// `bus 21`: the mean volts of a bus wire, as a reading of it stands.
    Asked read_bus() {
        words_.take();
        words_.take_if("wire");
        const WireId wire = take_wire(words_, circuit_);
        if (!wire.valid()) return std::nullopt;
        return volts_between(circuit_, circuit_.wire(wire).from.joint, circuit_.reference);
    }

    Asked read_pin(const Word& word) {
        auto place = take_place(words_, circuit_, lower(word.text));
        if (!words_.take_if("drag"))
            return problem(ProblemCode::missing_word, words_.peek(), "'drag' is missing",
                           "for example pin C303.4 drag");
        return place ? Asked(DragTest{std::move(*place)}) : std::nullopt;
    }

    Asked read_fuse() {
        for (const std::string_view word : {"fuse", "breaker", "link"}) {
            if (words_.take_if(word)) break;
        }
        const Word* word = words_.peek();
        const PartId part = take_part(words_, circuit_, "fuse");
        if (!part.valid()) return std::nullopt;
        if (circuit_.part(part).fuse && words_.take_if("rating")) return RatingTest{part};
        if (circuit_.part(part).fuse) return FuseTest{part};
        return problem(ProblemCode::does_not_fit, word, "'" + word->text + "' is neither a fuse, a breaker nor a link",
                       "name the fuse, for example fuse F7");
    }

    Asked read_relay() {
        const Word* first = words_.peek();
        if (same_word(first->text, "relay") && !is_exact_name(circuit_, first->text)) words_.take();
        const Word* word = words_.peek();
        const PartId part = take_part(words_, circuit_, "relay");
        if (!part.valid()) return std::nullopt;
        if (circuit_.part(part).relay) return RelayTest{part};
        return problem(ProblemCode::does_not_fit, word, "'" + word->text + "' is no relay",
                       "for a switch or load, measure volts");
    }

    Asked read_load() {
        const Word& word = words_.take();
        if (const PartId part = circuit_.find_part(word.text); part.valid()) return LoadTest{part, {}};
        const MeantLoad meant = find_load(circuit_, word.text);
        if (meant.part.valid()) return LoadTest{meant.part, lower(word.text)};
        std::vector<std::string> names;
        for (const PartId load : meant.candidates.empty() ? loads_of(circuit_) : meant.candidates)
            names.push_back(circuit_.part(load).name);
        const bool several = meant.candidates.size() > 1;
        return problem(
            ProblemCode::unknown_load, &word,
            several ? "'" + word.text + "' may be more than one load" : "no load here is a '" + word.text + "'",
            names.empty() ? "" : "write " + list_words(names));
    }

    Asked read_heat() {
        auto place = take_place(words_, circuit_, "");
        const bool rise = !same_word(words_.take().text, "temp");
        return place ? Asked(HeatTest{std::move(*place), rise}) : std::nullopt;
    }

    Asked read_hotter() {
        auto hotter = take_place(words_, circuit_, "");
        words_.take();
        words_.take_if("than");
        auto colder = take_place(words_, circuit_, "hotter");
        return hotter && colder ? Asked(HotterTest{std::move(*hotter), std::move(*colder)}) : std::nullopt;
    }

    Asked quantity() {
        const auto test = take_quantity(words_, circuit_);
        return test ? Asked(*test) : std::nullopt;
    }

    Asked read_duty() {
        auto point = take_point(words_, circuit_, "M2.CMD duty");
        words_.take();
        return point ? Asked(DutyTest{std::move(*point)}) : std::nullopt;
    }

    WordReader& words_;
    const Circuit& circuit_;
};

}  // namespace

std::optional<Tested> read_tested(WordReader& words, const Circuit& circuit) {
    return TestedReader(words, circuit).read();
}

}  // namespace voltfall
