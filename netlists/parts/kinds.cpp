// The table of kinds, in the order of files.md.
#include "netlists/parts/kinds.hpp"

#include <vector>

namespace voltfall {

std::span<const Kind> kinds() {
    static const std::vector<Kind> table{
        battery_kind,     key_kind,       fuse_kind,    breaker_kind, link_kind,   motor_kind, pack_kind,
        resistor_kind,    switch_kind,    contact_kind, relay_kind,   clutch_kind, diode_kind, lamp_kind,
        module_kind,      fan_unit_kind,  head_kind,    pot_kind,     sensor_kind, zener_kind, source_kind,
        solid_relay_kind, connector_kind, splice_kind,  ground_kind,
    };
    return table;
}

}  // namespace voltfall
