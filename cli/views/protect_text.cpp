#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "cli/views/figures.hpp"
#include "cli/views/protect_view.hpp"
#include "cli/views/text_table.hpp"

namespace voltfall {

namespace {

/// Lines of gaps where no --top is given.
constexpr std::size_t usual_gaps = 8;

std::string times_text(const FuseTimes& times) {
    if (!times.earliest && !times.latest) return "holds";
    if (!times.latest) return fmt::format("{} or never", shown_seconds(*times.earliest));
    return fmt::format("{} to {}", shown_seconds(*times.earliest), shown_seconds(*times.latest));
}

std::string amps_text(double amps) {
    return fmt::format("{:.0f} A", amps);
}

std::string opening_text(const std::string& fuse, const WireAtOpening& at) {
    const std::string opens = at.seconds ? "opens in " + shown_seconds(*at.seconds) : "holds";
    std::string text = fmt::format("at {} {} {}, the wire then {:.0f} C of {:.0f}", amps_text(at.amps), fuse, opens,
                                   at.celsius, at.limit);
    if (at.latest && at.latest_celsius) text += fmt::format(" (slowest fuse {:.0f} C)", *at.latest_celsius);
    return text;
}

void write_wire(TextPage& page, const FuseGuard& guard, const WireVerdict& wire) {
    if (wire.ok()) {
        page.labelled(wire.wire + " OK", "worst " + opening_text(guard.name, wire.worst), 2, Tone::good);
    } else {
        page.labelled(wire.wire + " GAP",
                      fmt::format("harmed from {} to {}: {}", amps_text(*wire.fails_from), amps_text(*wire.fails_to),
                                  opening_text(guard.name, wire.worst)),
                      2, Tone::bad);
    }
    page.paragraph("hardest short at its far end: " + opening_text(guard.name, wire.hardest), 4, 2, Tone::quiet);
}

void write_contact(TextPage& page, const FuseGuard& guard, const ContactVerdict& contact) {
    if (contact.ok()) return;
    const std::string opens = contact.opens ? "opens in " + shown_seconds(*contact.opens) : "holds";
    page.labelled(contact.name + " GAP",
                  fmt::format("{:g} A; worn from {} to {}: at {} it bears {}, {} {}", contact.rating,
                              amps_text(*contact.fails_from), amps_text(*contact.fails_to),
                              amps_text(*contact.fails_to), shown_seconds(*contact.bears), guard.name, opens),
                  2, Tone::bad);
}

void write_fuse(TextPage& page, const FuseGuard& guard) {
    page.gap();
    page.heading(fmt::format("{} {:g} A {}{}{}", guard.name, guard.rating, guard.type, guard.colour.empty() ? "" : ", ",
                             guard.colour));
    page.paragraph(fmt::format("melting I2t {:.0f} A2s; feeds {}", guard.i2t,
                               guard.loads.empty() ? "no load" : name_list(guard.loads, page.style().top)),
                   2);
    TextTable table({{"A", Align::right}, {"of rating", Align::right}, {"opens in", Align::left, Fold::words}});
    for (const FuseTimes& times : guard.times)
        table.row({fmt::format("{:.0f}", times.amps), fmt::format("{:.0f}%", 100 * times.amps / guard.rating),
                   times_text(times)});
    page.table(table);
    if (guard.wires.empty()) page.paragraph("no wire behind it that a short meets before a load", 2);
    for (const WireVerdict& wire : guard.wires) write_wire(page, guard, wire);
    for (const ContactVerdict& contact : guard.contacts) write_contact(page, guard, contact);
}

std::string kind_words(const ProtectionGap& gap) {
    switch (gap.kind) {
        case BodyKind::pack:
            return gap.limiter ? "limiter opens" : "chars what holds it";
        case BodyKind::winding:
            return "winding is harmed";
        case BodyKind::joint:
            return "plastic softens";
        case BodyKind::wire:
            return "insulation is harmed";
        case BodyKind::module:
            return "its transistor is harmed";
        case BodyKind::rating:
            return "such contacts bear it no longer";
    }
    return "";
}

/// "R1 129 W at 12.2 A", "K7 contact carries 35.6 A of its 25 A".
std::string load_words(const ProtectionGap& gap) {
    if (gap.kind == BodyKind::rating)
        return fmt::format("{} carries {:.1f} A of its {:g} A", gap.what, gap.amps, gap.rating);
    return fmt::format("{} {:.0f} W at {:.1f} A", gap.what, gap.watts, gap.amps);
}

std::string melting_words(const ProtectionGap& gap) {
    if (gap.limiter_celsius) return fmt::format("; its limiter opens later, at {:.0f} C", *gap.limiter_celsius);
    return gap.melts ? "; its copper melts in about " + shown_seconds(*gap.melts) : "";
}

/// Faults of one sort that harm the same sort of thing: "a bad joint" and the like are one line.
struct GapGroup {
    const ProtectionGap* first{nullptr};  ///< the quickest
    std::vector<std::string> places;
};

/// The mode's word without its place and size: "resistance", "seized".
std::string sort_of(const ProtectionGap& gap) {
    for (const char* word : {" resistance", " open", " chafe", " short-to-30", " bridge"}) {
        if (gap.fault.find(word) != std::string::npos) return word;
    }
    return gap.fault;
}

std::vector<GapGroup> groups_of(const std::vector<ProtectionGap>& gaps) {
    std::vector<GapGroup> groups;
    std::vector<std::string> keys;
    for (const ProtectionGap& gap : gaps) {
        const std::string key = sort_of(gap) + kind_words(gap) + (gap.kind == BodyKind::joint ? "" : gap.what);
        const auto known = std::find(keys.begin(), keys.end(), key);
        if (known == keys.end()) {
            keys.push_back(key);
            groups.push_back({&gap, {}});
            continue;
        }
        std::vector<std::string>& places = groups[static_cast<std::size_t>(known - keys.begin())].places;
        if (std::find(places.begin(), places.end(), gap.place) == places.end()) places.push_back(gap.place);
    }
    return groups;
}

void write_gaps(TextPage& page, const ProtectAnswer& answer) {
    page.gap();
    page.heading("what burns while the fuse holds");
    const std::vector<GapGroup> groups = groups_of(answer.protection.gaps);
    if (groups.empty()) page.paragraph("no fault of the catalogue harms anything before a fuse opens", 2);
    const std::size_t most = page.style().top_given ? page.style().top : usual_gaps;
    for (std::size_t i = 0; i < groups.size() && i < most; ++i) {
        const ProtectionGap& gap = *groups[i].first;
        page.paragraph(fmt::format("{} in {}: {}, {} after {}; {}", gap.fault, gap.state, load_words(gap),
                                   kind_words(gap), shown_seconds(gap.seconds), gap.fuse) +
                           melting_words(gap),
                       2, 2, Tone::caution);
        if (!groups[i].places.empty()) page.paragraph("likewise " + name_list(groups[i].places, page.style().top), 4);
    }
    if (groups.size() > most) page.paragraph(more_line(groups.size() - most, groups.size()), 2, 2, Tone::quiet);
}

std::string lasts_text(const HotPlace& place) {
    std::string text;
    for (const HotPlace::Lasts& lasts : place.lasts) {
        text += fmt::format("{}{:.0f} C {}", text.empty() ? "" : ", ", lasts.metal_celsius,
                            std::isfinite(lasts.seconds) ? shown_seconds(lasts.seconds) : "creeps only");
    }
    return text;
}

void write_hot(TextPage& page, const ProtectAnswer& answer) {
    if (answer.protection.hot.empty()) return;
    page.gap();
    page.heading("hot places");
    for (const HotPlace& place : answer.protection.hot) {
        page.labelled(place.wire, place.care, 2, Tone::caution);
        page.paragraph("PVC in full contact with metal of " + lasts_text(place) +
                           "; 10 to 100 times longer in light touch (a model: no times are published)",
                       4);
        std::string then;
        for (const HotPlace::Then& one : place.then) {
            then += fmt::format("{}in {} {}", then.empty() ? "" : "; ", one.state, one.what);
            if (one.seconds) then += " after " + shown_seconds(*one.seconds);
        }
        if (!then.empty()) page.paragraph(place.fault + ": " + then, 4);
    }
}

/// "OK", or the first wire or contact that is harmed while the fuse holds.
TableCell guard_verdict(const FuseGuard& guard) {
    std::vector<std::string> harmed;
    for (const WireVerdict& wire : guard.wires)
        if (!wire.ok())
            harmed.push_back(
                fmt::format("{} ({} to {})", wire.wire, amps_text(*wire.fails_from), amps_text(*wire.fails_to)));
    for (const ContactVerdict& contact : guard.contacts)
        if (!contact.ok())
            harmed.push_back(fmt::format("{} ({} to {})", contact.name, amps_text(*contact.fails_from),
                                         amps_text(*contact.fails_to)));
    constexpr std::size_t most = 3;
    if (harmed.empty()) return {guard.wires.empty() ? "no wire behind it" : "OK", Tone::good};
    return {"GAP: harmed " + names_and_more(harmed, most), Tone::bad};
}

TextTable guards_table(const Protection& protection) {
    constexpr std::size_t most = 3;
    TextTable table({{"fuse"},
                     {"rated A", Align::right},
                     {"feeds", Align::left, Fold::words, 1},
                     {"its wires and contacts", Align::left, Fold::words}});
    for (const FuseGuard& guard : protection.fuses)
        table.row({guard.name, fmt::format("{:g}", guard.rating),
                   guard.loads.empty() ? "no load" : names_and_more(guard.loads, most), guard_verdict(guard)});
    return table;
}

/// "R1: limiter opens, 188 W".
std::string burning_words(const ProtectionGap& gap) {
    if (gap.kind == BodyKind::rating) return load_words(gap);
    return fmt::format("{}: {}, {:.0f} W", gap.what, kind_words(gap), gap.watts);
}

TextTable gaps_table(const std::vector<GapGroup>& groups) {
    TextTable table({{"fault", Align::left, Fold::words},
                     {"in", Align::left, Fold::words, 1},
                     {"after", Align::right},
                     {"what burns while the fuse holds", Align::left, Fold::words}});
    for (const GapGroup& group : groups) {
        const ProtectionGap& gap = *group.first;
        const std::string likewise = group.places.empty() ? "" : fmt::format(" and {} alike", group.places.size());
        table.row({gap.fault + likewise, gap.state, shown_seconds(gap.seconds),
                   TableCell(burning_words(gap), Tone::caution)});
    }
    return table;
}

std::string protect_screen(const ProtectAnswer& answer, PageStyle style) {
    const Protection& protection = answer.protection;
    TextPage page(style);
    if (!answer.circuit.empty()) page.heading(answer.circuit);
    TextPage foot({style.width, style.colour});
    std::vector<std::string> hot;
    for (const HotPlace& place : protection.hot) hot.push_back(place.wire);
    if (!hot.empty()) foot.labelled("hot places:", names_and_more(hot, hot.size()) + " (how long they last: --all)", 0);
    foot.paragraph(
        "from cold, typical times; the maker's ratings come first: never a larger fuse. Times, wires, assumed "
        "figures: --all",
        0, 2, Tone::quiet);
    const TextTable guards = guards_table(protection);
    if (guards.empty()) page.paragraph("no fuse in this circuit: nothing protects it", 0, 2, Tone::bad);
    constexpr std::size_t least_for_gaps = 5;
    const std::size_t shown = page.table_within(guards, page.room(foot.lines() + least_for_gaps), 0);
    if (shown < guards.size())
        page.paragraph(fmt::format("{} more fuses: --all", guards.size() - shown), 2, 2, Tone::quiet);
    const std::vector<GapGroup> groups = groups_of(protection.gaps);
    if (groups.empty()) page.paragraph("no fault of the catalogue harms anything before a fuse opens");
    const TextTable gaps = gaps_table(groups);
    const std::size_t told = page.table_within(gaps, page.room(foot.lines() + 1), 0);
    if (told < gaps.size()) page.paragraph(fmt::format("{} more: --all", gaps.size() - told), 2, 2, Tone::quiet);
    page.add(foot);
    return page.text();
}

}  // namespace

std::string protect_text(const ProtectAnswer& answer, PageStyle style) {
    if (!style.all && !style.top_given) return protect_screen(answer, style);
    TextPage page(style);
    if (!answer.circuit.empty()) page.heading(answer.circuit);
    page.paragraph("fuses from cold by their typical time; the vehicle maker's ratings come first: never a larger fuse",
                   0, 2, Tone::quiet);
    for (const FuseGuard& guard : answer.protection.fuses) write_fuse(page, guard);
    if (answer.protection.fuses.empty())
        page.paragraph("no fuse in this circuit: nothing protects it", 0, 2, Tone::bad);
    write_gaps(page, answer);
    write_hot(page, answer);
    if (!answer.assumed.empty()) {
        page.gap();
        page.paragraph("ASSUMED, no source gives them; [heat] in the file sets them: " +
                           name_list(answer.assumed, answer.assumed.size()),
                       0, 2, Tone::quiet);
    }
    return page.text();
}

}  // namespace voltfall
