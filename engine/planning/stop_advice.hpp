// The end of testing: what to repair and prove, what to order, what is still to be asked, and whether the vehicle may
// be handed back meanwhile.
#pragma once

#include <optional>
#include <string>
#include <vector>

namespace voltfall {

struct Outlook;

struct StopAdvice {
    std::string fault;
    double probability{};
    std::string why;
    std::vector<std::string> repairs;  ///< what one visit each mends, to be tried in this order where there are several
                                       ///< that no test parts; empty: nothing is wrong
    std::vector<std::string> second_repairs{};  ///< of two faults at once the other one's, made too; else empty
    std::vector<std::string> order;             ///< what is replaced or checked with it, from [together]
    std::string cause;                          ///< of a victim: what must still be asked; else empty
    std::string hand_back;                      ///< may the vehicle be used until it is mended?
    bool nothing{false};                        ///< no fault that the tests can find
};

/// Nothing while the likeliest repair is below `sure_enough` and a test is left that is worth its minutes. Where none
/// is and no repair is nearly sure, several are named in the order to try them.
std::optional<StopAdvice> stop_advice(const Outlook& outlook, bool tests_left);

}  // namespace voltfall
