#include "engine/solve/simulators.hpp"

#include "engine/solve/core_simulator.hpp"

namespace voltfall {

/// Stands for the simulator of record until it is needed.
class Simulators::OnDemand final : public Simulator {
public:
    explicit OnDemand(Simulators& of) : of_(of) {}
    SolveResult solve(const Network& network) override { return of_.of_record().solve(network); }

private:
    Simulators& of_;
};

Simulators::Simulators(std::function<NgspiceSession&()> start, SweepBy by)
    : start_(std::move(start)),
      by_(by),
      record_(std::make_unique<OnDemand>(*this)),
      core_(std::make_unique<CoreSimulator>(*record_)) {}

Simulators::~Simulators() = default;

Simulator& Simulators::sweep() {
    return by_ == SweepBy::core ? *core_ : static_cast<Simulator&>(*record_);
}

}  // namespace voltfall
