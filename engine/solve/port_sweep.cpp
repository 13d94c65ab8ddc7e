#include "engine/solve/port_sweep.hpp"

#include <algorithm>
#include <cmath>
#include <cstring>
#include <limits>
#include <type_traits>
#include <variant>

namespace voltfall {

namespace {

constexpr int most_port_steps = 40;
constexpr double at_rest_volts = 1e-10;
/// Terms of more volts than this that add up to a few would cost digits of a microvolt.
constexpr double greatest_term = 1e6;
constexpr double most_port_volts = 1e6;
/// With more ports than this a member costs as much as by itself: measured on 68 to 516 branches.
constexpr std::size_t most_ports = 16;

double least_slope_of(const NetworkBranch& branch) {
    return std::visit([&](const auto& law) { return law.least_slope(branch); }, branch.law);
}

/// Solves a small system in place by elimination with pivoting; the right side is the last column.
bool solve_small(std::vector<double>& m, std::size_t n) {
    const std::size_t wide = n + 1;
    for (std::size_t p = 0; p < n; ++p) {
        std::size_t best = p;
        for (std::size_t q = p + 1; q < n; ++q) {
            if (std::abs(m[q * wide + p]) > std::abs(m[best * wide + p])) best = q;
        }
        if (!(std::abs(m[best * wide + p]) > 0)) return false;
        if (best != p) std::swap_ranges(m.begin() + p * wide, m.begin() + (p + 1) * wide, m.begin() + best * wide);
        for (std::size_t q = p + 1; q < n; ++q) {
            const double factor = m[q * wide + p] / m[p * wide + p];
            if (factor == 0) continue;
            for (std::size_t c = p; c < wide; ++c) m[q * wide + c] -= factor * m[p * wide + c];
        }
    }
    for (std::size_t p = n; p-- > 0;) {
        double sum = m[p * wide + n];
        for (std::size_t c = p + 1; c < n; ++c) sum -= m[p * wide + c] * m[c * wide + n];
        m[p * wide + n] = sum / m[p * wide + p];
    }
    return true;
}

}  // namespace

PortSweep::PortSweep(const Network& leader, const TiedNodes& nodes, const CoreBranches& branches)
    : nodes_(nodes), branches_(branches), width_(static_cast<std::size_t>(nodes.unknowns) + 1) {
    members_.push_back({&leader, {}});
}

bool PortSweep::add(const Network& network) {
    static_assert(std::is_trivially_copyable_v<NetworkBranch>);
    const Network& leader = *members_.front().network;
    const std::size_t count = leader.branches.size();
    if (network.circuit != leader.circuit || network.branches.size() != count || network.battery != leader.battery) {
        return false;
    }
    Member member{&network, {}};
    constexpr std::size_t block = 16;
    for (std::size_t i = 0; i < count; ++i) {
        const NetworkBranch& branch = network.branches[i];
        const NetworkBranch& beside = leader.branches[i];
        // Most branches are the leader's bit for bit, and many in a row.
        if (i % block == 0 && i + block <= count && std::memcmp(&branch, &beside, block * sizeof(NetworkBranch)) == 0) {
            i += block - 1;
            continue;
        }
        if (std::memcmp(&branch, &beside, sizeof(NetworkBranch)) == 0) continue;
        if (branch.a != beside.a || branch.b != beside.b || branch.law.index() != beside.law.index()) return false;
        const BranchShape shape = branches_.shape[i];
        const bool fits = std::visit(
            [&](const auto& law) {
                if (const auto volts = law.tie(branch, network.battery)) {
                    const auto same =
                        std::visit([&](const auto& other) { return other.tie(beside, leader.battery); }, beside.law);
                    return shape == BranchShape::tied && same == volts;
                }
                const auto line = law.line(branch, network.battery);
                if (!line) return shape == BranchShape::curved;
                if (shape != BranchShape::straight || line->emf != branches_.emf[i] || !(line->ohms > 0)) return false;
                if (const double siemens = 1 / line->ohms; siemens != branches_.siemens[i])
                    member.siemens.emplace_back(static_cast<std::uint32_t>(i), siemens);
                return true;
            },
            branch.law);
        if (!fits) return false;
    }
    members_.push_back(std::move(member));
    return true;
}

double PortSweep::port_siemens(const Member& member, std::uint32_t branch) const {
    for (const auto& [index, siemens] : member.siemens) {
        if (index == branch) return siemens;
    }
    return branches_.siemens[branch];
}

void PortSweep::find_ports() {
    for (const std::uint32_t branch : branches_.curved) {
        ports_.push_back({branch, true, least_slope_of(members_.front().network->branches[branch])});
    }
    for (const Member& member : members_) {
        for (const auto& [branch, siemens] : member.siemens) {
            const auto known = std::find_if(ports_.begin(), ports_.end(),
                                            [branch = branch](const Port& port) { return port.branch == branch; });
            // The chord is the least conductance of any member, so that corrections only add.
            if (known == ports_.end()) {
                ports_.push_back({branch, false, std::min(siemens, branches_.siemens[branch])});
            } else {
                known->chord = std::min(known->chord, siemens);
            }
        }
    }
    // A branch within one unknown is no port: nothing of it reaches the rest.
    std::erase_if(ports_, [&](const Port& port) { return nodes_.ends[port.branch].a == nodes_.ends[port.branch].b; });
}

bool PortSweep::pays() const {
    std::vector<std::uint32_t> different;
    for (const Member& member : members_) {
        for (const auto& [branch, siemens] : member.siemens) different.push_back(branch);
    }
    std::sort(different.begin(), different.end());
    different.erase(std::unique(different.begin(), different.end()), different.end());
    return nodes_.stiff.empty() && different.size() + branches_.curved.size() <= most_ports;
}

void PortSweep::prepare(std::shared_ptr<const StarMeshPlan> plan, StarMesh& mesh) {
    find_ports();
    const Network& leader = *members_.front().network;
    mesh.begin(std::move(plan), 1 / shunt_ohms);
    base_.assign(width_, 0.0);
    for (std::size_t i = 0; i < leader.branches.size(); ++i) {
        const auto port = std::find_if(ports_.begin(), ports_.end(), [&](const Port& p) { return p.branch == i; });
        const double siemens = port != ports_.end() ? port->chord : branches_.siemens[i];
        mesh.add(i, nodes_.ends[i], siemens);
        if (branches_.emf[i] == 0) continue;
        base_[nodes_.ends[i].a] += siemens * branches_.emf[i];
        base_[nodes_.ends[i].b] -= siemens * branches_.emf[i];
    }
    mesh.eliminate();
    base_[0] = 0;
    mesh.solve(base_);
    const std::size_t n = ports_.size();
    response_.assign(n * width_, 0.0);
    port_response_.resize(n * n);
    port_base_.resize(n);
    for (std::size_t p = 0; p < n; ++p) {
        const std::span<double> column(response_.data() + p * width_, width_);
        const BranchEnds ends = nodes_.ends[ports_[p].branch];
        column[ends.a] += 1;
        column[ends.b] -= 1;
        column[0] = 0;
        mesh.solve(column);
    }
    for (std::size_t p = 0; p < n; ++p) {
        const BranchEnds ends = nodes_.ends[ports_[p].branch];
        port_base_[p] = base_[ends.a] - base_[ends.b];
        for (std::size_t q = 0; q < n; ++q) {
            port_response_[p * n + q] = response_[q * width_ + ends.a] - response_[q * width_ + ends.b];
        }
    }
    port_volts_ = port_base_;
    for (std::size_t p = 0; p < n; ++p) {
        if (!ports_[p].curved) continue;
        const NetworkBranch& branch = leader.branches[ports_[p].branch];
        port_volts_[p] =
            std::visit([&](const auto& law) { return law.first_volts(branch, branches_.highest_emf); }, branch.law);
    }
    memory_.assign(leader.branches.size(), 0.0);
    excess_.resize(n);
    excess_slope_.resize(n);
}

bool PortSweep::step(const Member& member, std::vector<double>& volts, double& moved) {
    const std::size_t n = ports_.size();
    limited_ = false;
    for (std::size_t p = 0; p < n; ++p) {
        const Port& port = ports_[p];
        if (port.curved) {
            const Flow flow = flow_of(member.network->branches[port.branch], volts[p], memory_[port.branch]);
            limited_ = limited_ || flow.limited;
            excess_[p] = flow.amps - port.chord * volts[p];
            excess_slope_[p] = flow.slope - port.chord;
        } else {
            const double more = port_siemens(member, port.branch) - port.chord;
            excess_[p] = more * (volts[p] - branches_.emf[port.branch]);
            excess_slope_[p] = more;
        }
    }
    system_.resize(n * (n + 1));
    for (std::size_t p = 0; p < n; ++p) {
        double rest = port_base_[p] - volts[p];
        for (std::size_t q = 0; q < n; ++q) {
            const double response = port_response_[p * n + q];
            rest -= response * excess_[q];
            system_[p * (n + 1) + q] = (p == q ? 1.0 : 0.0) + response * excess_slope_[q];
        }
        system_[p * (n + 1) + n] = rest;
    }
    if (!solve_small(system_, n)) return false;
    moved = 0;
    for (std::size_t p = 0; p < n; ++p) {
        const double by = system_[p * (n + 1) + n];
        volts[p] += by;
        excess_[p] += excess_slope_[p] * by;
        moved = std::max(moved, std::abs(by));
    }
    return std::isfinite(moved);
}

bool PortSweep::settle(std::size_t m, long& steps) {
    const Member& member = members_[m];
    const std::size_t n = ports_.size();
    bool at_rest = n == 0;
    for (int round = 0; round < most_port_steps && !at_rest; ++round) {
        ++steps;
        double moved = 0;
        if (!step(member, port_volts_, moved)) return false;
        at_rest = moved < at_rest_volts && !limited_;
    }
    if (!at_rest) {
        port_volts_ = port_base_;
        return false;
    }
    volts_ = base_;
    double largest = 0;
    for (std::size_t q = 0; q < n; ++q) {
        const double* const column = response_.data() + q * width_;
        const double excess = excess_[q];
        for (std::size_t node = 1; node < width_; ++node) {
            const double term = column[node] * excess;
            largest = std::max(largest, std::abs(term));
            volts_[node] -= term;
        }
    }
    if (!(largest < greatest_term)) return false;
    return std::all_of(volts_.begin(), volts_.end(), [](double v) { return std::abs(v) < most_port_volts; });
}

std::optional<OperatingPoint> PortSweep::solve(std::size_t m, long& steps) {
    if (!settle(m, steps)) return std::nullopt;
    return point_of(*members_[m].network, nodes_, branches_, volts_, memory_, members_[m].siemens);
}

bool PortSweep::take_in(std::span<double> left_over, const StarMesh& mesh) {
    const std::size_t n = ports_.size();
    mesh.solve(left_over);
    // With the ports' conductances beyond their chords: volts of the ports, then of all.
    system_.resize(n * (n + 1));
    for (std::size_t p = 0; p < n; ++p) {
        for (std::size_t q = 0; q < n; ++q)
            system_[p * (n + 1) + q] = (p == q ? 1.0 : 0.0) + port_response_[p * n + q] * excess_slope_[q];
        const BranchEnds ends = nodes_.ends[ports_[p].branch];
        system_[p * (n + 1) + n] = left_over[ends.a] - left_over[ends.b];
    }
    if (!solve_small(system_, n)) return false;
    for (std::size_t node = 1; node < width_; ++node) volts_[node] += left_over[node];
    for (std::size_t q = 0; q < n; ++q) {
        const double* const column = response_.data() + q * width_;
        const double excess = excess_slope_[q] * system_[q * (n + 1) + n];
        for (std::size_t node = 1; node < width_; ++node) volts_[node] -= column[node] * excess;
    }
    return true;
}

}  // namespace voltfall
