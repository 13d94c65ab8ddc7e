// Fusible link: a short length of thin wire that melts first.
#include "netlists/parts/fuse_element.hpp"
#include "netlists/parts/kinds.hpp"
#include "netlists/parts/part_reader.hpp"
#include "netlists/tables/wires.hpp"

namespace voltfall {

namespace {

constexpr FigureBounds figures[] = {
    {"link", "gauge", Unit::awg, thickest_gauge, thinnest_gauge},
    {"link", "area", Unit::square_millimetre, 0.01, 300},
    {"link", "length", Unit::metre, 0.005, 20},
};

void read(PartReader& reader, Part& part) {
    reader.optional(part, "gauge", Unit::awg, 1e9, "");
    if (part.value("gauge") > 1e8) {
        part.parameters.pop_back();
        reader.required(part, "area", Unit::square_millimetre);
    }
    reader.required(part, "length", Unit::metre);
    reader.feed(part);
}

void lay(const Part& part, Layout& layout) {
    const bool gauge = part.parameter("gauge") != nullptr;
    const WireStandard standard = gauge ? WireStandard::awg : WireStandard::metric;
    const double size = gauge ? part.value("gauge") : part.value("area");
    // The link's rating is what a wire of its area may carry without end (row W20 of the wire tables).
    lay_opening_element(
        layout, "link", wire_ampacity(wire_area_mm2(standard, size)),
        wire_ohm_per_metre(standard, size) * part.value("length"),
        {"fusible link " + part.name + " melted through", "fusible link " + part.name + " broken, though it looks good",
         "poor joint of fusible link " + part.name});
}

}  // namespace

constinit const Kind link_kind = passive_kind({
    .word = "link",
    .example = "link 16AWG 0.2m",
    .fitting = Fitting::wired,
    .drop = Drop::none,
    .read = read,
    .terminals = two_terminals,
    .terminal_aliases = opening_element_aliases,
    .lay = lay,
    .figures = figures,
});

}  // namespace voltfall
