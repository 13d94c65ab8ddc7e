// What hides in the vehicle and what the learner may use: from a lesson file or drawn at random.
#pragma once

#include <cstdint>
#include <memory>
#include <string>
#include <tl/expected.hpp>
#include <vector>

#include "engine/readings/technician.hpp"
#include "netlists/files/lesson_file.hpp"

namespace voltfall {

struct Exercise {
    std::shared_ptr<const Circuit> circuit;
    Lesson lesson;  ///< of a drawn exercise: made up, with `faults` and `roots`
    Vehicle found;  ///< as the learner gets it: all faults, and what has blown by then
    std::uint64_t seed{};
    bool drawn{false};

    /// Faults and roots together.
    std::vector<Fault> hidden() const;
};

/// The vehicle of a lesson as it comes in: what its roots burn (a limiter, in half an hour in some position) has
/// failed, what blows has blown. A level of 0 keeps the lesson's own.
Exercise exercise_of(Simulator& simulator, std::shared_ptr<const Circuit> circuit, const Lesson& lesson,
                     std::uint64_t seed, int level = 0);

/// Draws what is hidden: level 1 something that is open, blown or stuck; level 2 a size to be found (poor contacts, a
/// dragging motor, a short); level 3 a cause behind a failed part, two faults, one that shows only hot or on bumps, or
/// nothing at all. What no driver would notice is not drawn. Nothing, with a sentence, where the circuit has no such
/// fault.
tl::expected<Exercise, std::string> draw_exercise(Simulator& simulator, std::shared_ptr<const Circuit> circuit,
                                                  std::uint64_t seed, int level);

}  // namespace voltfall
