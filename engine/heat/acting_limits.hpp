// Parts in which something acts at a temperature: a limiter opens, a stage folds back, a fan unit cuts out.
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "engine/heat/aftermath.hpp"

namespace voltfall {

/// Which of a model's limits have been reached. A fan unit that has cut out runs again when it has cooled, and is
/// followed through one such turn: then it goes on so. What else has acted stays as it is.
class ActingLimits {
public:
    /// `model` must outlive this object.
    explicit ActingLimits(const HeatModel& model);

    /// Has the body a limit at which something will act yet?
    bool waits(std::size_t body) const;
    /// Adds when a body runs again that has cut out, where it will: its temperature, °C, and how that changes.
    void add_run_again(std::size_t body, const LinearHeat& heat, double celsius, std::vector<HeatEvent>& events) const;
    /// °C below which a body does not cool any more, for there it runs again, over and over; nothing for any other.
    std::optional<double> cools_to(std::size_t body) const;
    /// Has the part cut out before and run again?
    bool has_run_again(PartId part) const;

    void act(PartId part);
    void run_again(PartId part);

private:
    const HeatModel& model_;
    std::vector<bool> acted_;      ///< by body
    std::vector<bool> run_again_;  ///< by part
};

}  // namespace voltfall
