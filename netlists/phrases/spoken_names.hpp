// The names that stand in what a spoken pattern means: the joints, wires and positions of what it named.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "netlists/phrases/spoken_pattern.hpp"

namespace voltfall {

/// Does a limiter or a thermal link stand in it, which opens when it gets too hot?
bool is_limited(const Part& part);

/// What stands for one name in braces ("load+", "fuse out", "relay coil"); nullopt where it cannot be told.
std::optional<std::string> spoken_name(const Circuit& circuit, std::string_view name, const SpokenNames& names);

}  // namespace voltfall
