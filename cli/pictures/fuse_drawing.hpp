// A fuse's time-current band with the limits of its wires, both scales logarithmic.
#pragma once

#include "cli/pictures/picture.hpp"
#include "engine/figures/fuse_curve.hpp"

namespace voltfall {

/// `id` is unique in the page.
Picture fuse_drawing(const FuseCurve& curve, const std::string& id);

}  // namespace voltfall
