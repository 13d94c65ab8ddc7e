#include "engine/heat/body_report.hpp"

#include <algorithm>

namespace voltfall {

void report_bodies(const HeatModel& model, const SettleResult& healthy, const BodyTemperatures& temperatures,
                   Aftermath& aftermath) {
    for (std::size_t i = 0; i < temperatures.celsius.size(); ++i) {
        const Body& body = model.bodies()[i];
        BodyHeat heat{body.name, body.kind, temperatures.celsius[i], temperatures.hottest[i], body.limit, body.ambient,
                      0,         0};
        heat.watts = model.watts(body, aftermath.faulted);
        heat.healthy_watts = healthy ? model.watts(body, *healthy) : 0;
        auto known = std::find_if(aftermath.bodies.begin(), aftermath.bodies.end(),
                                  [&](const BodyHeat& other) { return other.name == body.name; });
        if (known == aftermath.bodies.end()) {
            aftermath.bodies.push_back(heat);
        } else if (heat.hottest > known->hottest) {
            *known = heat;
        }
    }
    std::stable_sort(aftermath.bodies.begin(), aftermath.bodies.end(),
                     [](const BodyHeat& a, const BodyHeat& b) { return a.hottest / a.limit > b.hottest / b.limit; });
}

}  // namespace voltfall
