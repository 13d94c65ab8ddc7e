#include "engine/solve/core_simulator.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <atomic>
#include <cmath>
#include <cstdint>
#include <map>
#include <mutex>
#include <optional>
#include <stdexcept>
#include <thread>
#include <variant>

#include "engine/solve/connections.hpp"
#include "engine/solve/core_network.hpp"
#include "engine/solve/port_sweep.hpp"
#include "engine/solve/star_mesh.hpp"
#include "engine/solve/unsound_case.hpp"

namespace voltfall {

namespace {

constexpr int most_newton_steps = 120;
/// A step below this at every node ends the iteration, volts: what is left is its square.
constexpr double settled_volts = 1e-10;
/// Steps above this are watched for overshooting, volts.
constexpr double watched_volts = 1e-3;
/// A network with no more curved branches than this is solved with them as ports.
constexpr std::size_t most_ports_alone = 4;
/// Volts beyond this are no solution but a wreck of the iteration.
constexpr double greatest_volts = 1e6;

/// Newton's method on the volts of all unknowns of one network.
///
/// The branch currents are the gradient of a convex function of the volts (each law is monotone), so a step that would
/// climb on the far side of its valley is cut back until it does not.
class FullNewton {
public:
    FullNewton(const TiedNodes& nodes, const CoreBranches& branches, StarMesh& mesh)
        : nodes_(nodes), branches_(branches), mesh_(mesh) {}

    /// False where it does not come to rest. `nodes` and `branches` are those of the network.
    bool run(const Network& network, std::shared_ptr<const StarMeshPlan> plan, long& steps) {
        begin(network);
        plan_ = std::move(plan);
        bool was_limited = false;
        for (int round = 0; round < most_newton_steps; ++round) {
            ++steps;
            bool limited = take_flows(round);
            // The first step came from tangents taken elsewhere, a limited one too: no slopes to hold it against.
            if (round > 1 && greatest_ > watched_volts && !limited && !was_limited) limited = shorten_step();
            was_limited = limited;
            if (round == 0 || !branches_.curved.empty()) eliminate();
            start_amps_ = amps_;
            step_ = amps_;
            mesh_.solve(step_);
            greatest_ = 0;
            for (std::size_t node = 1; node < volts_.size(); ++node) {
                volts_[node] += step_[node];
                greatest_ = std::max(greatest_, std::abs(step_[node]));
            }
            if (!(greatest_ < 1e12)) return false;
            const bool at_rest = greatest_ < settled_volts && !limited;
            if (at_rest || (branches_.curved.empty() && round > 0)) return true;
        }
        return false;
    }

    std::span<const double> volts() const { return volts_; }
    std::span<double> memory() { return memory_; }

    /// Amperes that volts near an answer leave over at every node.
    std::span<double> left_over(const Network& network, std::span<const double> volts, std::span<const double> memory) {
        begin(network);
        volts_.assign(volts.begin(), volts.end());
        memory_.assign(memory.begin(), memory.end());
        take_flows(1);
        return amps_;
    }

private:
    void begin(const Network& network) {
        network_ = &network;
        const std::size_t width = static_cast<std::size_t>(nodes_.unknowns) + 1;
        volts_.assign(width, 0.0);
        amps_.resize(width);
        step_.assign(width, 0.0);
        memory_.assign(network.branches.size(), 0.0);
        extra_.clear();
        extra_known_ = false;
        greatest_ = 0;
    }

    /// Currents into every node at the present volts, and the slopes of the curved branches. True where a junction's
    /// current is not yet that of its volts.
    bool take_flows(int round) {
        bool limited = false;
        slopes_.clear();
        curved_amps_.clear();
        for (const std::uint32_t i : branches_.curved) {
            const NetworkBranch& branch = network_->branches[i];
            const double own = across(nodes_, volts_, i);
            // From all volts at zero a motor's slope tells little: the first tangent is taken where it will work.
            const double at = round == 0 ? first_volts_of(branch, branches_.highest_emf) : own;
            Flow flow = flow_of(branch, at, memory_[i]);
            if (round == 0) flow.amps += flow.slope * (own - at);
            limited = limited || flow.limited;
            slopes_.push_back(flow.slope);
            curved_amps_.push_back(flow.amps);
        }
        sum_currents();
        return limited;
    }

    void sum_currents() {
        for (std::size_t node = 0; node < amps_.size(); ++node) amps_[node] = -volts_[node] / shunt_ohms;
        for (const auto& [node, place] : extra_shunts()) amps_[node] -= (volts_[node] + place) / shunt_ohms;
        std::size_t next_curved = 0;
        for (std::size_t i = 0; i < network_->branches.size(); ++i) {
            const auto [a, b] = nodes_.ends[i];
            double amps = 0;
            if (branches_.shape[i] == BranchShape::curved) {
                amps = curved_amps_[next_curved++];
            } else if (branches_.shape[i] == BranchShape::straight && a != b) {
                amps = (across(nodes_, volts_, i) - branches_.emf[i]) * branches_.siemens[i];
            }
            amps_[a] -= amps;
            amps_[b] += amps;
        }
        amps_[0] = 0;
    }

    /// Shunts of copper nodes beyond the first of their unknown: (unknown, volts above it).
    const std::vector<std::pair<int, double>>& extra_shunts() {
        if (nodes_.stiff.empty() || extra_known_) return extra_;
        extra_known_ = true;
        // Every copper node has its shunt; one of 0 V above its unknown is counted already.
        std::vector<char> counted(volts_.size(), 0);
        for (const TiedNodes::Place& place : nodes_.place_of_copper) {
            if (place.unknown == 0) continue;
            if (place.offset == 0 && !counted[place.unknown]) {
                counted[place.unknown] = 1;
                continue;
            }
            extra_.emplace_back(place.unknown, place.offset);
        }
        return extra_;
    }

    void eliminate() {
        mesh_.begin(plan_, 1 / shunt_ohms);
        for (const auto& [node, place] : extra_shunts()) mesh_.add_shunt(node, 1 / shunt_ohms);
        std::size_t next_curved = 0;
        for (std::size_t i = 0; i < network_->branches.size(); ++i) {
            const bool curved = branches_.shape[i] == BranchShape::curved;
            mesh_.add(i, nodes_.ends[i], curved ? slopes_[next_curved++] : branches_.siemens[i]);
        }
        mesh_.eliminate();
    }

    /// How fast the convex function falls along the last step, at the present volts.
    double fall() const {
        double sum = 0;
        for (std::size_t node = 1; node < step_.size(); ++node) sum += amps_[node] * step_[node];
        return sum;
    }

    /// Goes back along the last step where it overshot. True when a junction is limited there.
    bool shorten_step() {
        constexpr int most_cuts = 12;
        constexpr double still_falls = -0.5;
        bool limited = false;
        double at_start = 0;
        for (std::size_t node = 1; node < step_.size(); ++node) at_start += start_amps_[node] * step_[node];
        double share = 1;
        for (int cut = 0; cut < most_cuts; ++cut) {
            const double here = fall();
            if (limited || !(at_start > 0) || here > still_falls * at_start) break;
            // The root of the line through both slopes, well inside the step.
            const double next = share * std::clamp(at_start / (at_start - here), 0.1, 0.9);
            for (std::size_t node = 1; node < volts_.size(); ++node) volts_[node] -= (share - next) * step_[node];
            share = next;
            limited = take_flows(1);
        }
        return limited;
    }

    const Network* network_{nullptr};
    const TiedNodes& nodes_;
    const CoreBranches& branches_;
    StarMesh& mesh_;
    std::shared_ptr<const StarMeshPlan> plan_;
    std::vector<double> volts_;
    std::vector<double> amps_;        ///< into each node, by the branch laws at the present volts
    std::vector<double> start_amps_;  ///< the same before the last step
    std::vector<double> step_;
    std::vector<double> memory_;
    std::vector<double> slopes_;
    std::vector<double> curved_amps_;
    std::vector<std::pair<int, double>> extra_;
    bool extra_known_{false};
    double greatest_{0};
};

}  // namespace

/// What one thread solves with.
struct CoreSimulator::Work {
    explicit Work(StarMeshPlans& all) : plans(all) {}

    StarMeshPlans& plans;
    Counters counters;
    Connections connections;
    TiedNodes nodes;
    CoreBranches branches;
    StarMesh mesh;
    FullNewton newton{nodes, branches, mesh};

    /// Branches and nodes of a network; false where it has no solution that the core knows of.
    bool read(const Network& network) {
        return branches.read(network) && nodes.number(network, connections.look_at(network).nodes(), branches.tied);
    }

    /// Of the network read last.
    std::shared_ptr<const StarMeshPlan> plan() {
        if (!nodes.stiff.empty()) return plans.plan_for(nodes.ends, nodes.unknowns);
        std::shared_ptr<const StarMeshPlan>& kept = connections.plan();
        if (!kept) kept = plans.plan_for(nodes.ends, nodes.unknowns);
        return kept;
    }

    /// With its curved branches as ports, the rest is eliminated once instead of once a step. Nullopt where that does
    /// not pay, or finds no rest.
    std::optional<OperatingPoint> solve_by_ports(const Network& network) {
        if (branches.curved.empty() || !nodes.stiff.empty() || branches.curved.size() > most_ports_alone)
            return std::nullopt;
        PortSweep sweep(network, nodes, branches);
        sweep.prepare(plan(), mesh);
        if (!sweep.settle(0, counters.newton_steps)) return std::nullopt;
        // What rounding has left at the nodes is taken in once more: then no digit depends on the way.
        if (!sweep.take_in(newton.left_over(network, sweep.volts(), sweep.memory()), mesh)) return std::nullopt;
        return point_of(network, nodes, branches, sweep.volts(), sweep.memory());
    }

    /// Nullopt where it does not come to rest, or the network has no solution that the core knows of.
    std::optional<OperatingPoint> solve(const Network& network) {
        if (!read(network)) return std::nullopt;
        ++counters.solves;
        if (auto point = solve_by_ports(network)) return point;
        if (!newton.run(network, plan(), counters.newton_steps)) return std::nullopt;
        for (const double volts : newton.volts()) {
            if (std::abs(volts) > greatest_volts) return std::nullopt;
        }
        return point_of(network, nodes, branches, newton.volts(), newton.memory());
    }
};

/// What the threads share: the simulator of record and what they have counted.
struct CoreSimulator::Shared {
    explicit Shared(Simulator& record) : of_record(record) {
        static std::atomic<std::uint64_t> made{0};
        serial = ++made;
    }

    std::uint64_t serial{};  ///< of no other simulator that this process has made
    Simulator& of_record;
    StarMeshPlans plans;
    std::mutex lock;  ///< of `works` and of the simulator of record
    std::map<std::thread::id, std::unique_ptr<Work>> works;
    Counters confirming;  ///< handed over and confirmed
};

CoreSimulator::CoreSimulator(Simulator& of_record) : shared_(std::make_unique<Shared>(of_record)) {}
CoreSimulator::~CoreSimulator() = default;

CoreSimulator::Work& CoreSimulator::work() const {
    // Threads do not wait for each other to find what is their own.
    thread_local std::pair<std::uint64_t, Work*> last{0, nullptr};
    if (last.first == shared_->serial) return *last.second;
    const std::lock_guard lock(shared_->lock);
    std::unique_ptr<Work>& mine = shared_->works[std::this_thread::get_id()];
    if (!mine) mine = std::make_unique<Work>(shared_->plans);
    last = {shared_->serial, mine.get()};
    return *mine;
}

SolveResult CoreSimulator::hand_over(const Network& network) {
    const std::lock_guard lock(shared_->lock);
    ++shared_->confirming.handed_over;
    return shared_->of_record.solve(network);
}

SolveResult CoreSimulator::solve(const Network& network) {
    if (auto point = work().solve(network)) return *std::move(point);
    return hand_over(network);
}

void CoreSimulator::solve_all(std::span<const Network* const> networks, std::span<SolveResult> results) {
    Work& mine = work();
    std::vector<char> done(networks.size(), 0);
    for (std::size_t first = 0; first < networks.size(); ++first) {
        if (done[first]) continue;
        const Network& leader = *networks[first];
        const bool numbered = mine.read(leader);
        PortSweep sweep(leader, mine.nodes, mine.branches);
        std::vector<std::size_t> members{first};
        for (std::size_t i = first + 1; numbered && i < networks.size(); ++i) {
            if (!done[i] && sweep.add(*networks[i])) members.push_back(i);
        }
        const bool shared = members.size() > 1 && sweep.pays();
        if (shared) sweep.prepare(mine.plan(), mine.mesh);
        std::vector<std::size_t> alone;
        for (std::size_t m = 0; m < members.size(); ++m) {
            done[members[m]] = 1;
            std::optional<OperatingPoint> point;
            if (shared) point = sweep.solve(m, mine.counters.newton_steps);
            if (point) {
                ++mine.counters.swept;
                results[members[m]] = *std::move(point);
            } else {
                alone.push_back(members[m]);
            }
        }
        // Only now: solving one alone writes over what the sweep reads.
        for (const std::size_t i : alone) {
            auto point = mine.solve(*networks[i]);
            results[i] = point ? SolveResult(*std::move(point)) : hand_over(*networks[i]);
        }
    }
}

void CoreSimulator::confirm(const Network& network, const OperatingPoint& point, std::span<const JointId> left_out) {
    const std::lock_guard lock(shared_->lock);
    const SolveResult record = shared_->of_record.solve(network);
    Counters& counters = shared_->confirming;
    ++counters.confirmed;
    if (!record) {
        if (record.error().kind == SolveFailure::Kind::engine_lost) throw std::runtime_error(record.error().message);
        ++counters.without_answer;
        return;
    }
    for (std::uint32_t joint = 0; joint < network.joints; ++joint) {
        const double difference = std::abs(record->volts[joint] - point.volts[joint]);
        if (difference <= std::min(counters.worst_volts, confirmed_within)) continue;
        if (std::find(left_out.begin(), left_out.end(), JointId{joint}) != left_out.end()) continue;
        counters.worst_volts = std::max(counters.worst_volts, difference);
        if (difference <= confirmed_within) continue;
        throw UnsoundCase(
            fmt::format("the two solvers differ by {:.2g} V at {}", difference, network.circuit->joint({joint}).name),
            describe_case(network, point, record->volts));
    }
}

CoreSimulator::Counters CoreSimulator::counters() const {
    const std::lock_guard lock(shared_->lock);
    Counters sum = shared_->confirming;
    sum.plans = shared_->plans.made();
    for (const auto& [thread, work] : shared_->works) {
        sum.solves += work->counters.solves;
        sum.swept += work->counters.swept;
        sum.newton_steps += work->counters.newton_steps;
    }
    return sum;
}

}  // namespace voltfall
