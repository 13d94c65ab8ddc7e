#include "engine/solve/connections.hpp"

#include <optional>
#include <type_traits>
#include <unordered_map>
#include <variant>

#include "engine/solve/way_round.hpp"
#include "netlists/graph/paths.hpp"
#include "netlists/platform/thread_kept.hpp"

namespace voltfall {

namespace {

/// How a branch connects its joints, as far as any answer depends on it.
template <class OneLaw>
std::uint64_t way_of(const OneLaw& law, const NetworkBranch& branch) {
    constexpr std::uint64_t free_motor = 1;
    constexpr std::uint64_t seized_motor = 2;
    constexpr std::uint64_t one_way = 3;
    constexpr std::uint64_t copper = 4;
    constexpr std::uint64_t apart = 8;
    const bool conducts = !branch.open && law.conducts();
    std::uint64_t way = conducts ? 0 : apart;
    if constexpr (std::is_same_v<OneLaw, Motor>) {
        way |= law.rotor == Rotor::free ? free_motor : seized_motor;
    } else if constexpr (OneLaw::sort == LawSort::one_way) {
        way |= one_way;
    } else if (const std::optional<double> plain = law.plain_ohms(); conducts && plain) {
        if (*plain + branch.added_ohms < copper_ohms) way |= copper;
    }
    return way;
}

/// All that the answers depend on of one branch. Joints are far fewer than 2^28.
std::uint64_t print_of(const NetworkBranch& branch) {
    const std::uint64_t way = std::visit([&](const auto& law) { return way_of(law, branch); }, branch.law);
    return way << 56 | static_cast<std::uint64_t>(branch.a.index) << 28 | branch.b.index;
}

std::uint64_t hash_of(std::span<const std::uint64_t> print) {
    std::uint64_t hash = 0xcbf29ce484222325ULL;
    for (const std::uint64_t word : print) {
        hash = (hash ^ word) * 0x100000001b3ULL;
        hash ^= hash >> 29;
    }
    return hash;
}

}  // namespace

struct Connections::Known {
    std::vector<std::uint64_t> print;
    std::optional<std::vector<JointId>> floating;
    std::optional<Nodes> nodes;
    std::optional<std::vector<bool>> ways;
    std::shared_ptr<const StarMeshPlan> plan;
};

/// What one thread has met, by print. Full, it forgets all; what is in use stays whole.
class Connections::Store {
public:
    static Store& of_this_thread() { return kept_by_thread<Store>(); }

    std::shared_ptr<Known> find(const std::vector<std::uint64_t>& print) {
        const std::uint64_t hash = hash_of(print);
        const auto [from, to] = kept_.equal_range(hash);
        for (auto one = from; one != to; ++one) {
            if (one->second->print == print) return one->second;
        }
        words_ += print.size();
        if (words_ > most_words) {
            kept_.clear();
            words_ = print.size();
        }
        auto known = std::make_shared<Known>();
        known->print = print;
        kept_.emplace(hash, known);
        return known;
    }

private:
    /// Two thousand connections of a circuit of 130 branches: some megabytes.
    static constexpr std::size_t most_words = std::size_t{1} << 18;

    std::unordered_multimap<std::uint64_t, std::shared_ptr<Known>> kept_;
    std::size_t words_{0};
};

Connections::Connections() = default;
Connections::~Connections() = default;

Connections& Connections::look_at(const Network& network) {
    network_ = &network;
    const std::size_t count = network.branches.size() + 1;
    bool same = known_ && print_.size() == count;
    print_.resize(count);
    const auto put = [&](std::size_t at, std::uint64_t word) {
        same = same && print_[at] == word;
        print_[at] = word;
    };
    put(0, static_cast<std::uint64_t>(network.joints) << 32 | network.circuit->reference.index);
    for (std::size_t i = 1; i < count; ++i) put(i, print_of(network.branches[i - 1]));
    if (!same) known_ = Store::of_this_thread().find(print_);
    return *this;
}

const std::vector<JointId>& Connections::floating() {
    if (!known_->floating) known_->floating = floating_joints(*network_);
    return *known_->floating;
}

const Nodes& Connections::nodes() {
    if (!known_->nodes) known_->nodes = number_nodes(*network_);
    return *known_->nodes;
}

const std::vector<bool>& Connections::motors_with_way(std::span<const std::size_t> motors) {
    if (!known_->ways) known_->ways = motors_with_way_round(*network_, motors);
    return *known_->ways;
}

std::shared_ptr<const StarMeshPlan>& Connections::plan() {
    return known_->plan;
}

}  // namespace voltfall
