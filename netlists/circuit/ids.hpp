// Typed indices into a circuit's tables.
#pragma once

#include <compare>
#include <cstdint>
#include <limits>

namespace voltfall {

template <class Thing>
struct Id {
    static constexpr std::uint32_t none = std::numeric_limits<std::uint32_t>::max();
    std::uint32_t index{none};

    constexpr bool valid() const { return index != none; }
    constexpr auto operator<=>(const Id&) const = default;
};

using PartId = Id<struct Part>;
using WireId = Id<struct Wire>;
using JointId = Id<struct Joint>;
using BranchId = Id<struct Branch>;
using ModeId = Id<struct FaultMode>;

}  // namespace voltfall
