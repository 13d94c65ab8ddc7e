#include "netlists/phrases/loose_order.hpp"

#include <algorithm>
#include <array>
#include <optional>
#include <span>

#include "netlists/parts/kind.hpp"
#include "netlists/phrases/load_words.hpp"
#include "netlists/phrases/places.hpp"
#include "netlists/phrases/plain_words.hpp"
#include "netlists/phrases/position_words.hpp"
#include "netlists/phrases/reading_phrase.hpp"
#include "netlists/phrases/setting_words.hpp"
#include "netlists/phrases/spoken_lines.hpp"
#include "netlists/phrases/state_words.hpp"
#include "netlists/phrases/thing_names.hpp"
#include "netlists/phrases/told_points.hpp"
#include "netlists/phrases/vocabulary.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

using Words = std::vector<Word>;

/// Longer lines are stories: nobody means one reading by them.
constexpr std::size_t most_words = 20;

constexpr std::array<std::string_view, 6> at_words{"at", "on", "from", "in", "of", "over"};

std::string written(std::span<const Word> words) {
    return words_as_typed(words);
}

/// The state that these words are, all of them; nullopt where one is something else. An `on` alone stands before a
/// place ("12A on wire 542"), whatever a position is called; at the end of a line it is the position.
std::optional<StatePhrase> state_of(const Circuit& circuit, std::span<const Word> words, bool at_end = false) {
    const bool last_word = at_end && words.size() == 1;
    if (!last_word && std::all_of(words.begin(), words.end(), [](const Word& word) { return word.is_among(at_words); }))
        return std::nullopt;
    Problems problems;
    WordReader reader(TypedText::argument("", written(words)), problems);
    StatePhrase state = read_state_words(reader, circuit);
    if (!reader.at_end() || state.empty() || problems.has_errors()) return std::nullopt;
    return state;
}

/// A line taken apart: what was set, what was measured or seen, and the number.
struct Line {
    Words state;
    Words body;
    std::optional<Word> value;
    PartId control;  ///< set last; invalid where none is
    PartId lamp_in;  ///< the fuse in whose seat a lamp stands
};

bool is_electric(const Word& word) {
    if (!word.measure) return same_word(word.text, "OL");
    const Unit unit = word.measure->unit;
    return unit == Unit::volt || unit == Unit::ampere || unit == Unit::ohm || unit == Unit::pascal ||
           unit == Unit::percent;
}

/// The value, wherever it stands: the only number with a unit that a meter shows, or a bare one before `at` or
/// `across`, or the last word where it names nothing ("battery reads 12.4").
void take_value_out(const Circuit& circuit, Line& line) {
    const auto before_at = [&](const Word& word) {
        const Word* next = &word + 1 < line.body.data() + line.body.size() ? &word + 1 : nullptr;
        return word.measure && word.measure->unit == Unit::none && next &&
               (same_word(next->text, "at") || same_word(next->text, "across"));
    };
    // `draws 12.4 on high`, `battery 11.9 while cranking`: behind it stands what was set, and nothing else.
    const auto before_state = [&](const Word& word) {
        const auto at = static_cast<std::size_t>(&word - line.body.data());
        return word.measure && word.measure->unit == Unit::none && at > 0 && at + 1 < line.body.size() &&
               !find_place(circuit, word.text) &&
               state_of(circuit, std::span<const Word>(line.body).subspan(at + 1), true).has_value();
    };
    // `12.4 both ends of F7`
    const auto in_front = [&](const Word& word) {
        return &word == &line.body.front() && line.body.size() > 2 && word.measure &&
               word.measure->unit == Unit::none && !find_place(circuit, word.text) &&
               (line.body[1].is_among(at_words) || same_word(line.body[1].text, "both"));
    };
    const auto last = [&](const Word& word) {
        bool exact = false;
        return word.measure && word.measure->unit == Unit::none && &word == &line.body.back() && line.body.size() > 1 &&
               position_meanings(circuit, word.text, exact).empty() && !find_place(circuit, word.text);
    };
    // `open between R1.1 and R1.2`
    const auto open = [&](const Word& word) {
        return same_word(word.text, "open") && &word == &line.body.front() && line.body.size() > 1 &&
               (same_word(line.body[1].text, "between") || same_word(line.body[1].text, "from"));
    };
    std::vector<std::size_t> values;
    for (std::size_t i = 0; i < line.body.size(); ++i) {
        if (open(line.body[i]) || is_electric(line.body[i]) || before_at(line.body[i]) || before_state(line.body[i]) ||
            in_front(line.body[i]) || last(line.body[i]))
            values.push_back(i);
    }
    if (values.size() != 1) return;
    const auto at = line.body.begin() + static_cast<std::ptrdiff_t>(values.front());
    line.value = *at;
    line.value->after_comma = false;
    const auto behind = line.body.erase(at);
    // `only 10.3V at M1.1`: what a value is held for says nothing.
    static constexpr std::array<std::string_view, 6> held_for{"only", "just", "still", "is", "was", "at"};
    // `fuse F7 is 30A` keeps its word.
    const bool of_fuse = std::any_of(line.body.begin(), line.body.end(), [&](const Word& word) {
        const PartId part = circuit.find_part(word.text);
        return same_word(word.text, "fuse") || (part.valid() && circuit.part(part).fuse);
    });
    if (!of_fuse && behind != line.body.begin() && std::prev(behind)->is_among(held_for))
        line.body.erase(std::prev(behind));
}

Words joined(std::initializer_list<std::span<const Word>> pieces) {
    Words all;
    for (const auto& piece : pieces) all.insert(all.end(), piece.begin(), piece.end());
    return all;
}

/// What was set stands in front, behind, or both: the longest run in front that is a state, and each one behind, the
/// longest first.
std::vector<Line> with_state_out(const Line& line, const Circuit& circuit) {
    const std::span<const Word> all = line.body;
    std::size_t front = all.size();
    std::optional<StatePhrase> set;
    while (front > 0 && !(set = state_of(circuit, all.first(front)))) --front;
    std::vector<Line> ways;
    for (std::size_t back = front; back <= all.size(); ++back) {
        const auto set_behind = state_of(circuit, all.subspan(back), true);
        if (back < all.size() && !set_behind) continue;
        Line way = line;
        const auto keep = [&](const std::optional<StatePhrase>& state) {
            if (!state) return;
            if (!state->settings.empty()) way.control = state->settings.back().part;
            if (!state->lamp_in.empty()) way.lamp_in = state->lamp_in.front();
        };
        keep(set);
        keep(set_behind);
        way.state = joined({all.first(front), all.subspan(back)});
        way.body = joined({all.subspan(front, back - front)});
        ways.push_back(std::move(way));
    }
    // `dim on high at M1.1`: said between, behind a word that leads to it.
    for (std::size_t at = front + 1; at + 2 < all.size(); ++at) {
        const auto set_between = all[at].is_among(at_words) ? state_of(circuit, all.subspan(at, 2)) : std::nullopt;
        if (!set_between || set_between->settings.empty()) continue;
        Line way = line;
        way.control = set_between->settings.back().part;
        way.state = joined({all.first(front), all.subspan(at, 2)});
        way.body = joined({all.subspan(front, at - front), all.subspan(at + 2)});
        ways.push_back(std::move(way));
    }
    return ways;
}

/// `lit at M1.1` as `M1.1 lit`: what was seen stands behind its place. A way for each word that may be the `at`.
std::vector<Words> turned_about_at(const Words& body) {
    std::vector<Words> ways;
    const std::span<const Word> all = body;
    const std::size_t first =
        !body.empty() && (same_word(body.front().text, "lamp") || same_word(body.front().text, "beep"));
    for (std::size_t i = first; i + 1 < body.size(); ++i) {
        if (!body[i].is_among(at_words)) continue;
        ways.push_back(joined({all.first(first), all.subspan(i + 1), all.subspan(first, i - first)}));
    }
    return ways;
}

/// Without the `at` that stands before a place: `lamp at M1.1 lit`.
Words without_at(const Words& body) {
    Words words;
    std::copy_if(body.begin(), body.end(), std::back_inserter(words),
                 [](const Word& word) { return !word.is_among(at_words); });
    return words;
}

/// `between M1.1 and M1.2`, `from A to B`.
Words two_points(const Words& body) {
    Words words;
    bool between = false;
    for (const Word& word : body) {
        const bool from = same_word(word.text, "between") || same_word(word.text, "from");
        between = between || from;
        if (from) continue;
        words.push_back(word);
        if (between && same_word(word.text, "and")) words.back().text = "to";
    }
    return words;
}

/// May a word of the state be the name of a thing but for its case: `m1 slow` where the motor is M1?
bool may_be_name(const Circuit& circuit, const Words& state) {
    return std::any_of(state.begin(), state.end(), [&](const Word& word) {
        return find_place(circuit, word.text).has_value() && !is_exact_name(circuit, word.text);
    });
}

/// Where the words name no load, no instrument or no place, the only one that can be meant in front of them.
std::vector<Words> with_what_is_unsaid(const Circuit& circuit, const Line& line) {
    std::vector<Words> ways{line.body};
    const auto in_front = [&](std::string_view said) { ways.push_back(joined({cut_words(said), line.body})); };
    if (line.value) {
        const bool amps = line.value->measure && line.value->measure->unit == Unit::ampere;
        const bool wire = line.body.size() == 1 && circuit.find_wire(line.body.front().text).valid();
        if (amps && wire) in_front("clamp");
        const std::string thing = line.body.size() == 1 ? line.body.front().text : "";
        const Kind* kind = find_kind(lower(thing));
        for (const Part& part : circuit.parts) {
            if (has_duty(part, Duty::battery) && (part.kind == kind || same_word(part.name, thing)))
                ways.push_back(cut_words(part.name + "+ to " + part.name + "-"));
        }
        return ways;
    }
    if (line.lamp_in.valid()) {
        const std::string& fuse = circuit.part(line.lamp_in).name;
        const std::string across = "lamp " + fuse + ".1 to " + fuse + ".2";
        const bool named = !line.body.empty() && same_word(line.body.front().text, "lamp");
        ways.push_back(joined({cut_words(across), std::span(line.body).subspan(named ? 1 : 0)}));
    } else if (const PartId load = load_unsaid(circuit, line.control);
               load.valid() && !may_be_name(circuit, line.state)) {
        in_front(circuit.part(load).name);
    }
    // `chafed wire 541`: what was seen stands in front of the thing.
    if (const Word* last = line.body.size() > 1 ? &line.body.back() : nullptr;
        last && find_place(circuit, last->text)) {
        // `green crust in C101`
        std::span<const Word> seen = std::span(line.body).first(line.body.size() - 1);
        if (seen.size() > 1 && seen.back().is_among(at_words)) seen = seen.first(seen.size() - 1);
        if (is_said(look_sayings(), seen.front().text)) ways.push_back(joined({cut_words("look"), {last, 1}, seen}));
    }
    const bool looks = line.body.size() > 2 && same_word(line.body[1].text, "looks");
    if (looks)
        ways.push_back(joined({cut_words("look"), std::span(line.body).first(1), std::span(line.body).subspan(2)}));
    else if (line.body.size() > 1 && !is_said(load_sayings(LoadKind::none), line.body[1].text))
        in_front("look");
    return ways;
}

/// The body as it stands, and turned about its `at`; each with what is unsaid.
std::vector<Words> bodies_of(const Circuit& circuit, Line line) {
    std::vector<Words> ways;
    const auto add = [&](Words body) {
        line.body = std::move(body);
        for (Words& way : with_what_is_unsaid(circuit, line)) ways.push_back(std::move(way));
    };
    const Words body = two_points(line.body);
    add(body);
    add(without_at(body));
    for (Words& turned : turned_about_at(body)) add(std::move(turned));
    return ways;
}

/// The line without its value, and each way to part its state from the rest.
std::vector<Line> ways_of(const Circuit& circuit, const Words& typed) {
    Line whole;
    whole.body = with_settings_said(circuit, plain_words(circuit, typed));
    take_value_out(circuit, whole);
    replace_other_names(circuit, whole.body);
    std::vector<Line> ways{whole};
    for (Line& way : with_state_out(whole, circuit)) ways.push_back(std::move(way));
    return ways;
}

/// The unit that a bare number behind amperes or ohms takes; volts are what a bare number is anyhow.
std::string unit_said(Unit unit) {
    return unit == Unit::ampere ? "A" : unit == Unit::ohm ? "ohm" : "";
}

/// A whole line of the trade, with the state that stood around it; the first way that is one.
std::optional<SpokenLine> find_spoken(const Circuit& circuit, const std::vector<Line>& ways) {
    for (const Line& way : ways) {
        const Word* value = way.value ? &*way.value : nullptr;
        auto spoken = spoken_line(circuit, way.body, value, load_told(circuit, way.body, way.control));
        if (!spoken) continue;
        for (std::string& line : spoken->lines) {
            if (!way.state.empty()) line = written(way.state) + " " + line;
            const bool bare = value && value->measure && value->measure->unit == Unit::none;
            if (value) line += " " + value->text + (bare ? unit_said(spoken->unit) : "");
        }
        return spoken;
    }
    return std::nullopt;
}

/// Each way with its state in front and its number behind; the first of the ways, the line itself, is left out.
std::vector<TypedText> orders_of(const Circuit& circuit, const TypedText& line, const std::vector<Line>& ways) {
    std::vector<TypedText> orders;
    for (const Line& way : std::span(ways).subspan(1)) {
        for (const Words& body : bodies_of(circuit, way)) {
            Words words = joined({way.state, body});
            if (way.value) words.push_back(*way.value);
            TypedText order{written(words), line.place};
            const auto same = [&](const TypedText& other) { return other.text == order.text; };
            if (!same(line) && std::none_of(orders.begin(), orders.end(), same)) orders.push_back(std::move(order));
        }
    }
    return orders;
}

}  // namespace

std::optional<SpokenLine> spoken_in(const TypedText& line, const Circuit& circuit) {
    const Words typed = cut_words(line.text);
    if (typed.empty() || typed.size() > most_words) return std::nullopt;
    return find_spoken(circuit, ways_of(circuit, typed));
}

LooseLine read_loose(const TypedText& line, const Circuit& circuit) {
    const Words typed = cut_words(line.text);
    if (typed.empty() || typed.size() > most_words) return {};
    const std::vector<Line> ways = ways_of(circuit, typed);
    LooseLine loose{find_spoken(circuit, ways), {}, {}};
    for (const Line& way : ways) {
        const bool all_set = way.body.empty() && !way.value && !way.state.empty();
        if (all_set && loose.only_state.empty()) loose.only_state = written(way.state);
    }
    if (!loose.spoken)
        loose.orders = orders_of(circuit, line, ways);
    else if (loose.spoken->as == SpokenAs::reading)
        loose.orders.push_back({loose.spoken->lines.front(), line.place});
    return loose;
}

std::vector<TypedText> other_orders(const TypedText& line, const Circuit& circuit) {
    return read_loose(line, circuit).orders;
}

std::vector<TypedText> test_orders(const TypedText& line, const Circuit& circuit) {
    const Words typed = cut_words(line.text);
    if (typed.empty() || typed.size() > most_words) return {};
    std::vector<Line> ways = ways_of(circuit, typed);
    for (Line& way : ways) way.value.reset();
    for (const Line& way : ways) {
        const auto spoken = spoken_test(circuit, way.body);
        if (spoken) return {{written(way.state) + " " + spoken->lines.front(), line.place}};
    }
    return orders_of(circuit, line, ways);
}

}  // namespace voltfall
