#include <fmt/format.h>

#include "cli/pictures/fuse_drawing.hpp"
#include "cli/pictures/ladder_drawing.hpp"
#include "cli/pictures/speed_drawing.hpp"
#include "cli/pictures/wiring_drawing.hpp"
#include "cli/report/workshop_sheet.hpp"
#include "cli/views/figures.hpp"
#include "netlists/phrases/test_phrase.hpp"
#include "netlists/platform/shared_library.hpp"

namespace voltfall {

namespace {

std::string volts_or_floating(const std::optional<double>& volts) {
    return volts ? shown_volts(*volts) : "floating";
}

std::string leading(const ReportView& view) {
    return view.suspects.empty() ? "" : view.suspects.front().fault;
}

void write_speeds(HtmlPage& page, const ReportView& view) {
    const bool faulted = view.now.has_value();
    const std::vector<SpeedRow> telling = telling_rows(view.speeds);
    const Picture picture = speed_drawing(telling, faulted ? "with " + leading(view) : "");
    if (picture.empty()) return;
    page.open("section");
    page.open("div", "kept");
    page.heading(2, faulted ? picture.title.title : "Positions: amperes and speed of a sound vehicle");
    page.picture(picture.inside(), PictureWidth::of_page, "");
    page.close("div");
    std::vector<std::string> heads{"position", "load", "V", "A", "rpm"};
    if (faulted) heads.insert(heads.end(), {"V now", "A now", "rpm now", "seen"});
    std::vector<std::vector<std::string>> rows;
    const auto figures = [](const LoadState& load) -> std::vector<std::string> {
        return {shown_volts(load.volts), shown_amps(load.amps), load.rpm ? shown_rpm(*load.rpm) : ""};
    };
    for (const SpeedRow& row : telling) {
        std::vector<std::string> cells{row.position, row.load};
        for (std::string& cell : figures(row.sound)) cells.push_back(std::move(cell));
        if (row.now) {
            for (std::string& cell : figures(*row.now)) cells.push_back(std::move(cell));
            cells.emplace_back(row.now->said());
        }
        rows.push_back(std::move(cells));
    }
    page.table(heads, rows);
    if (telling.size() < view.speeds.size())
        page.paragraph("Loads that run alike in every position, as they should, have no bar.", "quiet");
    page.close("section");
}

std::string seconds_or(const std::optional<double>& seconds, std::string_view otherwise) {
    return seconds ? shown_seconds(*seconds) : std::string(otherwise);
}

void write_fuse(HtmlPage& page, const FuseCurve& curve, std::size_t number) {
    const Picture picture = fuse_drawing(curve, fmt::format("fuse{}", number));
    page.open("section", "fuse");
    page.heading(2, picture.title.title);
    page.picture(picture.inside(), PictureWidth::of_page, "");
    std::vector<std::vector<std::string>> rows;
    constexpr std::size_t every = 6;  // of the curve's points
    for (std::size_t i = 0; i < curve.openings.size(); i += every) {
        const FuseCurve::Opening& opening = curve.openings[i];
        rows.push_back({shown_amps(opening.amps), seconds_or(opening.earliest, "never"),
                        seconds_or(opening.typical, "never"), seconds_or(opening.latest, "may hold")});
    }
    page.table({"A", "earliest", "usual", "latest"}, rows, fmt::format("{} opens after", curve.fuse));
    page.close("section");
}

/// One row a step, in the order of the tree: its number, where it comes from, what is done.
void add_steps(std::vector<std::vector<std::string>>& rows, const Circuit& circuit, const PlanNode& node,
               const std::string& from) {
    const std::string number = std::to_string(rows.size() + 1);
    std::string what = node.repair.empty() ? "nothing found: verify again" : "repair " + node.repair + " and prove it";
    if (node.test) what = write_test(circuit, *node.test);
    rows.push_back({number, from, what, node.test ? shown_minutes(node.minutes) : probability_words(node.probability)});
    for (const PlanNode::Branch& branch : node.branches)
        add_steps(rows, circuit, *branch.then, fmt::format("{}: {}", number, branch.outcome));
}

void write_plan(HtmlPage& page, const PlanView& plan) {
    page.open("section", "plan");
    page.heading(2, "The whole way from here");
    page.picture(plan_drawing(plan), PictureWidth::own,
                 "From top to bottom: a test, what it may show, and where that leads.");
    std::vector<std::vector<std::string>> rows;
    add_steps(rows, *plan.circuit, *plan.answer.tree, "");
    page.table({"step", "when", "do", "takes, or chance"}, rows);
    page.close("section");
}

}  // namespace

namespace {

/// Of a job what it is about, by name: the leading suspect's place and the load that is drawn. Of a circuit nothing:
/// all of it is shown.
std::vector<std::string> concerned_by(const ReportView& view) {
    std::vector<std::string> names;
    if (!view.is_job && !view.lesson) return names;
    if (view.now && !view.suspects.empty()) names.push_back(view.suspects.front().place);
    if (!view.ladder.load.empty()) names.push_back(view.ladder.load);
    return names;
}

bool is_drawn(const ReportView& view, const std::string& fuse) {
    for (const std::vector<WireId>& wires : drawings_of(*view.circuit, concerned_by(view))) {
        for (const WireId id : wires) {
            const Wire& wire = view.circuit->wire(id);
            for (const WireEnd* end : {&wire.from, &wire.to})
                if (end->part.valid() && view.circuit->part(end->part).name == fuse) return true;
        }
    }
    return false;
}

/// The drawing in its pieces; where Graphviz is not there a sentence, for the table below tells the same.
void write_pieces(HtmlPage& page, const WiringCase& drawn, std::size_t number) {
    page.open("div", "pieces");
    try {
        std::vector<Picture> pieces = wiring_pages(drawn);
        for (std::size_t piece = 0; piece < pieces.size(); ++piece) {
            pieces[piece].title.id += fmt::format("of{}", number);
            page.picture(pieces[piece].inside(), PictureWidth::own,
                         pieces.size() > 1 ? fmt::format("{} of {} from the top", piece + 1, pieces.size()) : "");
        }
    } catch (const MissingLibrary&) {
        page.paragraph("Not drawn: Graphviz, which draws the wiring, is not on this machine. The table tells the same.",
                       "quiet");
    }
    page.close("div");
}

}  // namespace

void write_wiring(HtmlPage& page, const ReportView& view) {
    if (!view.sound) return;
    WiringCase drawn{view.now ? &*view.now : &*view.sound, view.state, view.now ? leading(view) : "", {}};
    if (view.now && !view.suspects.empty()) drawn.suspects.push_back(view.suspects.front().place);
    page.open("section");
    page.open("div", "kept");
    page.heading(2, wiring_title(drawn));
    page.paragraph(
        "Supply on top, ground at the bottom. A box between two parts is a wire: joint and volts at both ends, "
        "number, colour, size, amperes. The thicker a line, the more current. Just after switching on, before any fuse "
        "opens.",
        "quiet");
    std::size_t shown = 0;
    const auto drawings = drawings_of(*view.circuit, concerned_by(view));
    if (drawings.empty()) page.close("div");
    for (std::size_t i = 0; i < drawings.size(); ++i) {
        drawn.wires = drawings[i];
        shown += drawn.wires.size();
        write_pieces(page, drawn, i + 1);
        if (i == 0) page.close("div");
        page.table(wiring_heads(), wiring_rows(drawn));
    }
    if (const std::size_t others = view.circuit->wires.size() - shown; others > 0)
        page.paragraph(
            fmt::format("{} of circuits that share nothing with this one but supply and metal are not drawn.",
                        counted(others, "wire")),
            "quiet");
    page.close("section");
}

void write_ladder(HtmlPage& page, const VoltageLadder& ladder) {
    const Picture picture = ladder_drawing(ladder);
    if (picture.empty()) return;
    page.open("section");
    page.open("div", "kept");
    page.heading(2, picture.title.title);
    page.picture(picture.inside(), PictureWidth::of_page, "");
    page.close("div");
    std::vector<std::string> heads{"joint"};
    for (const LadderLine& line : ladder.lines) heads.push_back(line.name);
    heads.emplace_back("measured");
    std::vector<std::vector<std::string>> rows;
    for (std::size_t i = 0; i < ladder.rungs.size(); ++i) {
        std::vector<std::string> row{ladder.rungs[i]};
        for (const LadderLine& line : ladder.lines) row.push_back(volts_or_floating(line.volts[i]));
        row.push_back(ladder.measured[i] ? shown_volts(*ladder.measured[i]) : "");
        rows.push_back(std::move(row));
    }
    page.table(heads, rows, "volts to battery minus");
    page.close("section");
}

void write_pictures(HtmlPage& page, const ReportView& view) {
    write_wiring(page, view);
    write_ladder(page, view.ladder);
    write_speeds(page, view);
    for (std::size_t i = 0; i < view.fuses.size(); ++i)
        if (is_drawn(view, view.fuses[i].fuse)) write_fuse(page, view.fuses[i], i + 1);
    if (view.plan && view.plan->answer.tree) write_plan(page, *view.plan);
}

}  // namespace voltfall
