// What feeds what: each load's way once, with what the positions change.
#include <fmt/format.h>

#include <algorithm>

#include "cli/views/figures.hpp"
#include "cli/views/show_view.hpp"
#include "cli/views/text_table.hpp"
#include "netlists/circuit/place.hpp"
#include "netlists/text/lists.hpp"

namespace voltfall {

namespace {

using Places = std::vector<std::string>;

/// A part between its own sockets is one step in text: "F7.1 > F7 > F7.2" is F7.
bool same_part(const std::string& a, const std::string& b) {
    const auto part_of = [](const std::string& place) { return read_place(place).owner; };
    return a == b || (part_of(a) == part_of(b) && (part_of(a) == a || part_of(b) == b));
}

Places folded_places(const std::vector<ShownStep>& steps) {
    Places places;
    for (const ShownStep& step : steps) {
        if (places.empty() || !same_part(places.back(), step.place))
            places.push_back(step.place);
        else if (places.back().starts_with(step.place))
            places.back() = step.place;  // the socket came first
    }
    return places;
}

std::string chain_of(const Places& places) {
    std::string text;
    for (const std::string& place : places) text += (text.empty() ? "" : " > ") + place;
    return text;
}

std::string way_text(const ShownWay& way) {
    if (way.feed.empty() && way.back.empty()) return "no feed, no way back";
    const std::string feed = chain_of(folded_places(way.feed));
    const std::string back = chain_of(folded_places(way.back));
    if (way.feed.empty()) return "no feed; back: " + back;
    if (way.back.empty()) return "no way back; feed: " + feed;
    return feed + " > [" + way.load + "] > " + back;
}

/// One side of a load's way over the positions in which it works.
struct Side {
    std::vector<std::pair<Places, std::vector<std::string>>> ways;  ///< places -> positions

    void add(Places places, const std::string& position) {
        for (auto& [known, positions] : ways) {
            if (known != places) continue;
            positions.push_back(position);
            return;
        }
        ways.emplace_back(std::move(places), std::vector{position});
    }

    /// Takes what all ways begin with, or end with, off them.
    Places take_common(bool from_front) {
        Places common;
        while (!ways.empty() &&
               std::none_of(ways.begin(), ways.end(), [](const auto& way) { return way.first.empty(); })) {
            const auto end_of = [&](const Places& places) { return from_front ? places.front() : places.back(); };
            const std::string place = end_of(ways.front().first);
            if (std::any_of(ways.begin(), ways.end(), [&](const auto& way) { return end_of(way.first) != place; }))
                break;
            for (auto& way : ways) way.first.erase(from_front ? way.first.begin() : way.first.end() - 1);
            common.insert(from_front ? common.end() : common.begin(), place);
        }
        return common;
    }
};

/// What some positions have: beside their names, or below them where those are long.
void write_choice(TextPage& page, const std::string& label, const std::string& chain) {
    constexpr int indent = 6;
    if (2 * text_width(label) <= page.style().width) return page.labelled(label, chain, indent);
    page.paragraph(label, indent);
    page.paragraph(chain, indent + 2);
}

/// The places shared by all positions once, then what each position has instead.
void write_side(TextPage& page, std::string_view label, Side side) {
    if (side.ways.empty()) return;
    if (side.ways.size() == 1) return page.labelled(label, chain_of(side.ways.front().first));
    const Places before = side.take_common(true);
    const Places after = side.take_common(false);
    std::string head = chain_of(before);
    if (!before.empty() && !after.empty()) head += " > … > ";
    if (before.empty() && !after.empty()) head += "… > ";
    if (!before.empty() && after.empty()) head += " > …";
    head += chain_of(after);
    page.labelled(label, head.empty() ? "by position" : head);
    for (const auto& [places, positions] : side.ways)
        write_choice(page, joined(positions, ", ") + ":", places.empty() ? "straight" : chain_of(places));
}

/// The ways of one load, or of one relay's coil.
struct LoadWays {
    std::string load;
    Side feed;
    Side back;
    std::vector<std::string> works_in;
};

void add_way(std::vector<LoadWays>& all, const ShownWay& way, const std::string& name, const std::string& position) {
    auto known = std::find_if(all.begin(), all.end(), [&](const LoadWays& ways) { return ways.load == name; });
    if (known == all.end()) known = all.insert(known, {name, {}, {}, {}});
    if (!way.complete) return;
    known->feed.add(folded_places(way.feed), position);
    known->back.add(folded_places(way.back), position);
    known->works_in.push_back(position);
}

const ShownLoad* load_called(const ShowAnswer& answer, const std::string& name) {
    const auto of = std::find_if(answer.loads.begin(), answer.loads.end(),
                                 [&](const ShownLoad& shown) { return shown.load == name; });
    return of == answer.loads.end() ? nullptr : &*of;
}

/// A whole way does not make a load run where electronics are told to stand still.
bool works_there(const ShowAnswer& answer, const std::string& load, const std::string& position) {
    const ShownLoad* of = load_called(answer, load);
    return !of || std::find(of->works_in.begin(), of->works_in.end(), position) != of->works_in.end();
}

std::vector<LoadWays> ways_of(const ShowAnswer& answer) {
    std::vector<LoadWays> all;
    for (const ShownPosition& position : answer.positions) {
        for (const ShownWay& way : position.loads) {
            if (!way.complete || works_there(answer, way.load, position.label))
                add_way(all, way, way.load, position.label);
        }
    }
    for (const ShownPosition& position : answer.positions)
        for (const ShownWay& way : position.coils) add_way(all, way, way.load + " coil", position.label);
    return all;
}

TextPage load_page(const PageStyle& style, const LoadWays& ways, const std::vector<std::string>& across) {
    TextPage page({style.width, style.colour});
    if (ways.works_in.empty()) {
        page.heading(ways.load + " has a whole way in no position");
        return page;
    }
    page.heading(ways.load + " works in " + joined(ways.works_in, ", "));
    write_side(page, "feed", ways.feed);
    write_side(page, "back", ways.back);
    if (!across.empty()) page.labelled("across it", joined(across, ", "));
    return page;
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

void write_floating(TextPage& page, const ShowAnswer& answer) {
    constexpr std::size_t usual = 6;
    if (answer.floating_off.empty()) return;
    page.labelled("floating while all is off:",
                  names_and_more(answer.floating_off, page.style().all ? answer.floating_off.size() : usual) +
                      "; a meter shows about 0 V there, that is no proof of ground",
                  0, Tone::caution);
}

/// What a load that works in no position may wait for.
void write_contacts(TextPage& page, const ShowAnswer& answer, const std::vector<LoadWays>& all) {
    const bool waits = std::any_of(all.begin(), all.end(), [](const LoadWays& ways) { return ways.works_in.empty(); });
    if (!waits || answer.contacts.empty()) return;
    const std::string& first = answer.contacts.front();
    const std::string name = first.substr(0, first.find('='));
    const std::string other = first.ends_with("=open") ? "closed" : "open";
    page.paragraph(
        fmt::format("here {}; what goes where pressure or heat has moved one: voltfall whatif CIRCUIT --state {}={}",
                    joined(answer.contacts, ", "), name, other),
        0, 2, Tone::quiet);
}

}  // namespace

std::string show_text(const ShowAnswer& answer, PageStyle style) {
    TextPage page(style);
    if (!answer.circuit.empty()) page.heading(answer.circuit);
    if (!answer.note.empty()) page.paragraph(answer.note);
    TextPage foot({style.width, style.colour});
    for (const ShownPosition& position : answer.positions)
        if (!position.relays_settled)
            foot.labelled("note", position.label + ": a relay takes its own feed away, it chatters", 0, Tone::caution);
    if (!style.all) write_floating(foot, answer);
    const std::size_t assumed = answer.defaults.size() + answer.guesses.size();
    foot.paragraph(fmt::format("{} that the file does not say: --defaults; every position by itself: --all",
                               counted(assumed, "value")),
                   0, 2, Tone::quiet);
    const std::vector<LoadWays> all = ways_of(answer);
    write_contacts(foot, answer, all);
    std::size_t left = 0;
    for (const LoadWays& ways : all) {
        const ShownLoad* of = load_called(answer, ways.load);
        const TextPage load = load_page(style, ways, of ? of->across : std::vector<std::string>{});
        if (load.lines() <= page.room(foot.lines() + 1))
            page.add(load);
        else
            ++left;
    }
    if (left > 0) page.paragraph(fmt::format("{} more: --all", counted(left, "load")), 0, 2, Tone::quiet);
    if (!style.all) {
        page.add(foot);
        return page.text();
    }
    for (const ShownPosition& position : answer.positions) write_position(page, position);
    page.gap();
    write_floating(page, answer);
    page.gap();
    page.add(foot);
    return page.text();
}

std::string show_defaults_text(const ShowAnswer& answer, PageStyle style) {
    TextPage page(style);
    if (!answer.circuit.empty()) page.heading(answer.circuit);
    write_values(page, "values that the file does not say", answer.defaults);
    write_values(page, "guessed values (~)", answer.guesses);
    return page.text();
}

}  // namespace voltfall
