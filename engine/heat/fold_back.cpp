#include "engine/heat/fold_back.hpp"

#include <algorithm>
#include <cmath>

namespace voltfall {

namespace {

double fold_back_ohms(const HeatModel& model, const Body& body, const ModePtr& mode, const SettleWith& settle_with) {
    const auto grows_hotter = [&](double ohms) {
        const SettleResult settled = settle_with(Fault{mode, ohms, 0.5, {}, {}});
        if (!settled) return true;
        const LinearHeat heat = model.heat(body, *settled);
        return heat.rise + heat.feedback * body.limit > 0;
    };
    // More ohms make more heat at first and less in the end: the range is climbed to where it is less.
    constexpr double step = 1.3;
    double low = mode->size->low;
    double high = low;
    while (high < mode->size->high && grows_hotter(high)) {
        low = high;
        high = std::min(high * step, mode->size->high);
    }
    constexpr int halvings = 12;
    for (int i = 0; i < halvings && high > low; ++i) {
        const double middle = std::sqrt(low * high);
        (grows_hotter(middle) ? low : high) = middle;
    }
    return high;
}

}  // namespace

std::vector<Fault> faults_at_limit(const HeatModel& model, PartId part, const SettleWith& settle_with) {
    const auto stage = std::find_if(model.bodies().begin(), model.bodies().end(), [&](const Body& body) {
        return body.kind == BodyKind::module && body.part == part;
    });
    std::vector<Fault> faults;
    for (const ModePtr& mode : model.limiter_modes(part)) {
        const bool folds = stage != model.bodies().end();
        faults.push_back({mode, folds ? fold_back_ohms(model, *stage, mode, settle_with) : 0, 0.5, {}, {}});
    }
    return faults;
}

}  // namespace voltfall
