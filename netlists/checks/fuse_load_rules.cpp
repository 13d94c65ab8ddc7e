// Fuses against the loads that they feed: what runs for minutes, and what a start takes.
#include <algorithm>
#include <cmath>
#include <memory>
#include <utility>

#include "netlists/checks/rules.hpp"
#include "netlists/graph/paths.hpp"
#include "netlists/tables/defaults.hpp"
#include "netlists/tables/fuse_model.hpp"
#include "netlists/text/problem_code.hpp"

namespace voltfall {

namespace {

/// A fuse maker's guidance for loads that run on (row F33, 25 °C).
constexpr double continuous_share = 0.75;
/// Share of the melting heat that a start may take: the charts of pulses give 100 starts at 48 % (row F36).
constexpr double start_share = 0.5;
constexpr double start_seconds = 5;
constexpr double start_step = 1e-3;
/// Loads times branches that are walked, in all positions: a fraction of a second.
constexpr std::size_t most_feed_work = 20'000'000;

/// A load as the battery sees it: its law behind the ohms of its way.
struct Drawn {
    BranchId branch;
    Law law;
    double ohms{};            ///< of the way, battery included
    bool start_known{false};  ///< its line names an inertia: a start by the assumed one would be no warning
};

double steady_amps(const Drawn& load, double volts) {
    if (const auto* motor = std::get_if<Motor>(&load.law)) {
        Motor behind = *motor;
        behind.armature_ohms += load.ohms;
        double speed = 0;
        return std::max(0.0, behind.flow(BranchState{}, volts, speed).amps);
    }
    if (const auto* resistor = std::get_if<Resistor>(&load.law)) return volts / (resistor->ohms + load.ohms);
    return 0;
}

/// A motor from standstill, its coil's inductance left out (reference parts 1.4).
class Start {
public:
    Start(const Drawn& load, double volts) : load_(load), volts_(volts), motor_(std::get_if<Motor>(&load_.law)) {
        steady_ = steady_amps(load, volts);
    }
    Start(const Start&) = delete;
    Start& operator=(const Start&) = delete;

    double amps() const {
        if (!starts()) return steady_;
        const double ohms = motor_->armature_ohms + load_.ohms;
        return std::max(0.0, (volts_ - motor_->brush_volts - motor_->constant * speed_) / ohms);
    }
    void step(double seconds) {
        if (!starts()) return;
        const double torque =
            motor_->constant * amps() - motor_->friction_torque - motor_->fan_torque * speed_ * std::abs(speed_);
        speed_ = std::max(0.0, speed_ + seconds * torque / motor_->inertia);
    }

private:
    bool starts() const { return motor_ && load_.start_known && motor_->inertia > 0; }

    Drawn load_;
    double volts_;
    const Motor* motor_;
    double steady_{};
    double speed_{0};
};

/// The most that a fuse carries in any position.
struct Burden {
    double amps{0};
    std::string position;
    std::vector<Drawn> loads;
    std::shared_ptr<const Network> network;  ///< in that position; one for all fuses that carry their most in it
};

double way_ohms(const Network& network, const LoadPath& path) {
    double sum = 0;
    for (const auto* side : {&path.feed, &path.back}) {
        for (const BranchId id : *side) {
            const double ohms = network.ohms(id);
            sum += std::isfinite(ohms) ? ohms : 0;
        }
    }
    return sum;
}

bool contains(const LoadPath& way, BranchId branch) {
    const auto holds = [&](const std::vector<BranchId>& side) {
        return std::find(side.begin(), side.end(), branch) != side.end();
    };
    return holds(way.feed) || holds(way.back);
}

/// Is there another way to its loads? Then the fuse shares their current with what stands there.
bool shares(const Burden& burden, BranchId element) {
    if (!burden.network) return false;
    Network without = *burden.network;
    without.at(element).open = true;
    const LoadPaths paths(without);
    return std::any_of(burden.loads.begin(), burden.loads.end(),
                       [&](const Drawn& load) { return paths.through(load.branch).complete; });
}

class Loads {
public:
    Loads(const Circuit& circuit, const Part& battery)
        : circuit_(circuit),
          burdens_(circuit.parts.size()),
          volts_(battery.value("charging volts")),
          battery_ohms_(battery.value("ohms")) {}

    void look(const Network& network, const std::string& position) {
        const LoadPaths paths(network);
        std::vector<std::pair<const Part*, LoadPath>> ways;
        for (const Part& part : circuit_.parts) {
            if (!part.load_branch.valid()) continue;
            LoadPath way = paths.through(part.load_branch);
            if (way.complete) ways.emplace_back(&part, std::move(way));
        }
        std::vector<Burden> here(circuit_.parts.size());
        for (const auto& [part, way] : ways) {
            // A resistor in the way of another load is a part of that way.
            const bool in_a_way = std::any_of(ways.begin(), ways.end(), [&, own = part](const auto& other) {
                return other.first != own && contains(other.second, own->load_branch);
            });
            if (in_a_way) continue;
            const Parameter* inertia = part->parameter("inertia");
            const Drawn drawn{part->load_branch, circuit_.branch(part->load_branch).law,
                              battery_ohms_ + way_ohms(network, way), inertia && inertia->typed};
            for (const BranchId id : way.feed) {
                if (id.index >= circuit_.branches.size()) continue;
                const PartId owner = circuit_.branch(id).part;
                if (!owner.valid() || !circuit_.part(owner).fuse || circuit_.part(owner).fuse->element != id) continue;
                here[owner.index].amps += steady_amps(drawn, volts_);
                here[owner.index].loads.push_back(drawn);
            }
        }
        std::shared_ptr<const Network> kept;
        for (std::size_t i = 0; i < here.size(); ++i) {
            if (here[i].amps <= burdens_[i].amps * (1 + 1e-9)) continue;
            here[i].position = position;
            if (!kept) kept = std::make_shared<const Network>(network);
            here[i].network = kept;
            burdens_[i] = std::move(here[i]);
        }
    }

    const Burden& of(std::size_t part) const { return burdens_[part]; }
    double volts() const { return volts_; }

private:
    const Circuit& circuit_;
    std::vector<Burden> burdens_;  ///< by part
    double volts_;
    double battery_ohms_;
};

/// The most of its melting heat that a fuse has while all its loads start from rest, itself cold.
double start_heat(const FuseModel& model, const Burden& burden, double volts) {
    std::vector<std::unique_ptr<Start>> starts;
    for (const Drawn& load : burden.loads) starts.push_back(std::make_unique<Start>(load, volts));
    FuseHeat heat;
    double most = 0;
    const bool known =
        std::any_of(burden.loads.begin(), burden.loads.end(), [](const Drawn& load) { return load.start_known; });
    if (!known) return 0;
    for (double at = 0; at < start_seconds && most < 1; at += start_step) {
        double amps = 0;
        for (const auto& start : starts) {
            amps += start->amps();
            start->step(start_step);
        }
        heat = heat_after(model, heat, amps, start_step);
        most = std::max(most, heat.total());
    }
    return most;
}

std::string percent_words(double share) {
    return write_fixed(100 * share, 0) + "%";
}

void check_one(const Circuit& circuit, const Part& part, const Burden& burden, double volts, Problems& problems) {
    const auto type = fuse_type(part.fuse->type);
    // A breaker stands starts, and a link's rating is its wire's.
    if (!type || *type == FuseType::breaker || *type == FuseType::link || !(burden.amps > 0)) return;
    const auto typed = circuit.heat.find("ambient_fuse");
    const double ambient = typed == circuit.heat.end() ? default_value("ambient_fuse") : typed->second;
    const double rating = part.fuse->rating_amps;
    const double share = burden.amps / (rating * fuse_ambient_factor(ambient));
    const double heat = start_heat(fuse_model(*type, rating, Edge::typical, ambient), burden, volts);
    if (!(share > continuous_share || heat > start_share) || shares(burden, part.fuse->element)) return;
    const std::string named = part.name + " (" + write_measure(rating, Unit::ampere) + ")";
    const std::string where = burden.position.empty() ? "" : " with " + burden.position;
    const std::string cure = "check the loads' amps and the rating of " + part.name +
                             " in the vehicle's papers; never fit a larger one than they name";
    if (share > continuous_share) {
        problems.warning(ProblemCode::fuse_overloaded, part.source,
                         named + " carries " + write_fixed(burden.amps, 1) + "A" + where + ", " + percent_words(share) +
                             " of its rating at " + write_measure(ambient, Unit::celsius) +
                             ": a load of minutes above 75% ages it (guidance of a fuse maker)",
                         cure);
    }
    if (heat > start_share) {
        problems.warning(
            ProblemCode::fuse_overloaded, part.source,
            named + " has " + (heat >= 1 ? "all" : percent_words(heat)) + " of its melting heat" + where +
                " while the load starts: above 50% it stands about a hundred starts (pulse charts of a fuse "
                "maker)",
            cure);
    }
}

}  // namespace

void check_fuse_loads(const Circuit& circuit, Problems& problems) {
    Loads loads(circuit, circuit.parts.at(circuit.battery.index));
    // Each load's way is a walk over the circuit.
    const auto count = std::count_if(circuit.parts.begin(), circuit.parts.end(),
                                     [](const Part& part) { return part.load_branch.valid(); });
    const std::size_t work = circuit.branches.size() * static_cast<std::size_t>(count);
    std::size_t work_left = most_feed_work;
    each_position(circuit, [&](const Network& network, const Reach&, Setting, const std::string& position) {
        loads.look(network, position);
        work_left -= std::min(work_left, work);
        return work_left > 0;
    });
    for (std::size_t i = 0; i < circuit.parts.size(); ++i) {
        if (circuit.parts[i].fuse) check_one(circuit, circuit.parts[i], loads.of(i), loads.volts(), problems);
    }
}

}  // namespace voltfall
