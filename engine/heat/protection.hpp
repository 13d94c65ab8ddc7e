// What each fuse protects, and what burns while it holds.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "engine/heat/aftermath.hpp"
#include "netlists/text/digits.hpp"

namespace voltfall {

/// Opening times of a fuse at one current; nothing where it never opens.
struct FuseTimes {
    double amps{};
    std::optional<double> earliest;
    std::optional<double> typical;
    std::optional<double> latest;
};

/// A wire at one current when its fuse has opened (or, where it never does, in the end).
struct WireAtOpening {
    double amps{};
    std::optional<double> seconds;  ///< typical opening; nothing: the fuse holds
    double celsius{};
    double limit{};                        ///< °C that the wire bears for that long
    std::optional<double> latest;          ///< the slowest fuse of the type
    std::optional<double> latest_celsius;  ///< the wire then

    double excess() const { return celsius - limit; }
};

/// A fuse against one of its wires, over every current from 110 % of the rating to the hardest short at the far end.
struct WireVerdict {
    std::string wire;
    double hardest_amps{};  ///< through a short at its far end
    WireAtOpening hardest;
    WireAtOpening worst;               ///< where it comes nearest to its limit, or farthest beyond
    std::optional<double> fails_from;  ///< amperes between which the wire is harmed
    std::optional<double> fails_to;

    bool ok() const { return !fails_from; }
};

/// A fuse against a rated contact in the way of its loads, over every current from the contact's rating up.
struct ContactVerdict {
    std::string name;  ///< "K7 contact"
    double rating{};
    std::optional<double> fails_from;  ///< amperes between which the contact bears less long than the fuse holds
    std::optional<double> fails_to;
    std::optional<double> bears;  ///< seconds that it bears the greatest of them
    std::optional<double> opens;  ///< when the fuse opens at that current; nothing: never

    bool ok() const { return !fails_from; }
};

struct FuseGuard {
    PartId fuse;
    std::string name;
    std::string type;
    double rating{};
    std::string_view colour;  ///< of the body; empty where no table has it
    double i2t{};
    std::vector<FuseTimes> times;  ///< at the percentages of its type's published limits, from 110 % up
    std::vector<WireVerdict> wires;
    std::vector<ContactVerdict> contacts;
    std::vector<std::string> loads;  ///< fed through it in some position
};

/// Something is harmed, or a limiter opens, and no fuse opens before.
struct ProtectionGap {
    std::size_t mode{};  ///< index in the catalogue
    double size{};
    std::string fault;  ///< phrase with size
    std::string place;  ///< of the fault: "M1"
    std::string state;
    std::string what;  ///< "R1"
    BodyKind kind{BodyKind::wire};
    bool limiter{false};  ///< a limiter ends it
    double amps{};        ///< through the thing
    double watts{};
    double seconds{};
    std::optional<double> melts;  ///< of a wire: seconds in which its copper melts, where that is within 5 s (row W30)
    std::string fuse;  ///< "F7 never opens", "F7 opens after 24 s", "F7 opens and closes, closed 30% of the time"
    double rating{};   ///< of a contact that carries more than it bears, amperes; else 0
    std::optional<double> limiter_celsius;  ///< of a pack that chars before its limiter opens: where that opens

    /// Its seconds, so that a solver's last digits put nothing in order.
    double moment() const { return significant(seconds, 6); }
};

/// A wire that [care] says is hot: how long its insulation lasts, and what a short to the metal there does.
struct HotPlace {
    std::string wire;
    std::string care;  ///< as typed: "past the hot exhaust-gas tube: hot, rubs"
    struct Lasts {
        double metal_celsius{};
        double seconds{};  ///< of full contact; infinite: it creeps only
    };
    std::vector<Lasts> lasts;
    std::string fault;  ///< "542 chafe 10mohm"
    struct Then {
        std::string state;
        std::string what;  ///< "F7 opens", "no fuse opens"
        std::optional<double> seconds;
    };
    std::vector<Then> then;
};

struct Protection {
    std::vector<FuseGuard> fuses;
    std::vector<ProtectionGap>
        gaps;  ///< of each fault at its usual size and each thing the quickest; sorted by seconds
    std::vector<HotPlace> hot;
};

using ProtectionResult = tl::expected<Protection, SolveFailure>;

/// Limit of a wire for a time, °C: class steady, + 25 K for 240 h, + 50 K for 6 h (reference parts 4.1, S68), the
/// insulation's short-circuit limit up to 5 s (S69), where that is more.
double wire_limit_for(const Circuit& circuit, const Wire& wire, std::optional<double> seconds);

/// Judges every fuse by its typical opening time from cold with the wire at its surroundings' temperature, and
/// follows every fault of the catalogue in every state for `aftermath_seconds`.
ProtectionResult judge_protection(Simulator& simulator, const HeatModel& model, std::span<const State> states);

/// Has the simulator of record confirm the first `count` gaps, as their states are just after they are set, before a
/// person sees their amperes. Throws as `Simulator::confirm` does.
void confirm_gaps(Simulator& simulator, const Circuit& circuit, std::span<const State> states,
                  std::span<const ProtectionGap> gaps, std::size_t count);

}  // namespace voltfall
