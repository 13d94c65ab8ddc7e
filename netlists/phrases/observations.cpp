// What a person sees, hears, feels or smells.
#include <algorithm>

#include "netlists/parts/kind.hpp"
#include "netlists/phrases/load_words.hpp"
#include "netlists/phrases/loads.hpp"
#include "netlists/phrases/measurement.hpp"
#include "netlists/phrases/places.hpp"
#include "netlists/phrases/state_words.hpp"
#include "netlists/phrases/values.hpp"
#include "netlists/phrases/vocabulary.hpp"
#include "netlists/tables/figure_bounds.hpp"
#include "netlists/text/problem_code.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

using Reader = std::optional<Measurement>;

Reader problem(ProblemCode code, WordReader& words, const Word* word, std::string message, std::string suggestion) {
    words.problems().error(code, words.place(word), std::move(message), std::move(suggestion));
    return std::nullopt;
}

/// Words of a look: known ones, colours and quoted text; anything else is a problem, and so are words that only link
/// others ("is", "a bit").
bool take_look_words(WordReader& words, std::vector<std::string>& seen) {
    bool understood = true;
    bool says = false;
    while (const Word* word = words.peek()) {
        if (const auto known = word->quoted ? std::nullopt : take_saying(words, look_sayings())) {
            says = true;
            if (std::find(seen.begin(), seen.end(), *known) == seen.end()) seen.emplace_back(*known);
            continue;
        }
        words.take();
        if (!word->quoted && links_a_look(word->text)) {
            seen.push_back(lower(word->text));
            continue;
        }
        if (word->quoted || colours_a_look(word->text)) {
            says = true;
            seen.push_back(word->quoted ? word->text : lower(word->text));
            continue;
        }
        std::string advice = saying_advice(look_sayings(), word->text);
        if (advice.empty())
            advice = "write " + list_words(words_of(look_sayings())) + ", or put your own words in quotes";
        problem(ProblemCode::unknown_word, words, word, "'" + word->text + "' is no word that a look knows", advice);
        understood = false;
    }
    if (understood && !says) {
        problem(ProblemCode::missing_word, words, nullptr, "what was seen is missing" + behind_last_words(words),
                "write " + list_words(words_of(look_sayings())));
        return false;
    }
    return understood;
}

/// Does the number on the fuse follow: `rating 20A`, `is a 20A`?
bool says_rating(const WordReader& words) {
    const Word* word = words.peek();
    if (!word || same_word(word->text, "rating")) return word != nullptr;
    std::size_t ahead = 0;
    for (const std::string_view filler : {"is", "a", "an"}) {
        if (const Word* next = words.peek(ahead); next && same_word(next->text, filler)) ++ahead;
    }
    const Word* value = words.peek(ahead);
    return value && value->measure.has_value();
}

/// `at STATE`, `at once`, `after 2min`, in any order.
bool take_fuse_circumstances(WordReader& words, const Circuit& circuit, FuseReading& reading) {
    while (!words.at_end()) {
        if (words.take_if("after")) {
            reading.after_seconds =
                take_figure(words, Unit::second, "time", "the time after which it blew is", "after 2min");
            if (!reading.after_seconds) return false;
        } else if (words.take_if("at")) {
            if (words.take_if("once")) {
                reading.after_seconds = 0;
                continue;
            }
            const Word* word = words.peek();
            StatePhrase state = read_state_words(words, circuit, {{}, nullptr, true});
            if (state.empty()) {
                problem(ProblemCode::missing_word, words, word,
                        word ? "'" + word->text + "' is no state" : "the state in which it blew is missing",
                        "for example blown at hi after 2min, or blown at once");
                return false;
            }
            reading.at = std::move(state);
        } else {
            break;
        }
    }
    return true;
}

}  // namespace

std::optional<std::string> take_word_of(WordReader& words, Sayings known, std::string_view of) {
    const Word* word = words.peek();
    const std::string list = list_words(words_of(known));
    if (!word) {
        problem(ProblemCode::missing_word, words, nullptr,
                "the word of " + std::string(of) + " is missing" + behind_last_words(words), "write " + list);
        return std::nullopt;
    }
    if (const auto said = take_saying(words, known)) return std::string(*said);
    // `is noisy`: the word that is not known is the one behind those that say nothing.
    for (std::size_t i = words_before_saying(words); i > 0 && words.peek(1); --i) words.take();
    word = &words.take();
    const std::string advice = saying_advice(known, word->text);
    problem(ProblemCode::unknown_word, words, word,
            "'" + word->text + "' is no word of " + std::string(of) + ": " + list,
            advice.empty() ? "write " + list : advice);
    return std::nullopt;
}

std::optional<std::string> take_place(WordReader& words, const Circuit& circuit, std::string_view after) {
    const Word* word = words.peek();
    if (!word) {
        problem(ProblemCode::missing_word, words, nullptr, "the place after '" + std::string(after) + "' is missing",
                "for example " + std::string(after) + " C101.4");
        return std::nullopt;
    }
    auto place = find_place(circuit, word->text);
    if (!place && begins_value(*word) && word->measure) {
        problem(ProblemCode::missing_word, words, word,
                "the place after '" + std::string(after) + "' is missing in front of '" + word->text + "'",
                "for example " + std::string(after) + " C101.4");
        return place;
    }
    words.take();
    if (!place) {
        const std::string near = names_near(circuit, word->text);
        problem(ProblemCode::unknown_place, words, word, "nothing is called '" + word->text + "'",
                near.empty() ? did_you_mean_or_known(word->text, place_names(circuit)) : near);
    }
    return place;
}

/// What follows the word that begins a reading, where no part does but its words do: `relay clicks`.
static bool says_which_is_missing(WordReader& words, const Circuit& circuit, Sayings sayings, std::string_view what,
                                  bool (*is_one)(const Part&)) {
    const Word* word = words.peek();
    if (!word || circuit.find_part(word->text).valid() || !find_saying(words, 0, sayings)) return false;
    std::vector<std::string> ways;
    for (const Part& part : circuit.parts) {
        if (is_one(part)) ways.push_back(std::string(what) + " " + part.name + " " + words_as_typed(words.rest()));
    }
    problem(ProblemCode::missing_word, words, word, "which " + std::string(what) + " is not said",
            ways.empty() ? "this circuit has none" : "write " + list_words(ways));
    return true;
}

PartId take_part(WordReader& words, const Circuit& circuit, std::string_view after) {
    const Word* word = words.peek();
    if (!word) {
        problem(ProblemCode::missing_word, words, nullptr, "the part after '" + std::string(after) + "' is missing",
                "name a part");
        return {};
    }
    words.take();
    const PartId part = circuit.find_part(word->text);
    if (!part.valid()) {
        std::vector<std::string> names;
        for (const Part& p : circuit.parts) names.push_back(p.name);
        const bool known = find_place(circuit, word->text).has_value();
        problem(ProblemCode::unknown_part, words, word,
                known ? "'" + word->text + "' is no part" : "no part is called '" + word->text + "'",
                known ? "name the part itself" : did_you_mean_or_known(word->text, names));
    }
    return part;
}

Reader read_look(WordReader& words, const Circuit& circuit) {
    words.take();
    auto place = take_place(words, circuit, "look");
    if (place && words.at_end()) {
        return problem(ProblemCode::missing_word, words, nullptr, "what was seen at '" + *place + "' is missing",
                       "write " + list_words(words_of(look_sayings())));
    }
    LookReading reading{{place.value_or("")}, {}};
    const bool understood = take_look_words(words, reading.words);
    return place && understood ? Reader(std::move(reading)) : std::nullopt;
}

bool is_look_word(std::string_view word) {
    return is_said(look_sayings(), word);
}

Reader read_smell(WordReader& words, const Circuit& circuit) {
    const std::string word = lower(words.take().text);
    for (const std::string_view between : {"at", "from", "of", "in", "the"}) words.take_if(between);
    auto place = take_place(words, circuit, word);
    return place ? Reader(SmellReading{{std::move(*place)}, word}) : std::nullopt;
}

Reader read_air(WordReader& words) {
    words.take();
    auto word = take_word_of(words, air_sayings(), "air");
    return word ? Reader(AirReading{{}, std::move(*word)}) : std::nullopt;
}

Reader read_pin_drag(WordReader& words, const Circuit& circuit) {
    words.take();
    auto place = take_place(words, circuit, "pin");
    if (!words.take_if("drag")) {
        return problem(ProblemCode::missing_word, words, words.peek(), "'drag' is missing",
                       "for example pin C303.4 drag light");
    }
    auto word = take_word_of(words, drag_sayings(), "a pin's drag");
    return place && word ? Reader(DragReading{{std::move(*place)}, std::move(*word)}) : std::nullopt;
}

Reader read_ripple(WordReader& words, const Circuit& circuit) {
    words.take();
    const Word* name = words.peek();
    const PartId part = take_part(words, circuit, "ripple");
    if (part.valid() && load_kind_of(circuit.part(part)) != LoadKind::motor)
        return problem(ProblemCode::does_not_fit, words, name, "'" + name->text + "' has no brushes that ripple",
                       "name a motor, for example ripple M1 even");
    auto word = take_word_of(words, ripple_sayings(), "a ripple");
    return part.valid() && word ? Reader(RippleReading{{part}, std::move(*word)}) : std::nullopt;
}

/// `fuse F7 looks whole`: what the eye says of an element, which a meter may say otherwise. Taken behind `looks`.
Reader read_fuse_look(WordReader& words, const Circuit& circuit, PartId part) {
    LookReading reading{{circuit.part(part).name}, {}};
    if (const auto said = find_saying(words, 0, fuse_sayings()); said && said->word == "good") {
        take_saying(words, fuse_sayings());
        reading.words.emplace_back("whole");
        return reading;
    }
    if (words.at_end())
        return problem(ProblemCode::missing_word, words, nullptr, "how the fuse looks is missing",
                       "write whole, burst, slumped or hairline");
    return take_look_words(words, reading.words) ? Reader(std::move(reading)) : std::nullopt;
}

/// `M1 turns freely`, `M1 stiff by hand`: how a motor turns by hand, as a word of a look.
std::string_view take_turned_by_hand(WordReader& words) {
    const std::string_view said = take_saying(words, by_hand_sayings()).value();
    if (words.take_if("by")) words.take_if("hand");
    return said;
}

Reader read_relay(WordReader& words, const Circuit& circuit) {
    const Word* first = words.peek();
    if (same_word(first->text, "relay") && !is_exact_name(circuit, first->text)) words.take();
    const Word* word = words.peek();
    if (says_which_is_missing(words, circuit, relay_sayings(), "relay",
                              [](const Part& p) { return p.relay.has_value(); }))
        return std::nullopt;
    if (word && word != first && !find_place(circuit, word->text) && words.rest().size() == 1) {
        // `relay chatters`: no name, and no word of a relay.
        take_word_of(words, relay_sayings(), "a relay");
        return std::nullopt;
    }
    const PartId part = take_part(words, circuit, "relay");
    auto heard = take_word_of(words, relay_sayings(), "a relay");
    if (!part.valid() || !heard) return std::nullopt;
    if (!circuit.part(part).relay) {
        return problem(ProblemCode::does_not_fit, words, word, "'" + word->text + "' is no relay",
                       "for a switch or load, say what it does in volts or words");
    }
    return RelayReading{{part}, std::move(*heard)};
}

/// The number on a fuse: `rating 20A`, `is a 20A`.
Reader read_rating(WordReader& words, PartId part) {
    words.take_if("is");
    if (!words.take_if("a")) words.take_if("an");
    words.take_if("rating");
    const SourcePlace place = words.place();
    auto value = take_value_in(words, Unit::ampere, "20A");
    if (!value || !part.valid()) return std::nullopt;
    const FigureBounds& bounds = figure_bounds("reading", "fuse rating", Unit::ampere);
    for (const double amps : {value->low, value->high}) {
        const auto wrong = outside_bounds(bounds, amps, value->text, "20A");
        if (!wrong) continue;
        words.problems().error(ProblemCode::figure_out_of_range, place, wrong->message, wrong->suggestion);
        return std::nullopt;
    }
    return RatingReading{{part}, std::move(*value)};
}

Reader read_fuse(WordReader& words, const Circuit& circuit) {
    const std::string first = lower(words.peek()->text);
    if (first == "fuse" || first == "breaker" || first == "link") words.take();
    const Word* word = words.peek();
    if (says_which_is_missing(words, circuit, fuse_sayings(), "fuse", [](const Part& p) { return p.fuse.has_value(); }))
        return std::nullopt;
    const PartId part = take_part(words, circuit, "fuse");
    if (part.valid() && !circuit.part(part).fuse) {
        return problem(ProblemCode::does_not_fit, words, word,
                       "'" + word->text + "' is neither a fuse, a breaker nor a link",
                       "name the fuse, for example fuse F7 good");
    }
    if (says_rating(words)) return read_rating(words, part);
    if (part.valid() && (words.take_if("looks") || words.take_if("look"))) return read_fuse_look(words, circuit, part);
    auto state = take_word_of(words, fuse_sayings(), "a fuse");
    if (!part.valid() || !state) return std::nullopt;
    FuseReading reading{{part}, *state == "tripped" ? "blown" : std::move(*state), std::nullopt, std::nullopt};
    if (!take_fuse_circumstances(words, circuit, reading)) return std::nullopt;
    return reading;
}

/// How a load goes, in the words of its kind or those that all loads share.
static std::optional<std::string> take_running_word(WordReader& words, const Circuit& circuit, PartId load) {
    const LoadKind kind = load.valid() ? load_kind_of(circuit.part(load)) : LoadKind::none;
    return take_word_of(words, load_sayings(kind), kind == LoadKind::lamp ? "a lamp" : "a load");
}

/// `blower motor slow`: a second word for the same thing says nothing more.
static void skip_second_name(WordReader& words, const Circuit& circuit, LoadKind kind) {
    const Word* word = words.peek();
    if (word && is_load_word(circuit, word->text) && !find_saying(words, 0, load_sayings(kind))) words.take();
}

Reader read_load(WordReader& words, const Circuit& circuit) {
    const Word* word = words.peek();
    PartId part = circuit.find_part(word->text);
    MeantLoad meant{part, {}};
    if (!part.valid()) meant = find_load(circuit, word->text);
    words.take();
    const LoadKind of = meant.part.valid() ? load_kind_of(circuit.part(meant.part)) : LoadKind::none;
    if (!part.valid()) skip_second_name(words, circuit, of);
    // `stuck on` runs, `stuck` alone does not turn.
    const auto turned = find_saying(words, 0, by_hand_sayings());
    const auto runs = find_saying(words, 0, load_sayings(of));
    const bool hand = of == LoadKind::motor && turned && turned->words >= (runs ? runs->words : 0);
    const std::string_view by_hand = hand ? take_turned_by_hand(words) : std::string_view{};
    auto running = by_hand.empty() ? take_running_word(words, circuit, meant.part) : std::string(by_hand);
    if (!running) return std::nullopt;
    std::vector<std::string> names;
    for (const PartId load : meant.candidates.empty() ? loads_of(circuit) : meant.candidates) {
        const LoadKind sort = load_kind_of(circuit.part(load));
        names.push_back(circuit.part(load).name + " " + std::string(load_word_said(sort, *running)));
    }
    const std::string advice = names.empty() ? "" : "write " + list_words(names);
    if (!meant.part.valid()) {
        const bool several = meant.candidates.size() > 1;
        return problem(
            ProblemCode::unknown_load, words, word,
            several ? "'" + word->text + "' may be more than one load" : "no load here is a '" + word->text + "'",
            advice);
    }
    if (!circuit.part(meant.part).load_branch.valid()) {
        return problem(ProblemCode::unknown_load, words, word, "'" + word->text + "' is no load that runs or lights",
                       advice);
    }
    if (!by_hand.empty()) return LookReading{{circuit.part(meant.part).name}, {std::move(*running)}};
    return LoadReading{{meant.part, part.valid() ? "" : lower(word->text)}, std::move(*running)};
}

Reader read_heat(WordReader& words, const Circuit& circuit) {
    auto place = take_place(words, circuit, "");
    const bool rise = !same_word(words.take().text, "temp");
    if (const auto felt = rise && place ? take_saying(words, warmth_sayings()) : std::nullopt)
        return HeatReading{{std::move(*place), rise}, rise_felt(*felt)};
    auto value = take_value_in(words, Unit::celsius, "60C", rise ? Scale::difference : Scale::absolute);
    if (!place || !value) return std::nullopt;
    return HeatReading{{std::move(*place), rise}, std::move(*value)};
}

Reader read_hotter(WordReader& words, const Circuit& circuit) {
    auto hotter = take_place(words, circuit, "");
    words.take();
    words.take_if("than");
    auto colder = take_place(words, circuit, "hotter");
    auto value = take_value_in(words, Unit::celsius, "25C", Scale::difference);
    if (!hotter || !colder || !value) return std::nullopt;
    return HotterReading{{std::move(*hotter), std::move(*colder)}, std::move(*value)};
}

}  // namespace voltfall
