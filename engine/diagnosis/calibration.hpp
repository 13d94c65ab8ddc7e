// Chances as they are stated, against how often they come true.
#pragma once

#include <span>
#include <vector>

#include "engine/diagnosis/suspect.hpp"
#include "netlists/circuit/circuit.hpp"

namespace voltfall {

/// Posterior chances by suspect, and behind them that of "none of these", with every repair's chance raised to `power`
/// and all scaled to a sum of 1 again; the faults of one repair keep their shares of it, and no repair changes its
/// rank.
///
/// People's words say more together than the tables have it one by one: over real cases a leading repair that was given
/// 50 or 70 in 100 came true oftener. One power for all is temperature scaling (C. Guo, G. Pleiss, Y. Sun, K. Q.
/// Weinberger, "On calibration of modern neural networks", ICML 2017).
std::vector<double> calibrated(const Circuit& circuit, std::span<const Suspect> suspects,
                               const std::vector<double>& chances, double power);

}  // namespace voltfall
