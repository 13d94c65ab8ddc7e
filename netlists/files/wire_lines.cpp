#include "netlists/files/circuit_sections.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "netlists/files/wire_properties.hpp"
#include "netlists/files/wire_tokens.hpp"
#include "netlists/parts/kind.hpp"
#include "netlists/text/problem_code.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

constexpr std::string_view example = "541 = \"F7.2 > C101.4  6mm2 RD 0.9m\"";

class WireLine {
public:
    WireLine(CircuitDraft& draft, const TomlEntry& entry, const TypedText& text)
        : draft_(draft), entry_(entry), words_(text, draft.problems), tokens_(wire_tokens(words_)) {}

    void read() {
        put_ends_first();
        read_ends();
        WireProperties properties(draft_, entry_, std::span(tokens_).subspan(next_));
        properties.read();
        if (ends_.size() < 2) return lose();
        properties.check_counts(pieces(), failed_);
        failed_ = failed_ || properties.failed();
        for (std::size_t i = 0; i + 1 < ends_.size(); ++i) add_piece(i, properties);
    }

private:
    struct End {
        WireToken token;
        std::optional<WireEnd> end;
    };

    void error(ProblemCode code, const SourcePlace& place, std::string message, std::string suggestion) {
        failed_ = true;
        constexpr int most_of_a_line = 10;
        if (++errors_ > most_of_a_line) {
            next_ = tokens_.size();
            return;
        }
        draft_.problems.error(code, place, std::move(message), std::move(suggestion));
    }
    SourcePlace here() const { return next_ < tokens_.size() ? tokens_[next_].place : words_.place(); }
    std::size_t pieces() const { return ends_.size() - 1; }
    void lose() { draft_.lose(entry_.key); }

    void put_ends_first();
    void read_ends();
    bool take_arrow();
    bool is_known_end(const WireToken& token) const;
    void add_piece(std::size_t at, const WireProperties& properties);
    bool is_onto_itself(const WireEnd& from, const WireEnd& to, const SourcePlace& place);

    CircuitDraft& draft_;
    const TomlEntry& entry_;
    WordReader words_;
    std::vector<WireToken> tokens_;
    std::size_t next_{0};
    bool failed_{false};
    int errors_{0};
    std::vector<End> ends_;
};

bool WireLine::is_known_end(const WireToken& token) const {
    const std::string_view owner = read_place(token.text).owner;
    return !token.measure && !token.arrow && (draft_.part_named(owner).valid() || draft_.plug_named(owner).valid());
}

/// `RD 6mm2 F7.2 > C101.4 0.9m`: what stands before the ends is told once, and read as if it stood behind them.
void WireLine::put_ends_first() {
    const auto arrow = std::find_if(tokens_.begin(), tokens_.end(), [](const WireToken& token) { return token.arrow; });
    const auto before = arrow - tokens_.begin() - 1;
    if (arrow == tokens_.end() || before < 1 || !is_known_end(tokens_[static_cast<std::size_t>(before)])) return;
    if (is_known_end(tokens_.front())) return;
    error(ProblemCode::extra_word, tokens_.front().place,
          fmt::format("'{}' stands before the ends of wire '{}'", tokens_.front().text, entry_.key),
          fmt::format("write the ends first: {}", example));
    std::rotate(tokens_.begin(), tokens_.begin() + before, tokens_.end());
    const auto moved = std::find_if(tokens_.begin(), tokens_.end(), [](const WireToken& token) { return token.arrow; });
    if (moved != tokens_.begin() + 1) tokens_.clear();
}

void WireLine::read_ends() {
    while (next_ < tokens_.size()) {
        const WireToken token = tokens_[next_];
        if (token.arrow) {
            error(ProblemCode::missing_end, token.place, fmt::format("a wire end is missing at '{}'", token.text),
                  fmt::format("for example {}", example));
            if (next_ < tokens_.size()) ++next_;
            continue;
        }
        ++next_;
        auto end = read_wire_end(draft_, token.text, token.place);
        if (!end) failed_ = true;
        ends_.push_back({token, std::move(end)});
        if (!take_arrow()) break;
    }
    if (ends_.size() == 1) {
        error(ProblemCode::missing_end, here(), fmt::format("wire '{}' has one end only", entry_.key),
              fmt::format("write both ends with > between: {}", example));
    } else if (ends_.empty()) {
        error(ProblemCode::missing_end, here(), fmt::format("wire '{}' has no ends", entry_.key),
              fmt::format("for example {}", example));
    }
}

/// True when another end follows.
bool WireLine::take_arrow() {
    if (next_ >= tokens_.size()) return false;
    const WireToken& token = tokens_[next_];
    if (token.arrow) {
        ++next_;
        // A splice may be called `10A`; behind an arrow it is the splice.
        const bool figure = next_ < tokens_.size() && tokens_[next_].measure &&
                            tokens_[next_].measure->unit != Unit::none &&
                            !draft_.part_named(tokens_[next_].text).valid();
        if (next_ < tokens_.size() && !figure) return true;
        error(ProblemCode::missing_end, here(), fmt::format("no wire end behind '{}'", token.text),
              fmt::format("for example {}", example));
        return false;
    }
    static constexpr std::array<std::string_view, 14> joints{"to",  "-", "--", "–", "<", "<-", ">>",
                                                             "->>", "=", ":",  "|", "&", "+",  "and"};
    const bool joint =
        !ends_.empty() && next_ + 1 < tokens_.size() &&
        std::any_of(joints.begin(), joints.end(), [&](auto word) { return same_word(word, token.text); });
    const bool first = ends_.size() == 1;
    const bool to = joint && ((first && same_word(token.text, "to")) || is_known_end(tokens_[next_ + 1]));
    if (!to && (ends_.size() != 1 || !is_known_end(token))) return false;
    error(ProblemCode::missing_arrow, token.place,
          fmt::format("expected > between the ends of wire '{}', found '{}'", entry_.key, token.text),
          fmt::format("write {} > {}", ends_.back().token.text, to ? tokens_[next_ + 1].text : token.text));
    if (to) ++next_;
    return true;
}

bool WireLine::is_onto_itself(const WireEnd& from, const WireEnd& to, const SourcePlace& place) {
    if (from.part != to.part) return false;
    bool one_piece = from.terminal == to.terminal;
    if (from.part.valid()) {
        const Part& part = draft_.circuit.part(from.part);
        one_piece = one_piece || joins(part, Joining::legs) || joins(part, Joining::metal);
    }
    if (one_piece)
        error(ProblemCode::wire_onto_itself, place, fmt::format("wire '{}' ends where it begins", entry_.key),
              "name two different ends");
    return one_piece;
}

void WireLine::add_piece(std::size_t at, const WireProperties& properties) {
    const End& from = ends_[at];
    const End& to = ends_[at + 1];
    const bool itself = from.end && to.end && is_onto_itself(*from.end, *to.end, to.token.place);
    if (failed_ || itself || !from.end || !to.end) return lose();
    Wire wire;
    wire.number = entry_.key;
    wire.name = pieces() == 1 ? entry_.key : fmt::format("{}:{}", entry_.key, at + 1);
    wire.from = *from.end;
    wire.to = *to.end;
    properties.give(wire, at, pieces());
    wire.source = entry_.key_place;
    draft_.wires.insert(lower(wire.name));
    draft_.circuit.wires.push_back(std::move(wire));
}

/// Is the name free for a wire? A part, a plug or another wire of that name is reported.
bool is_free_name(CircuitDraft& draft, const TomlEntry& entry) {
    const PartId part = draft.part_named(entry.key);
    if (part.valid() || draft.plug_named(entry.key).valid()) {
        draft.problems.error(
            ProblemCode::name_taken, entry.key_place,
            fmt::format("'{}' is the name of a wire and of a {}", entry.key, part.valid() ? "part" : "plug"),
            fmt::format("name the wire w{}", entry.key));
        return false;
    }
    if (draft.wires.count(lower(entry.key))) {
        draft.problems.error(
            ProblemCode::written_twice, entry.key_place, fmt::format("wire '{}' stands twice", entry.key),
            fmt::format("number its pieces {}a and {}b, or write one chain: A > B > C", entry.key, entry.key));
        return false;
    }
    return true;
}

}  // namespace

void read_wires(CircuitDraft& draft, const TomlSection& section) {
    draft.circuit.wires.reserve(section.entries.size());
    for (const std::string& name : section.lost) draft.lose(name);
    for (const TomlEntry& entry : section.entries) {
        if (!draft.check_name(entry, "wire") || !is_free_name(draft, entry)) {
            draft.lose(entry.key);
            continue;
        }
        const auto text = draft.text_of(entry, "F7.2 > C101.4  6mm2 RD 0.9m");
        draft.wires.insert(lower(entry.key));
        if (!text) {
            draft.lose(entry.key);
            continue;
        }
        WireLine(draft, entry, *text).read();
    }
    if (const std::size_t pieces = draft.circuit.wires.size(); pieces > most_wires) {
        draft.problems.error(ProblemCode::too_many, section.place,
                             fmt::format("{} pieces of wire; at most {} are read", pieces, most_wires),
                             "split the circuit");
    }
}

}  // namespace voltfall
