#include "engine/diagnosis/calibration.hpp"

#include <cmath>
#include <map>
#include <numeric>

#include "engine/diagnosis/repair_chances.hpp"

namespace voltfall {

std::vector<double> calibrated(const Circuit& circuit, std::span<const Suspect> suspects,
                               const std::vector<double>& chances, double power) {
    std::map<std::string, double> repairs;
    std::vector<double*> repair_of;  // by suspect
    for (std::size_t i = 0; i < suspects.size(); ++i) {
        double& repair = repairs[suspects[i].mode ? visited_place(circuit, *suspects[i].mode) : std::string()];
        repair += chances[i];
        repair_of.push_back(&repair);
    }
    double sum = std::pow(chances.back(), power);
    for (const auto& [place, chance] : repairs) sum += std::pow(chance, power);
    std::vector<double> scaled;
    for (std::size_t i = 0; i < suspects.size(); ++i) {
        const double repair = *repair_of[i];
        scaled.push_back(repair > 0 ? chances[i] * std::pow(repair, power - 1) / sum : 0.0);
    }
    scaled.push_back(std::pow(chances.back(), power) / sum);
    return scaled;
}

}  // namespace voltfall
