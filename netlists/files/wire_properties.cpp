#include "netlists/files/wire_properties.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "netlists/tables/defaults.hpp"
#include "netlists/tables/figure_bounds.hpp"
#include "netlists/tables/insulation.hpp"
#include "netlists/tables/wires.hpp"
#include "netlists/text/ascii_digits.hpp"
#include "netlists/text/characters.hpp"
#include "netlists/text/misread.hpp"
#include "netlists/text/problem_code.hpp"
#include "netlists/text/suggest.hpp"
#include "netlists/text/twin_letters.hpp"

namespace voltfall {

namespace {

/// The least that the bounds of a wire's length allow, metres.
constexpr double shortest_length = 0.001;

constexpr std::string_view whole_wire_example = "541 = \"F7.2 > C101.4  6mm2 RD 0.9m\"";

/// `LT GN`, `dark blue`: a colour of two words.
bool is_shade(std::string_view word) {
    static constexpr std::array<std::string_view, 5> shades{"LT", "DK", "light", "dark", "pale"};
    return std::any_of(shades.begin(), shades.end(), [&](std::string_view shade) { return same_word(shade, word); });
}

/// `RD/BK`, `LT-GN`, `grün`: letters of any script, with a slash or hyphen between them.
bool is_colour_text(std::string_view text) {
    const auto characters = characters_of(text);
    const auto is_sign = [](const Character& c) { return c.code == U'/' || c.code == U'-'; };
    const auto fits = [&](const Character& c) {
        return c.valid && (is_sign(c) || (is_letter(c.code) && !(c.code >= U'0' && c.code <= U'9')));
    };
    return !characters.empty() && std::all_of(characters.begin(), characters.end(), fits) &&
           !is_sign(characters.front()) && !is_sign(characters.back());
}

/// `AWG18`, as it is printed on some wires.
std::optional<Measure> gauge_behind_its_unit(std::string_view text) {
    constexpr std::string_view unit = "AWG";
    if (text.size() <= unit.size() || !same_word(text.substr(0, unit.size()), unit)) return std::nullopt;
    const auto measure = parse_measure(std::string(text.substr(unit.size())) + std::string(unit));
    return measure && measure->unit == Unit::awg ? measure : std::nullopt;
}

}  // namespace

void WireProperties::error(ProblemCode code, const SourcePlace& place, std::string message, std::string suggestion) {
    draft_.problems.error(code, place, std::move(message), std::move(suggestion));
    failed_ = true;
}

/// Is the figure said already? Then it is told which one is too many.
bool WireProperties::is_second(const WireToken& token, bool said) {
    if (said)
        error(ProblemCode::extra_word, token.place,
              fmt::format("'{}' says again what wire '{}' has said already", token.text, entry_.key), "say it once");
    return said;
}

bool WireProperties::holds(const WireToken& token, std::string_view figure, const Measure& measure,
                           std::string_view right) {
    const auto wrong = outside_bounds(figure_bounds("wire", figure, measure.unit), measure.value, token.text, right);
    if (wrong) error(ProblemCode::figure_out_of_range, token.place, wrong->message, wrong->suggestion);
    return !wrong;
}

void WireProperties::read() {
    while (next_ < tokens_.size()) read_property();
}

void WireProperties::read_property() {
    const WireToken& token = tokens_[next_++];
    if (token.arrow) {
        return error(ProblemCode::extra_word, token.place,
                     fmt::format("'{}' stands behind the size, colour and length of wire '{}'", token.text, entry_.key),
                     "write all ends first");
    }
    if (token.measure) return read_number(token, *token.measure, false);
    if (token.text.empty())
        return error(ProblemCode::empty_phrase, token.place, fmt::format("an empty text in wire '{}'", entry_.key),
                     "delete the quotes");
    if (token.text.front() == '~') {
        if (const auto measure = parse_measure(std::string_view(token.text).substr(1)))
            return read_number(token, *measure, true);
        if (token.text == "~" && next_ < tokens_.size() && tokens_[next_].measure) {
            const WireToken& number = tokens_[next_++];
            return read_number(number, *number.measure, true);
        }
    }
    if (read_count_and_size(token)) return;
    // `AWG 14`
    if (same_word(token.text, "AWG") && next_ < tokens_.size()) {
        const auto gauge = parse_measure(tokens_[next_].text + "AWG");
        if (gauge && gauge->unit == Unit::awg) return read_number(tokens_[next_++], *gauge, false);
    }
    if (looks_like_number(token.text)) return report_misread(token);
    if (const auto gauge = gauge_behind_its_unit(token.text)) return read_number(token, *gauge, false);
    if (read_count(token)) return;
    if (same_word(token.text, "bundle")) return read_bundle(token);
    if (const auto celsius = insulation_class(token.text)) return read_class(token, *celsius);
    read_colour(token);
}

void WireProperties::report_misread(const WireToken& token) {
    static constexpr std::array units{Unit::metre, Unit::square_millimetre, Unit::awg, Unit::celsius};
    Misread misread = explain_misread(token.text, units);
    const bool bare = misread.message.ends_with("has no unit");
    if (bare) misread.suggestion = fmt::format("a size is {0}mm2, a length {0}m", token.text);
    if (misread.suggestion.empty()) misread.suggestion = fmt::format("for example {}", whole_wire_example);
    error(misread.code, token.place, std::move(misread.message), std::move(misread.suggestion));
}

/// `0.5mm` for `0.5mm2`, where no size stands: too short for a length.
bool WireProperties::is_size_without_square(const WireToken& token, const Measure& measure) const {
    const auto is_size = [](const WireToken& other) {
        return other.measure && (other.measure->unit == Unit::square_millimetre || other.measure->unit == Unit::awg);
    };
    return measure.value > 0 && measure.value < shortest_length && token.text.ends_with("mm") &&
           std::none_of(tokens_.begin(), tokens_.end(), is_size);
}

/// `x2`: so many wires in parallel.
bool WireProperties::read_count(const WireToken& token) {
    const std::string_view text = token.text;
    if (text.size() < 2 || (text[0] != 'x' && text[0] != 'X')) return false;
    const auto count = parse_measure(text.substr(1));
    if (!count || count->unit != Unit::none) return false;
    if (is_second(token, parallel_.has_value())) return true;
    if (holds(token, "count in parallel", *count, "x2 for two in parallel")) parallel_ = static_cast<int>(count->value);
    return true;
}

/// `2x2.5mm2`: so many of that size in parallel.
bool WireProperties::read_count_and_size(const WireToken& token) {
    const std::string_view text = token.text;
    const auto times = text.find_first_of("xX");
    if (times == 0 || times == std::string_view::npos) return false;
    const auto count = parse_measure(text.substr(0, times));
    const auto size = parse_measure(with_point(text.substr(times + 1)));
    const bool is_size = size && (size->unit == Unit::square_millimetre || size->unit == Unit::awg);
    if (!count || count->unit != Unit::none || !is_size) return false;
    if (is_second(token, parallel_.has_value())) return true;
    if (holds(token, "count in parallel", *count, "x2 for two in parallel")) parallel_ = static_cast<int>(count->value);
    read_number(token, *size, false);
    return true;
}

/// `red with white stripe`, `RD w/ WH tracer`: the second colour of a wire that has two.
bool WireProperties::read_tracer(const WireToken& token) {
    if (colours_.empty()) return false;
    const auto says = [&](std::string_view word) { return same_word(word, token.text); };
    if ((says("with") || says("w/")) && next_ < tokens_.size() && is_colour_text(tokens_[next_].text)) {
        colours_.back().text += "/" + tokens_[next_++].text;
        return true;
    }
    if (!says("stripe") && !says("tracer") && !says("striped") && !says("trace")) return false;
    if (colours_.size() > 1) {
        const std::string second = colours_.back().text;
        colours_.pop_back();
        colours_.back().text += "/" + second;
    }
    return true;
}

/// `bundle 6`: so many wires run tied together, this one counted.
void WireProperties::read_bundle(const WireToken& token) {
    const bool number = next_ < tokens_.size() && tokens_[next_].measure;
    if (!number || tokens_[next_].measure->unit != Unit::none) {
        const bool misread = next_ < tokens_.size() && looks_like_number(tokens_[next_].text);
        return error(ProblemCode::missing_figure, misread ? tokens_[next_++].place : token.place,
                     "expected the wires of the bundle, this one counted", "for example bundle 6");
    }
    const WireToken& count = tokens_[next_++];
    if (is_second(count, bundle_.has_value())) return;
    if (holds(count, "count in the bundle", *count.measure, "bundle 6"))
        bundle_ = static_cast<int>(count.measure->value);
}

/// `105C` or the type that is printed on the wire, `FLRY-B`.
void WireProperties::read_class(const WireToken& token, double celsius) {
    if (is_second(token, class_.has_value())) return;
    if (holds(token, "temperature class", {celsius, Unit::celsius, 0}, "105C")) class_ = celsius;
}

void WireProperties::read_number(const WireToken& token, const Measure& measure, bool guessed) {
    if (measure.unit == Unit::metre && is_size_without_square(token, measure)) {
        failed_ = true;  // told by check_size_typed_as_length
    } else if (measure.unit == Unit::metre) {
        if (holds(token, "length", measure, "0.9m"))
            lengths_.push_back({"length", measure.value, Unit::metre, "file", 0, true, guessed});
    } else if (measure.unit == Unit::square_millimetre) {
        if (holds(token, "area", measure, "2.5mm2")) sizes_.push_back({WireStandard::metric, measure.value});
    } else if (measure.unit == Unit::awg) {
        if (holds(token, "gauge", measure, "14AWG")) sizes_.push_back({WireStandard::awg, measure.value});
    } else if (measure.unit == Unit::celsius) {
        read_class(token, measure.value);
    } else if (measure.unit == Unit::percent && !lengths_.empty()) {
        const auto wrong =
            outside_bounds(figure_bounds("figure", "tolerance", Unit::percent), measure.value, token.text, "1.4m 10%");
        if (wrong) return error(ProblemCode::figure_out_of_range, token.place, wrong->message, wrong->suggestion);
        if (is_second(token, lengths_.back().tolerance > 0)) return;
        lengths_.back().tolerance = measure.value;
    } else if (measure.unit == Unit::none) {
        error(ProblemCode::no_unit, token.place, fmt::format("'{}' has no unit", token.text),
              fmt::format("a size is {}mm2 or {}AWG, a length {}m", token.text, token.text, token.text));
    } else {
        error(ProblemCode::wrong_unit, token.place,
              fmt::format("'{}' is not understood in wire '{}'", token.text, entry_.key),
              fmt::format("for example {}", whole_wire_example));
    }
}

/// `bundel 6`: a word that no table of colours knows and that is near the one keyword of a wire.
bool WireProperties::is_near_miss(const WireToken& token) {
    const std::vector<std::string> keyword{"bundle"};
    const ColourMeaning colour = colour_meaning(token.text, draft_.colour_table);
    const bool known = !colour.words.empty() || !colour.choices.empty();
    if (nearest(token.text, keyword).empty() || known) return false;
    error(ProblemCode::unknown_word, token.place, fmt::format("'{}' is not known in wire '{}'", token.text, entry_.key),
          did_you_mean(token.text, keyword));
    if (next_ < tokens_.size() && looks_like_number(tokens_[next_].text)) ++next_;
    return true;
}

void WireProperties::read_colour(const WireToken& token) {
    if (read_tracer(token)) return;
    // `1m approx` is `~1m`.
    const bool guess = same_word(token.text, "approx") || same_word(token.text, "about") || same_word(token.text, "ca");
    if (guess && !lengths_.empty()) {
        lengths_.back().guessed = true;
        return;
    }
    if (!is_colour_text(token.text)) {
        return error(ProblemCode::unknown_word, token.place,
                     fmt::format("'{}' is not understood in wire '{}'", token.text, entry_.key),
                     token.text.find('.') == std::string::npos
                         ? fmt::format("for example {}", whole_wire_example)
                         : "a wire has two ends and a chain more, with > between; where it branches draw a splice, "
                           "for example SP1 = \"splice\" and a line for each leg");
    }
    if (is_near_miss(token)) return;
    if (!colours_.empty() && is_shade(colours_.back().text)) {
        colours_.back().text += " " + token.text;
        return;
    }
    colours_.push_back({token.text, token.place, {}});
}

/// One colour for all pieces or one a piece; a word too many is none.
void WireProperties::check_colours(std::size_t pieces) {
    for (Colour& colour : colours_) colour.meaning = colour_meaning(colour.text, draft_.colour_table);
    const bool known_count = colours_.size() <= 1 || colours_.size() == pieces;
    const auto unknown = std::find_if(colours_.begin(), colours_.end(), [](const Colour& c) {
        return c.meaning.words.empty() && c.meaning.choices.empty();
    });
    if (!known_count) {
        const bool strange = unknown != colours_.end();
        const Colour& extra = strange ? *unknown : colours_[1];
        std::string advice = fmt::format("a colour with a tracer is {}/{}", colours_[0].text, colours_[1].text);
        if (strange) advice = did_you_mean(extra.text, insulation_types());
        return error(ProblemCode::extra_word, extra.place,
                     fmt::format("'{}' is one word too many in wire '{}'", extra.text, entry_.key),
                     advice.empty() ? "put a note behind #" : advice);
    }
    if (draft_.foreign_colours) return;
    for (const Colour& colour : colours_) check_meaning(colour);
}

/// Letters in which the published tables differ are an error with the choices; letters that none knows are a note.
void WireProperties::check_meaning(const Colour& colour) {
    if (!colour.meaning.choices.empty()) {
        std::string choices;
        std::string letters;
        for (const ColourMeaning::Choice& choice : colour.meaning.choices) {
            choices += fmt::format("{}{} ({})", choices.empty() ? "" : " or ", choice.colour, choice.tables);
            letters += fmt::format("{}{}", letters.empty() ? "" : " or ", choice.iec);
        }
        const std::string_view tables = colour.meaning.choices.front().tables;
        return error(ProblemCode::two_meanings, colour.place,
                     fmt::format("colour '{}' is {}", colour.meaning.unclear, choices),
                     fmt::format("write {}, or above [parts] the table of the diagram: colours = \"{}\"", letters,
                                 tables.substr(0, tables.find(','))));
    }
    if (!colour.meaning.words.empty()) return;
    if (const ColourMeaning looks = colour_meaning(as_it_looks(colour.text), draft_.colour_table);
        !looks.words.empty()) {
        return error(ProblemCode::strange_character, colour.place,
                     fmt::format("colour '{}' only looks like {}", colour.text, as_it_looks(colour.text)),
                     fmt::format("write {}; {}", as_it_looks(colour.text), twin_letter_in(colour.text)));
    }
    draft_.problems.note(ProblemCode::unknown_colour, colour.place,
                         fmt::format("colour '{}' is in no table; it is kept as text", colour.text),
                         "IEC 60757 letters are BK BN RD OG YE GN BU VT GY WH PK TQ");
}

void WireProperties::check_counts(std::size_t pieces, bool failed) {
    failed_ = failed_ || failed;
    const std::string for_pieces = fmt::format("{} piece{}", pieces, pieces == 1 ? "" : "s");
    check_size_typed_as_length();
    if (sizes_.empty() && !failed_) {
        error(ProblemCode::missing_size, entry_.key_place, fmt::format("wire '{}' has no size", entry_.key),
              "add it, for example 2.5mm2 or 14AWG");
    } else if (sizes_.size() > 1 && sizes_.size() != pieces) {
        error(ProblemCode::wrong_count, entry_.key_place,
              fmt::format("wire '{}' has {} sizes for {}: {}", entry_.key, sizes_.size(), for_pieces,
                          figures_in({Unit::square_millimetre, Unit::awg})),
              "write one size, or one a piece");
    }
    if (failed_) return;
    check_colours(pieces);
    if (lengths_.size() == 1 && pieces > 1) share_length(pieces);
    if (lengths_.size() > pieces || (!lengths_.empty() && lengths_.size() < pieces)) {
        error(ProblemCode::wrong_count, entry_.key_place,
              fmt::format("wire '{}' has {} length{} for {}: {}", entry_.key, lengths_.size(),
                          lengths_.size() == 1 ? "" : "s", for_pieces, figures_in({Unit::metre})),
              pieces == 1 ? "write one length" : "write a length a piece, in order, or one for the whole chain");
    }
    if (lengths_.empty()) {
        const std::string row = row_at("wire_length", draft_.circuit.supply);
        const double metres = default_value(row);
        draft_.problems.warning(ProblemCode::missing_length, entry_.key_place,
                                fmt::format("wire '{}' has no length; ~{:g}m is taken", entry_.key, metres),
                                fmt::format("add it, for example 0.9m, or ~{:g}m if it is a guess", metres));
        const std::string source = fmt::format("{}: {}", row, default_row(row).source);
        lengths_.assign(pieces, {"length", metres, Unit::metre, source, 0, false, true});
    }
}

/// The figures in those units, as typed.
std::string WireProperties::figures_in(std::initializer_list<Unit> units) const {
    std::string typed;
    for (const WireToken& token : tokens_) {
        const auto measure = token.measure ? token.measure : parse_measure(without_marks(token.text));
        if (!measure || std::find(units.begin(), units.end(), measure->unit) == units.end()) continue;
        typed += (typed.empty() ? "" : " ") + token.text;
    }
    return typed;
}

/// One length for a whole chain: each piece has its share by count, which is a guess.
void WireProperties::share_length(std::size_t pieces) {
    Parameter share = lengths_.front();
    share.value /= static_cast<double>(pieces);
    share.source = "guess: a share of the chain's length";
    share.typed = false;
    share.guessed = true;
    lengths_.assign(pieces, share);
}

/// `6mm` for `6mm2`: as a length it would be 6 mm of wire.
void WireProperties::check_size_typed_as_length() {
    constexpr double shortest = 0.05;  // m
    if (!sizes_.empty()) return;
    for (const WireToken& token : tokens_) {
        const bool tiny = token.measure && token.measure->unit == Unit::metre && token.measure->value < shortest;
        if (tiny && token.text.size() > 2 && token.text.substr(token.text.size() - 2) == "mm") {
            return error(ProblemCode::missing_size, token.place,
                         fmt::format("'{}' is a length; wire '{}' has no size", token.text, entry_.key),
                         fmt::format("did you mean {}2?", token.text));
        }
    }
}

void WireProperties::give(Wire& wire, std::size_t at, std::size_t pieces) const {
    const Size& size = sizes_.size() == 1 ? sizes_[0] : sizes_[at];
    wire.standard = size.standard;
    wire.size = size.size;
    wire.area_mm2 = wire_area_mm2(size.standard, size.size);
    wire.parallel = parallel_.value_or(1);
    wire.bundle = bundle_.value_or(1);
    wire.class_celsius = class_;
    if (!colours_.empty()) {
        const Colour& colour = colours_[colours_.size() == pieces ? at : 0];
        wire.colour = colour.text;
        wire.colour_words = colour.meaning.words;
    }
    wire.length = lengths_[at];
    wire.ohms = wire_ohm_per_metre(size.standard, size.size) * wire.length.value / wire.parallel;
}

}  // namespace voltfall
