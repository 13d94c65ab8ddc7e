// The kinds of part, one a file. `kinds.cpp` lists them in one table.
#pragma once

#include "netlists/parts/kind.hpp"

namespace voltfall {

extern const Kind battery_kind;
extern const Kind key_kind;
extern const Kind fuse_kind;
extern const Kind breaker_kind;
extern const Kind link_kind;
extern const Kind motor_kind;
extern const Kind pack_kind;
extern const Kind resistor_kind;
extern const Kind switch_kind;
extern const Kind contact_kind;
extern const Kind relay_kind;
extern const Kind clutch_kind;
extern const Kind diode_kind;
extern const Kind lamp_kind;
extern const Kind module_kind;
extern const Kind fan_unit_kind;
extern const Kind head_kind;
extern const Kind pot_kind;
extern const Kind sensor_kind;
extern const Kind zener_kind;
extern const Kind source_kind;
extern const Kind solid_relay_kind;
extern const Kind connector_kind;
extern const Kind splice_kind;
extern const Kind ground_kind;

}  // namespace voltfall
