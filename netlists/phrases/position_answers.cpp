#include "netlists/phrases/position_answers.hpp"

#include <algorithm>
#include <array>
#include <optional>

#include "netlists/phrases/loads.hpp"
#include "netlists/phrases/position_words.hpp"
#include "netlists/phrases/reading_order.hpp"
#include "netlists/phrases/reading_phrase.hpp"
#include "netlists/phrases/test_phrase.hpp"
#include "netlists/phrases/thing_names.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

using Positions = std::vector<std::size_t>;

/// Words between positions and what is said of them.
constexpr std::array<std::string_view, 17> empty_words{"on",  "in",      "at",       "and",  "the",      "it",
                                                       "is",  "speed",   "speeds",   "&",    "position", "positions",
                                                       "but", "setting", "settings", "with", "or"};
constexpr std::array<std::string_view, 3> words_of_range{"thru", "through", "to"};
constexpr std::array<std::string_view, 4> words_of_all{"all", "every", "each", "everywhere"};
constexpr std::array<std::string_view, 6> words_of_rest{"rest", "others", "other", "else", "remaining", "nothing"};

/// "no low or second" says what "dead" does.
constexpr std::array<std::string_view, 3> words_of_none{"no", "lost", "missing"};

template <std::size_t count>
bool among(const std::array<std::string_view, count>& list, std::string_view word) {
    return std::any_of(list.begin(), list.end(), [&](std::string_view w) { return same_word(w, word); });
}

/// Positions, or what is said of them: an answer is a row of both in turn.
struct AnswerPiece {
    Positions positions;
    std::string said;  ///< empty where positions stand
    bool rest{false};  ///< the positions that nothing else is said of
};

class PositionAnswer {
public:
    PositionAnswer(const Circuit& circuit, const Test& test)
        : circuit_(circuit), test_(test), part_(circuit.part(test.state.settings.back().part)) {}

    std::vector<std::string> readings(std::string_view line) {
        cut(line);
        if (pieces_.empty() || !(each_by_itself() || in_pairs())) return {};
        if (only_ && !say_of_the_others()) return {};
        for (auto& [said, positions] : told_) std::sort(positions.begin(), positions.end());
        std::sort(told_.begin(), told_.end(), [](const auto& a, const auto& b) { return a.second < b.second; });
        std::vector<std::string> phrases;
        for (const auto& [said, positions] : told_) {
            const auto phrase = reading(positions, said);
            if (!phrase) return {};
            phrases.push_back(*phrase);
        }
        return phrases;
    }

private:
    const Positions& asked() const { return test_.state.settings.back().positions; }

    void cut(std::string_view line) {
        std::string word;
        for (const char c : std::string(line) + " ") {
            if (std::string_view(" \t,;:.!=").find(c) == std::string_view::npos) {
                word += c;
                continue;
            }
            if (!word.empty()) take(word);
            word.clear();
        }
    }

    void take(const std::string& word) {
        take_in_turn(word);
        behind_all_ = among(words_of_all, word);
    }

    void take_in_turn(const std::string& word) {
        if (const auto positions = range_in(word)) return add_positions(*positions);
        if (const auto position = asked_position(word)) return add_position(*position);
        if (among(words_of_range, word) && last_position_) {
            from_ = last_position_;
            return;
        }
        if (same_word(word, "only") || same_word(word, "just")) {
            only_ = true;
        } else if (same_word(word, "except") || (same_word(word, "but") && behind_all_)) {
            except_ = true;
        } else if (among(words_of_none, word)) {
            add_said("dead");
        } else if (among(words_of_all, word)) {
            add_positions(asked());
        } else if (among(words_of_rest, word)) {
            pieces_.push_back({{}, {}, true});
        } else if (!names_control_or_load(word) && !among(empty_words, word)) {
            add_said(word);
        }
    }

    /// `1-3`: from the one to the other, as the switch turns.
    std::optional<Positions> range_in(const std::string& word) const {
        const auto dash = word.find('-');
        if (dash == std::string::npos) return std::nullopt;
        const auto first = asked_position(word.substr(0, dash));
        const auto last = asked_position(word.substr(dash + 1));
        if (!first || !last || *first >= *last) return std::nullopt;
        return between(*first, *last);
    }

    Positions between(std::size_t first, std::size_t last) const {
        Positions positions;
        for (const std::size_t position : asked())
            if (position >= first && position <= last) positions.push_back(position);
        return positions;
    }

    /// One position, or behind `1 thru` all that stand between.
    void add_position(std::size_t position) {
        const bool range = from_ && *from_ < position;
        add_positions(range ? between(*from_ + 1, position) : Positions{position});
        last_position_ = position;
        from_.reset();
    }

    bool names_control_or_load(const std::string& word) const {
        const auto& load = std::get<LoadTest>(test_.tested);
        return same_word(word, part_.name) || same_word(word, circuit_.part(load.part).name) ||
               same_word(word, load.called) || is_load_word(circuit_, word);
    }

    /// A position that was asked about, as the switch calls it, else by its height or its order.
    std::optional<std::size_t> asked_position(const std::string& word) const {
        auto position = position_called(part_, word);
        if (!position) position = position_numbered(part_, word);
        const bool is_asked = position && std::find(asked().begin(), asked().end(), *position) != asked().end();
        return is_asked ? position : std::nullopt;
    }

    void add_positions(const Positions& more) {
        if (except_ && !pieces_.empty()) {
            for (const std::size_t position : more) std::erase(pieces_.back().positions, position);
            return;
        }
        if (pieces_.empty() || pieces_.back().positions.empty()) pieces_.emplace_back();
        Positions& positions = pieces_.back().positions;
        positions.insert(positions.end(), more.begin(), more.end());
    }

    void add_said(const std::string& word) {
        except_ = false;
        const bool behind_words = !pieces_.empty() && !pieces_.back().said.empty();
        if (behind_words)
            pieces_.back().said += " " + word;
        else
            pieces_.push_back({{}, word});
    }

    void tell(const std::string& said, const Positions& positions) {
        const auto same = std::find_if(told_.begin(), told_.end(), [&](const auto& one) { return one.first == said; });
        if (same == told_.end()) {
            told_.emplace_back(said, positions);
        } else {
            same->second.insert(same->second.end(), positions.begin(), positions.end());
        }
    }

    /// "dead dead ok": a word for each position, in their order.
    bool each_by_itself() {
        if (pieces_.size() != 1 || pieces_.front().said.empty() || only_) return false;
        std::vector<std::string> words;
        std::string word;
        for (const char c : pieces_.front().said + " ") {
            if (c != ' ') {
                word += c;
                continue;
            }
            words.push_back(std::exchange(word, {}));
        }
        if (words.size() != asked().size()) return false;
        for (std::size_t i = 0; i < words.size(); ++i) tell(words[i], {asked()[i]});
        return true;
    }

    /// "I dead, II and III ok", or what is said in front: "dead on I, ok on II and III".
    bool in_pairs() {
        if (pieces_.size() % 2 != 0) return false;
        std::string for_rest;
        for (std::size_t i = 0; i < pieces_.size(); i += 2) {
            const bool said_first = !pieces_[i].said.empty();
            const AnswerPiece& where = pieces_[said_first ? i + 1 : i];
            const AnswerPiece& what = pieces_[said_first ? i : i + 1];
            if (what.said.empty() || (where.positions.empty() && !where.rest)) return false;
            if (where.rest) {
                for_rest = what.said;
            } else {
                tell(what.said, where.positions);
            }
        }
        if (for_rest.empty()) return true;
        const Positions others = untold();
        if (!others.empty()) tell(for_rest, others);
        return true;
    }

    Positions untold() const {
        Positions others;
        for (const std::size_t position : asked()) {
            const bool is_told = std::any_of(told_.begin(), told_.end(), [&](const auto& one) {
                return std::find(one.second.begin(), one.second.end(), position) != one.second.end();
            });
            if (!is_told) others.push_back(position);
        }
        return others;
    }

    /// "only III runs": the others are dead; "only III is dead": they run.
    bool say_of_the_others() {
        if (told_.size() != 1) return false;
        const Positions others = untold();
        const auto kept = load_word(told_.front().second, told_.front().first);
        if (others.empty() || !kept) return true;
        tell(*kept == "dead" ? "normal" : "dead", others);
        return true;
    }

    /// The reading of some of the positions, where it reads as one of this load in them.
    std::optional<LoadReading> read(const Positions& positions, const std::string& said, std::string& phrase) const {
        Test some = test_;
        some.state.settings.back().positions = positions;
        phrase = write_test(circuit_, some) + "  " + said;
        Problems problems;
        const auto parse = parse_reading(TypedText::argument("reading", phrase), circuit_, problems);
        if (!parse || !(parse->state == some.state)) return std::nullopt;
        const auto* load = std::get_if<LoadReading>(&*parse->what);
        return load ? std::optional(*load) : std::nullopt;
    }

    std::optional<std::string> reading(const Positions& positions, const std::string& said) const {
        std::string phrase;
        return read(positions, said, phrase) ? std::optional(phrase) : std::nullopt;
    }

    std::optional<std::string> load_word(const Positions& positions, const std::string& said) const {
        std::string phrase;
        const auto found = read(positions, said, phrase);
        return found ? std::optional(found->word) : std::nullopt;
    }

    const Circuit& circuit_;
    const Test& test_;
    const Part& part_;
    std::vector<AnswerPiece> pieces_;
    std::vector<std::pair<std::string, Positions>> told_;
    std::optional<std::size_t> last_position_;
    std::optional<std::size_t> from_;  ///< the first of a range, behind its `thru`
    bool only_{false};
    bool except_{false};
    bool behind_all_{false};  ///< "all but III"
};

}  // namespace

bool asks_of_positions(const Test& test) {
    return std::holds_alternative<LoadTest>(test.tested) && !test.state.settings.empty() &&
           test.state.settings.back().positions.size() > 1;
}

std::optional<Test> load_in_all_positions(const Circuit& circuit) {
    PartId control;
    for (const Control& one : circuit.controls) {
        if (one.part == circuit.key) continue;
        if (control.valid()) return std::nullopt;
        control = one.part;
    }
    const PartId load = load_unsaid(circuit, control);
    if (!control.valid() || !load.valid()) return std::nullopt;
    const Part& part = circuit.part(control);
    Test test{{}, LoadTest{load, {}}};
    test.state.settings.push_back({control, {}});
    const auto off = part.position_named("off");
    for (std::size_t i = 0; i < part.positions.size(); ++i)
        if (off != i) test.state.settings.back().positions.push_back(i);
    return test;
}

std::vector<std::string> readings_of_positions(const Circuit& circuit, const Test& test, std::string_view line) {
    if (!asks_of_positions(test)) return {};
    return PositionAnswer(circuit, test).readings(line);
}

}  // namespace voltfall
