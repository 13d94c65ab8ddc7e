#include "netlists/tables/heat_rows.hpp"

#include <algorithm>
#include <array>

#include "netlists/tables/figure_bounds.hpp"

namespace voltfall {

namespace {

/// A row whose unit and ends are those of the table of bounds.
HeatRow row_of(std::string_view key, std::string_view row, std::string_view what) {
    const auto bounds = std::find_if(figure_rows().begin(), figure_rows().end(),
                                     [&](const FigureBounds& b) { return b.of == "heat" && b.figure == key; });
    return {key, row, bounds->unit, bounds->least, bounds->most, what};
}

}  // namespace

std::span<const HeatRow> heat_rows() {
    static const std::array rows{
        row_of("ambient-air", "ambient_air", "air around parts and joints"),
        row_of("ambient-wire", "ambient_wire", "air around wires"),
        row_of("ambient-hot", "ambient_hot", "air around wires that [care] calls hot"),
        row_of("ambient-fuse", "ambient_fuse", "air in the fuse box"),
        row_of("wire-class", "wire_class", "temperature class of the wires' insulation"),
        row_of("wire-short-limit", "wire_short_limit", "insulation in a short of up to 5 s"),
        row_of("joint-limit", "joint_limit", "where a connector's plastic softens"),
        row_of("joint-kelvin-per-watt", "joint_kelvin_per_watt", "rise of a contact a watt"),
        row_of("joint-time", "joint_seconds", "time constant of a contact"),
        row_of("pack-rise", "pack_rise", "rise of a pack in its hottest healthy position"),
        row_of("pack-time", "pack_seconds", "time constant of a pack in standing air"),
        row_of("pack-limit", "pack_limit", "where a pack without a limiter chars its holder"),
        row_of("winding-rise", "winding_rise", "rise of a motor's winding at its rated current"),
        row_of("winding-time", "winding_seconds", "time constant of a motor's winding"),
        row_of("winding-limit", "winding_limit", "limit of a motor's winding"),
    };
    return rows;
}

}  // namespace voltfall
