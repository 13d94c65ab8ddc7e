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

std::string limit_words(const Body& body) {
    const std::string_view acts = body.kind == BodyKind::module ? "folds back" : "limiter opens";
    return fmt::format("{} {} at {:.0f} C", body.name, acts, body.limit);
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
