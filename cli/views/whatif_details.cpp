#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "cli/views/figures.hpp"
#include "cli/views/startup_view.hpp"
#include "cli/views/text_table.hpp"
#include "cli/views/whatif_pages.hpp"

namespace voltfall {

namespace {

/// Points this near to each other tell a person the same; the figures of the first are shown.
constexpr double alike_volts = 0.05;
constexpr std::size_t most_alike_named = 6;
constexpr std::size_t usual_points = 8;
constexpr std::size_t most_warm = 6;
/// Beyond this nothing is what it was, so that the figure means nothing more.
constexpr double most_celsius = 600;

void add_loads(TextTable& table, const WhatifState& state, const CircuitFigures& figures, const char* which) {
    for (std::size_t i = 0; i < figures.loads.size(); ++i) {
        const LoadFigures& load = figures.loads[i];
        if (is_never_on(state, i)) continue;
        table.row({load.name, which, shown_volts(load.volts), shown_amps(load.amps),
                   load.rpm ? shown_rpm(*load.rpm) : "",
                   TableCell(load.said, seen_tone(load.seen, state.healthy.loads[i].seen))});
    }
}

void write_loads(TextPage& page, const WhatifState& state, Cases cases) {
    if (state.healthy.loads.empty()) return;
    TextTable table(
        {{"load"}, {""}, {"V", Align::right}, {"A", Align::right}, {"rpm", Align::right, Fold::whole, 1}, {"seen"}});
    add_loads(table, state, state.healthy, "healthy");
    if (cases == Cases::both) add_loads(table, state, state.faulted, "faulted");
    if (!state.aftermath.empty()) add_loads(table, state, state.after, "after");
    if (!table.empty()) page.table(table);
}

/// Does the fuse open in what happens then? A limiter may come first, and a winding that warms draws less.
bool opens_then(const WhatifState& state, const std::string& fuse) {
    return std::any_of(state.aftermath.begin(), state.aftermath.end(), [&](const HeatEvent& event) {
        return event.kind == HeatEventKind::fuse_opens && event.name == fuse;
    });
}

TableCell fuse_verdict(const FuseFigures& fuse) {
    if (fuse.open) return {"OPEN", Tone::bad};
    if (fuse.seconds) return {"OPENS in " + shown_seconds(*fuse.seconds), Tone::bad};
    return {"OK", Tone::good};
}

/// Of the faulted circuit: something else may happen first, or the current may fall.
TableCell faulted_verdict(const FuseFigures& fuse, const WhatifState& state) {
    if (fuse.open || !fuse.seconds || state.aftermath.empty() || opens_then(state, fuse.name))
        return fuse_verdict(fuse);
    return {shown_seconds(*fuse.seconds) + " at this current; see then", Tone::bad};
}

void write_fuses(TextPage& page, const WhatifState& state, Cases cases) {
    if (state.healthy.fuses.empty()) return;
    TextTable table({{"fuse"},
                     {"rated A", Align::right, Fold::whole, 1},
                     {"healthy A", Align::right},
                     {cases == Cases::both ? "faulted A" : "", Align::right},
                     {"verdict", Align::left, Fold::words}});
    for (std::size_t i = 0; i < state.healthy.fuses.size(); ++i) {
        const FuseFigures& healthy = state.healthy.fuses[i];
        const FuseFigures& faulted = state.faulted.fuses[i];
        TableCell verdict = faulted_verdict(faulted, state);
        if (cases == Cases::both && healthy.seconds) verdict.text += ", healthy " + fuse_verdict(healthy).text;
        table.row({healthy.name, fmt::format("{:g}", faulted.rating), shown_amps(healthy.amps),
                   cases == Cases::both ? shown_amps(faulted.amps) : "", verdict});
    }
    page.table(table);
}

/// Points in the order to show: as asked for, else those that moved most.
std::vector<std::size_t> points_to_show(const WhatifState& state, bool asked_for, Cases cases) {
    std::vector<std::size_t> order;
    const auto& healthy = state.healthy.points;
    const auto& end = end_of(state).points;
    for (std::size_t i = 0; i < healthy.size(); ++i)
        if (asked_for || cases == Cases::healthy_only || moved(healthy[i], end[i]) >= visible_volts) order.push_back(i);
    if (asked_for || cases == Cases::healthy_only) return order;
    // Millivolts decide: smaller steps are the solver's noise and must not change the order.
    std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
        return std::llround(1000 * moved(healthy[a], end[a])) > std::llround(1000 * moved(healthy[b], end[b]));
    });
    return order;
}

/// Points that read alike, healthy and in the end, are one row.
struct PointRow {
    std::vector<std::string> names;
    PointFigure healthy;
    PointFigure end;
};

bool alike(const std::optional<double>& a, const std::optional<double>& b) {
    if (!a || !b) return a.has_value() == b.has_value();
    return std::abs(*a - *b) <= alike_volts;
}

std::vector<PointRow> rows_of(const WhatifState& state, const std::vector<std::size_t>& order, bool asked_for) {
    std::vector<PointRow> rows;
    for (const std::size_t i : order) {
        const PointFigure& healthy = state.healthy.points[i];
        const PointFigure& end = end_of(state).points[i];
        auto row = rows.begin();
        while (row != rows.end() &&
               (asked_for || !alike(row->healthy.volts, healthy.volts) || !alike(row->end.volts, end.volts)))
            ++row;
        if (row == rows.end())
            rows.push_back({{healthy.name}, healthy, end});
        else
            row->names.push_back(healthy.name);
    }
    return rows;
}

std::string names_text(const std::vector<std::string>& names) {
    const std::size_t named = names.size() <= most_alike_named + 1 ? names.size() : most_alike_named;
    std::string text = name_list({names.begin(), names.begin() + static_cast<std::ptrdiff_t>(named)}, named);
    if (named < names.size()) text += fmt::format(" and {} alike", names.size() - named);
    return text;
}

void write_points(TextPage& page, const WhatifState& state, bool asked_for, Cases cases) {
    const std::vector<PointRow> rows = rows_of(state, points_to_show(state, asked_for, cases), asked_for);
    if (rows.empty()) return;
    const std::size_t most = asked_for ? rows.size() : page.style().top_given ? page.style().top : usual_points;
    const bool both = cases == Cases::both;
    TextTable table({{both && !asked_for ? "points that differ most" : "point", Align::left, Fold::words},
                     {both ? "healthy V" : "V", Align::right},
                     {both ? (state.aftermath.empty() ? "faulted V" : "after V") : "", Align::right},
                     {both ? "differ V" : "", Align::right, Fold::whole, 1}});
    for (std::size_t i = 0; i < rows.size() && i < most; ++i) {
        const auto& [names, healthy, end] = rows[i];
        const bool numbers = healthy.volts && end.volts;
        table.row({names_text(names), volts_or_floats(healthy.volts), both ? volts_or_floats(end.volts) : "",
                   both && numbers ? shown_volts(*end.volts - *healthy.volts) : ""});
    }
    page.table(table);
    if (rows.size() > most) page.paragraph(more_line(rows.size() - most, rows.size()), 2, 2, Tone::quiet);
}

void write_wires(TextPage& page, const WhatifState& state, Cases cases) {
    const bool both = cases == Cases::both;
    TextTable table({{"wire"},
                     {both ? "healthy A" : "A", Align::right},
                     {both ? "from end A" : "", Align::right},
                     {both ? "to end A" : "", Align::right}});
    for (std::size_t i = 0; i < state.healthy.wires.size(); ++i) {
        const WireFigures& healthy = state.healthy.wires[i];
        const WireFigures& end = end_of(state).wires[i];
        table.row(
            {healthy.name, shown_amps(healthy.from), both ? shown_amps(end.from) : "", both ? shown_amps(end.to) : ""});
    }
    if (!table.empty()) page.table(table);
}

void write_relays(TextPage& page, const WhatifState& state, Cases cases) {
    std::string text;
    const auto& end = end_of(state).relays;
    for (std::size_t i = 0; i < end.size(); ++i) {
        const std::string& healthy = state.healthy.relays[i].word;
        if (!text.empty()) text += ", ";
        text += end[i].name + " " + end[i].word;
        if (cases == Cases::both && healthy != end[i].word) text += " (healthy " + healthy + ")";
    }
    if (!text.empty()) page.labelled(end.size() == 1 ? "relay" : "relays", text);
    const auto& holding = end_of(state).holding;
    if (!holding.empty()) page.labelled("note", "once pulled, stays pulled: " + name_list(holding, page.style().top));
}

void write_cut_off(TextPage& page, const WhatifState& state) {
    const std::size_t most = page.style().top;
    if (!end_of(state).floating.empty()) {
        page.labelled("floating", name_list(end_of(state).floating, most));
        page.paragraph("a meter shows about 0 V there; that is no proof of ground", 4, 2, Tone::caution);
    }
    if (!end_of(state).weak.empty())
        page.labelled("weak", name_list(end_of(state).weak, most) + " (behind a blocked diode, under a 10 Mohm meter)");
}

void write_limits(TextPage& page, const WhatifState& state, Cases cases) {
    std::vector<std::string> kept;
    for (const LimitFigure& limit : state.limits) {
        if (limit.holds(limit.healthy) && (cases == Cases::healthy_only || limit.holds(limit.faulted)))
            kept.push_back(limit.what);
        else
            page.labelled("limit", limit_text(limit, cases), 2, Tone::caution);
    }
    if (!kept.empty()) page.labelled("limits OK", name_list(kept, page.style().top));
}

/// Names of what is harmed and goes on heating.
std::vector<std::string> unprotected(const WhatifState& state) {
    std::vector<std::string> names;
    for (const HeatEvent& event : state.aftermath)
        if (event.goes_on) names.push_back(event.name);
    return names;
}

/// What then happens, and what has warmed up when a time is asked for.
void write_heat(TextPage& page, const WhatifAnswer& answer, const WhatifState& state) {
    for (const HeatEvent& event : state.aftermath) page.labelled("then", event_text(event), 2, Tone::bad);
    if (const std::vector<std::string> names = unprotected(state); !names.empty())
        page.paragraph("nothing protects " + name_list(names, names.size()) + ": it burns until the feed is taken off",
                       4, 2, Tone::bad);
    if (!answer.seconds) return;
    if (state.aftermath.empty())
        page.labelled("then", "nothing opens or is harmed in " + shown_seconds(*answer.seconds), 2);
    TextTable table({{"warm after " + shown_seconds(*answer.seconds)},
                     {"C", Align::right},
                     {"hottest C", Align::right, Fold::whole, 1},
                     {"limit C", Align::right},
                     {"W", Align::right},
                     {"healthy W", Align::right, Fold::whole, 2}});
    std::size_t shown = 0;
    for (const BodyHeat& heat : state.heat) {
        if (!is_warm(heat) || shown == most_warm) continue;
        ++shown;
        const auto degrees = [](double celsius) {
            return celsius > most_celsius ? fmt::format("over {:.0f}", most_celsius) : fmt::format("{:.0f}", celsius);
        };
        table.row({TableCell(heat.name, heat.hottest >= heat.limit ? Tone::bad : Tone::plain), degrees(heat.celsius),
                   degrees(heat.hottest), fmt::format("{:.0f}", heat.limit), fmt::format("{:.1f}", heat.watts),
                   fmt::format("{:.1f}", heat.healthy_watts)});
    }
    if (shown > 0) page.table(table);
}

/// The lamp limits the current; the last section that shows millivolts leads to the short.
void write_lamp(TextPage& page, const WhatifState& state) {
    if (!state.lamp) return;
    page.labelled("lamp in " + state.lamp->fuse,
                  "millivolts by section for a short at each place; the last section that shows any leads to it");
    std::vector<TableColumn> columns{{"short", Align::left, Fold::words}};
    for (const std::string& section : state.lamp->sections) columns.push_back({section + " mV", Align::right});
    TextTable table(std::move(columns));
    for (const LampSections::Short& row : state.lamp->shorts) {
        std::vector<TableCell> cells{row.fault};
        for (const double value : row.millivolts) cells.push_back(write_fixed(value, 1));
        table.row(std::move(cells));
    }
    page.table(table);
}

void write_state(TextPage& page, const WhatifAnswer& answer, const WhatifState& state) {
    const Cases cases = answer.faults.empty() ? Cases::healthy_only : Cases::both;
    const bool asked_for = !answer.points.empty();
    page.gap();
    page.heading("state " + state.state);
    if (cases == Cases::both && !differs(state) && !asked_for) {
        write_loads(page, state, Cases::healthy_only);
        page.paragraph("as healthy: no point differs by 0.01 V", 2);
        write_lamp(page, state);
        return;
    }
    write_loads(page, state, cases);
    write_fuses(page, state, cases);
    write_heat(page, answer, state);
    write_lamp(page, state);
    write_points(page, state, asked_for, cases);
    if (asked_for) write_wires(page, state, cases);
    write_relays(page, state, cases);
    write_cut_off(page, state);
    write_limits(page, state, cases);
}

}  // namespace

bool is_never_on(const WhatifState& state, std::size_t load) {
    return state.healthy.loads[load].seen == LoadSeen::off && state.faulted.loads[load].seen == LoadSeen::off &&
           state.after.loads[load].seen == LoadSeen::off;
}

Tone seen_tone(LoadSeen seen, LoadSeen healthy) {
    if (seen == healthy) return Tone::plain;
    return seen == LoadSeen::slow || seen == LoadSeen::fast ? Tone::caution : Tone::bad;
}

std::string volts_or_floats(const std::optional<double>& volts) {
    return volts ? shown_volts(*volts) : "floats";
}

double moved(const PointFigure& healthy, const PointFigure& end) {
    if (healthy.volts && end.volts) return std::abs(*end.volts - *healthy.volts);
    if (!healthy.volts && !end.volts) return 0;
    return std::max(std::abs(healthy.volts ? *healthy.volts : *end.volts), 2 * visible_volts);
}

bool differs(const WhatifState& state) {
    if (!state.aftermath.empty()) return true;
    for (std::size_t i = 0; i < state.healthy.points.size(); ++i)
        if (moved(state.healthy.points[i], end_of(state).points[i]) >= visible_volts) return true;
    for (std::size_t i = 0; i < state.healthy.wires.size(); ++i) {
        const WireFigures& healthy = state.healthy.wires[i];
        const WireFigures& end = end_of(state).wires[i];
        if (std::abs(healthy.from - end.from) > 0.05 || std::abs(healthy.to - end.to) > 0.05) return true;
    }
    for (std::size_t i = 0; i < state.healthy.fuses.size(); ++i)
        if (state.healthy.fuses[i].open != end_of(state).fuses[i].open) return true;
    return false;
}

std::string event_text(const HeatEvent& event) {
    std::string text = event.what + " after " + shown_seconds(event.seconds);
    if (event.earliest && event.latest)
        text += fmt::format(" ({} to {})", shown_seconds(*event.earliest), shown_seconds(*event.latest));
    if (const auto watts = event_watts(event); watts && *watts >= 1) text += fmt::format(", {:.0f} W in it", *watts);
    if (!event.otherwise.empty()) text += ", " + event.otherwise;
    return text;
}

std::string limit_word(const LimitFigure& limit, double value) {
    if (limit.holds(value)) return "OK";
    return value > limit.high ? "HIGH" : "LOW";
}

std::string limit_text(const LimitFigure& limit, Cases cases) {
    const auto shown = [&](double value) {
        return write_fixed(value, limit.unit == "A" ? 1 : 2) + " " + limit.unit + " " + limit_word(limit, value);
    };
    const std::string allowed = limit.low ? fmt::format("{:g} to {:g} {}", *limit.low, limit.high, limit.unit)
                                          : fmt::format("{:g} {} at most", limit.high, limit.unit);
    std::string text = fmt::format("{}, {}: healthy {}", limit.what, allowed, shown(limit.healthy));
    if (cases == Cases::both) text += ", faulted " + shown(limit.faulted);
    return text;
}

void write_every_state(TextPage& page, const WhatifAnswer& answer) {
    for (const WhatifState& state : answer.states) {
        write_state(page, answer, state);
        if (state.start) write_startup(page, *state.start);
    }
}

}  // namespace voltfall
