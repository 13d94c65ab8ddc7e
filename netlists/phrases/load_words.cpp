#include "netlists/phrases/load_words.hpp"

#include <array>

#include "netlists/parts/kind.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

/// What every load shares; a kind's own way to say it stands in its own table.
constexpr std::array<Saying, 11> of_all{{
    {"dead",
     "off|out|stopped|stops|stands|stands still|standing still|nothing|does nothing|inoperative|does not run|does not "
     "turn|does not work|does not start|does not come on|does not spin|does not move|doesn't run|doesn't turn|doesn't "
     "work|doesn't start|doesn't come on|not running|not turning|not working|not on|will not run|will not start|won't "
     "run|won't start|won't work|won't turn|never runs|never works|dies|died|quits|cuts off|stops working|stopped "
     "working|quit|quit working|has quit|shuts off|shuts down|gives "
     "up"},
    {"slow",
     "slowly|slower|sluggish|lazy|drags|runs slow|runs slowly|runs slower|turns slow|turns slowly|running slow|"
     "running slowly|spins slowly"},
    {"normal",
     "normally|works|works normally|works fine|works well|runs normal|runs normally|runs fine|runs well|runs "
     "good|runs ok|full speed|at full speed"},
    {"fast", "faster|races|racing|runs fast|runs faster|too fast|turns fast|over speed"},
    {"runs",
     "on|running|turns|turning|spins|spinning|runs on|keeps running|never stops|does not stop|doesn't stop|will "
     "not stop|won't stop|stays on|keeps going|does not go off|won't turn off|will not turn off|comes on|came "
     "on|starts|started|starts up|kicks in|kicked in|stuck on|stuck "
     "running|won't shut off|will not shut off|does not shut off|doesn't shut off|won't go off|will not go off|can't "
     "be "
     "turned off|cannot be turned off"},
    {"weak", "weakly|weaker|feeble|poor|faint|low power|runs weak|runs weakly|works poorly"},
    {"hums", "hum|humming|buzzes|buzzing"},
    {"squeals",
     "squeal|squealing|squeaks|squeaking|screeches|whines|grinds|grinding|noisy|makes noise|makes a noise|rattles|"
     "rumbles|growls|chirps|scrapes"},
    {"erratic",
     "intermittent|intermittently|sometimes|on and off|cuts out|comes and goes|works sometimes|sometimes "
     "works|sometimes dead|stutters|surges|hunts|in and out"},
    {"glows", "creeps|creeping|turns a little|turns very slowly|moves a little|barely turns|just turns"},
    {"ok", "okay|fine|good|all right|alright|as it should|as usual|as always"},
}};
constexpr std::array<Saying, 6> of_lamp{{
    {"dead", "out|dark|off|unlit|not lit|not on|does not light|doesn't light|does not come on|will not light|no light"},
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
    std::array<Saying, count + of_all.size()> all{};
    std::size_t at = 0;
    for (const Saying& saying : own) all[at++] = saying;
    for (const Saying& saying : of_all) all[at++] = saying;
    return all;
}
constexpr auto of_lamp_and_all = before_all(of_lamp);
constexpr auto of_clutch_and_all = before_all(of_clutch);

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
    static constexpr std::array<std::string_view, 5> motor{"dead", "slow", "normal", "fast", "runs"};
    static constexpr std::array<std::string_view, 5> lamp{"dead", "weak", "normal", "fast", "glows"};
    static constexpr std::array<std::string_view, 4> other{"dead", "weak", "normal", "runs"};
    switch (kind) {
        case LoadKind::motor:
            return motor;
        case LoadKind::lamp:
            return lamp;
        case LoadKind::clutch:
        case LoadKind::heater:
        case LoadKind::none:
            break;
    }
    return other;
}

}  // namespace voltfall
