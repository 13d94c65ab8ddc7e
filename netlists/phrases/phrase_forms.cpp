#include "netlists/phrases/phrase_forms.hpp"

#include <algorithm>
#include <array>
#include <map>

#include "netlists/parts/kind.hpp"
#include "netlists/phrases/load_words.hpp"
#include "netlists/phrases/loads.hpp"
#include "netlists/phrases/places.hpp"
#include "netlists/phrases/state_phrase.hpp"
#include "netlists/phrases/vocabulary.hpp"

namespace voltfall {

namespace {

constexpr std::array<PhraseForm, 21> readings{{
    {"{point} to {minus} 10.3V; {point} 10.3V; {point} {live words}", "volts (>10V, ~12V)", ""},
    {"{point} to ? 10.3V; across {joint} 0.12V", "volts, a drop", "across"},
    {"clamp {wire} 12.1A; clamp {wire} inrush 78A; clamp {wire} swings 3-9A", "amperes", "clamp inrush swings"},
    {"lamp {point} to {minus} {test lamp words}", "a test lamp", "lamp"},
    {"unplug {plug}  {pin} to {pin2} 2.25ohm", "ohms, or open", ""},
    {"unplug {plug}  beep {pin} to {pin2} {beep words}", "a buzzer", "beep"},
    {"{load} {load words}", "what a load does", ""},
    {"air {air words}", "at the vents", "air"},
    {"relay {relay} {relay words}", "by ear or finger", "relay"},
    {"fuse {fuse} {fuse words}", "breaker, link too", "fuse breaker link"},
    {"fuse {fuse} blown at {position} after 2min; fuse {fuse} rating 20A", "when; its number", ""},
    {"{part} good", "tested elsewhere", ""},
    {"look {joint} {look words}", "what is seen", "look"},
    {"{motor} {by hand words}", "turned by hand", ""},
    {"smell {joint}; smoke {joint}; {joint} temp 90C", "nose and hand", "smell smoke"},
    {"{joint} rise {warmth words}; {joint} rise 60C", "felt; over the air", ""},
    {"pin {cavity} drag {drag words}", "a test pin's hold", "pin"},
    {"ripple {motor} {ripple words}", "its current", "ripple"},
    {"command {module} 2.3V", "at a control input", "command"},
    {"{gas} pressure 0.3bar", "at a contact", "gas"},
    {"bus {bus wire} {bus words}", "mean volts", "bus"},
}};

constexpr std::array<PhraseForm, 18> states{{
    {"{position}", "a control's position", ""},
    {"{contact}=open", "as pressure or heat moves a contact; else it is at work", ""},
    {"key {key words}", "the key; also: ignition on, engine running", "key"},
    {"unplug {plug}", "a connector or a part's plug is off", "unplug"},
    {"pull {fuse}", "a fuse or relay is out", "pull"},
    {"lamp in {fuse}", "a lamp in the fuse's seat", "lamp"},
    {"new {part}", "a part or plug just fitted", "new"},
    {"jumper {point} to {minus}", "a fused lead between two points", "jumper"},
    {"feed {point}", "a fused lead from battery plus", "feed"},
    {"load 55W {point} to {minus}", "a bulb or coil as a load", "load"},
    {"tap {part}; turn {part}", "knocked on; turned by hand", "tap turn"},
    {"heat {joint}; cool {joint}", "warmed or cooled on purpose", "heat cool"},
    {"wiggle {wire}", "moved", "wiggle"},
    {"after 10min", "so long after it was switched on", "after"},
    {"hot|cold|wet|bump", "a condition", "hot cold wet bump"},
    {"\"after the car wash\"", "any other, in quotes", ""},
    {"earlier", "read before something blew or was mended", "earlier"},
    {"sometimes", "it comes and goes", "sometimes"},
}};

constexpr std::array<PhraseForm, 18> faults{{
    {"{wire} open; {wire} resistance 0.3ohm", "a wire broken, or with ohms", ""},
    {"{wire} chafe 20mohm at 60%", "rubbed through to metal there", ""},
    {"{wire} short-to-30", "touches battery plus", ""},
    {"{wire} bridge {wire2} 50mohm", "touches another wire", ""},
    {"{cavity} resistance 0.3ohm; {cavity} open; {cavity} pushed-out", "a contact of a plug", ""},
    {"{fuse} blown; {fuse} missing; {fuse} rating 60A; {fuse} resistance 40mohm", "a fuse", ""},
    {"{pack coil}", "a coil of a pack", ""},
    {"{pack} limiter open", "the limiter of a pack", ""},
    {"{motor} drag 1.4; {motor} seized; {motor} open; {motor} worn-brushes 0.4ohm", "a motor", ""},
    {"{switch} stuck {word}", "a switch", ""},
    {"{relay} coil open; {relay} contact open; {relay} welded", "a relay", ""},
    {"{ground} resistance 0.15ohm; {ground} open", "a ground", ""},
    {"{battery} weak 11.6V; {battery} resistance 60mohm", "a battery", ""},
    {"{lamp} open", "a lamp burnt out", ""},
    {"{clutch} coil open; {clutch} gap 2", "a clutch", ""},
    {"swapped {wire} {wire2}", "two wires in each other's place", ""},
    {"{wire} chafe when hot", "only then; or bump, wet", ""},
    {"{cavity} resistance 40mohm, hot 0.4ohm", "worse when hot", ""},
}};

std::string either(const std::vector<std::string>& words) {
    std::string text;
    for (const std::string& word : words) text += (text.empty() ? "" : "|") + word;
    return text;
}

/// Words to choose from, which no circuit changes.
std::optional<std::string> choice_called(std::string_view name) {
    static const std::map<std::string_view, Sayings> lists{
        {"live words", live_sayings()},     {"test lamp words", test_lamp_sayings()},
        {"beep words", beep_sayings()},     {"air words", air_sayings()},
        {"relay words", relay_sayings()},   {"fuse words", fuse_sayings()},
        {"look words", look_sayings()},     {"drag words", drag_sayings()},
        {"warmth words", warmth_sayings()}, {"ripple words", ripple_sayings()},
        {"bus words", bus_sayings()},       {"key words", key_sayings()},
    };
    if (const auto found = lists.find(name); found != lists.end()) return either(words_of(found->second));
    if (name == "by hand words") return "freely|stiff|stuck";
    return std::nullopt;
}

const Part* first_part(const Circuit& circuit, const auto& is) {
    const auto found = std::find_if(circuit.parts.begin(), circuit.parts.end(), is);
    return found == circuit.parts.end() ? nullptr : &*found;
}

/// What stands for the names in braces, of one circuit.
class Names {
public:
    explicit Names(const Circuit& circuit) : circuit_(circuit) {}

    std::optional<std::string> operator()(std::string_view name) const {
        if (auto choice = choice_called(name)) return choice;
        if (name == "minus") return point(circuit_.reference);
        if (name == "wire") return wire(0);
        if (name == "wire2") return wire(1);
        if (name == "bus wire") return module() ? wire(0) : std::nullopt;
        if (name == "point") return load_point();
        if (name == "position" || name == "word") return position(name == "word");
        if (name == "load") return name_of(load());
        if (name == "load words") return load_words();
        if (name == "cavity" || name == "joint") return cavity(name == "joint");
        if (name == "plug" || name == "pin" || name == "pin2") return plug(name);
        if (name == "pack coil") return pack_coil();
        if (name == "gas") return gas();
        if (name == "contact")
            return name_of(first_part(circuit_, [](const Part& p) { return p.moved_by.has_value(); }));
        if (name == "module") return module();
        return name_of(part_for(name));
    }

private:
    static std::optional<std::string> name_of(const Part* part) {
        return part ? std::optional(part->name) : std::nullopt;
    }
    std::optional<std::string> point(JointId joint) const {
        if (!joint.valid()) return std::nullopt;
        return circuit_.joint(joint).name;
    }
    std::optional<std::string> wire(std::size_t index) const {
        if (index >= circuit_.wires.size()) return std::nullopt;
        return circuit_.wires[index].name;
    }
    const Part* load() const {
        const auto loads = loads_of(circuit_);
        return loads.empty() ? nullptr : &circuit_.part(loads.front());
    }
    std::optional<std::string> load_words() const {
        const Part* part = load();
        if (!part) return std::nullopt;
        const LoadKind kind = load_kind_of(*part);
        std::vector<std::string> words;
        for (const std::string_view word : load_words_of(kind)) words.emplace_back(load_word_said(kind, word));
        return either(words);
    }
    std::optional<std::string> load_point() const {
        const Part* part = load();
        if (!part || part->pins.empty()) return std::nullopt;
        return point(part->pins.begin()->second);
    }
    const Part* part_for(std::string_view name) const {
        if (name == "fuse") return first_part(circuit_, [](const Part& p) { return p.fuse.has_value(); });
        if (name == "relay") return first_part(circuit_, [](const Part& p) { return p.relay.has_value(); });
        if (name == "pack")
            return first_part(circuit_, [](const Part& p) { return !p.coils.empty() && !p.limiters.empty(); });
        if (name == "battery") return first_part(circuit_, [](const Part& p) { return has_duty(p, Duty::battery); });
        if (name == "ground") return first_part(circuit_, [](const Part& p) { return joins(p, Joining::metal); });
        if (name == "motor") return of_load(LoadKind::motor);
        if (name == "lamp") return of_load(LoadKind::lamp);
        if (name == "clutch") return of_load(LoadKind::clutch);
        if (name == "switch")
            return first_part(circuit_,
                              [](const Part& p) { return has_duty(p, Duty::control) && p.positions.size() > 1; });
        if (name == "part")
            return first_part(circuit_, [](const Part& p) {
                return !only_joins(p) && !p.fuse && !has_duty(p, Duty::battery) && p.kind;
            });
        return nullptr;
    }
    const Part* of_load(LoadKind kind) const {
        return first_part(circuit_, [kind](const Part& p) { return p.load_branch.valid() && load_kind_of(p) == kind; });
    }
    std::optional<std::string> position(bool word_alone) const {
        for (const Control& control : circuit_.controls) {
            const Part& part = circuit_.part(control.part);
            if (part.positions.empty() || control.part == circuit_.key) continue;
            if (word_alone) return part.positions.back().name;
            StatePhrase state;
            state.settings = {{control.part, {part.positions.size() - 1}}};
            return write_state(circuit_, state);
        }
        return std::nullopt;
    }
    /// A cavity with two sides; for a joint a fuse does as well.
    std::optional<std::string> cavity(bool or_fuse) const {
        for (const Part& part : circuit_.parts) {
            if (!joins(part, Joining::cavities)) continue;
            const auto cavities = cavities_of(circuit_, part.name);
            if (!cavities.empty()) return cavities.front();
        }
        for (const Part& part : circuit_.parts) {
            const auto cavities = part.plug.empty() ? std::vector<std::string>{} : cavities_of(circuit_, part.plug);
            if (!cavities.empty()) return cavities.front();
        }
        return or_fuse ? name_of(part_for("fuse")) : std::nullopt;
    }
    std::optional<std::string> plug(std::string_view what) const {
        for (const Part& part : circuit_.parts) {
            if (part.plug.empty() || part.pins.size() < 2) continue;
            if (what == "plug") return part.plug;
            return point(what == "pin" ? part.pins.begin()->second : part.pins.rbegin()->second);
        }
        return std::nullopt;
    }
    std::optional<std::string> pack_coil() const {
        const Part* part = first_part(circuit_, [](const Part& p) { return !p.coils.empty(); });
        if (!part) return std::nullopt;
        return part->name + " coil " + part->coils.front().from + "-" + part->coils.front().to + " open";
    }
    std::optional<std::string> gas() const {
        const Part* part =
            first_part(circuit_, [](const Part& p) { return p.moved_by && p.moved_by->unit == Unit::pascal; });
        return part ? std::optional<std::string>("gas") : std::nullopt;
    }
    std::optional<std::string> module() const {
        const Part* part =
            first_part(circuit_, [](const Part& p) { return p.harness.contains("CMD") && p.harness.contains("-"); });
        return name_of(part);
    }

    const Circuit& circuit_;
};

/// The names of an invented circuit, where none is at hand.
std::optional<std::string> example_name(std::string_view name) {
    if (auto choice = choice_called(name)) return choice;
    static const std::map<std::string_view, std::string_view> names{
        {"minus", "B1-"},    {"wire", "542"},    {"wire2", "555"},   {"point", "M1.1"},
        {"position", "hi"},  {"word", "hi"},     {"load", "blower"}, {"cavity", "C101.4"},
        {"joint", "C101.4"}, {"plug", "C303"},   {"pin", "R1.1"},    {"pin2", "R1.4"},
        {"fuse", "F7"},      {"relay", "K3"},    {"pack", "R1"},     {"pack coil", "R1 coil 1-2 open"},
        {"battery", "B1"},   {"ground", "G201"}, {"motor", "M1"},    {"lamp", "L1"},
        {"clutch", "A1"},    {"switch", "S1"},   {"part", "M1"},     {"contact", "P1"},
    };
    if (name == "load words") {
        std::vector<std::string> words;
        for (const std::string_view word : load_words_of(LoadKind::motor)) words.emplace_back(word);
        return either(words);
    }
    const auto found = names.find(name);
    return found == names.end() ? std::nullopt : std::optional(std::string(found->second));
}

template <class NameOf>
std::optional<std::string> filled(std::string_view pattern, const NameOf& name_of) {
    std::string text;
    while (!pattern.empty()) {
        const std::size_t open = pattern.find('{');
        text += pattern.substr(0, open);
        if (open == std::string_view::npos) break;
        const std::size_t close = pattern.find('}', open);
        const auto name = name_of(pattern.substr(open + 1, close - open - 1));
        if (!name) return std::nullopt;
        text += *name;
        pattern = pattern.substr(close + 1);
    }
    return text;
}

}  // namespace

std::span<const PhraseForm> reading_forms() {
    return readings;
}
std::span<const PhraseForm> state_forms() {
    return states;
}
std::span<const PhraseForm> fault_forms() {
    return faults;
}

std::vector<std::string_view> first_words(std::span<const PhraseForm> forms) {
    std::vector<std::string_view> words;
    for (const PhraseForm& form : forms) {
        std::string_view left = form.keywords;
        while (!left.empty()) {
            const std::size_t blank = left.find(' ');
            words.push_back(left.substr(0, blank));
            left = blank == std::string_view::npos ? std::string_view{} : left.substr(blank + 1);
        }
    }
    return words;
}

std::optional<std::string> form_of_circuit(const PhraseForm& form, const Circuit& circuit) {
    return filled(form.pattern, Names(circuit));
}

std::optional<std::string> form_of_example(const PhraseForm& form) {
    return filled(form.pattern, example_name);
}

std::vector<std::string> choices_of(const std::string& form) {
    if (const std::size_t next = form.find("; "); next != std::string::npos) {
        std::vector<std::string> phrases = choices_of(form.substr(0, next));
        for (std::string& phrase : choices_of(form.substr(next + 2))) phrases.push_back(std::move(phrase));
        return phrases;
    }
    const std::size_t bar = form.find('|');
    if (bar == std::string::npos) return {form};
    std::size_t start = form.rfind(' ', bar);
    start = start == std::string::npos ? 0 : start + 1;
    std::vector<std::string> phrases;
    std::string_view left = std::string_view(form).substr(start);
    while (true) {
        const std::size_t next = left.find('|');
        phrases.push_back(form.substr(0, start) + std::string(left.substr(0, next)));
        if (next == std::string_view::npos) return phrases;
        left = left.substr(next + 1);
    }
}

}  // namespace voltfall
