#include "engine/lessons/section.hpp"

#include <algorithm>
#include <array>
#include <set>

#include "engine/diagnosis/priors.hpp"
#include "engine/readings/word_evidence.hpp"
#include "netlists/graph/feeds.hpp"
#include "netlists/parts/kind.hpp"
#include "netlists/phrases/loads.hpp"
#include "netlists/phrases/reading_phrase.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

constexpr std::array<std::string_view, 6> words{"supply", "feed", "return", "load", "control", "pack"};

using Places = std::set<std::string>;

/// A fault of "C101.4" or "F7.1" lies where its contact does; one of a part where the part does.
bool is_among(const Circuit& circuit, const FaultMode& mode, const Places& places) {
    if (places.contains(mode.place)) return true;
    return std::any_of(places.begin(), places.end(),
                       [&](const std::string& place) { return sits_at(circuit, mode, place); });
}

void add(Places& places, const std::vector<WayStep>& steps) {
    for (const WayStep& step : steps) places.insert(step.place);
}

Places places_of(const Circuit& circuit, std::string_view word) {
    Places places;
    const auto add_parts = [&](const auto& wanted) {
        for (const Part& part : circuit.parts) {
            if (wanted(part)) places.insert(part.name);
        }
    };
    if (word == "supply")
        add_parts([&](const Part& p) { return p.fuse || has_duty(p, Duty::battery) || has_duty(p, Duty::key); });
    if (word == "load") {
        for (const PartId load : loads_of(circuit)) places.insert(circuit.part(load).name);
    }
    if (word == "pack") add_parts([](const Part& p) { return !p.coils.empty(); });
    if (word == "control")
        add_parts(
            [&](const Part& p) { return p.relay || has_duty(p, Duty::control) || has_duty(p, Duty::acting_contact); });
    if (word != "feed" && word != "return" && word != "control") return places;
    for (const PositionFeeds& position : trace_feeds(circuit).positions) {
        for (const LoadWay& way : position.loads) {
            if (word == "feed") add(places, way.feed);
            if (word == "return") add(places, way.back);
        }
        for (const LoadWay& way : position.coils) {
            if (word != "control") continue;
            add(places, way.feed);
            add(places, way.back);
        }
    }
    if (word == "control") return places;
    // Loads are a section of their own.
    for (const PartId load : loads_of(circuit)) places.erase(circuit.part(load).name);
    return places;
}

template <class Wanted>
Section section_named(const Circuit& circuit, std::string name, const Wanted& wanted) {
    Section section;
    section.name = std::move(name);
    for (const ModePtr& mode : circuit.modes) section.modes.push_back(wanted(*mode));
    return section;
}

}  // namespace

std::vector<std::string> section_words() {
    return {words.begin(), words.end()};
}

std::optional<Section> find_section(const Circuit& circuit, std::string_view typed) {
    for (const std::string_view word : words) {
        if (!same_word(word, typed)) continue;
        const Places places = places_of(circuit, word);
        if (places.empty()) return std::nullopt;
        return section_named(circuit, std::string(word),
                             [&](const FaultMode& mode) { return is_among(circuit, mode, places); });
    }
    if (same_word(typed, "nothing") || same_word(typed, "none")) {
        Section section = section_named(circuit, "nothing", [](const FaultMode&) { return false; });
        section.nothing = true;
        return section;
    }
    const auto place = find_place(circuit, typed);
    if (place) {
        return section_named(circuit, *place, [&](const FaultMode& mode) { return sits_at(circuit, mode, *place); });
    }
    Section section = section_named(circuit, std::string(typed),
                                    [&](const FaultMode& mode) { return same_word(mode.phrase(), typed); });
    const bool any = std::find(section.modes.begin(), section.modes.end(), true) != section.modes.end();
    return any ? std::optional(std::move(section)) : std::nullopt;
}

std::vector<std::string> sections_holding(const Circuit& circuit, const FaultMode& mode) {
    std::vector<std::string> found;
    for (const std::string_view word : {"load", "feed", "return", "control"}) {
        if (is_among(circuit, mode, places_of(circuit, word))) found.emplace_back(word);
    }
    return found;
}

}  // namespace voltfall
