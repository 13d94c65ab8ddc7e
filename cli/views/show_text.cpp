#include <fmt/format.h>

#include "cli/views/figures.hpp"
#include "cli/views/show_view.hpp"
#include "cli/views/text_table.hpp"

namespace voltfall {

namespace {

constexpr std::string_view only_way_mark = "*";

std::string chain_of(const std::vector<ShownStep>& steps) {
    std::string text;
    for (const ShownStep& step : steps) {
        if (!text.empty()) text += " > ";
        text += step.place;
        if (step.only_way) text += only_way_mark;
    }
    return text;
}

std::string way_text(const ShownWay& way) {
    if (way.feed.empty() && way.back.empty()) return "no feed, no way back";
    if (way.feed.empty()) return "no feed; back: " + chain_of(way.back);
    if (way.back.empty()) return "no way back; feed: " + chain_of(way.feed);
    return chain_of(way.feed) + " > [" + way.load + "] > " + chain_of(way.back);
}

void write_way(TextPage& page, const ShownWay& way, const char* word) {
    if (!way.complete) {
        page.labelled(way.load + word, way_text(way), 2, Tone::quiet);
        return;
    }
    page.labelled(way.load + word, way_text(way));
    page.paragraph(fmt::format("the way without {}: {}", way.load, shown_size(way.ohms, Unit::ohm)), 4, 2, Tone::quiet);
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
    for (const ShownShare& share : load.places)
        if (!share.every && share.positions.size() > 1)
            page.labelled(share.place, "in " + name_list(share.positions, share.positions.size()));
}

void write_values(TextPage& page, const std::string& title, const std::vector<ShownDefault>& values) {
    if (values.empty()) return;
    page.gap();
    page.heading(title);
    TextTable table({{"value", Align::left, Fold::words},
                     {"", Align::right},
                     {"source", Align::left, Fold::words},
                     {"used by", Align::left, Fold::words, 1}});
    for (const ShownDefault& value : values)
        table.row({value.name, shown_size(value.value, value.unit),
                   Cell(value.source, value.assumed() ? Tone::caution : Tone::plain),
                   name_list(value.used_by, page.style().top)});
    page.table(table);
}

}  // namespace

std::string show_text(const ShowAnswer& answer, PageStyle style) {
    TextPage page(style);
    if (!answer.circuit.empty()) page.heading(answer.circuit);
    if (!answer.note.empty()) page.paragraph(answer.note);
    page.paragraph("* opening it alone cuts the load off", 0, 2, Tone::quiet);
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
