#include "netlists/phrases/fault_line.hpp"

#include <algorithm>
#include <array>
#include <cctype>
#include <optional>

#include "netlists/parts/kind.hpp"
#include "netlists/parts/kind_names.hpp"
#include "netlists/phrases/fault_places.hpp"
#include "netlists/phrases/loads.hpp"
#include "netlists/phrases/only_part.hpp"
#include "netlists/phrases/places.hpp"
#include "netlists/phrases/plain_words.hpp"
#include "netlists/phrases/spoken_fault_rows.hpp"
#include "netlists/phrases/state_words.hpp"
#include "netlists/phrases/thing_names.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

using Words = std::vector<Word>;

/// Words that would be taken for a thing of the circuit: `shorted to ground` touches metal, whatever grounds there are.
struct Instead {
    std::string_view said;
    std::string_view put;
};
constexpr Instead instead[]{
    {"air con", "aircon"},
    {"to ground", "metal"},
    {"to earth", "metal"},
    {"to chassis", "metal"},
    {"to body", "metal"},
    {"to frame", "metal"},
    {"to metal", "metal"},
    {"to gnd", "metal"},
    {"to mass", "metal"},
    {"on chassis", "metal"},
    {"on body", "metal"},
    {"to case", "case"},
    {"to battery", "power"},
    {"to plus", "power"},
    {"to positive", "power"},
    {"to power", "power"},
    {"to supply", "power"},
    {"to live", "power"},
    {"to feed", "power"},
    {"to 12V", "power"},
    {"to 24V", "power"},
    {"to B+", "power"},
    {"to 30", "power"},
    {"to voltage", "power"},
    {"ground short", "shorted metal"},
    {"short circuit", "shorted"},
    {"open circuit", "open"},
};

void put_instead(Words& words) {
    for (const Instead& one : instead) {
        const Words said = cut_words(one.said);
        for (std::size_t at = 0; at + said.size() <= words.size(); ++at) {
            const bool there = std::equal(said.begin(), said.end(), words.begin() + static_cast<std::ptrdiff_t>(at),
                                          [](const Word& a, const Word& b) { return same_word(a.text, b.text); });
            if (!there) continue;
            const Words put = cut_words(one.put);
            const auto from = words.begin() + static_cast<std::ptrdiff_t>(at);
            words.insert(words.erase(from, from + static_cast<std::ptrdiff_t>(said.size())), put.begin(), put.end());
        }
    }
}

class Taker {
public:
    Taker(const Circuit& circuit, Words words) : circuit_(circuit), words_(std::move(words)) {}

    FaultLine take() {
        for (at_ = 0; at_ < words_.size();) {
            if (!take_condition() && !take_where() && !take_pair() && !take_place() && !take_value() &&
                !says_nothing_of_a_fault(words_[at_].text))
                told_.rest.push_back(words_[at_++]);
            else
                at_ += taken_;
            taken_ = 1;
        }
        return std::move(told_);
    }

private:
    const Word* word(std::size_t ahead = 0) const {
        return at_ + ahead < words_.size() ? &words_[at_ + ahead] : nullptr;
    }
    bool took(std::size_t count) {
        taken_ = count;
        return true;
    }

    /// `when hot`, `only when it is wet`, `on bumps`, or the condition alone behind the rest.
    bool take_condition() {
        static constexpr std::array<std::string_view, 8> leading{"when", "if",    "once", "while",
                                                                 "only", "after", "gets", "on"};
        std::size_t ahead = 0;
        while (word(ahead) && (word(ahead)->is_among(leading) || same_word(word(ahead)->text, "it") ||
                               same_word(word(ahead)->text, "is")))
            ++ahead;
        const Word* condition = word(ahead);
        if (!condition || (ahead == 0 && at_ + 1 < words_.size())) return false;
        std::string said = lower(condition->text);
        if (said == "warm" || said == "heated") said = "hot";
        if (said == "damp" || said == "rain" || said == "raining") said = "wet";
        if (said == "bumps" || said == "potholes" || said == "shaken") said = "bump";
        if (!is_condition_word(said) || told_.places.empty()) return false;
        told_.tail += " when " + said;
        return took(ahead + 1);
    }

    /// `at 60%`, `at 0.5m`.
    bool take_where() {
        if (!same_word(word()->text, "at") || !word(1) || !word(1)->measure) return false;
        const Unit unit = word(1)->measure->unit;
        if (unit != Unit::percent && unit != Unit::metre) return false;
        told_.tail = " at " + word(1)->text + told_.tail;
        return took(2);
    }

    /// `1-2`, or two points of one part: taps of a pack.
    bool take_pair() {
        if (word(2) && same_word(word(1)->text, "to") && told_.pair.empty()) {
            const PartId one = circuit_.part_at(word()->text);
            const auto dot = word()->text.find('.');
            const auto other_dot = word(2)->text.find('.');
            if (one.valid() && one == circuit_.part_at(word(2)->text) && dot != std::string::npos &&
                other_dot != std::string::npos) {
                told_.pair = word()->text.substr(dot + 1) + "-" + word(2)->text.substr(other_dot + 1);
                told_.rest.push_back(*word());
                told_.rest.back().text = "pair";
                return add(circuit_.part(one).name, 3);
            }
        }
        const std::string& text = word()->text;
        const auto dash = text.find('-');
        const bool is_pair = dash == 1 && text.size() == 3 && std::isalnum(static_cast<unsigned char>(text[0])) != 0 &&
                             std::isdigit(static_cast<unsigned char>(text[2])) != 0;
        if (!is_pair || !told_.pair.empty() || find_fault_place(circuit_, text)) return false;
        told_.pair = text;
        told_.rest.push_back(*word());
        told_.rest.back().text = "pair";
        return took(1);
    }

    bool take_value() {
        const Word& number = *word();
        if (!number.measure || !told_.value.empty()) return false;
        told_.value = number.text;
        told_.amps = number.measure->unit == Unit::ampere;
        return took(1);
    }

    bool add(std::string place, std::size_t words) {
        const auto same = [&](const std::string& other) { return same_word(other, place); };
        if (std::none_of(told_.places.begin(), told_.places.end(), same)) told_.places.push_back(std::move(place));
        return took(words);
    }

    std::optional<std::string> named(const Word& typed) const {
        if (typed.quoted) return std::nullopt;
        if (const PartId part = circuit_.find_part(typed.text); part.valid()) return circuit_.part(part).name;
        if (auto place = find_fault_place(circuit_, typed.text)) return place;
        return find_connector(circuit_, typed.text);
    }

    /// A thing by its name, with or without the word that says what it is; or by that word where there is one of it.
    bool take_place() {
        static constexpr std::array<std::string_view, 14> before_a_name{
            "relay",  "fuse",     "plug",   "connector", "conn",  "pin",    "socket",
            "ground", "terminal", "splice", "cavity",    "earth", "module", "switch"};
        const Word& first = *word();
        if (auto place = named(first)) {
            const bool kind_behind = word(1) && (same_word(word(1)->text, "socket") || says_kind(*place, *word(1)));
            return add(*std::move(place), kind_behind ? 2 : 1);
        }
        if (word(1) &&
            (first.is_among(before_a_name) || find_kind(lower(first.text)) || is_load_word(circuit_, first.text))) {
            if (auto place = named(*word(1))) return add(*std::move(place), 2);
        }
        return take_kind();
    }

    bool says_kind(const std::string& place, const Word& word) const {
        const PartId part = circuit_.find_part(place);
        return part.valid() && same_word(circuit_.part(part).kind->word, word.text);
    }

    /// `relay`, `blower motor`, `panel`: the only one of its kind.
    bool take_kind() {
        const Word& first = *word();
        std::size_t count = 1;
        const Kind* kind = find_kind(lower(first.text));
        PartId part = kind ? only_of_kind(circuit_, *kind) : PartId{};
        if (!part.valid() && is_load_word(circuit_, first.text)) {
            part = find_load(circuit_, first.text).part;
            if (word(1) && is_load_word(circuit_, word(1)->text)) count = 2;
        }
        if (!part.valid()) {
            const KindInTrade trade = kind_in_trade(std::span<const Word>(words_).subspan(at_));
            if (trade.kind) part = only_of_kind(circuit_, *trade.kind);
            if (part.valid()) count = trade.words;
        }
        // A thing that is named stands for itself: `K3 coil`, `relay contact`.
        if (!part.valid() || (!told_.places.empty() && kind_word_of_a_mode(first.text))) return false;
        return add(circuit_.part(part).name, count);
    }

    static bool kind_word_of_a_mode(std::string_view word) {
        static constexpr std::string_view words[]{"coil", "contact", "diode", "limiter", "fan", "link", "ground"};
        return std::any_of(std::begin(words), std::end(words), [&](auto one) { return same_word(one, word); });
    }

    const Circuit& circuit_;
    Words words_;
    std::size_t at_{0};
    std::size_t taken_{1};
    FaultLine told_;
};

}  // namespace

FaultLine fault_line(const Circuit& circuit, const std::string& line) {
    Words words = cut_words(line);
    for (Word& word : words) {
        while (!word.quoted && word.text.size() > 1 && (word.text.back() == ':' || word.text.back() == '.'))
            word.text.pop_back();
    }
    std::erase_if(words, [](const Word& word) {
        return !word.quoted && (same_word(word.text, "the") || same_word(word.text, "a") || same_word(word.text, "an"));
    });
    replace_other_names(circuit, words);
    put_instead(words);
    return Taker(circuit, with_names_of(circuit, std::move(words))).take();
}

}  // namespace voltfall
