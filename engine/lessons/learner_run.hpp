// One learner at one exercise, from the concern to handing the vehicle back: what was suspected, done and found.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "engine/lessons/belief.hpp"
#include "engine/lessons/bench.hpp"
#include "engine/lessons/section.hpp"

namespace voltfall {

struct RunStep {
    ActionOutcome outcome;
    std::string line;                ///< as typed, or as it would be
    std::optional<Section> suspect;  ///< named before the test
    bool repeated{false};            ///< the same test was taken before
    bool after_repair{false};        ///< not weighed: another vehicle since
    std::optional<double> before;    ///< probability of the suspect before the reading
    std::optional<double> after;
    std::optional<double> bits;  ///< what the reading told
    std::vector<std::string> ruled_out;
    std::optional<double> warranted;  ///< of a repair: how probable it was that it mends anything
    /// Millivolts with a lamp in the fuse's seat are for the learner to read: the weighing is too coarse for them.
    bool is_lamp_section() const { return outcome.test && !outcome.test->state.lamp_in.empty(); }
    bool is_test() const { return outcome.kind == ActionKind::test && outcome.measured.has_value(); }
};

enum class RunEnd { open, handed_back, unsafe, gave_up };

struct RunOptions {
    bool commit{true};  ///< a suspect is named before each test
    bool weigh{true};   ///< hold every reading against all faults (a third of a second each)
    MatchOptions match;
};

class LearnerRun {
public:
    LearnerRun(Simulator& simulator, const Exercise& exercise, const RunOptions& options);

    const Exercise& exercise() const { return bench_.exercise(); }
    const Bench& bench() const { return bench_; }
    const std::vector<RunStep>& steps() const { return steps_; }
    RunEnd end() const { return end_; }
    const std::string& unsafe_reason() const { return unsafe_reason_; }
    std::size_t hints() const { return hints_; }

    /// Must a suspect be named before this? Turning a switch, watching a load and repairs need none.
    bool needs_suspect(const Action& action) const;
    /// Names the suspect of the next test.
    void suspect(Section section) { next_suspect_ = last_suspect_ = std::move(section); }
    /// Keeps the last suspect; false when none was named yet.
    bool same_suspect();
    const std::optional<Section>& next_suspect() const { return next_suspect_; }
    const std::optional<Section>& last_suspect() const { return last_suspect_; }

    /// Does it; the step is kept unless it was refused for nothing.
    const RunStep& act(const Action& action);
    /// Every load in every position: free.
    std::vector<RunStep> try_every_position();
    /// What has ended already stays as it is.
    void hand_back() {
        if (end_ == RunEnd::open) end_ = RunEnd::handed_back;
    }
    void give_up() {
        if (end_ == RunEnd::open) end_ = RunEnd::gave_up;
    }

    /// The next hint: which positions, which half, which test. Nothing after the third.
    std::optional<std::string> hint();

    /// Weighs what was not weighed while the run went on.
    void weigh_rest();

private:
    void weigh_step(std::size_t index);
    const Belief& belief_after(std::size_t readings);
    std::string hint_of_positions() const;
    std::string hint_of_half() const;
    std::string hint_of_test() const;

    Simulator& simulator_;
    Bench bench_;
    RunOptions options_;
    std::vector<RunStep> steps_;
    std::vector<std::size_t> readings_before_;  ///< by step
    std::vector<std::size_t> readings_after_;
    std::vector<std::optional<Belief>> beliefs_;  ///< by number of readings
    std::optional<Section> next_suspect_;
    std::optional<Section> last_suspect_;
    RunEnd end_{RunEnd::open};
    std::string unsafe_reason_;
    std::size_t hints_{0};
    RunStep refused_;
};

}  // namespace voltfall
