// What a fuse, a breaker and a fusible link share: an element that opens, grips, and can be the wrong one.
#pragma once

#include "netlists/parts/layout.hpp"

namespace voltfall {

/// Other names of their terminals.
inline constexpr std::string_view opening_element_aliases = "in=1 out=2 a=1 b=2";

/// Plain sentences of the three modes.
struct ElementPlain {
    std::string blown;
    std::string open;
    std::string poor;
};

/// Lays the element between pins 1 and 2, tells the engine that it opens by current, and declares `blown`, `open`
/// and `resistance`.
BranchId lay_opening_element(Layout& layout, std::string_view type, double rating_amps, double ohms,
                             ElementPlain plain);

}  // namespace voltfall
