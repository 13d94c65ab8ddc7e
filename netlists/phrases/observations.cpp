// What a person sees, hears, feels or smells.
#include <algorithm>
#include <array>

#include "netlists/parts/kind.hpp"
#include "netlists/phrases/loads.hpp"
#include "netlists/phrases/measurement.hpp"
#include "netlists/phrases/places.hpp"
#include "netlists/phrases/state_words.hpp"
#include "netlists/phrases/values.hpp"
#include "netlists/tables/figure_bounds.hpp"
#include "netlists/text/problem_code.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

using Reader = std::optional<Measurement>;
using WordList = std::span<const std::string_view>;

constexpr std::array<std::string_view, 9> running_words{"dead", "slow", "normal",  "fast",   "runs",
                                                        "weak", "hums", "squeals", "erratic"};
constexpr std::array<std::string_view, 4> relay_words{"clicks", "silent", "pulled", "released"};
constexpr std::array<std::string_view, 4> fuse_words{"good", "blown", "sometimes-blown", "tripped"};

/// What `look` knows: the words that the fault modes carry, and other ways to say them.
constexpr std::array<std::string_view, 20> look_words{
    "melted", "burnt",    "crust", "rubbed",  "wet",   "loose", "debris",     "cracked", "burst",        "slumped",
    "whole",  "hairline", "rust",  "missing", "blown", "clean", "pushed-out", "stiff",   "turns-freely", "stuck"};
constexpr std::array<std::pair<std::string_view, std::string_view>, 31> look_synonyms{
    {{"intact", "whole"},   {"seized", "stuck"},    {"jammed", "stuck"},      {"melting", "melted"},
     {"molten", "melted"},  {"burned", "burnt"},    {"burn", "burnt"},        {"charred", "burnt"},
     {"scorched", "burnt"}, {"brown", "burnt"},     {"discoloured", "burnt"}, {"discolored", "burnt"},
     {"corroded", "crust"}, {"corrosion", "crust"}, {"verdigris", "crust"},   {"chafed", "rubbed"},
     {"bare", "rubbed"},    {"damp", "wet"},        {"water", "wet"},         {"leaves", "debris"},
     {"dirt", "debris"},    {"dust", "debris"},     {"nest", "debris"},       {"broken", "cracked"},
     {"crack", "cracked"},  {"rusty", "rust"},      {"rusted", "rust"},       {"good", "clean"},
     {"ok", "clean"},       {"fine", "clean"},      {"spread", "loose"}}};
/// Words that only colour another one: kept as they are.
constexpr std::array<std::string_view, 12> colour_words{"green", "white",  "black", "blue", "dark",     "a",
                                                        "bit",   "little", "very",  "and",  "slightly", "with"};

bool among(WordList known, std::string_view word) {
    return std::any_of(known.begin(), known.end(), [&](std::string_view w) { return same_word(w, word); });
}

std::vector<std::string> as_strings(WordList words) {
    return {words.begin(), words.end()};
}

Reader problem(ProblemCode code, WordReader& words, const Word* word, std::string message, std::string suggestion) {
    words.problems().error(code, words.place(word), std::move(message), std::move(suggestion));
    return std::nullopt;
}

std::string known_look(std::string_view word) {
    if (among(look_words, word)) return lower(word);
    for (const auto& [other, meant] : look_synonyms) {
        if (same_word(other, word)) return std::string(meant);
    }
    return {};
}

/// Words of a look: known ones, colours and quoted text; anything else is a problem.
bool take_look_words(WordReader& words, std::vector<std::string>& seen) {
    bool understood = true;
    while (const Word* word = words.peek()) {
        words.take();
        if (word->quoted || among(colour_words, word->text)) {
            seen.push_back(word->quoted ? word->text : lower(word->text));
            continue;
        }
        std::string known = known_look(word->text);
        if (known.empty()) {
            const auto list = as_strings(look_words);
            std::string advice = did_you_mean(word->text, list);
            if (advice.empty()) advice = "write " + list_words(list) + ", or put your own words in quotes";
            problem(ProblemCode::unknown_word, words, word, "'" + word->text + "' is no word that a look knows",
                    advice);
            understood = false;
            continue;
        }
        if (std::find(seen.begin(), seen.end(), known) == seen.end()) seen.push_back(std::move(known));
    }
    return understood;
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

bool is_running_word(std::string_view word) {
    return among(running_words, word);
}
bool is_relay_word(std::string_view word) {
    return among(relay_words, word);
}
bool is_fuse_word(std::string_view word) {
    return among(fuse_words, word);
}

std::optional<std::string> take_word_of(WordReader& words, WordList known, std::string_view of) {
    const Word* word = words.peek();
    const auto list = as_strings(known);
    if (!word) {
        problem(ProblemCode::missing_word, words, nullptr, "the word of " + std::string(of) + " is missing",
                "write " + list_words(list));
        return std::nullopt;
    }
    words.take();
    if (among(known, word->text)) return lower(word->text);
    std::string advice = did_you_mean(word->text, list);
    problem(ProblemCode::unknown_word, words, word,
            "'" + word->text + "' is no word of " + std::string(of) + ": " + list_words(list),
            advice.empty() ? "write " + list_words(list) : advice);
    return std::nullopt;
}

std::optional<std::string> take_place(WordReader& words, const Circuit& circuit, std::string_view after) {
    const Word* word = words.peek();
    if (!word) {
        problem(ProblemCode::missing_word, words, nullptr, "the place after '" + std::string(after) + "' is missing",
                "for example " + std::string(after) + " C101.4");
        return std::nullopt;
    }
    words.take();
    auto place = find_place(circuit, word->text);
    if (!place) {
        problem(ProblemCode::unknown_place, words, word, "nothing is called '" + word->text + "'",
                did_you_mean(word->text, place_names(circuit)));
    }
    return place;
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
                known ? "name the part itself" : did_you_mean(word->text, names));
    }
    return part;
}

Reader read_look(WordReader& words, const Circuit& circuit) {
    words.take();
    auto place = take_place(words, circuit, "look");
    if (place && words.at_end()) {
        return problem(ProblemCode::missing_word, words, nullptr, "what was seen at '" + *place + "' is missing",
                       "write " + list_words(as_strings(look_words)));
    }
    LookReading reading{{place.value_or("")}, {}};
    const bool understood = take_look_words(words, reading.words);
    return place && understood ? Reader(std::move(reading)) : std::nullopt;
}

bool is_look_word(std::string_view word) {
    return !known_look(word).empty();
}

Reader read_smell(WordReader& words, const Circuit& circuit) {
    const std::string word = lower(words.take().text);
    words.take_if("at");
    auto place = take_place(words, circuit, word);
    return place ? Reader(SmellReading{{std::move(*place)}, word}) : std::nullopt;
}

Reader read_air(WordReader& words) {
    words.take();
    static constexpr std::array<std::string_view, 3> known{"none", "weak", "normal"};
    auto word = take_word_of(words, known, "air");
    return word ? Reader(AirReading{{}, std::move(*word)}) : std::nullopt;
}

Reader read_pin_drag(WordReader& words, const Circuit& circuit) {
    words.take();
    auto place = take_place(words, circuit, "pin");
    if (!words.take_if("drag")) {
        return problem(ProblemCode::missing_word, words, words.peek(), "'drag' is missing",
                       "for example pin C303.4 drag light");
    }
    static constexpr std::array<std::string_view, 3> known{"good", "light", "none"};
    auto word = take_word_of(words, known, "a pin's drag");
    return place && word ? Reader(DragReading{{std::move(*place)}, std::move(*word)}) : std::nullopt;
}

Reader read_ripple(WordReader& words, const Circuit& circuit) {
    words.take();
    const PartId part = take_part(words, circuit, "ripple");
    static constexpr std::array<std::string_view, 3> known{"even", "one-low", "gaps"};
    auto word = take_word_of(words, known, "a ripple");
    return part.valid() && word ? Reader(RippleReading{{part}, std::move(*word)}) : std::nullopt;
}

/// `fuse F7 looks whole`: what the eye says of an element, which a meter may say otherwise. Taken behind `looks`.
Reader read_fuse_look(WordReader& words, const Circuit& circuit, PartId part) {
    constexpr std::array<std::string_view, 5> means_whole{"whole", "good", "ok", "fine", "clean"};
    LookReading reading{{circuit.part(part).name}, {}};
    if (const Word* said = words.peek(); said && among(means_whole, said->text)) {
        words.take();
        reading.words.emplace_back("whole");
        return reading;
    }
    if (words.at_end())
        return problem(ProblemCode::missing_word, words, nullptr, "how the fuse looks is missing",
                       "write whole, burst, slumped or hairline");
    return take_look_words(words, reading.words) ? Reader(std::move(reading)) : std::nullopt;
}

/// `M1 turns freely`, `M1 stiff by hand`: how a motor turns by hand, as a word of a look; empty for anything else.
std::string_view take_turned_by_hand(WordReader& words) {
    const bool turns = words.take_if("turns") || words.take_if("spins") || words.take_if("turned");
    std::string_view word;
    constexpr std::array<std::pair<std::string_view, std::string_view>, 10> known{{{"freely", "turns-freely"},
                                                                                   {"free", "turns-freely"},
                                                                                   {"easily", "turns-freely"},
                                                                                   {"stiff", "stiff"},
                                                                                   {"stiffly", "stiff"},
                                                                                   {"hard", "stiff"},
                                                                                   {"rough", "stiff"},
                                                                                   {"stuck", "stuck"},
                                                                                   {"seized", "stuck"},
                                                                                   {"jammed", "stuck"}}};
    for (const auto& [typed, meant] : known) {
        if (word.empty() && words.take_if(typed)) word = meant;
    }
    if (word.empty() && turns) word = "turns-freely";  // `turns by hand`
    if (!word.empty() && words.take_if("by")) words.take_if("hand");
    return word;
}

Reader read_relay(WordReader& words, const Circuit& circuit) {
    const Word* first = words.peek();
    if (same_word(first->text, "relay") && !is_exact_name(circuit, first->text)) words.take();
    const Word* word = words.peek();
    const PartId part = take_part(words, circuit, "relay");
    auto heard = take_word_of(words, relay_words, "a relay");
    if (!part.valid() || !heard) return std::nullopt;
    if (!circuit.part(part).relay) {
        return problem(ProblemCode::does_not_fit, words, word, "'" + word->text + "' is no relay",
                       "for a switch or load, say what it does in volts or words");
    }
    return RelayReading{{part}, std::move(*heard)};
}

/// The number on a fuse: `rating 20A`, `is a 20A`.
Reader read_rating(WordReader& words, PartId part) {
    const bool is = words.take_if("is");
    if (is && !words.take_if("a")) words.take_if("an");
    if (!is) words.take_if("rating");
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
    const PartId part = take_part(words, circuit, "fuse");
    if (part.valid() && !circuit.part(part).fuse) {
        return problem(ProblemCode::does_not_fit, words, word,
                       "'" + word->text + "' is neither a fuse, a breaker nor a link",
                       "name the fuse, for example fuse F7 good");
    }
    if (const Word* what = words.peek(); what && (same_word(what->text, "rating") || same_word(what->text, "is")))
        return read_rating(words, part);
    if (part.valid() && (words.take_if("looks") || words.take_if("look"))) return read_fuse_look(words, circuit, part);
    constexpr std::array<std::string_view, 4> means_good{"ok", "intact", "whole", "holds"};
    std::optional<std::string> state;
    if (const Word* said = words.peek(); said && among(means_good, said->text)) {
        words.take();
        state = "good";
    } else {
        state = take_word_of(words, fuse_words, "a fuse");
    }
    if (!part.valid() || !state) return std::nullopt;
    FuseReading reading{{part}, *state == "tripped" ? "blown" : std::move(*state), std::nullopt, std::nullopt};
    if (!take_fuse_circumstances(words, circuit, reading)) return std::nullopt;
    return reading;
}

/// How a load goes, in the words of its kind or those that all loads share.
static std::optional<std::string> take_running_word(WordReader& words, const Circuit& circuit, PartId load) {
    const Word* word = words.peek();
    const Kind* kind = load.valid() ? circuit.part(load).kind : nullptr;
    const std::string_view meant = word && kind ? load_word_meant(kind->load, word->text) : std::string_view{};
    if (meant.empty()) return take_word_of(words, running_words, "a load");
    words.take();
    return std::string(meant);
}

Reader read_load(WordReader& words, const Circuit& circuit) {
    const Word* word = words.peek();
    PartId part = circuit.find_part(word->text);
    MeantLoad meant{part, {}};
    if (!part.valid()) meant = find_load(circuit, word->text);
    words.take();
    const std::string_view by_hand = take_turned_by_hand(words);
    auto running = by_hand.empty() ? take_running_word(words, circuit, meant.part) : std::string(by_hand);
    if (!running) return std::nullopt;
    std::vector<std::string> names;
    for (const PartId load : meant.candidates.empty() ? loads_of(circuit) : meant.candidates) {
        const Kind* kind = circuit.part(load).kind;
        const LoadKind sort = kind ? kind->load : LoadKind::none;
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
    const bool rise = same_word(words.take().text, "rise");
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
