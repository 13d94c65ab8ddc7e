// Every measurement that could be taken next, before it is asked what it would tell.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "engine/diagnosis/weighing.hpp"

namespace voltfall {

enum class TestKind {
    volts,
    clamp,
    load,
    fuse,
    look,
    ohms,
    gauge,
    rating,
    new_fuse,  ///< of the same rating, fitted once and watched
    feel,      ///< how warm a plug or socket has grown under load
    wiggle,    ///< how a load goes while somebody moves the harness
};

struct TestCandidate {
    TestKind kind{TestKind::volts};
    Test test;
    std::size_t step{0};              ///< the same measurement in several of the circuit's own states is one step
    std::vector<std::string> places;  ///< what must be reached
    std::size_t state{0};             ///< of the questions
    std::size_t cell{0};              ///< volts, clamp
    std::size_t first_word{0};        ///< load, fuse: first of its word observations
    std::vector<std::string> words;   ///< its outcomes
    double state_minutes{0};          ///< for a state that takes hands: a plug off, a lamp in
    bool reads_supply{false};
    double no_touch{0};              ///< volts: chance that a probe does not touch
    std::optional<Trigger> makes{};  ///< the condition that is made for it, to bring about what comes and goes
    bool idle{false};  ///< reads the same whatever is wrong: nothing is asked of the suspects, `cell` is not used
    std::optional<std::size_t> read_in;  ///< idle only because this earlier test of the future reads the same

    /// Taken with everything as it stands: no setting of the circuit belongs to it.
    bool is_stateless() const {
        return kind == TestKind::fuse || kind == TestKind::rating || kind == TestKind::look || kind == TestKind::gauge;
    }
    bool is_number() const { return kind == TestKind::volts || kind == TestKind::clamp; }
};

/// Readings not taken yet, as questions to a suspect: the job's own states (what blew in them has blown) and then the
/// default states. The job inside holds one made-up reading a word.
struct Future {
    std::unique_ptr<Job> job;
    Questions questions;
    std::vector<TestCandidate> tests;
    std::optional<Trigger> condition{};   ///< the fault has been seen in it, and all tests are taken while it lasts
    std::vector<std::size_t> known_amps;  ///< cells of currents that the job has read
};

/// Tests at permitted joints, of wires, loads, fuses and places to look at; without those that the job has already.
Future future_of(Simulator& simulator, const Circuit& circuit, const Job& job, const Weighed& weighed);

}  // namespace voltfall
