// A start as JSON and as plain records.
#include "cli/views/startup_view.hpp"

namespace voltfall {

Json startup_json(const std::optional<StartupFigures>& start) {
    if (!start) return nullptr;
    Json object = {{"seconds", json_number(start->seconds)}};
    Json& motors = object["motors"] = Json::object();
    for (const MotorStartFigures& motor : start->motors)
        motors[motor.name] = {{"peak_amps", json_number(motor.peak_amps)},
                              {"peak_seconds", json_number(motor.peak_seconds)},
                              {"to_63_seconds", json_number(motor.to_63)},
                              {"to_95_seconds", json_number(motor.to_95)},
                              {"end_amps", json_number(motor.end_amps)},
                              {"end_rpm", json_number(motor.end_rpm)},
                              {"started", motor.started}};
    Json& fuses = object["fuses"] = Json::object();
    for (const FuseStartFigures& fuse : start->fuses)
        fuses[fuse.name] = {{"rating", json_number(fuse.rating)},
                            {"peak_amps", json_number(fuse.peak_amps)},
                            {"peak_seconds", json_number(fuse.peak_seconds)},
                            {"pulse_i2t", json_number(fuse.pulse_i2t)},
                            {"heat", json_number(fuse.heat)},
                            {"margin", json_number(fuse.margin)},
                            {"opens_seconds", json_number(fuse.opens_after)}};
    return object;
}

void write_startup_records(PlainRecords& records, const std::string& state, const StartupFigures& start) {
    const auto number = PlainRecords::number;
    for (const MotorStartFigures& motor : start.motors)
        records.record({"start", state, motor.name, number(motor.peak_amps), number(motor.peak_seconds),
                        number(motor.to_63), number(motor.to_95), number(motor.end_amps), number(motor.end_rpm),
                        PlainRecords::yes_no(motor.started)});
    for (const FuseStartFigures& fuse : start.fuses)
        records.record({"pulse", state, fuse.name, number(fuse.rating), number(fuse.peak_amps),
                        number(fuse.peak_seconds), number(fuse.pulse_i2t), number(fuse.heat), number(fuse.margin),
                        number(fuse.opens_after)});
}

}  // namespace voltfall
