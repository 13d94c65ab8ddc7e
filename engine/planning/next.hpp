// The measurements to take next, ranked by what they tell for their minutes; and when to stop.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "engine/diagnosis/weighing.hpp"
#include "engine/planning/stop_advice.hpp"

namespace voltfall {

struct Expectation {
    std::string fault;
    double low{};
    double high{};
    Unit unit{Unit::none};
    std::string word;
};

struct TestProposal {
    Test test;
    double minutes{};
    double bits{};
    double bits_per_minute{};
    bool finds_complaint{false};  ///< a look whether what comes and goes is there, or to bring it about: what is
                                  ///< measured while it shows tells more
    std::vector<Expectation> expect;
    std::string can_see;  ///< "C101.4 resistance of 0.05ohm or more", or why it can
    std::vector<std::string> caution;
    std::vector<std::string> notes;  ///< "minutes guessed: no [reach] for B1"
};

struct NextAnswer {
    std::vector<TestProposal> tests;  ///< best first
    std::optional<StopAdvice> stop;
    std::vector<std::string> notes;
};

/// The tests to take next, best first.
NextAnswer next_tests(Simulator& simulator, const Circuit& circuit, const Job& job, const MatchOptions& options = {});
/// The same of a job that is weighed already, by the same options.
NextAnswer next_tests(Simulator& simulator, const Circuit& circuit, const Job& job, const MatchOptions& options,
                      std::shared_ptr<const Weighed> weighed);

}  // namespace voltfall
