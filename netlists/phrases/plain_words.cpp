#include "netlists/phrases/plain_words.hpp"

#include <algorithm>
#include <array>
#include <string>
#include <string_view>

#include "netlists/phrases/other_names.hpp"
#include "netlists/phrases/places.hpp"
#include "netlists/phrases/position_words.hpp"
#include "netlists/phrases/reading_phrase.hpp"
#include "netlists/phrases/spoken_lines.hpp"
#include "netlists/phrases/thing_names.hpp"
#include "netlists/phrases/told_points.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

using Words = std::vector<Word>;

/// The table of other names, cut into words once: every line that does not read is held against all of it.
struct CutName {
    Words said;
    Words meant;
};
const std::vector<CutName>& cut_names() {
    static const std::vector<CutName> names = [] {
        std::vector<CutName> all;
        for (const OtherName& name : other_names()) all.push_back({cut_words(name.said), cut_words(name.meant)});
        return all;
    }();
    return names;
}

/// Words that say nothing wherever they stand.
constexpr std::array<std::string_view, 23> saying_nothing{
    "the",   "i",  "read",  "reads", "reading", "get",  "gets",       "got", "has",  "measure", "measured", "shows",
    "about", "my", "meter", "there", "there's", "it's", "multimeter", "dmm", "dvom", "says",    "have"};

/// Do these words begin at `at`?
bool stand_there(const Words& words, std::size_t at, const Words& said) {
    if (at + said.size() > words.size()) return false;
    return std::equal(said.begin(), said.end(), words.begin() + static_cast<std::ptrdiff_t>(at),
                      [](const Word& a, const Word& b) { return !b.quoted && same_word(a.text, b.text); });
}

/// A position that the switch calls `I` is no word that says nothing.
bool is_position(const Circuit& circuit, const Word& word) {
    bool exact = false;
    position_meanings(circuit, word.text, exact);
    return exact;
}

/// Words in front of a name that say what is measured there, as a bench has them: `ohms P1 open`, `drop C101.4 0.3V`.
/// The value's unit says the same, and where it has none takes it from the word.
void take_bench_words_out(const Circuit& circuit, Words& words) {
    struct BenchWord {
        std::string_view said;
        std::string_view meant;
        std::string_view unit;
    };
    static constexpr BenchWord bench_words[]{
        {"ohms", "", "ohm"}, {"volts", "", "V"}, {"amps", "clamp", "A"}, {"drop", "across", "V"}};
    for (std::size_t at = 0; at + 1 < words.size(); ++at) {
        const auto row = std::find_if(std::begin(bench_words), std::end(bench_words), [&](const BenchWord& one) {
            return !words[at].quoted && same_word(one.said, words[at].text);
        });
        const Word& next = words[at + 1];
        const bool names =
            !next.quoted && (find_place(circuit, next.text) || !joints_named(circuit, next.text).empty());
        const bool behind_number = at > 0 && words[at - 1].measure;
        if (row == std::end(bench_words) || !names || behind_number) continue;
        if (Word& last = words.back(); last.measure && last.measure->unit == Unit::none && &last != &next)
            last = cut_words(last.text + std::string(row->unit)).front();
        if (row->meant.empty())
            words.erase(words.begin() + static_cast<std::ptrdiff_t>(at));
        else
            words[at] = cut_words(row->meant).front();
        return;
    }
}

/// `70 deg C`
void join_degrees(Words& words) {
    for (std::size_t at = 0; at + 2 < words.size(); ++at) {
        const bool degrees = same_word(words[at + 1].text, "deg") || same_word(words[at + 1].text, "degrees");
        const std::string& unit = words[at + 2].text;
        if (!words[at].measure || !degrees || (unit != "C" && unit != "F")) continue;
        words[at] = cut_words(words[at].text + unit).front();
        words.erase(words.begin() + static_cast<std::ptrdiff_t>(at) + 1,
                    words.begin() + static_cast<std::ptrdiff_t>(at) + 3);
    }
}

/// `jumped 30 to 87`, told of what was done: a lead between two points.
void say_jumpers(const Circuit& circuit, Words& words) {
    static constexpr std::string_view done[]{"jumped", "jumpered", "jumping", "bridged", "bridging", "linked", "jump"};
    const auto point = [&](std::size_t at) {
        return !words[at].quoted && joints_named(circuit, words[at].text).size() == 1;
    };
    for (std::size_t at = 0; at + 3 < words.size(); ++at) {
        const std::string& between = words[at + 2].text;
        const bool leads = same_word(between, "to") || same_word(between, "and") || same_word(between, "with");
        if (!words[at].is_among(done) || !leads || !point(at + 1) || !point(at + 3)) continue;
        words[at].text = "jumper";
        words[at + 2].text = "to";
        // `30` alone is the supply: beside a relay's 87 it is the relay's own.
        const std::string& other = words[at + 3].text;
        if (words[at + 1].text == "30" && other.ends_with(".87"))
            words[at + 1].text = other.substr(0, other.size() - 2) + "30";
        const auto behind = words.begin() + static_cast<std::ptrdiff_t>(at) + 4;
        const bool at_relay = at + 5 < words.size() &&
                              (same_word(behind->text, "at") || same_word(behind->text, "on")) &&
                              same_word(std::next(behind)->text, "relay");
        if (at_relay) {
            const bool named = at + 6 < words.size() && other.starts_with(words[at + 6].text + ".");
            words.erase(behind, behind + (named ? 3 : 2));
        }
        if (at + 4 < words.size() && same_word(words[at + 4].text, "and"))
            words.erase(words.begin() + static_cast<std::ptrdiff_t>(at) + 4);
    }
}

/// `a 30 instead of 40`, `a 30 in place of a 40`: what it should be is no reading.
void take_what_should_be_out(Words& words) {
    for (std::size_t at = 0; at + 2 < words.size(); ++at) {
        const std::size_t in_place = same_word(words[at].text, "in") && same_word(words[at + 1].text, "place") ? 2 : 0;
        std::size_t end = same_word(words[at].text, "instead") ? at + 1 : at + in_place;
        if (end == at || end + 1 >= words.size() || !same_word(words[end].text, "of")) continue;
        ++end;
        if (same_word(words[end].text, "a") && end + 1 < words.size()) ++end;
        if (!words[end].measure) continue;
        words.erase(words.begin() + static_cast<std::ptrdiff_t>(at),
                    words.begin() + static_cast<std::ptrdiff_t>(end) + 1);
        return;
    }
}

}  // namespace

void replace_other_names(const Circuit& circuit, std::vector<Word>& words) {
    for (const CutName& name : cut_names()) {
        for (std::size_t at = 0; at < words.size(); ++at) {
            if (!stand_there(words, at, name.said)) continue;
            const bool own =
                name.said.size() == 1 && (is_exact_name(circuit, words[at].text) || is_position(circuit, words[at]));
            if (own) continue;
            const auto from = words.begin() + static_cast<std::ptrdiff_t>(at);
            words.insert(words.erase(from, from + static_cast<std::ptrdiff_t>(name.said.size())), name.meant.begin(),
                         name.meant.end());
        }
    }
}

std::vector<Word> plain_words(const Circuit& circuit, std::span<const Word> typed) {
    Words words;
    static constexpr std::string_view before_first[]{"in", "on", "at", "pos", "position", "speed"};
    Words with_decimals(typed.begin(), typed.end());
    join_decimals(circuit, with_decimals);
    for (Word word : with_decimals) {
        // `slow in I`: the first position, where none is called so; `I` elsewhere is the person who writes.
        if (!word.quoted && word.text == "I" && !words.empty() && words.back().is_among(before_first) &&
            !is_position(circuit, word))
            word.text = "first";
        if (word.is_among(saying_nothing) && !is_position(circuit, word)) continue;
        while (!word.quoted && word.text.size() > 1 &&
               std::string_view(":.;!)").find(word.text.back()) != std::string_view::npos)
            word.text.pop_back();
        if (!word.quoted && word.text.size() > 1 && word.text.front() == '(')
            word = cut_words(word.text.substr(1)).front();
        // `M1.1=10.3V`
        const auto equals = word.quoted ? std::string::npos : word.text.find('=');
        if (equals != std::string::npos && !joints_named(circuit, word.text.substr(0, equals)).empty()) {
            for (const Word& piece : cut_words(word.text.substr(0, equals) + " " + word.text.substr(equals + 1)))
                words.push_back(piece);
            continue;
        }
        const auto dash = word.quoted ? std::string::npos : word.text.find('-', 1);
        const std::string red = word.text.substr(0, dash);
        const std::string black = dash == std::string::npos ? "" : word.text.substr(dash + 1);
        if (!black.empty() && joints_named(circuit, word.text).empty() && !joints_named(circuit, red).empty() &&
            !joints_named(circuit, black).empty()) {
            for (const Word& piece : cut_words(red + " to " + black)) words.push_back(piece);
            continue;
        }
        words.push_back(std::move(word));
    }
    replace_other_names(circuit, words);
    join_degrees(words);
    take_bench_words_out(circuit, words);
    take_what_should_be_out(words);
    // `good w/ meter`: what it was good with says nothing.
    if (words.size() > 1 && same_word(words.back().text, "with")) words.pop_back();
    words = with_told_points(circuit, with_names_of(circuit, std::move(words)));
    say_jumpers(circuit, words);
    words = with_spoken_states(circuit, std::move(words));
    // Who is meant by it the load that is unsaid tells.
    if (words.size() > 1)
        std::erase_if(words, [](const Word& word) { return !word.quoted && same_word(word.text, "it"); });
    return words;
}

}  // namespace voltfall
