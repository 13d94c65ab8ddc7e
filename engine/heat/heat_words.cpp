#include "engine/heat/heat_words.hpp"

#include <fmt/format.h>

#include "engine/heat/aftermath.hpp"

namespace voltfall {

namespace {

std::string seconds_words(double seconds) {
    constexpr double two_minutes = 120;
    return seconds < two_minutes ? fmt::format("{:.0f} s", seconds) : fmt::format("{:.0f} min", seconds / 60);
}

}  // namespace

std::string_view harm_of(BodyKind kind) {
    switch (kind) {
        case BodyKind::pack:
            return ": it chars what holds it";
        case BodyKind::winding:
        case BodyKind::wire:
            return ": its insulation is harmed";
        case BodyKind::joint:
            return ": its plastic softens";
        case BodyKind::module:
            return ": its transistor is harmed";
        case BodyKind::rating:
            return "";
    }
    return "";
}

std::string limit_words(const Body& body, std::string_view part) {
    const HeatEventKind kind = limit_event(body);
    const std::string_view acts = kind == HeatEventKind::folds_back ? "folds back"
                                  : kind == HeatEventKind::cuts_out ? "cuts out"
                                                                    : "limiter opens";
    return fmt::format("{} {} at {:.0f} C", part, acts, body.limit);
}

std::string before_limit_words(const Body& body) {
    const bool cuts_out = limit_event(body) == HeatEventKind::cuts_out;
    return fmt::format(", before {} at {:.0f} C", cuts_out ? "it cuts out" : "its limiter opens", body.limit);
}

std::string runs_again_words(std::string_view part) {
    return fmt::format("{} has cooled and runs again", part);
}

std::string cuts_out_again_words(std::string_view part) {
    return fmt::format("{} cuts out again, and so on for as long as it is on", part);
}

std::string otherwise_words(const Circuit& circuit, const EdgeFuse& edge) {
    if (edge.edge == Edge::earliest)
        return "unless " + circuit.part(edge.fuse).name + " opens before: a quick one of its type does after " +
               seconds_words(*edge.opens_after);
    const std::string late =
        edge.opens_after ? "or as late as " + seconds_words(*edge.opens_after) : std::string("or not at all");
    return late + "; if it does not, " + edge.before->what + " after " + seconds_words(edge.before->seconds);
}

std::string cycling_words(double closed) {
    if (closed >= 1) return " holds in the end";
    return fmt::format(" opens and closes, closed {:.0f}% of the time", 100 * closed);
}

}  // namespace voltfall
