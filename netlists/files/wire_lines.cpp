#include "netlists/files/wire_lines.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "netlists/files/wire_tokens.hpp"
#include "netlists/parts/kind.hpp"
#include "netlists/tables/insulation.hpp"
#include "netlists/tables/wires.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

constexpr std::string_view example = "541 = \"F7.2 > C101.4  6mm2 RD 0.9m\"";

struct Size {
    WireStandard standard{WireStandard::metric};
    double size{};
};

class WireLine {
public:
    WireLine(CircuitDraft& draft, const TomlEntry& entry, const TypedText& text)
        : draft_(draft), entry_(entry), words_(text, draft.problems), tokens_(wire_tokens(words_)) {}

    void read() {
        read_ends();
        while (next_ < tokens_.size()) read_property();
        if (ends_.size() < 2) return lose();
        check_counts();
        for (std::size_t i = 0; i + 1 < ends_.size(); ++i) add_piece(i);
    }

private:
    struct End {
        WireToken token;
        std::optional<WireEnd> end;
    };

    void error(const SourcePlace& place, std::string message, std::string suggestion) {
        draft_.problems.error(place, std::move(message), std::move(suggestion));
        failed_ = true;
    }
    SourcePlace here() const { return next_ < tokens_.size() ? tokens_[next_].place : words_.place(); }
    std::size_t pieces() const { return ends_.size() - 1; }
    void lose() { draft_.lose(entry_.key); }

    void read_ends();
    bool take_arrow();
    void read_property();
    void read_measure(const WireToken& token, const Measure& measure, bool guessed);
    void read_bundle(const WireToken& token);
    void read_class(const WireToken& token, double celsius);
    void read_colour(const WireToken& token);
    void check_counts();
    void check_size_typed_as_length();
    void add_piece(std::size_t at);
    bool is_onto_itself(const WireEnd& from, const WireEnd& to, const SourcePlace& place);

    CircuitDraft& draft_;
    const TomlEntry& entry_;
    WordReader words_;
    std::vector<WireToken> tokens_;
    std::size_t next_{0};
    bool failed_{false};
    std::vector<End> ends_;
    std::vector<Parameter> lengths_;
    std::vector<Size> sizes_;
    std::vector<std::string> colours_;
    int parallel_{1};
    int bundle_{1};
    std::optional<double> class_;  ///< °C
};

void WireLine::read_ends() {
    while (next_ < tokens_.size()) {
        const WireToken token = tokens_[next_];
        if (token.arrow) {
            error(token.place, fmt::format("a wire end is missing at '{}'", token.text),
                  fmt::format("for example {}", example));
            ++next_;
            continue;
        }
        ++next_;
        auto end = read_wire_end(draft_, token.text, token.place);
        if (!end) failed_ = true;
        ends_.push_back({token, std::move(end)});
        if (!take_arrow()) break;
    }
    if (ends_.size() == 1) {
        error(here(), fmt::format("wire '{}' has one end only", entry_.key),
              fmt::format("write both ends with > between: {}", example));
    } else if (ends_.empty()) {
        error(here(), fmt::format("wire '{}' has no ends", entry_.key), fmt::format("for example {}", example));
    }
}

/// True when another end follows.
bool WireLine::take_arrow() {
    if (next_ >= tokens_.size()) return false;
    const WireToken& token = tokens_[next_];
    if (token.arrow) {
        ++next_;
        if (next_ < tokens_.size() && !(tokens_[next_].measure && tokens_[next_].measure->unit != Unit::none))
            return true;
        error(here(), fmt::format("no wire end behind '{}'", token.text), fmt::format("for example {}", example));
        return false;
    }
    const bool to = same_word(token.text, "to") && next_ + 1 < tokens_.size();
    const std::string owner = token.text.substr(0, token.text.find('.'));
    const bool is_end =
        !token.measure && ends_.size() == 1 && (draft_.part_named(owner).valid() || draft_.plug_named(owner).valid());
    if (!to && !is_end) return false;
    error(token.place, fmt::format("expected > between the ends of wire '{}', found '{}'", entry_.key, token.text),
          fmt::format("write {} > {}", ends_.back().token.text, to ? tokens_[next_ + 1].text : token.text));
    if (to) ++next_;
    return true;
}

void WireLine::read_property() {
    const WireToken token = tokens_[next_++];
    if (token.arrow) {
        error(token.place,
              fmt::format("'{}' stands behind the size, colour and length of wire '{}'", token.text, entry_.key),
              "write all ends first");
        return;
    }
    if (token.measure) return read_measure(token, *token.measure, false);
    if (token.text.empty()) {
        return error(token.place, fmt::format("an empty text in wire '{}'", entry_.key), "delete the quotes");
    }
    if (token.text.front() == '~') {
        if (const auto measure = parse_measure(std::string_view(token.text).substr(1)))
            return read_measure(token, *measure, true);
        if (token.text == "~" && next_ < tokens_.size() && tokens_[next_].measure) {
            const WireToken number = tokens_[next_++];
            return read_measure(number, *number.measure, true);
        }
    }
    const std::string_view text = token.text;
    const auto count = parse_measure(text.substr(1));
    if ((text[0] == 'x' || text[0] == 'X') && count && count->unit == Unit::none) {
        constexpr double most_parallel = 20;
        if (count->value < 1 || count->value > most_parallel || count->value != static_cast<int>(count->value)) {
            return error(token.place, fmt::format("'{}' wires in parallel", text), "write x2 for two in parallel");
        }
        parallel_ = static_cast<int>(count->value);
        return;
    }
    if (same_word(text, "bundle")) return read_bundle(token);
    if (const auto celsius = insulation_class(text)) return read_class(token, *celsius);
    read_colour(token);
}

/// `bundle 6`: so many wires run tied together, this one counted.
void WireLine::read_bundle(const WireToken& token) {
    constexpr double most_wires = 200;
    const bool number = next_ < tokens_.size() && tokens_[next_].measure;
    const Measure count = number ? *tokens_[next_].measure : Measure{};
    const bool whole = count.unit == Unit::none && count.value == static_cast<int>(count.value);
    if (!number || !whole || count.value < 1 || count.value > most_wires) {
        return error(number ? tokens_[next_++].place : token.place,
                     "expected the wires of the bundle, this one counted", "for example bundle 6");
    }
    ++next_;
    bundle_ = static_cast<int>(count.value);
}

/// `105C` or the type that is printed on the wire, `FLRY-B`.
void WireLine::read_class(const WireToken& token, double celsius) {
    constexpr double least = 60;
    constexpr double most = 260;
    if (celsius < least || celsius > most) {
        return error(token.place, fmt::format("'{}' is no temperature class of a wire's insulation", token.text),
                     "classes run from 60C to 260C, for example 105C");
    }
    class_ = celsius;
}

void WireLine::read_measure(const WireToken& token, const Measure& measure, bool guessed) {
    const bool area = measure.unit == Unit::square_millimetre;
    constexpr double most_area = 500;      // mm2; starter cables end at 120
    constexpr double most_length = 500;    // m
    constexpr double thinnest_gauge = 40;  // solid-round AWG tables end at 40
    if (measure.unit == Unit::metre) {
        if (measure.value <= 0 || measure.value > most_length) {
            return error(token.place, fmt::format("'{}' is no length of a wire", token.text), "for example 0.9m");
        }
        lengths_.push_back({"length", measure.value, Unit::metre, "file", 0, true, guessed});
    } else if (area || measure.unit == Unit::awg) {
        const bool good = area ? measure.value > 0 && measure.value <= most_area : measure.value <= thinnest_gauge;
        if (!good)
            return error(token.place, fmt::format("'{}' is no size of a wire", token.text),
                         "for example 2.5mm2 or 14AWG");
        sizes_.push_back({area ? WireStandard::metric : WireStandard::awg, measure.value});
    } else if (measure.unit == Unit::celsius) {
        read_class(token, measure.value);
    } else if (measure.unit == Unit::percent && !lengths_.empty()) {
        lengths_.back().tolerance = measure.value;
    } else if (measure.unit == Unit::none) {
        error(token.place, fmt::format("'{}' has no unit", token.text),
              fmt::format("a size is {}mm2 or {}AWG, a length {}m", token.text, token.text, token.text));
    } else {
        error(token.place, fmt::format("'{}' is not understood in wire '{}'", token.text, entry_.key),
              fmt::format("for example {}", example));
    }
}

void WireLine::read_colour(const WireToken& token) {
    const bool letters = std::all_of(token.text.begin(), token.text.end(), [](char c) {
        return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '/' || c == '-' ||
               (static_cast<unsigned char>(c) & 0x80);
    });
    if (!letters) {
        return error(token.place, fmt::format("'{}' is not understood in wire '{}'", token.text, entry_.key),
                     fmt::format("for example {}", example));
    }
    colours_.push_back(token.text);
    if (draft_.notes_on_colours && !wire_colour_words(token.text)) {
        draft_.problems.note(token.place, fmt::format("colour '{}' is in no table; it is kept as text", token.text),
                             "IEC 60757 letters are BK BN RD OG YE GN BU VT GY WH PK TQ");
    }
}

/// One size for all pieces or one a piece; a length a piece or none.
void WireLine::check_counts() {
    check_size_typed_as_length();
    if (sizes_.empty() && !failed_) {
        error(entry_.key_place, fmt::format("wire '{}' has no size", entry_.key),
              "add it, for example 2.5mm2 or 14AWG");
    } else if (sizes_.size() > 1 && sizes_.size() != pieces()) {
        error(entry_.key_place,
              fmt::format("wire '{}' has {} sizes for {} piece{}", entry_.key, sizes_.size(), pieces(),
                          pieces() == 1 ? "" : "s"),
              "write one size, or one a piece");
    }
    if (failed_) return;
    if (lengths_.size() > pieces() || (!lengths_.empty() && lengths_.size() < pieces())) {
        error(entry_.key_place,
              fmt::format("wire '{}' has {} length{} for {} piece{}", entry_.key, lengths_.size(),
                          lengths_.size() == 1 ? "" : "s", pieces(), pieces() == 1 ? "" : "s"),
              "write a length a piece, in order");
    }
    if (lengths_.empty()) {
        draft_.problems.warning(entry_.key_place, fmt::format("wire '{}' has no length; ~1m is taken", entry_.key),
                                "add it, for example 0.9m, or ~1m if it is a guess");
        lengths_.assign(pieces(), {"length", 1, Unit::metre, "guess: no length in the file", 0, false, true});
    }
}

/// `6mm` for `6mm2`: as a length it would be 6 mm of wire.
void WireLine::check_size_typed_as_length() {
    constexpr double shortest = 0.05;  // m
    if (!sizes_.empty()) return;
    for (const WireToken& token : tokens_) {
        const bool tiny = token.measure && token.measure->unit == Unit::metre && token.measure->value < shortest;
        if (tiny && token.text.size() > 2 && token.text.substr(token.text.size() - 2) == "mm") {
            return error(token.place, fmt::format("'{}' is a length; wire '{}' has no size", token.text, entry_.key),
                         fmt::format("did you mean {}2?", token.text));
        }
    }
}

bool WireLine::is_onto_itself(const WireEnd& from, const WireEnd& to, const SourcePlace& place) {
    if (from.part != to.part) return false;
    bool one_piece = from.terminal == to.terminal;
    if (from.part.valid()) {
        const std::string_view kind = draft_.circuit.part(from.part).kind->word;
        one_piece = one_piece || kind == "splice" || kind == "ground";
    }
    if (one_piece) error(place, fmt::format("wire '{}' ends where it begins", entry_.key), "name two different ends");
    return one_piece;
}

void WireLine::add_piece(std::size_t at) {
    const End& from = ends_[at];
    const End& to = ends_[at + 1];
    const bool itself = from.end && to.end && is_onto_itself(*from.end, *to.end, to.token.place);
    if (failed_ || itself || !from.end || !to.end) return lose();
    Wire wire;
    wire.number = entry_.key;
    wire.name = pieces() == 1 ? entry_.key : fmt::format("{}:{}", entry_.key, at + 1);
    wire.from = *from.end;
    wire.to = *to.end;
    const Size& size = sizes_.size() == 1 ? sizes_[0] : sizes_[at];
    wire.standard = size.standard;
    wire.size = size.size;
    wire.area_mm2 = wire_area_mm2(size.standard, size.size);
    wire.parallel = parallel_;
    wire.bundle = bundle_;
    wire.class_celsius = class_;
    wire.colour = colours_.size() == pieces() ? colours_[at] : fmt::format("{}", fmt::join(colours_, " "));
    wire.length = lengths_[at];
    wire.ohms = wire_ohm_per_metre(size.standard, size.size) * wire.length.value / parallel_;
    wire.source = entry_.key_place;
    draft_.wires.insert(lower(wire.name));
    draft_.circuit.wires.push_back(std::move(wire));
}

/// Is the name free for a wire? A part, a plug or another wire of that name is reported.
bool is_free_name(CircuitDraft& draft, const TomlEntry& entry) {
    const PartId part = draft.part_named(entry.key);
    if (part.valid() || draft.plug_named(entry.key).valid()) {
        draft.problems.error(
            entry.key_place,
            fmt::format("'{}' is the name of a wire and of a {}", entry.key, part.valid() ? "part" : "plug"),
            fmt::format("name the wire w{}", entry.key));
        return false;
    }
    if (draft.wires.count(lower(entry.key))) {
        draft.problems.error(
            entry.key_place, fmt::format("wire '{}' stands twice", entry.key),
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
        draft.problems.error(section.place, fmt::format("{} pieces of wire; at most {} are read", pieces, most_wires),
                             "split the circuit");
    }
}

}  // namespace voltfall
