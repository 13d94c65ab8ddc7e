#include <fmt/format.h>

#include "cli/views/figures.hpp"
#include "cli/views/show_view.hpp"
#include "cli/views/text_table.hpp"
#include "netlists/circuit/place.hpp"

namespace voltfall {

namespace {

/// A part between its own sockets is one step in text: "F7.1 > F7 > F7.2" is F7.
bool same_part(const std::string& a, const std::string& b) {
    const auto part_of = [](const std::string& place) { return read_place(place).owner; };
    return a == b || (part_of(a) == part_of(b) && (part_of(a) == a || part_of(b) == b));
}

std::vector<std::string> folded_places(const std::vector<ShownStep>& steps) {
    std::vector<std::string> places;
    for (const ShownStep& step : steps) {
        if (places.empty() || !same_part(places.back(), step.place))
            places.push_back(step.place);
        else if (places.back().starts_with(step.place))
            places.back() = step.place;  // the socket came first
    }
    return places;
}

std::string chain_of(const std::vector<ShownStep>& steps) {
    std::string text;
    for (const std::string& place : folded_places(steps)) text += (text.empty() ? "" : " > ") + place;
    return text;
}

std::string way_text(const ShownWay& way) {
    if (way.feed.empty() && way.back.empty()) return "no feed, no way back";
    if (way.feed.empty()) return "no feed; back: " + chain_of(way.back);
    if (way.back.empty()) return "no way back; feed: " + chain_of(way.feed);
    return chain_of(way.feed) + " > [" + way.load + "] > " + chain_of(way.back);
}

/// Steps that another way goes around.
std::vector<std::string> doubled(const ShownWay& way) {
    std::vector<std::string> places;
    for (const auto* side : {&way.feed, &way.back})
        for (const ShownStep& step : *side)
            if (!step.only_way) places.push_back(step.place);
    return places;
}

void write_way(TextPage& page, const ShownWay& way, const char* word) {
    page.labelled(way.load + word, way_text(way), 2, way.complete ? Tone::plain : Tone::quiet);
    if (!way.complete) return;
    page.paragraph(fmt::format("{} without {}", shown_size(way.ohms, Unit::ohm), way.load), 4, 2, Tone::quiet);
    const std::vector<std::string> others = doubled(way);
    if (!others.empty()) page.labelled("another way goes around", name_list(others, page.style().top), 4);
}

void write_position(TextPage& page, const ShownPosition& position) {
    page.gap();
    page.heading("position " + position.label);
    for (const ShownWay& way : position.loads) write_way(page, way, "");
    for (const ShownWay& way : position.coils)
        if (way.complete) write_way(page, way, " coil");
    if (!position.pulled.empty())
        page.labelled(position.pulled.size() == 1 ? "relay pulled" : "relays pulled",
                      name_list(position.pulled, position.pulled.size()));
    if (!position.relays_settled)
        page.labelled("note", "a relay takes its own feed away: it chatters", 2, Tone::caution);
}

void write_shares(TextPage& page, const ShownLoad& load) {
    page.gap();
    page.heading(load.load + (load.works_in.empty() ? " works in no position"
                                                    : " works in " + name_list(load.works_in, load.works_in.size())));
    std::string every;
    for (const ShownShare& share : load.places)
        if (share.every) every += (every.empty() ? "" : ", ") + share.place;
    if (load.works_in.size() > 1 && !every.empty()) page.labelled("in every position", every);
    std::vector<std::pair<std::vector<std::string>, std::string>> some;  // positions -> places
    for (const ShownShare& share : load.places) {
        if (share.every || share.positions.size() < 2) continue;
        auto known = some.begin();
        while (known != some.end() && known->first != share.positions) ++known;
        if (known == some.end())
            some.emplace_back(share.positions, share.place);
        else
            known->second += ", " + share.place;
    }
    for (const auto& [positions, places] : some) page.labelled("in " + name_list(positions, positions.size()), places);
}

void write_values(TextPage& page, const std::string& title, const std::vector<ShownDefault>& values) {
    if (values.empty()) return;
    page.gap();
    page.heading(title);
    TextTable table({{"what", Align::left, Fold::words},
                     {"value", Align::right},
                     {"source", Align::left, Fold::words},
                     {"used by", Align::left, Fold::words, 1}});
    for (const ShownDefault& value : values)
        table.row({value.name, shown_size(value.value, value.unit),
                   TableCell(value.source, value.assumed() ? Tone::caution : Tone::plain),
                   name_list(value.used_by, page.style().top)});
    page.table(table);
}

}  // namespace

std::string show_text(const ShowAnswer& answer, PageStyle style) {
    TextPage page(style);
    if (!answer.circuit.empty()) page.heading(answer.circuit);
    if (!answer.note.empty()) page.paragraph(answer.note);
    for (const ShownLoad& load : answer.loads) write_shares(page, load);
    for (const ShownPosition& position : answer.positions) write_position(page, position);
    if (!answer.floating_off.empty()) {
        page.gap();
        page.labelled("floating while all is off:", name_list(answer.floating_off, style.top), 0);
        page.paragraph("a meter shows about 0 V there; that is no proof of ground", 2, 2, Tone::caution);
    }
    write_values(page, "values that the file does not say", answer.defaults);
    write_values(page, "guessed values (~)", answer.guesses);
    return page.text();
}

}  // namespace voltfall
