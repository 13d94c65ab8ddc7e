#include "netlists/phrases/state_words.hpp"

#include <algorithm>
#include <array>

#include "netlists/text/problem_code.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

constexpr std::array<std::pair<std::string_view, KeyPosition>, 5> key_words{{{"off", KeyPosition::off},
                                                                             {"acc", KeyPosition::acc},
                                                                             {"on", KeyPosition::on},
                                                                             {"run", KeyPosition::run},
                                                                             {"start", KeyPosition::start}}};

constexpr std::array<std::string_view, 20> first_words{"key",  "unplug", "pull", "lamp", "new",     "jumper",   "feed",
                                                       "load", "tap",    "turn", "heat", "cool",    "wiggle",   "after",
                                                       "hot",  "cold",   "wet",  "bump", "earlier", "sometimes"};

}  // namespace

bool is_state_word(std::string_view word) {
    return std::any_of(first_words.begin(), first_words.end(), [&](std::string_view w) { return same_word(w, word); });
}

std::optional<KeyPosition> key_named(std::string_view word) {
    for (const auto& [name, key] : key_words) {
        if (same_word(name, word)) return key;
    }
    return std::nullopt;
}

bool is_condition_word(std::string_view word) {
    return same_word(word, "hot") || same_word(word, "cold") || same_word(word, "wet") || same_word(word, "bump");
}

std::string_view key_word(KeyPosition key) {
    switch (key) {
        case KeyPosition::off:
            return "off";
        case KeyPosition::acc:
            return "acc";
        case KeyPosition::on:
            return "on";
        case KeyPosition::run:
            return "run";
        case KeyPosition::start:
            return "start";
    }
    return {};
}

bool StatePhrase::empty() const {
    return settings.empty() && !key && unplugged.empty() && pulled.empty() && lamp_in.empty() && fitted_new.empty() &&
           leads.empty() && conditions.empty() && handled.empty() && !after_seconds && !earlier && !sometimes;
}

bool StatePhrase::operator==(const StatePhrase& o) const {
    return settings == o.settings && key == o.key && unplugged == o.unplugged && pulled == o.pulled &&
           lamp_in == o.lamp_in && fitted_new == o.fitted_new && leads == o.leads && conditions == o.conditions &&
           handled == o.handled && after_seconds == o.after_seconds && earlier == o.earlier && sometimes == o.sometimes;
}

std::string words_as_typed(std::span<const Word> words) {
    std::string text;
    for (const Word& word : words) {
        if (!text.empty()) text += word.after_comma ? ", " : " ";
        text += word.quoted ? "\"" + word.text + "\"" : word.text;
    }
    return text;
}

std::vector<std::string> state_word_list(const Circuit& circuit) {
    std::vector<std::string> words;
    for (const Control& control : circuit.controls) {
        for (const Position& position : circuit.part(control.part).positions) {
            words.push_back(position.name);
            words.push_back(circuit.part(control.part).name + "=" + position.name);
        }
    }
    for (const std::string_view word : first_words) words.emplace_back(word);
    return words;
}

std::optional<StatePhrase> read_state_phrase(const TypedText& phrase, const Circuit& circuit, Problems& problems) {
    Problems own;
    WordReader words(phrase, own);
    StatePhrase state = read_state_words(words, circuit, {});
    if (const Word* left = words.peek()) {
        std::string advice = did_you_mean(left->text, state_word_list(circuit));
        for (const Part& part : circuit.parts) {
            if (advice.empty() && part.position_named(left->text)) advice = "write " + part.name + "=" + left->text;
        }
        own.error(ProblemCode::unknown_word, words.place(left), "'" + left->text + "' is no word of a state",
                  advice.empty() ? "for example hi, S1=hi, key on, unplug C303" : advice);
    }
    problems.add_all(own);
    if (own.has_errors()) return std::nullopt;
    return state;
}

}  // namespace voltfall
