// The answer of `whatif`: the same things measured in the healthy and in the faulted circuit, state by state.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "cli/views/startup_figures.hpp"
#include "cli/views/text_page.hpp"

namespace voltfall {

struct LoadFigures {
    std::string name;
    double volts{};
    double amps{};
    std::optional<double> rpm;
    std::string seen;  ///< normal, dead, slow, fast, runs, standing
};

struct FuseFigures {
    std::string name;
    double rating{};  ///< amperes of the fuse fitted
    double amps{};
    bool open{};                    ///< it does not conduct
    std::optional<double> seconds;  ///< until it opens at this current; nothing when it stays whole
};

struct PointFigure {
    std::string name;
    std::optional<double> volts;  ///< to B1-; nothing where the point floats
};

struct WireFigures {
    std::string name;
    double from{};
    double to{};
};

struct RelayFigure {
    std::string name;
    std::string word;  ///< pulled, released, chatters
};

/// One circuit in one state.
struct CircuitFigures {
    std::vector<LoadFigures> loads;
    std::vector<FuseFigures> fuses;
    std::vector<PointFigure> points;
    std::vector<WireFigures> wires;
    std::vector<RelayFigure> relays;
    std::vector<std::string> floating;
    std::vector<std::string> weak;     ///< reached only through a blocked diode
    std::vector<std::string> holding;  ///< relays that would stay pulled if they once were
};

struct Happening {
    double seconds{};
    std::string what;
    std::string kind;  ///< "fuse opens", "limiter opens", "harmed"
    std::string name;
    std::optional<double> earliest;  ///< of a fuse, by the spread of its type
    std::optional<double> latest;
    std::optional<double> watts;  ///< made in the thing then
    bool goes_on{false};          ///< harmed, and nothing has stopped it
};

/// One thing that warms up.
struct HeatFigure {
    std::string name;
    std::string kind;  ///< pack, winding, joint, wire
    double celsius{};  ///< when the time is over
    double hottest{};
    double limit{};
    double watts{};  ///< just after the state is set
    double healthy_watts{};
    bool warm{};  ///< worth a person's look
};

/// One line of [limits] beside what the circuit does.
struct LimitFigure {
    std::string key;   ///< "feed"
    std::string what;  ///< "feed of M1", "M1"
    std::optional<double> low;
    double high{};
    std::string unit;  ///< "V", "A"
    double healthy{};
    double faulted{};

    bool holds(double value) const { return value <= high && (!low || value >= *low); }
};

/// A lamp in the fuse's seat: millivolts of each section for a short at each place.
struct LampFigure {
    std::string fuse;
    std::vector<std::string> sections;
    struct Short {
        std::string fault;
        double lamp_volts{};
        std::vector<double> millivolts;
    };
    std::vector<Short> shorts;
};

struct WhatifState {
    std::string state;
    CircuitFigures healthy;
    CircuitFigures faulted;  ///< just after the state is set
    std::vector<Happening> aftermath;
    CircuitFigures after;  ///< when it is over
    std::vector<LimitFigure> limits;
    std::vector<HeatFigure> heat;    ///< only where a time is asked
    std::optional<LampFigure> lamp;  ///< only where the state has one
    std::optional<StartupFigures> start;  ///< of the faulted circuit; when asked for
};

struct WhatifAnswer {
    std::string circuit;
    std::vector<std::string> faults;  ///< phrases, empty for the healthy circuit alone
    std::vector<std::string> points;  ///< those asked for; empty = all
    std::vector<WhatifState> states;
    std::optional<double> seconds;         ///< the time asked for
    std::vector<std::string> not_checked;  ///< limits that these figures cannot tell, with the reason
};

std::string whatif_text(const WhatifAnswer& answer, PageStyle style);
std::string whatif_json(const WhatifAnswer& answer);
std::string whatif_plain(const WhatifAnswer& answer);

}  // namespace voltfall
