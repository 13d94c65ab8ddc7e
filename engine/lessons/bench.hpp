// The bench: a vehicle with something hidden, a learner's actions, what each shows and costs.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "engine/lessons/exercise.hpp"
#include "netlists/phrases/action_phrase.hpp"

namespace voltfall {

/// What a typed line does to the vehicle.
enum class ActionKind {
    test,    ///< something measured, seen or heard
    turn,    ///< a switch, contact or the key is set and stays so
    fit,     ///< a new part (or fuse) is fitted
    repair,  ///< a joint, wire or part is repaired, and so named as the fault
    say,     ///< "nothing" is wrong
};

enum class ActionResult {
    done,
    refused,  ///< cannot or may not be done; costs nothing
    unsafe,   ///< the exercise is over; `message` says why
};

struct ActionOutcome {
    ActionKind kind{ActionKind::test};
    ActionResult result{ActionResult::done};
    std::optional<Measured> measured;  ///< of a test; after `new F7`, what the new fuse did
    std::optional<Test> test;          ///< as understood, with the state that it was taken in
    std::string what;                  ///< "fitted M1", "turned hi, key run"
    std::string target;                ///< of fit and repair: the part or place as the circuit names it
    double minutes{};
    std::vector<std::string> opened_up;  ///< strip-downs paid with this action
    std::vector<std::string> cautions;   ///< stand before the answer
    std::vector<std::string> notes;
    std::string message;  ///< why it was refused or is unsafe
};

/// What parts and tests have come to.
struct BenchBill {
    double test_minutes{};
    double repair_minutes{};
    std::vector<std::string> parts;  ///< fitted: "M1"; a fuse each time
    std::vector<std::string> cured;  ///< targets whose work took a hidden fault away
    double minutes() const { return test_minutes + repair_minutes; }
};

class Bench {
public:
    Bench(Simulator& simulator, const Exercise& exercise);

    ActionOutcome act(const Action& action);

    /// Would the action be allowed and have an answer? Nothing is done.
    bool would_answer(const Action& action) const;

    const Circuit& circuit() const { return *exercise_.circuit; }
    const Exercise& exercise() const { return exercise_; }
    const Vehicle& vehicle() const { return technician_.vehicle(); }
    const BenchBill& bill() const { return bill_; }
    /// How the controls stand: "hi, key run".
    std::string settings() const;
    /// Readings so far, of the vehicle before the first repair.
    const Job& job() const { return job_; }
    bool repaired_anything() const { return repaired_; }
    const std::vector<std::string>& reached() const { return reached_; }
    /// The free first step: every load in every position.
    std::vector<ActionOutcome> try_every_position();

private:
    ActionOutcome turn(const StatePhrase& settings);
    ActionOutcome fit(const FitPart& fit);
    ActionOutcome fit_fuse(const FitPart& fit);
    ActionOutcome repair(const std::string& place);
    ActionOutcome test(Test test);
    void keep_settings(const StatePhrase& phrase);
    StatePhrase with_settings(StatePhrase phrase) const;
    void put_at_harness(Test& test, ActionOutcome& outcome) const;
    void charge_reach(const std::vector<std::string>& places, ActionOutcome& outcome);
    void cure(const std::string& target);
    bool allowed(std::string_view action) const;
    bool does_nothing_rightly(const Test& test, const Measured& measured) const;
    Reading reading_of(const Test& test, const Measured& measured) const;
    std::vector<std::string> places_of(const Test& test) const;

    const Exercise exercise_;
    Technician technician_;
    Job job_;
    BenchBill bill_;
    std::vector<std::string> reached_;
    std::vector<ControlSetting> settings_;
    std::optional<KeyPosition> key_;
    bool repaired_{false};
};

/// What must be reached to get at a place; a part by way of its plug where it has no [reach] of its own.
std::string way_to(const Circuit& circuit, const std::string& place);

/// Minutes of a test itself, without getting there.
double instrument_minutes(const Tested& tested);

}  // namespace voltfall
