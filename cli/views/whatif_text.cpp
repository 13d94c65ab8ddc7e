// The first screen of `whatif`: positions by loads, what happens then, and where the volts differ along the way.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "cli/views/figures.hpp"
#include "cli/views/startup_view.hpp"
#include "cli/views/text_table.hpp"
#include "cli/views/whatif_pages.hpp"
#include "cli/views/whatif_view.hpp"
#include "netlists/text/lists.hpp"

namespace voltfall {

namespace {

/// Neighbours on the way that read within this of each other are one row.
constexpr double same_volts = 0.05;

/// Positions in which the same is to be said, in their order.
struct Told {
    std::vector<std::string> positions;
    std::vector<std::string> cells;
    Tone tone{Tone::plain};

    bool same(const Told& other) const { return cells == other.cells; }
};

void add_told(std::vector<Told>& told, Told one) {
    for (Told& known : told) {
        if (!known.same(one)) continue;
        known.positions.push_back(one.positions.front());
        return;
    }
    told.push_back(std::move(one));
}

/// Position, load, what it should do, what it does, then volts, amperes and speed, sound and as it is.
std::vector<std::string> load_cells(const LoadFigures& sound, const LoadFigures& now, Cases cases) {
    const auto rpm = [](const LoadFigures& load) { return load.rpm ? shown_rpm(*load.rpm) : std::string(); };
    if (cases == Cases::healthy_only)
        return {sound.name, sound.said, shown_volts(sound.volts), shown_amps(sound.amps), rpm(sound)};
    return {sound.name,
            sound.said,
            now.said,
            shown_volts(now.volts),
            shown_volts(sound.volts),
            shown_amps(now.amps),
            shown_amps(sound.amps),
            rpm(now),
            rpm(sound)};
}

TextTable positions_table(const WhatifAnswer& answer, Cases cases) {
    std::vector<Told> told;
    for (const WhatifState& state : answer.states) {
        bool any = false;
        for (std::size_t i = 0; i < state.healthy.loads.size(); ++i) {
            if (is_never_on(state, i)) continue;
            any = true;
            const LoadFigures& now = end_of(state).loads[i];
            const LoadFigures& sound = state.healthy.loads[i];
            add_told(told, {{state.state}, load_cells(sound, now, cases), seen_tone(now.seen, sound.seen)});
        }
        const std::string off(word_of(LoadSeen::off));
        if (!any && !state.healthy.loads.empty())
            add_told(told, {{state.state}, {"all", off, cases == Cases::both ? off : ""}, Tone::quiet});
    }
    std::vector<TableColumn> columns{{"position", Align::left, Fold::words}, {"load"}};
    if (cases == Cases::both) {
        columns.insert(columns.end(), {{"should be"},
                                       {"is"},
                                       {"V", Align::right, Fold::whole, 1},
                                       {"sound V", Align::right, Fold::whole, 3},
                                       {"A", Align::right, Fold::whole, 2},
                                       {"sound A", Align::right, Fold::whole, 4},
                                       {"rpm", Align::right, Fold::whole, 5},
                                       {"sound", Align::right, Fold::whole, 6}});
    } else {
        columns.insert(columns.end(),
                       {{"is"}, {"V", Align::right}, {"A", Align::right}, {"rpm", Align::right, Fold::whole, 1}});
    }
    TextTable table(std::move(columns));
    for (const Told& one : told) {
        std::vector<TableCell> cells{joined(one.positions, ", ")};
        for (std::size_t i = 0; i < one.cells.size(); ++i)
            cells.emplace_back(one.cells[i], i == 2 && cases == Cases::both ? one.tone : Tone::plain);
        table.row(std::move(cells));
    }
    return table;
}

/// Sentences and the positions in which each is true, in the order met.
class Sentences {
public:
    void add(const std::string& position, std::string text) {
        for (auto& [known, positions] : list_) {
            if (known != text) continue;
            if (positions.back() != position) positions.push_back(position);
            return;
        }
        list_.emplace_back(std::move(text), std::vector{position});
    }

    /// As many as `most` lines hold; the rest is counted.
    void write(TextPage& page, std::size_t most, Tone tone) const {
        std::size_t written = 0;
        for (const auto& [text, positions] : list_) {
            TextPage one({page.style().width, page.style().colour});
            one.labelled(joined(positions, ", ") + ":", text, 2, tone);
            if (one.lines() > most) break;
            most -= one.lines();
            page.add(one);
            ++written;
        }
        if (written < list_.size() && most > 0)
            page.paragraph(fmt::format("{} more: --all", list_.size() - written), 2, 2, Tone::quiet);
    }
    bool empty() const { return list_.empty(); }

private:
    std::vector<std::pair<std::string, std::vector<std::string>>> list_;
};

/// What happens, in the position in which it happens first; the others are named with it.
void add_events(Sentences& told, const WhatifAnswer& answer) {
    struct First {
        const WhatifState* state{};
        const HeatEvent* event{};
        std::vector<std::string> slower;
    };
    std::vector<First> firsts;
    for (const WhatifState& state : answer.states) {
        for (const HeatEvent& event : state.aftermath) {
            const auto same = [&](const First& first) { return first.event->what == event.what; };
            const auto known = std::find_if(firsts.begin(), firsts.end(), same);
            if (known == firsts.end()) {
                firsts.push_back({&state, &event, {}});
            } else if (event.seconds < known->event->seconds) {
                known->slower.push_back(known->state->state);
                known->state = &state;
                known->event = &event;
            } else {
                known->slower.push_back(state.state);
            }
        }
    }
    for (const First& first : firsts) {
        std::string text = event_text(*first.event);
        if (!first.slower.empty()) text += "; later in " + joined(first.slower, ", ");
        if (first.event->goes_on) text += "; nothing protects it: it burns until the feed is taken off";
        told.add(first.state->state, std::move(text));
    }
}

void add_fuses(Sentences& told, const WhatifState& state) {
    for (std::size_t i = 0; i < state.healthy.fuses.size(); ++i) {
        const FuseFigures& sound = state.healthy.fuses[i];
        if (sound.seconds)
            told.add(state.state, fmt::format("{} opens in the sound circuit too, in {}", sound.name,
                                              shown_seconds(*sound.seconds)));
        const FuseFigures& now = state.faulted.fuses[i];
        if (now.open && !sound.open) told.add(state.state, now.name + " stands open");
    }
}

void add_relays(Sentences& told, const WhatifState& state, Cases cases) {
    for (std::size_t i = 0; i < end_of(state).relays.size(); ++i) {
        const RelayFigure& now = end_of(state).relays[i];
        const std::string& sound = state.healthy.relays[i].word;
        if (cases == Cases::both && now.word != sound)
            told.add(state.state, fmt::format("relay {} {}, sound: {}", now.name, now.word, sound));
        if (cases == Cases::healthy_only && now.word != "released")
            told.add(state.state, fmt::format("relay {} {}", now.name, now.word));
    }
    for (const std::string& relay : end_of(state).holding)
        told.add(state.state, "relay " + relay + " stays pulled once it was pulled");
}

void add_limits(Sentences& told, const WhatifState& state, Cases cases) {
    for (const LimitFigure& limit : state.limits) {
        if (limit.holds(limit.healthy) && (cases == Cases::healthy_only || limit.holds(limit.faulted))) continue;
        told.add(state.state, "limit: " + limit_text(limit, cases));
    }
}

void add_cut_off(Sentences& told, const WhatifState& state) {
    constexpr std::size_t most = 4;
    const auto& floating = end_of(state).floating;
    if (floating.empty()) return;
    told.add(state.state, "cut off: " + names_and_more(floating, most) +
                              "; a meter shows about 0 V there, that is no proof of ground");
}

Sentences notes_of(const WhatifAnswer& answer, Cases cases) {
    Sentences told;
    add_events(told, answer);
    for (const WhatifState& state : answer.states) {
        add_fuses(told, state);
        add_relays(told, state, cases);
        add_limits(told, state, cases);
        if (cases == Cases::both) add_cut_off(told, state);
    }
    return told;
}

/// The most that any point or load of the state has changed: words of a load first, then volts.
double change_of(const WhatifState& state) {
    constexpr double of_a_word = 1000;
    double most = 0;
    for (std::size_t i = 0; i < state.healthy.points.size(); ++i)
        most = std::max(most, moved(state.healthy.points[i], end_of(state).points[i]));
    for (std::size_t i = 0; i < state.healthy.loads.size(); ++i)
        if (state.healthy.loads[i].seen != end_of(state).loads[i].seen) most += of_a_word;
    // Millivolts decide: smaller steps are the solver's noise and must not change the choice.
    return std::round(1000 * most);
}

/// The position whose points are shown: the one in which most has changed, the last of equals.
const WhatifState& most_changed(const WhatifAnswer& answer) {
    const auto by_change = [](const WhatifState& a, const WhatifState& b) { return change_of(a) <= change_of(b); };
    return *std::max_element(answer.states.begin(), answer.states.end(), by_change);
}

/// Indices of points in the order of the current, those on no load's way behind; as asked for where a person named
/// them.
std::vector<std::size_t> along_the_way(const WhatifState& state, bool asked_for) {
    std::vector<std::size_t> order;
    const auto& points = state.healthy.points;
    for (const std::string& name : asked_for ? std::vector<std::string>{} : state.along) {
        const auto found = std::find_if(points.begin(), points.end(), [&](const auto& p) { return p.name == name; });
        if (found != points.end()) order.push_back(static_cast<std::size_t>(found - points.begin()));
    }
    for (std::size_t i = 0; i < points.size(); ++i)
        if (std::find(order.begin(), order.end(), i) == order.end()) order.push_back(i);
    return order;
}

bool alike(const PointFigure& a, const PointFigure& b) {
    if (!a.volts || !b.volts) return a.volts.has_value() == b.volts.has_value();
    return std::abs(*a.volts - *b.volts) <= same_volts;
}

TextTable points_table(const WhatifState& state, Cases cases, bool asked_for) {
    const bool both = cases == Cases::both;
    TextTable table({{asked_for ? "point" : "points along the way", Align::left, Fold::words},
                     {both ? "sound V" : "V", Align::right},
                     {both ? "V" : "", Align::right},
                     {both ? "differ V" : "", Align::right, Fold::whole, 1}});
    const auto& sound = state.healthy.points;
    const auto& now = end_of(state).points;
    const std::vector<std::size_t> order = along_the_way(state, asked_for);
    for (std::size_t at = 0; at < order.size();) {
        const std::size_t first = order[at++];
        if (!asked_for && both && moved(sound[first], now[first]) < visible_volts) continue;
        std::string names = sound[first].name;
        while (!asked_for && at < order.size() && alike(sound[first], sound[order[at]]) &&
               alike(now[first], now[order[at]])) {
            names += ", " + sound[order[at++]].name;
        }
        const bool numbers = sound[first].volts && now[first].volts;
        table.row({names, volts_or_floats(sound[first].volts), both ? volts_or_floats(now[first].volts) : "",
                   both && numbers ? shown_volts(*now[first].volts - *sound[first].volts) : ""});
    }
    return table;
}

TextTable wires_table(const WhatifState& state, Cases cases) {
    const bool both = cases == Cases::both;
    TextTable table({{"wire"},
                     {both ? "sound A" : "A", Align::right},
                     {both ? "from end A" : "", Align::right},
                     {both ? "to end A" : "", Align::right}});
    for (std::size_t i = 0; i < state.healthy.wires.size(); ++i) {
        const WireFigures& sound = state.healthy.wires[i];
        const WireFigures& now = end_of(state).wires[i];
        table.row(
            {sound.name, shown_amps(sound.from), both ? shown_amps(now.from) : "", both ? shown_amps(now.to) : ""});
    }
    return table;
}

void write_heads(TextPage& page, const WhatifAnswer& answer) {
    if (!answer.circuit.empty()) page.heading(answer.circuit);
    if (answer.faults.empty()) page.paragraph("sound circuit, no fault");
    for (std::size_t i = 0; i < answer.faults.size(); ++i)
        page.labelled("fault", answer.faults[i] + ": " + answer.plain[i], 0);
}

/// The points of the position that has changed most, as many as fit.
void write_points(TextPage& page, const WhatifAnswer& answer, Cases cases, std::size_t kept) {
    const WhatifState& state = most_changed(answer);
    if (cases == Cases::both && !differs(state)) {
        page.paragraph("no point differs by 0.01 V in any position");
        return;
    }
    const TextTable table = points_table(state, cases, false);
    const std::size_t room = page.room(kept + 2);
    if (table.empty() || room < 3) return;
    page.heading("in position " + state.state);
    const std::size_t rows = page.table_within(table, room);
    if (rows < table.size()) page.paragraph(fmt::format("{} more rows: --all", table.size() - rows), 2, 2, Tone::quiet);
}

/// The points and wires that a person named, in one position.
void write_asked(TextPage& page, const WhatifState& state, Cases cases) {
    page.heading("in position " + state.state);
    page.table(points_table(state, cases, true));
    if (const TextTable wires = wires_table(state, cases); !wires.empty()) page.table(wires);
}

/// Lines that notes may take, so that points have some room too.
std::size_t lines_for_notes(std::size_t room) {
    constexpr std::size_t kept_for_points = 6;
    constexpr std::size_t least = 2;
    return room > kept_for_points + least ? room - kept_for_points : std::min(room, least);
}

}  // namespace

std::string whatif_text(const WhatifAnswer& answer, PageStyle style) {
    TextPage page(style);
    const Cases cases = answer.faults.empty() ? Cases::healthy_only : Cases::both;
    TextPage foot({style.width, style.colour});
    foot.paragraph("all points, all positions: --all; one position: --state; some points: --points", 0, 2, Tone::quiet);
    const std::size_t foot_lines = foot.lines();
    write_heads(page, answer);
    page.gap();
    const TextTable positions = positions_table(answer, cases);
    const Sentences notes = notes_of(answer, cases);
    const std::size_t told = page.table_within(positions, page.room(foot_lines + (notes.empty() ? 1 : 3)), 0);
    if (told < positions.size())
        page.paragraph(fmt::format("{} more rows: --all", positions.size() - told), 2, 2, Tone::quiet);
    if (page.style().all) {
        write_every_state(page, answer);
        if (!answer.not_checked.empty()) page.gap();
        for (const std::string& line : answer.not_checked) page.labelled("limit not checked", line, 0, Tone::quiet);
        return page.text();
    }
    notes.write(page, lines_for_notes(page.room(foot_lines + 1)), Tone::bad);
    const auto has_lamp = [](const WhatifState& state) { return state.lamp.has_value(); };
    const bool asked_for = !answer.points.empty();
    if (answer.seconds || std::any_of(answer.states.begin(), answer.states.end(), has_lamp)) {
        write_every_state(page, answer);
        return page.text();
    }
    for (const WhatifState& state : answer.states) {
        if (state.start) write_startup(page, *state.start);
        if (asked_for) write_asked(page, state, cases);
    }
    if (!asked_for) write_points(page, answer, cases, foot_lines);
    page.add(foot);
    return page.text();
}

}  // namespace voltfall
