// The volts and amperes that a suspect leaves to expect of tests not taken yet, with the readings taken so far known.
#pragma once

#include <map>
#include <memory>
#include <span>
#include <vector>

#include "engine/planning/outlook.hpp"

namespace voltfall {

/// 90 % of what a number will be, V or A.
struct ExpectedRange {
    double low{};
    double high{};
};

/// One circuit's tolerances and one battery stand behind all readings: what was read narrows and moves what is to come.
class ExpectedNumbers {
public:
    /// Solves the suspects for these tests (indices of the outlook's) in one go; tests with words are passed over.
    ExpectedNumbers(const Outlook& outlook, std::span<const std::size_t> tests, std::span<const std::size_t> suspects);

    /// Over the sizes in which most of the suspect's weight lies; nothing where it was not solved.
    std::optional<ExpectedRange> of(std::size_t test, std::size_t suspect) const;

private:
    ExpectedRange range_of(const Prediction& prediction, std::size_t number) const;
    bool is_known(const Prediction& prediction, std::size_t number) const;

    const Outlook& outlook_;
    std::unique_ptr<Questions> questions_;  ///< the job's numbers, then one of each test
    std::size_t taken_{0};                  ///< numbers of the job
    std::map<std::size_t, std::size_t> number_of_test_;
    std::map<std::size_t, std::vector<Prediction>> predictions_;  ///< by suspect
};

}  // namespace voltfall
