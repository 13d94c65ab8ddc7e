#include "netlists/tables/heat_rows.hpp"

#include <array>

namespace voltfall {

std::span<const HeatRow> heat_rows() {
    static constexpr std::array rows{
        HeatRow{"ambient-air", "ambient_air", Unit::celsius, -40, 150, "air around parts and joints"},
        HeatRow{"ambient-wire", "ambient_wire", Unit::celsius, -40, 200, "air around wires"},
        HeatRow{"ambient-hot", "ambient_hot", Unit::celsius, -40, 200, "air around wires that [care] calls hot"},
        HeatRow{"ambient-fuse", "ambient_fuse", Unit::celsius, -40, 125, "air in the fuse box"},
        HeatRow{"wire-class", "wire_class", Unit::celsius, 60, 260, "temperature class of the wires' insulation"},
        HeatRow{"wire-short-limit", "wire_short_limit", Unit::celsius, 100, 400, "insulation in a short of up to 5 s"},
        HeatRow{"joint-limit", "joint_limit", Unit::celsius, 60, 300, "where a connector's plastic softens"},
        HeatRow{"joint-kelvin-per-watt", "joint_kelvin_per_watt", Unit::none, 0.1, 500, "rise of a contact a watt"},
        HeatRow{"joint-time", "joint_seconds", Unit::second, 1, 3600, "time constant of a contact"},
        HeatRow{"pack-rise", "pack_rise", Unit::celsius, 5, 300, "rise of a pack in its hottest healthy position"},
        HeatRow{"pack-time", "pack_seconds", Unit::second, 1, 3600, "time constant of a pack in standing air"},
        HeatRow{"pack-limit", "pack_limit", Unit::celsius, 80, 600, "where a pack without a limiter chars its holder"},
        HeatRow{"winding-rise", "winding_rise", Unit::celsius, 5, 150,
                "rise of a motor's winding at its rated current"},
        HeatRow{"winding-time", "winding_seconds", Unit::second, 1, 7200, "time constant of a motor's winding"},
        HeatRow{"winding-limit", "winding_limit", Unit::celsius, 80, 250, "limit of a motor's winding"},
    };
    return rows;
}

}  // namespace voltfall
