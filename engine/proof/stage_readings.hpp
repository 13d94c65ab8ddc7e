// A job's readings of one stage, before or after the repair, each held against the sound circuit.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "engine/diagnosis/scoring.hpp"
#include "engine/readings/prediction.hpp"

namespace voltfall {

/// One reading in one position of the controls.
struct JudgedReading {
    const Reading* reading{nullptr};
    std::optional<std::size_t> state;  ///< of the questions; nullopt where no state was asked
    bool sound{true};                  ///< a sound vehicle shows this
    std::optional<double> read;        ///< of a number, volts or amperes
    double expected{};                 ///< what a sound vehicle reads
    bool is_amps{false};
};

class StageReadings {
public:
    /// `readings` as the job's, weighed by themselves. The simulator and the circuit must outlive the object.
    StageReadings(Simulator& simulator, const Circuit& circuit, const Job& job, const std::vector<Reading>& readings);
    StageReadings(const StageReadings&) = delete;
    StageReadings& operator=(const StageReadings&) = delete;

    bool empty() const { return job_->readings.empty(); }
    const Questions& questions() const { return questions_; }
    const Predictor& predictor() const { return *predictor_; }
    const std::vector<JudgedReading>& judged() const { return judged_; }
    /// Is the reading in that position of the controls, with nothing unplugged, pulled or clipped on?
    bool stands_in(const JudgedReading& judged, const State& state) const;
    const State* state_of(const JudgedReading& judged) const;
    /// The sound circuit in the state of a reading that has one, at the supply read there.
    const Settled& sound_at(const JudgedReading& judged) const;
    /// Volts of B1+ to B1- as read in that state's key position, of a reading that has a state; nullopt where nobody
    /// read them.
    std::optional<double> supply_read(const JudgedReading& judged) const;
    /// ln of how much better the sound circuit explains all readings than this fault does.
    double speaks_against(const FaultMode& mode, const Trial& trial) const;

private:
    void judge_numbers();
    void judge_words();

    std::unique_ptr<Job> job_;
    Questions questions_;
    std::unique_ptr<Predictor> predictor_;
    Prediction sound_;
    std::vector<JudgedReading> judged_;
};

/// The same position of every control, nothing unplugged, pulled, clipped on or put in.
bool same_position(const Circuit& circuit, const State& one, const State& other);
bool is_plain(const State& state);

/// A number farther than this from what a sound vehicle reads is not a sound vehicle's, in sigmas.
inline constexpr double sound_sigmas = 3;
/// A word whose chance on a sound vehicle is below this is not a sound vehicle's.
inline constexpr double sound_word = 0.2;

}  // namespace voltfall
