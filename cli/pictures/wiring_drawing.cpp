#include "cli/pictures/wiring_drawing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>

#include "cli/pictures/graph_layout.hpp"
#include "cli/pictures/wire_colours.hpp"
#include "cli/views/figures.hpp"
#include "cli/views/markup_text.hpp"
#include "netlists/graph/separate_circuits.hpp"
#include "netlists/parts/kind.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

constexpr double line_height = 14;
constexpr double wire_line_height = 12;
constexpr double padding = 6;
constexpr double swatch = 11;
constexpr std::size_t most_letters = 26;
constexpr std::string_view suspect_mark = "SUSPECT";
/// What is a little higher than a page is drawn smaller there, not cut.
constexpr double shrinks_to_page = 1.2;
/// Lines are this thick without current, and as much thicker with the most of the drawing.
constexpr double thinnest = 1.2;
constexpr double thicker = 5.5;

std::string size_text(const Wire& wire) {
    std::string text =
        wire.standard == WireStandard::metric ? fmt::format("{:g} mm2", wire.size) : fmt::format("{:g} AWG", wire.size);
    if (wire.parallel > 1) text += fmt::format(" x{}", wire.parallel);
    return text;
}

std::string volts_text(const Settled& settled, JointId joint) {
    return settled.floats(joint) ? "floating" : shown_volts(settled.point.volts[joint.index]) + " V";
}

double amps_of(const Settled& settled, WireId wire) {
    const WireAmps amps = wire_amps(settled, wire);
    return std::max(std::abs(amps.from), std::abs(amps.to));
}

std::vector<WireId> wires_of(const WiringCase& of) {
    if (!of.wires.empty()) return of.wires;
    std::vector<WireId> all;
    for (std::uint32_t i = 0; i < of.settled->network.circuit->wires.size(); ++i) all.push_back({i});
    return all;
}

struct Box {
    std::vector<std::string> lines;  ///< the first is the name
    std::string colour;              ///< of a wire, in words
    bool wire{false};
    bool marked{false};

    LayoutBox size() const {
        double width = 0;
        for (std::size_t i = 0; i < lines.size(); ++i)
            width = std::max(width, svg_text_width(lines[i], wire ? 10.5 : 12) + (wire && i == 1 ? swatch + 4 : 0));
        const double line = wire ? wire_line_height : line_height;
        const double marks = marked ? line_height : 0;
        if (marked) width = std::max(width, svg_text_width(suspect_mark, 11));
        return {width + 2 * padding, line * static_cast<double>(lines.size()) + padding + marks};
    }
};

struct Line {
    std::size_t from{};
    std::size_t to{};
    double amps{};
};

class WiringGraph {
public:
    explicit WiringGraph(const WiringCase& of) : of_(of), settled_(*of.settled), circuit_(*settled_.network.circuit) {
        add_poles();
        for (const WireId wire : wires_of(of)) add_wire(wire);
        for (std::size_t i = 0; i < circuit_.parts.size(); ++i) tie({static_cast<std::uint32_t>(i)});
    }

    /// In pieces of this height at most, cut where no box is; infinity: in one.
    std::vector<Picture> draw(double most_height) const {
        std::vector<LayoutBox> sizes;
        for (const Box& box : boxes_) sizes.push_back(box.size());
        std::vector<LayoutLine> lines;
        for (const Line& line : lines_) lines.push_back({line.from, line.to});
        const GraphLayout layout = lay_out(sizes, lines, top_, bottom_);
        std::vector<Picture> pieces;
        const std::vector<double> cuts = cuts_of(layout, sizes, most_height);
        for (std::size_t i = 0; i + 1 < cuts.size(); ++i) pieces.push_back(piece(layout, sizes, cuts[i], cuts[i + 1]));
        if (pieces.size() > 1)
            for (std::size_t i = 0; i < pieces.size(); ++i) {
                pieces[i].title.id += std::to_string(i + 1);
                pieces[i].title.title += fmt::format(", {} of {}", i + 1, pieces.size());
            }
        return pieces;
    }

private:
    /// Heights at which the drawing is cut, its top and bottom among them.
    static std::vector<double> cuts_of(const GraphLayout& layout, const std::vector<LayoutBox>& sizes,
                                       double most_height) {
        std::vector<double> cuts{0};
        if (layout.height <= shrinks_to_page * most_height) return {0, layout.height};
        while (layout.height - cuts.back() > most_height) {
            // Up from the end of the page to where no box is; boxes higher than a page are cut.
            double cut = cuts.back() + most_height;
            for (std::size_t i = 0; i < sizes.size(); ++i) {
                const double top = layout.centres[i].second - sizes[i].height / 2;
                if (top - 1 < cut && top + sizes[i].height + 1 > cut && top - 2 > cuts.back()) {
                    cut = top - 2;
                    i = 0;
                }
            }
            cuts.push_back(cut);
        }
        cuts.push_back(layout.height);
        return cuts;
    }

    Picture piece(const GraphLayout& layout, const std::vector<LayoutBox>& sizes, double top, double bottom) const {
        double most = 0.1;
        for (const Line& line : lines_) most = std::max(most, line.amps);
        SvgShapes shapes;
        for (std::size_t i = 0; i < lines_.size(); ++i) {
            const auto [low, high] =
                std::minmax_element(layout.lines[i].begin(), layout.lines[i].end(),
                                    [](const auto& a, const auto& b) { return a.second < b.second; });
            if (low == layout.lines[i].end() || low->second > bottom || high->second < top) continue;
            shapes.curve(layout.lines[i],
                         {.colour = palette::ink, .width = thinnest + thicker * lines_[i].amps / most});
        }
        for (std::size_t i = 0; i < boxes_.size(); ++i) {
            const double middle = layout.centres[i].second;
            if (middle >= top && middle < bottom) draw_box(shapes, boxes_[i], sizes[i], layout.centres[i]);
        }
        constexpr double edge = 2;  // so that no outline is cut
        Picture picture;
        picture.shapes.add(shapes, edge - top, edge);
        picture.width = std::max(layout.width + 2 * edge, 200.0);
        picture.height = bottom - top + 2 * edge;
        picture.title = {"wiring", wiring_title(of_),
                         "Parts and wires with their volts and amperes; the table below holds the same figures."};
        return picture;
    }

    bool is_marked(const std::string& place) const {
        return std::any_of(of_.suspects.begin(), of_.suspects.end(), [&](const std::string& suspect) {
            return same_word(suspect, place) || (is_cavity_of(suspect, place) && !circuit_.find_wire(place).valid());
        });
    }

    std::size_t add_box(Box box) {
        for (std::string& line : box.lines) line = shortened(line, most_letters);
        boxes_.push_back(std::move(box));
        return boxes_.size() - 1;
    }

    void add_poles() {
        const std::string battery = circuit_.battery.valid() ? circuit_.part(circuit_.battery).name : "B1";
        plus_ = add_box({{battery + "+  30", volts_text(settled_, circuit_.bus_30)}, {}, false, is_marked(battery)});
        top_.push_back(plus_);
        minus_ = add_box({{battery + "-  31", "metal and battery minus"}, {}, false, false});
        bottom_.push_back(minus_);
        if (!circuit_.bus_15.valid()) return;
        const auto at_15 = [&](const WireEnd& end) {
            return is_word(end, "15") || (end.part.valid() && circuit_.part(end.part).feed == "15");
        };
        const std::vector<WireId> drawn = wires_of(of_);
        const bool used = std::any_of(drawn.begin(), drawn.end(), [&](WireId id) {
            return at_15(circuit_.wire(id).from) || at_15(circuit_.wire(id).to);
        });
        if (!used) return;
        ignition_ = add_box({{"15", volts_text(settled_, circuit_.bus_15)}, {}, false, false});
        top_.push_back(*ignition_);
    }

    /// An end written as a word of the supply: 30, 15 or 31.
    static bool is_word(const WireEnd& end, std::string_view word) { return !end.part.valid() && end.terminal == word; }

    /// The box of a part, of one cavity of a connector, or of a pole of the battery.
    std::size_t box_of(const WireEnd& end) {
        if (is_word(end, "15") && ignition_) return *ignition_;
        if (!end.part.valid()) return is_word(end, "31") ? minus_ : plus_;
        if (end.part == circuit_.battery) return end.terminal == "+" ? plus_ : minus_;
        const Part& part = circuit_.part(end.part);
        const bool cavity = joins(part, Joining::cavities) && !end.terminal.empty();
        const std::string name = cavity ? part.name + "." + end.terminal : part.name;
        const auto known = by_name_.find(name);
        if (known != by_name_.end()) return known->second;
        Box box{{name}, {}, false, is_marked(name) || (!cavity && is_marked(part.name))};
        if (!cavity) add_part_lines(box, end.part);
        return by_name_[name] = add_box(std::move(box));
    }

    void add_part_lines(Box& box, PartId id) const {
        const Part& part = circuit_.part(id);
        std::string kind(part.kind->word);
        if (part.fuse) kind += fmt::format(" {:g} A", part.fuse->rating_amps);
        if (!part.plug.empty()) kind += ", plug " + part.plug;
        box.lines.push_back(kind);
        if (!part.print.empty() && !part.load_branch.valid() && only_joins(part)) box.lines.push_back(part.print);
        if (part.relay) box.lines.emplace_back(settled_.relay_pulled[id.index] ? "pulled" : "released");
        if (part.load_branch.valid()) {
            const LoadState load = load_state(settled_, id, nullptr);
            box.lines.push_back(shown_volts(load.volts) + " V  " + shown_amps(load.amps) + " A");
            if (load.rpm) box.lines.push_back(shown_rpm(*load.rpm) + " rpm");
        }
    }

    double volts_at(JointId joint) const { return settled_.floats(joint) ? 0 : settled_.point.volts[joint.index]; }

    /// A ground is the lower end, be its volts a little above the other's; else the end with fewer volts is.
    bool runs_down(const Wire& wire) const {
        const auto is_ground = [&](const WireEnd& end) {
            return end.part.valid() ? joins(circuit_.part(end.part), Joining::metal) : is_word(end, "31");
        };
        const bool from_ground = is_ground(wire.from);
        const bool to_ground = is_ground(wire.to);
        if (from_ground != to_ground) return to_ground;
        return volts_at(wire.from.joint) >= volts_at(wire.to.joint);
    }

    void add_wire(WireId id) {
        const Wire& wire = circuit_.wire(id);
        const bool down = runs_down(wire);
        const WireEnd& upper = down ? wire.from : wire.to;
        const WireEnd& lower = down ? wire.to : wire.from;
        const double amps = amps_of(settled_, id);
        Box box;
        box.wire = true;
        box.colour = wire.colour_words;
        box.marked = is_marked(wire.name);
        box.lines = {end_text(upper), wire.name + "  " + wire.colour,
                     fmt::format("{}  {} A", size_text(wire), shown_amps(amps)), end_text(lower)};
        const std::size_t a = box_of(upper);
        const std::size_t b = box_of(lower);
        const std::size_t middle = add_box(std::move(box));
        lines_.push_back({a, middle, amps});
        lines_.push_back({middle, b, amps});
    }

    std::string end_text(const WireEnd& end) const {
        const Place place = read_place(circuit_.joint(end.joint).name).without_half();
        return write_place(place) + "  " + volts_text(settled_, end.joint);
    }

    /// Parts tied to a bus or to metal without a wire of their own.
    void tie(PartId id) {
        const Part& part = circuit_.part(id);
        const auto known = by_name_.find(part.name);
        if (known == by_name_.end()) return;
        const double amps = part.fuse ? std::abs(settled_.point.amps[part.fuse->element.index]) : 0;
        if (part.feed == "30") lines_.push_back({plus_, known->second, amps});
        if (part.feed == "15" && ignition_) lines_.push_back({*ignition_, known->second, amps});
        if (joins(part, Joining::metal)) lines_.push_back({known->second, minus_, ground_amps(part)});
    }

    double ground_amps(const Part& part) const {
        double amps = 0;
        for (const BranchId branch : part.branches)
            if (std::isfinite(settled_.point.amps[branch.index]))
                amps = std::max(amps, std::abs(settled_.point.amps[branch.index]));
        return amps;
    }

    static void draw_swatch(SvgShapes& shapes, double left, double top, const std::string& colour) {
        const auto colours = drawn_colours(colour);
        shapes.fill(left, top, swatch, swatch, colours.empty() ? "#fff" : colours.front(), "#222");
        for (std::size_t i = 1; i < colours.size(); ++i)
            shapes.fill(left + 1 + 3.5 * static_cast<double>(i), top + 0.5, 2.5, swatch - 1, colours[i]);
    }

    static void draw_box(SvgShapes& shapes, const Box& box, const LayoutBox& size, std::pair<double, double> centre) {
        const double left = centre.first - size.width / 2;
        double y = centre.second - size.height / 2;
        shapes.fill(left, y, size.width, size.height, box.wire ? "#fff" : "#eef3f8",
                    box.marked ? palette::vermillion
                    : box.wire ? std::string_view("#9a9a9a")
                               : palette::ink);
        if (box.marked) shapes.fill(left + 2, y + 2, size.width - 4, size.height - 4, "none", palette::vermillion);
        const double line = box.wire ? wire_line_height : line_height;
        y += padding / 2 + line - 3;
        if (box.marked) {
            shapes.text(centre.first, y, suspect_mark, {.size = 10.5, .bold = true, .middle = true, .fill = "#a33c00"});
            y += line_height;
        }
        for (std::size_t i = 0; i < box.lines.size(); ++i, y += line) {
            const bool number = box.wire && i == 1;
            if (number) draw_swatch(shapes, left + padding, y - 9, box.colour);
            const double at = number ? centre.first + swatch / 2 + 2 : centre.first;
            shapes.text(at, y, box.lines[i],
                        {.size = box.wire ? 10.5 : 12.0, .bold = box.wire ? number : i == 0, .middle = true});
        }
    }

    const WiringCase& of_;
    const Settled& settled_;
    const Circuit& circuit_;
    std::vector<Box> boxes_;
    std::vector<Line> lines_;
    std::map<std::string, std::size_t> by_name_;
    std::vector<std::size_t> top_;
    std::vector<std::size_t> bottom_;
    std::size_t plus_{0};
    std::size_t minus_{0};
    std::optional<std::size_t> ignition_;
};

}  // namespace

std::string wiring_title(const WiringCase& of) {
    return "Wiring in " + of.state + (of.fault.empty() ? ", sound" : ", with " + of.fault);
}

std::vector<std::vector<WireId>> drawings_of(const Circuit& circuit, const std::vector<std::string>& concerned) {
    constexpr std::size_t most_wires = 12;  // of small circuits beside each other
    const auto touches = [&](const std::string& place) {
        return std::any_of(concerned.begin(), concerned.end(), [&](const std::string& name) {
            return same_word(read_place(name).owner, read_place(place).owner);
        });
    };
    const auto is_concerned = [&](const std::vector<WireId>& wires) {
        return concerned.empty() || std::any_of(wires.begin(), wires.end(), [&](WireId id) {
                   const Wire& wire = circuit.wire(id);
                   // A terminal may be called by its plug: the part has its own name too.
                   const auto end_touches = [&](const WireEnd& end) {
                       return touches(circuit.joint(end.joint).name) ||
                              (end.part.valid() && touches(circuit.part(end.part).name));
                   };
                   return touches(wire.name) || end_touches(wire.from) || end_touches(wire.to);
               });
    };
    std::vector<std::vector<WireId>> circuits = separate_circuits(circuit);
    // What is named by no wire's end is told by all of them.
    if (std::any_of(circuits.begin(), circuits.end(), is_concerned))
        std::erase_if(circuits, [&](const auto& wires) { return !is_concerned(wires); });
    std::vector<std::vector<WireId>> drawings;
    for (const std::vector<WireId>& wires : circuits) {
        if (!drawings.empty() && drawings.back().size() + wires.size() <= most_wires)
            drawings.back().insert(drawings.back().end(), wires.begin(), wires.end());
        else
            drawings.push_back(wires);
    }
    return drawings;
}

Picture wiring_drawing(const WiringCase& of) {
    return WiringGraph(of).draw(std::numeric_limits<double>::infinity()).front();
}

std::vector<Picture> wiring_pages(const WiringCase& of) {
    constexpr double page_height = 800;  // of 225 mm, which A4 and Letter hold below a heading
    return WiringGraph(of).draw(page_height);
}

std::vector<std::string> wiring_heads() {
    return {"wire", "colour", "size", "from", "V", "to", "V", "A"};
}

std::vector<std::vector<std::string>> wiring_rows(const WiringCase& of) {
    const Settled& settled = *of.settled;
    const Circuit& circuit = *settled.network.circuit;
    std::vector<std::vector<std::string>> rows;
    for (const WireId id : wires_of(of)) {
        const Wire& wire = circuit.wire(id);
        const auto volts = [&](JointId joint) {
            return settled.floats(joint) ? std::string("floating") : shown_volts(settled.point.volts[joint.index]);
        };
        rows.push_back({wire.name, wire.colour, size_text(wire), circuit.joint(wire.from.joint).name,
                        volts(wire.from.joint), circuit.joint(wire.to.joint).name, volts(wire.to.joint),
                        shown_amps(amps_of(settled, id))});
    }
    return rows;
}

}  // namespace voltfall
