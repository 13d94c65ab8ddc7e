// How every load runs in every position: sound, and now.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "engine/solve/settled.hpp"

namespace voltfall {

struct SpeedRow {
    std::string position;
    std::string load;
    LoadState sound;
    std::optional<LoadState> now;  ///< nothing where no fault is asked for or the case has no solution
};

/// A row for each position and each load that draws current in it, sound or with the faults. Just after the state is
/// set.
std::vector<SpeedRow> speed_rows(Simulator& simulator, const Circuit& circuit, std::span<const Fault> faults);

/// Without the loads that draw the same in every position and with the faults as without; all rows where none is left.
std::vector<SpeedRow> telling_rows(const std::vector<SpeedRow>& rows);

}  // namespace voltfall
