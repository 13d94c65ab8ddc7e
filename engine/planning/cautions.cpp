#include "engine/planning/cautions.hpp"

#include <algorithm>

#include "engine/readings/care.hpp"
#include "netlists/phrases/load_words.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

bool in_a_strip(const Circuit& circuit, const std::string& place) {
    return std::any_of(circuit.strips.begin(), circuit.strips.end(), [&](const Strip& strip) {
        return std::any_of(strip.places.begin(), strip.places.end(),
                           [&](const std::string& p) { return same_word(p, place); });
    });
}

bool is_motor(const Circuit& circuit, PartId part) {
    return part.valid() && load_kind_of(circuit.part(part)) == LoadKind::motor;
}

bool something_on(const Circuit& circuit, const State& state) {
    return std::any_of(circuit.controls.begin(), circuit.controls.end(), [&](const Control& control) {
        return state.positions[control.part.index] != circuit.part(control.part).rest_position;
    });
}

/// Heat, water and movement are what the trade induces a fault by (reference trade 1.1, A8); the cautions are common
/// practice, no source.
std::vector<std::string> cautions_of_making(Trigger condition) {
    switch (condition) {
        case Trigger::heat:
            return {
                "warning: running hot: the engine only outdoors or with its exhaust drawn off; hands, hair and sleeves "
                "clear of fan and belts; off at the first smell or smoke",
                "warning: hot parts afterwards: the back of the hand near them first"};
        case Trigger::cold:
            return {"warning: leads are put on and out of the way of fan and belts before the engine starts"};
        case Trigger::water:
            return {
                "warning: water: a spray, never a jet; off before plugs are touched; none on open electronics, airbag "
                "parts or a hot exhaust"};
        case Trigger::movement:
            return {
                "warning: shaking: the vehicle stands on its wheels, brake on; nobody near belts, fan or hot parts"};
        case Trigger::itself:
            break;
    }
    return {};
}

}  // namespace

std::vector<std::string> cautions_of(const Circuit& circuit, const Job& job, const TestCandidate& test,
                                     const State& state) {
    bool fan = false;
    bool hot = false;
    bool battery = false;
    bool strip = false;
    bool fuse = test.kind == TestKind::fuse;
    for (const std::string& place : test.places) {
        const PartId part = circuit.part_at(place);
        fan |= is_motor(circuit, part);
        battery |= part.valid() && part == circuit.battery;
        strip |= in_a_strip(circuit, place);
        hot |= part.valid() && !circuit.part(part).coils.empty();
        const std::vector<std::string> words = care_words(circuit, job, place);
        hot |= std::find(words.begin(), words.end(), "hot") != words.end();
    }
    const bool by_hand = test.kind == TestKind::wiggle || !state.fitted_new.empty();
    if (test.makes) return cautions_of_making(*test.makes);
    if (test.kind == TestKind::load && !by_hand) return {};
    std::vector<std::string> lines;
    if (strip)
        lines.push_back(
            "warning: opening trim: keep off yellow (airbag) plugs; wait after battery off as the maker says");
    if (battery) lines.push_back("warning: battery: no sparks, rings and watch off");
    if (fan && something_on(circuit, state))
        lines.push_back("warning: fan and shaft: hands, hair, sleeves clear; power off before reaching in");
    if (hot) lines.push_back("warning: hot parts here: let them cool or do not touch");
    if (test.kind == TestKind::ohms) lines.push_back("ohms: switch off, plug off, nothing fed; never on a live wire");
    if (test.kind == TestKind::gauge) {
        lines.push_back(
            "warning: gas under pressure: goggles and gloves, only with the gauges and the training that the law asks "
            "for, and as the maker says; never blow it off");
    }
    const bool new_fuse = std::any_of(state.fitted_new.begin(), state.fitted_new.end(),
                                      [&](PartId part) { return circuit.part(part).fuse.has_value(); });
    if (new_fuse) {
        lines.push_back(
            "warning: a new fuse of the same rating and type, once: switch off at the first smell or smoke, and find "
            "the cause before the next");
    } else if (!state.fitted_new.empty()) {
        lines.push_back("relay: switch off first; only one with the same pins, coil and rating");
    }
    if (test.kind == TestKind::feel)
        lines.push_back(
            "warning: feeling: the back of the hand near the housing first; what is hot is not touched, hands clear of "
            "belts and fan");
    if (test.kind == TestKind::wiggle)
        lines.push_back("warning: wiggling: hands clear of belts, fan and hot parts; nothing is pulled");
    if (fuse) lines.push_back("fuse: same rating and type back; find the cause before a new one");
    return lines;
}

}  // namespace voltfall
