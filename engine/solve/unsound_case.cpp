#include "engine/solve/unsound_case.hpp"

#include <fmt/format.h>

#include <iterator>
#include <utility>

namespace voltfall {

UnsoundCase::UnsoundCase(const std::string& what, std::string report)
    : std::logic_error(what), report_(std::move(report)) {}

UnsoundCase::UnsoundCase(const UnsoundCase& of, const std::string& more_words)
    : std::logic_error(of.what() + more_words), report_(of.report_) {}

std::string describe_case(const Network& network, const OperatingPoint& point, std::span<const double> others) {
    std::string text = others.empty() ? "* joint: volts\n" : "* joint: volts, the simulator's volts, difference\n";
    const auto& joints = network.circuit->joints;
    for (std::size_t joint = 0; joint < point.volts.size(); ++joint) {
        fmt::format_to(std::back_inserter(text), "* {}: {:.12g}", comment_text(joints[joint].name), point.volts[joint]);
        if (joint < others.size()) {
            fmt::format_to(std::back_inserter(text), ", {:.12g}, {:.3g}", others[joint],
                           point.volts[joint] - others[joint]);
        }
        text += '\n';
    }
    return text + deck_file_text(build_deck(network), network);
}

}  // namespace voltfall
