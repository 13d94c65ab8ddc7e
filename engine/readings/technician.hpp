// Someone at a vehicle with hidden faults who measures what is asked and tells what the instrument shows: a virtual
// technician with a real meter.
#pragma once

#include <cstdint>
#include <string>
#include <tl/expected.hpp>
#include <vector>

#include "engine/readings/accuracy.hpp"
#include "engine/readings/displays.hpp"
#include "engine/readings/senses.hpp"
#include "engine/readings/vehicle.hpp"
#include "engine/solve/settled.hpp"
#include "netlists/files/job_file.hpp"
#include "netlists/phrases/test_phrase.hpp"

namespace voltfall {

/// How one set of instruments is off, and who reads them. Shares of what their makers allow, -1 to 1.
struct MeterErrors {
    double volts_scale{0};
    double amps_scale{0};
    double amps_zero{0};
    double ohms_scale{0};
    double lead_ohms{0};        ///< ohms of the leads, not nulled
    bool noise{false};          ///< last digits differ from reading to reading
    double untouched_share{0};  ///< share of probings of plugs at which a probe does not touch
    double sight_share{1};      ///< share of damage that shows to the eye
    Senses senses;              ///< of the person who holds them
    std::uint64_t seed{0};
};
/// Instruments without error that see all there is to see.
MeterErrors exact_meters();
/// Instruments of the shop, drawn at random inside their makers' limits.
MeterErrors drawn_meters(std::uint64_t seed);

/// What was found.
struct Measured {
    Reading reading;          ///< the test in its definite state, and what the instrument showed
    std::string shown;        ///< for a person: "10.20 V"
    double truth{};           ///< of a number, before the instrument
    Unit unit{Unit::none};    ///< of a number
    bool floats{false};       ///< a lead stands where nothing holds a voltage
    bool untouched{false};    ///< the probe did not touch: not for the learner's eyes
    std::vector<Event> blew;  ///< fuses that opened while it was measured
    std::vector<std::string> notes;

    Test test() const { return test_of(reading); }
    bool is_open() const;  ///< of ohms: overload
};

/// Why nothing was measured; one sentence.
struct CannotMeasure {
    std::string why;
};

class Technician {
public:
    Technician(Simulator& simulator, Vehicle vehicle, const MeterErrors& errors, std::vector<Tool> tools);

    Simulator& simulator() const { return simulator_; }
    const Vehicle& vehicle() const { return vehicle_; }
    Vehicle& vehicle() { return vehicle_; }

    /// Takes the test in the first state that its phrase stands for. What blows, has blown from then on. Volts and amps
    /// are read when nothing opens any more, or before a fuse that was seen whole opens after a while; volts across a
    /// thing are read with the red lead on its first side.
    tl::expected<Measured, CannotMeasure> measure(Test test);

    /// The state of a test with every condition that its handling brings about (`wiggle 542` bumps what sits at 542).
    State state_of(const StatePhrase& phrase) const;
    /// The case in that state, as the vehicle stands; what opens is not kept.
    CourseResult course(const State& state) const;

private:
    struct Shown;
    struct Taken;
    double random(std::string_view what) const;
    void keep(const Course& course, Measured& measured);
    const Settled& met(const Course& course, Measured& measured);
    ReadValue volts_shown(double truth, std::string_view what) const;
    ReadValue amps_shown(double truth, std::string_view what) const;
    ReadValue ohms_shown(double truth) const;
    tl::expected<Shown, CannotMeasure> take(const Test& test, Taken& taken);
    tl::expected<Shown, CannotMeasure> take_volts(const VoltsTest& volts, Taken& taken);
    tl::expected<Shown, CannotMeasure> take_lamp(const LampTest& lamp, Taken& taken);
    tl::expected<Shown, CannotMeasure> take_amps(const AmpsTest& amps, Taken& taken);
    tl::expected<double, CannotMeasure> ohms_of(const Leads& leads, const Taken& taken) const;
    tl::expected<Shown, CannotMeasure> take_load(const LoadTest& load, Taken& taken);
    tl::expected<Shown, CannotMeasure> take_relay(const RelayTest& relay, Taken& taken);
    Shown look_at_fuse(const FuseTest& fuse, Taken& taken) const;
    tl::expected<Shown, CannotMeasure> feel(const HeatTest& heat, Taken& taken);
    tl::expected<Shown, CannotMeasure> watch_new_fuse(const FuseTest& fuse, Taken& taken);
    Shown read_number(const RatingTest& rating) const;
    Shown look_at(const LookTest& look) const;
    Shown look_at_gauge(const QuantityTest& quantity, const Taken& taken) const;
    std::vector<Fault> faults_at(const std::string& place) const;

    Simulator& simulator_;
    Vehicle vehicle_;
    MeterErrors errors_;
    std::vector<Tool> tools_;
    std::uint64_t taken_{0};
};

/// Volts of a 10 Mohm meter between two joints of a settled case: the meter's own current counts, so that two resistors
/// of megohms show less than they have without it (Lessons in Electric Circuits, voltmeter impact). Shunts as the
/// simulator lays them.
SettleResult with_meter(Simulator& simulator, const Settled& settled, JointId red, JointId black);

}  // namespace voltfall
