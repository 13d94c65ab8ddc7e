#include "engine/solve/simulators.hpp"

#include <stdexcept>

#include "engine/solve/core_simulator.hpp"

namespace voltfall {

void Simulator::confirm(const Network&, const OperatingPoint&, std::span<const JointId>) {}

/// Stands for the simulator of record until it is needed.
class Simulators::OnDemand final : public Simulator {
public:
    explicit OnDemand(Simulators& of) : of_(of) {}
    /// A simulator that has left would make every case one without a solution: that is an error of the whole run.
    SolveResult solve(const Network& network) override {
        SolveResult result = of_.of_record().solve(network);
        if (!result && result.error().kind == SolveFailure::Kind::engine_lost)
            throw std::runtime_error(result.error().message);
        return result;
    }

private:
    Simulators& of_;
};

Simulators::Simulators(std::function<TransientSimulator&()> start, SweepBy by)
    : start_(std::move(start)),
      by_(by),
      record_(std::make_unique<OnDemand>(*this)),
      core_(std::make_unique<CoreSimulator>(*record_)) {}

Simulators::~Simulators() = default;

Simulator& Simulators::sweep() {
    return by_ == SweepBy::core ? static_cast<Simulator&>(*core_) : *record_;
}

long Simulators::not_confirmed() const {
    return core_->counters().without_answer;
}

}  // namespace voltfall
