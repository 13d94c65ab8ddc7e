// A start as JSON and as plain records.
#include "cli/views/startup_view.hpp"

namespace voltfall {

Json startup_json(const std::optional<StartUp>& start) {
    if (!start) return nullptr;
    Json object = {{"seconds", json_number(start->seconds)}};
    Json& motors = object["motors"] = Json::object();
    for (const MotorStart& motor : start->motors)
        motors[motor.name] = {{"peak_amps", json_number(motor.peak_amps)},
                              {"peak_seconds", json_number(motor.peak_seconds)},
                              {"to_63_seconds", json_number(motor.to_63)},
                              {"to_95_seconds", json_number(motor.to_95)},
                              {"end_amps", json_number(motor.end_amps)},
                              {"end_rpm", json_number(motor.end_rpm)},
                              {"started", motor.started}};
    Json& fuses = object["fuses"] = Json::object();
    for (const FuseStart& fuse : start->fuses)
        fuses[fuse.name] = {{"rating", json_number(fuse.rating)},
                            {"peak_amps", json_number(fuse.pulse.peak_amps)},
                            {"peak_seconds", json_number(fuse.pulse.peak_seconds)},
                            {"pulse_i2t", json_number(fuse.pulse.pulse_i2t)},
                            {"heat", json_number(fuse.pulse.peak_heat)},
                            {"margin", json_number(fuse.pulse.margin())},
                            {"opens_seconds", json_number(fuse.pulse.opens_after)}};
    return object;
}

void write_startup_records(PlainRecords& records, const std::string& state, const StartUp& start) {
    const auto number = PlainRecords::number;
    for (const MotorStart& motor : start.motors)
        records.record({"start", state, motor.name, number(motor.peak_amps), number(motor.peak_seconds),
                        number(motor.to_63), number(motor.to_95), number(motor.end_amps), number(motor.end_rpm),
                        PlainRecords::yes_no(motor.started)});
    for (const FuseStart& fuse : start.fuses)
        records.record({"pulse", state, fuse.name, number(fuse.rating), number(fuse.pulse.peak_amps),
                        number(fuse.pulse.peak_seconds), number(fuse.pulse.pulse_i2t), number(fuse.pulse.peak_heat),
                        number(fuse.pulse.margin()), number(fuse.pulse.opens_after)});
}

}  // namespace voltfall
