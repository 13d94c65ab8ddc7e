#include "netlists/phrases/spoken_pattern.hpp"

#include <algorithm>
#include <array>

#include "netlists/parts/kind.hpp"
#include "netlists/phrases/loads.hpp"
#include "netlists/phrases/only_part.hpp"
#include "netlists/phrases/places.hpp"
#include "netlists/phrases/position_words.hpp"
#include "netlists/phrases/reading_phrase.hpp"
#include "netlists/phrases/spoken_names.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

constexpr std::array<std::string_view, 16> small_words{"a",       "an",   "is",   "are",   "was",  "there",
                                                       "there's", "just", "only", "still", "then", "comes",
                                                       "being",   "very", "to",   "the"};

bool is_small(const Word& word) {
    return !word.quoted && std::any_of(small_words.begin(), small_words.end(),
                                       [&](std::string_view small) { return same_word(small, word.text); });
}

std::string_view first_of(std::string_view text, char mark) {
    return text.substr(0, text.find(mark));
}

std::string_view behind(std::string_view text, char mark) {
    const auto at = text.find(mark);
    return at == std::string_view::npos ? std::string_view{} : text.substr(at + 1);
}

class Matcher {
public:
    Matcher(const Circuit& circuit, std::span<const Word> words) : circuit_(circuit), words_(words) {}

    using Pieces = std::span<const SpokenPattern::Piece>;

    bool match(std::size_t at, Pieces pattern, SpokenNames& names, bool first = true) const {
        if (pattern.empty()) {
            names.words = at;
            return true;
        }
        const SpokenPattern::Piece& piece = pattern.front();
        const Pieces rest = pattern.subspan(1);
        if (piece.is_name ? match_name(at, piece.said.front(), rest, names) : match_word(at, piece, rest, names))
            return true;
        // Inside a pattern small words say nothing.
        if (!first && at < words_.size() && is_small(words_[at]) && match(at + 1, pattern, names, false)) return true;
        return piece.optional && match(at, rest, names, first);
    }

private:
    bool match_word(std::size_t at, const SpokenPattern::Piece& piece, Pieces rest, SpokenNames& names) const {
        if (at >= words_.size() || words_[at].quoted) return false;
        const std::string_view text = words_[at].text;
        const auto is_said = [&](std::string_view one) { return same_word(one, text); };
        return std::any_of(piece.said.begin(), piece.said.end(), is_said) && match(at + 1, rest, names, false);
    }

    bool match_name(std::size_t at, std::string_view slot, Pieces rest, SpokenNames& names) const {
        if (at >= words_.size() || words_[at].quoted) return false;
        const std::string& text = words_[at].text;
        SpokenNames own = names;
        const auto goes_on = [&](std::size_t next) {
            if (!match(next, rest, own, false)) return false;
            names = own;
            return true;
        };
        if (slot == "{thing}") {
            const auto place = find_place(circuit_, text);
            own.text = place.value_or("");
            return place && joints_named(circuit_, text).empty() && goes_on(at + 1);
        }
        if (slot == "{time}") {
            own.text = text;
            return words_[at].measure && words_[at].measure->unit == Unit::second && goes_on(at + 1);
        }
        if (slot == "{plug}") {
            const auto plug = find_connector(circuit_, text);
            own.text = plug.value_or("");
            return plug && goes_on(at + 1);
        }
        if (slot == "{place}" || slot == "{point}") {
            const bool point = slot == "{point}";
            const auto place = point ? std::nullopt : find_place(circuit_, text);
            own.text = point ? text : place.value_or("");
            return (point ? !joints_named(circuit_, text).empty() : place.has_value()) && goes_on(at + 1);
        }
        if (slot == "{position}") {
            bool exact = false;
            const auto equals = text.find('=');
            const PartId named = equals == std::string::npos ? PartId{} : circuit_.find_part(text.substr(0, equals));
            auto meanings = position_meanings(circuit_, named.valid() ? text.substr(equals + 1) : text, exact);
            if (named.valid()) std::erase_if(meanings, [&](const auto& one) { return !(one.part == named); });
            if (meanings.size() != 1) return false;
            const Part& control = circuit_.part(meanings.front().part);
            own.control = meanings.front().part;
            own.position = control.positions[meanings.front().position].name;
            return goes_on(at + 1);
        }
        return match_part(at, slot, own, goes_on);
    }

    template <class GoesOn>
    bool match_part(std::size_t at, std::string_view slot, SpokenNames& own, const GoesOn& goes_on) const {
        const auto fits = [&](PartId part) { return part.valid() && is_one(circuit_.part(part), slot); };
        // The battery is known: beside it another part is meant ("M1 runs straight off the battery").
        if (slot == "{battery}") return fits(called(words_[at].text)) && goes_on(at + 1);
        const auto take = [&](PartId part) {
            own.part = part;
            if (slot == "{guard}") own.guard = part;
        };
        // `blower motor`, `fuse F7`: the second word is the name, or says the kind once more.
        if (at + 1 < words_.size() && !words_[at + 1].quoted) {
            const PartId named = circuit_.find_part(words_[at + 1].text);
            const bool kind_in_front = fits(named) && says_kind(circuit_.part(named), words_[at].text);
            take(named);
            if (kind_in_front && goes_on(at + 2)) return true;
            take(called(words_[at].text));
            const std::string& again = words_[at + 1].text;
            const bool twice =
                is_load_word(circuit_, again) || (fits(own.part) && says_kind(circuit_.part(own.part), again));
            if (fits(own.part) && twice && goes_on(at + 2)) return true;
        }
        take(called(words_[at].text));
        return fits(own.part) && goes_on(at + 1);
    }

    static bool says_kind(const Part& part, std::string_view word) { return same_word(part.kind->word, word); }

    static bool is_one(const Part& part, std::string_view slot) {
        if (slot == "{load}") return part.load_branch.valid();
        if (slot == "{fuse}") return part.fuse.has_value();
        // What opens to protect: a fuse, breaker or link, and a contact that a pressure or a temperature moves.
        if (slot == "{guard}") return part.fuse.has_value() || part.parameter("opens at");
        if (slot == "{relay}") return part.relay.has_value();
        if (slot == "{limited}") return is_limited(part);
        if (slot == "{battery}") return has_duty(part, Duty::battery);
        if (slot == "{two}") return part.pins.size() == 2 && !has_duty(part, Duty::battery);
        return !has_duty(part, Duty::battery);
    }

    PartId called(const std::string& text) const {
        if (const PartId part = circuit_.find_part(text); part.valid()) return part;
        if (const Kind* kind = find_kind(lower(text))) {
            const PartId only = only_part(circuit_, [&](const Part& part) { return part.kind == kind; });
            if (only.valid()) return only;
        }
        if (is_load_word(circuit_, text)) return find_load(circuit_, text).part;
        for (std::uint32_t i = 0; i < circuit_.parts.size(); ++i) {
            if (!circuit_.parts[i].plug.empty() && same_word(circuit_.parts[i].plug, text)) return {i};
        }
        return {};
    }

    const Circuit& circuit_;
    std::span<const Word> words_;
};

}  // namespace

WordBits::WordBits(std::span<const Word> words) {
    for (const Word& word : words) add(word.text);
}

void WordBits::add(std::string_view word) {
    // FNV-1a (Fowler, Noll, Vo), 64 bits.
    std::uint64_t hash = 0xcbf29ce484222325;
    for (const char letter : word) {
        const bool capital = letter >= 'A' && letter <= 'Z';
        hash = (hash ^ static_cast<unsigned char>(capital ? letter - 'A' + 'a' : letter)) * 0x100000001b3;
    }
    const std::uint64_t bit = (hash ^ (hash >> 32)) % (64 * bits_.size());
    bits_[bit / 64] |= std::uint64_t{1} << (bit % 64);
}

bool WordBits::may_share(const WordBits& other) const {
    std::uint64_t shared = 0;
    for (std::size_t i = 0; i < bits_.size(); ++i) shared |= bits_[i] & other.bits_[i];
    return shared != 0;
}

SpokenPattern::SpokenPattern(std::string_view text) {
    for (; !text.empty(); text = behind(text, ' ')) {
        std::string_view word = first_of(text, ' ');
        Piece piece;
        piece.optional = word.ends_with('?');
        if (piece.optional) word.remove_suffix(1);
        piece.is_name = word.starts_with('{');
        if (piece.is_name) {
            piece.said.push_back(word);
        } else {
            for (; !word.empty(); word = behind(word, '/')) piece.said.push_back(first_of(word, '/'));
        }
        if (!piece.optional && !piece.is_name) {
            WordBits& ways = needed_.emplace_back();
            for (const std::string_view way : piece.said) ways.add(way);
        }
        pieces_.push_back(std::move(piece));
    }
}

bool SpokenPattern::may_stand_among(const WordBits& words) const {
    return std::all_of(needed_.begin(), needed_.end(), [&](const WordBits& ways) { return ways.may_share(words); });
}

std::vector<SpokenPattern> cut_patterns(std::string_view said) {
    std::vector<SpokenPattern> patterns;
    for (; !said.empty(); said = behind(said, '|')) {
        std::string_view one = first_of(said, '|');
        while (one.starts_with(' ')) one.remove_prefix(1);
        patterns.emplace_back(one);
    }
    return patterns;
}

std::optional<SpokenNames> match_spoken(const Circuit& circuit, std::span<const Word> words, std::size_t at,
                                        const SpokenPattern& pattern) {
    SpokenNames names;
    if (!Matcher(circuit, words).match(at, pattern.pieces(), names)) return std::nullopt;
    names.words -= at;
    if (names.guard.valid()) names.part = names.guard;
    return names;
}

std::optional<std::string> fill_spoken(const Circuit& circuit, std::string_view meant, const SpokenNames& names) {
    std::string text;
    while (!meant.empty()) {
        const auto open = meant.find('{');
        text += meant.substr(0, open);
        if (open == std::string_view::npos) break;
        const auto close = meant.find('}', open);
        const auto name = spoken_name(circuit, meant.substr(open + 1, close - open - 1), names);
        if (!name) return std::nullopt;
        text += *name;
        meant = meant.substr(close + 1);
    }
    return text;
}

}  // namespace voltfall
