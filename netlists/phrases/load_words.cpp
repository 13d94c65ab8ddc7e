#include "netlists/phrases/load_words.hpp"

#include <algorithm>
#include <array>

#include "netlists/parts/kind.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

/// A load that stands under current may be heard.
constexpr double hums_when_powered = 0.25;

/// One row a word; a kind's own ways to say one stand in its own table. Dead and running are almost never taken for
/// each other, slow and normal often. What is faint is overlooked in daylight, and otherwise told as what it is.
constexpr LoadWord words[]{
    // said of a load that is: dead, slow, normal, fast, runs unwanted, faint; when powered, when it rubs, when only
    // sometimes
    {"dead",
     WordSort::amount,
     Tells::nothing_sure,
     {0.84, 0.04, 0.003, 0.001, 0.002, 0.15, 0.84 - hums_when_powered},
     "off|out|stopped|stops|stands|stands still|standing still|nothing|does nothing|inoperative|does not run|does not "
     "turn|does not work|does not start|does not come on|does not spin|does not move|doesn't run|doesn't turn|doesn't "
     "work|doesn't start|doesn't come on|not running|not turning|not working|not on|will not run|will not start|won't "
     "run|won't start|won't work|won't turn|never runs|never works|never comes on|never came on|never starts|never "
     "turns|dies|died|quits|cuts off|stops working|stopped "
     "working|quit|quit working|has quit|shuts off|shuts down|gives up|inop|cut out|not operating|does not "
     "operate|doesn't operate|won't operate|turns off|switches off|not coming on|will not come "
     "on|won't "
     "come on|don't work|do not work|don't run|do not run|not starting|not spinning|doesn't spin|will not turn|will "
     "not work"},
    {"slow",
     WordSort::amount,
     Tells::that_it_runs,
     {0.02, 0.52, 0.030, 0.005, 0.050, 0.03},
     "slowly|slower|slows|slows down|slowing down|slows to a crawl|slows to crawl|crawls|sluggish|lazy|drags|runs "
     "slow|runs slowly|runs slower|turns "
     "slow|turns slowly|running slow|running "
     "slowly|spins slowly|barely runs|barely works|barely spins|barely blows|hardly runs|hardly works|hardly "
     "spins|hardly turns|hardly blows"},
    {"normal",
     WordSort::amount,
     Tells::that_it_runs,
     {0.003, 0.05, 0.620, 0.280, 0.150, 0.01},
     "normally|works|work|run|works normally|works fine|works well|works again|runs again|runs normal|runs "
     "normally|runs "
     "fine|runs well|runs good|runs "
     "ok|back to normal|good as new|full speed|at full speed"},
    {"fast",
     WordSort::amount,
     Tells::that_it_runs,
     {0.001, 0.003, 0.030, 0.500, 0.050, 0.01},
     "faster|races|racing|runs fast|runs faster|too fast|turns fast|over speed"},
    {"runs",
     WordSort::amount,
     Tells::that_it_runs,
     {0.002, 0.05, 0.220, 0.150, 0.660, 0.15},
     "on|running|turns|turning|spins|spinning|runs on|keeps running|keep running|never stops|does not stop|doesn't "
     "stop|will not "
     "stop|won't stop|stays on|keeps going|does not go off|won't turn off|will not turn off|comes on|came "
     "on|starts|started|starts up|kicks in|kicked in|comes back|comes back on|comes to life|wakes "
     "up|blows|blowing|still blowing|stuck on|stuck running|won't shut off|will not shut off|does not "
     "shut off|doesn't shut off|won't go off|will not go off|can't be turned off|cannot be turned off"},
    {"weak",
     WordSort::amount,
     Tells::that_it_runs,
     {0.04, 0.25, 0.030, 0.010, 0.020, 0.05},
     "weakly|weaker|feeble|poor|faint|low power|runs weak|runs weakly|works poorly"},
    {"hums",
     WordSort::manner,
     Tells::nothing_sure,
     {0.02, 0.02, 0.010, 0.005, 0.005, 0.02, hums_when_powered},
     "hum|humming|buzzes|buzzing"},
    {"squeals",
     WordSort::manner,
     Tells::that_it_runs,
     {0.003, 0.01, 0.010, 0.010, 0.005, 0.01, 0, 0.15},
     "squeal|squealing|squeaks|squeaking|screeches|whines|grinds|grinding|noisy|makes noise|making noise|making a "
     "noise|makes a "
     "noise|rattles|rumbles|growls|chirps|chirping|scrapes|scraping|rattling|rumbling|growling|whining|screeching|"
     "howls|howling|vibrates|vibrating"},
    {"erratic",
     WordSort::manner,
     Tells::nothing_sure,
     {0.03, 0.05, 0.030, 0.030, 0.025, 0.03, 0, 0, 0.35},
     "intermittent|intermittently|sometimes|on and off|cuts out|cut in and out|comes and goes|works "
     "sometimes|sometimes "
     "works|sometimes dead|stutters|surges|surging|hunts|hunting|in and out|cuts in and out|comes on and goes "
     "off|comes on and off|goes on and off|turns on and off|fades in and out"},
    {"glows",
     WordSort::amount,
     Tells::nothing_sure,
     {0.005, 0.005, 0.002, 0.001, 0.030, 0.50},
     "creeps|creeping|turns a little|turns very slowly|moves a little|barely turns|just turns"},
};
constexpr std::size_t word_count = std::size(words);
/// Says normal or dead, by what is expected there: it has no chances of its own.
constexpr Saying as_expected{"ok", "okay|fine|good|all right|alright|as it should|as usual|as always"};

constexpr bool is_kept(std::string_view word) {
    return word == as_expected.word ||
           std::any_of(std::begin(words), std::end(words), [&](const LoadWord& row) { return row.word == word; });
}
constexpr bool has_chances(const SaidOf& said) {
    return std::min({said.dead, said.slow, said.normal, said.fast, said.runs, said.faint}) > 0;
}
/// Of all words one is said, so that their chances for one class sum to 1 at the most.
constexpr bool shares_of_one(double SaidOf::*of_class) {
    double sum = 0;
    for (const LoadWord& row : words) sum += row.said_of.*of_class;
    return sum <= 1 + 1e-9;
}
static_assert(std::all_of(std::begin(words), std::end(words),
                          [](const LoadWord& row) { return has_chances(row.said_of); }),
              "a word of a load lacks a chance to be said of some class");
static_assert(std::all_of(std::begin(words), std::end(words), [](const LoadWord& row) { return !row.also.empty(); }),
              "a word of a load lacks the other ways to say it");
static_assert(std::all_of(std::begin(words), std::end(words),
                          [](const LoadWord& row) {
                              return std::count_if(std::begin(words), std::end(words),
                                                   [&](const LoadWord& other) { return other.word == row.word; }) == 1;
                          }),
              "a word of a load has two rows");
static_assert(shares_of_one(&SaidOf::dead) && shares_of_one(&SaidOf::slow) && shares_of_one(&SaidOf::normal) &&
                  shares_of_one(&SaidOf::fast) && shares_of_one(&SaidOf::runs) && shares_of_one(&SaidOf::faint),
              "the words of a load are said more often than once: a new one takes its share from the others");

constexpr std::array<Saying, 6> of_lamp{{
    {"dead",
     "out|dark|off|unlit|not lit|not on|does not light|doesn't light|does not come on|doesn't come on|not coming "
     "on|will not come on|won't come on|will not light|no light|goes out|turns off"},
    {"weak", "dim|dimly|dimmer|yellow|orange|lit dimly|lights dimly|lit weakly|burns dim|half bright"},
    {"normal", "lit|on|lights|lights up|burns|shines|runs|stays on|stays lit|comes on|never goes out|does not go out"},
    {"fast", "bright|brighter|brightly|over-bright|dazzling|very bright"},
    {"erratic", "flickers|flickering|flashes|blinks"},
    {"glows", "glow|glowing|glimmers|glows faintly|faintly lit|lit faintly|glows dimly|glows a little"},
}};

constexpr std::array<Saying, 3> of_clutch{{
    {"dead",
     "does not engage|doesn't engage|not engaging|never engages|does not pull in|doesn't pull in|does not pull|no "
     "click|does "
     "not click|doesn't click|will not engage|won't engage|does not kick in|doesn't kick in|not kicking in|won't kick "
     "in|never kicks in|does not "
     "cut in|doesn't cut in"},
    {"normal", "engages|engaged|engages fully|pulls in|pulls|pulled in|clicks|clicks in|click|kicks in|cuts in"},
    {"weak", "slips|slipping|drags"},
}};

/// A kind's own word for what is kept.
struct OwnWord {
    std::string_view kept;
    std::string_view said;
};
constexpr std::array<OwnWord, 5> said_of_lamp{
    {{"dead", "out"}, {"weak", "dim"}, {"normal", "lit"}, {"fast", "bright"}, {"runs", "lit"}}};
constexpr std::array<OwnWord, 1> said_of_others{{{"glows", "creeps"}}};

std::span<const OwnWord> own_words(LoadKind kind) {
    if (kind == LoadKind::lamp) return said_of_lamp;
    return said_of_others;
}

/// A kind's own ways stand first, so that they win over what all loads share.
template <std::size_t count>
constexpr auto before_all(const std::array<Saying, count>& own) {
    std::array<Saying, count + word_count + 1> all{};
    std::size_t at = 0;
    for (const Saying& saying : own) all[at++] = saying;
    for (const LoadWord& row : words) all[at++] = {row.word, row.also};
    all[at] = as_expected;
    return all;
}
constexpr auto of_all = before_all(std::array<Saying, 0>{});
constexpr auto of_lamp_and_all = before_all(of_lamp);
constexpr auto of_clutch_and_all = before_all(of_clutch);

/// Words that a person may find for such a load, most usual first.
constexpr std::array<std::string_view, 5> usual_of_motor{"dead", "slow", "normal", "fast", "runs"};
constexpr std::array<std::string_view, 5> usual_of_lamp{"dead", "weak", "normal", "fast", "glows"};
constexpr std::array<std::string_view, 4> usual_of_others{"dead", "weak", "normal", "runs"};

constexpr bool all_kept(const auto& list) {
    return std::all_of(list.begin(), list.end(), [](const auto& row) {
        if constexpr (requires { row.word; })
            return is_kept(row.word);
        else if constexpr (requires { row.kept; })
            return is_kept(row.kept);
        else
            return is_kept(row);
    });
}
static_assert(all_kept(of_lamp) && all_kept(of_clutch) && all_kept(said_of_lamp) && all_kept(said_of_others) &&
                  all_kept(usual_of_motor) && all_kept(usual_of_lamp) && all_kept(usual_of_others),
              "a kind of load has a word that has no row among the words of a load");

}  // namespace

LoadKind load_kind_of(const Part& part) {
    return part.kind ? part.kind->load : LoadKind::none;
}

Sayings load_sayings(LoadKind kind) {
    if (kind == LoadKind::lamp) return of_lamp_and_all;
    if (kind == LoadKind::clutch) return of_clutch_and_all;
    return of_all;
}

std::string_view load_word_said(LoadKind kind, std::string_view word) {
    for (const auto& [kept, said] : own_words(kind)) {
        if (kept == word) return said;
    }
    return word;
}

std::string_view load_word_here(LoadKind kind, std::string_view word, bool should_work) {
    if (word == "ok") return should_work ? "normal" : "dead";
    if (should_work) return word;
    if (word == "weak" || word == "slow") return "glows";
    if (word == "normal") return kind == LoadKind::lamp ? "runs" : "dead";
    return word;
}

std::span<const std::string_view> load_words_of(LoadKind kind) {
    switch (kind) {
        case LoadKind::motor:
            return usual_of_motor;
        case LoadKind::lamp:
            return usual_of_lamp;
        case LoadKind::clutch:
        case LoadKind::heater:
        case LoadKind::none:
            break;
    }
    return usual_of_others;
}

std::span<const LoadWord> load_word_table() {
    return words;
}

const LoadWord* find_load_word(std::string_view word) {
    const auto row =
        std::find_if(std::begin(words), std::end(words), [&](const LoadWord& one) { return one.word == word; });
    return row == std::end(words) ? nullptr : row;
}

}  // namespace voltfall
