// Every measurement that could be taken next, before it is asked what it would tell.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "engine/diagnosis/weighing.hpp"

namespace voltfall {

enum class TestKind { volts, clamp, load, fuse, look };

struct TestCandidate {
    TestKind kind{TestKind::volts};
    std::string text;                 ///< "hi  across C101.4"
    std::string probe;                ///< the same without the state
    std::vector<std::string> places;  ///< what must be reached
    std::size_t state{0};             ///< of the questions
    std::size_t cell{0};              ///< volts, clamp
    std::size_t first_word{0};        ///< load, fuse: first of its word observations
    std::vector<std::string> words;   ///< its outcomes
    std::string look_place;
    double state_minutes{0};  ///< for a state that takes hands: a plug off, a lamp in
    bool reads_supply{false};

    bool is_number() const { return kind == TestKind::volts || kind == TestKind::clamp; }
};

/// Readings not taken yet, as questions to a suspect: the job's own states (what blew in them has blown) and then the
/// default states. The job inside holds one made-up reading a word.
struct Future {
    std::unique_ptr<Job> job;
    Questions questions;
    std::vector<TestCandidate> tests;
    std::vector<std::size_t> known_amps;  ///< cells of currents that the job has read
};

/// Tests at permitted joints, of wires, loads, fuses and places to look at; without those that the job has already.
Future future_of(const Circuit& circuit, const Job& job, const Weighed& weighed);

/// What the job's readings have opened or reached already: places, and strip groups.
std::vector<std::string> reached_places(const Circuit& circuit, const Job& job);

/// What must be reached to get at a place: "C101.4" by way of C101, a wire by its nearer end.
std::string reach_place(const Circuit& circuit, const std::string& place);
/// Adds a reached place and what its strip-down opens besides.
void add_reached(const Circuit& circuit, const std::string& place, std::vector<std::string>& reached);

/// Strip-down that a test needs and that is not done yet: paid once, whatever is measured behind it.
struct Opening {
    std::string name;  ///< of a strip-down that opens several places, else the place
    double minutes{};
    bool known{true};  ///< by [reach] or [strip]
};
std::vector<Opening> openings_of(const Circuit& circuit, const TestCandidate& test,
                                 const std::vector<std::string>& reached);

/// Minutes of a test, there and back once, and notes where they are guessed.
struct TestMinutes {
    double minutes{};
    std::vector<std::string> notes;
};
TestMinutes minutes_of(const Circuit& circuit, const TestCandidate& test, const std::vector<std::string>& reached);

}  // namespace voltfall
