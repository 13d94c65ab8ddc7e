// The answer of `protect`: every fuse against its wires, and what burns while it holds.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "engine/heat/protection.hpp"

namespace voltfall {

struct ProtectAnswer {
    std::string circuit;
    Protection protection;             ///< gaps: what fails most often first
    std::vector<std::string> assumed;  ///< figures of heat that neither the file nor a source gives

    /// No wire is harmed before its fuse opens.
    bool ok() const;
};

/// Judges every fuse and follows every fault in every state. The first `shown` gaps are confirmed by the simulator of
/// record (`Simulator::confirm`).
tl::expected<ProtectAnswer, SolveFailure> protection_answer(Simulator& simulator, const Circuit& circuit,
                                                            std::span<const State> states, std::size_t shown);

}  // namespace voltfall
