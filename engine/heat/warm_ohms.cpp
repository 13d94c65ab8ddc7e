#include "engine/heat/warm_ohms.hpp"

#include <algorithm>
#include <cmath>
#include <memory>

#include "netlists/tables/wires.hpp"

namespace voltfall {

namespace {

/// A body below this share of the supply's power leaves the current as it is.
constexpr double least_power_share = 0.1;
/// Ohms nearer than this share of a step to those of the last solution need no other one.
constexpr double same_ohms = 0.1;

/// Copper's ohms over those of its file's temperature.
double factor_at(const Body& body, double celsius) {
    const double given_at = body.kind == BodyKind::wire ? 20 : nameplate_celsius;
    return copper_temperature_factor(celsius) / copper_temperature_factor(given_at);
}

double supply_watts(const Circuit& circuit, const Settled& now) {
    double watts = 0;
    for (const Part& part : circuit.parts) {
        for (const BranchId id : part.branches) {
            const NetworkBranch& branch = now.network.at(id);
            const auto* source = std::get_if<Source>(&branch.law);
            const double amps = now.point.amps[id.index];
            if (source && std::isfinite(amps)) watts += std::abs(amps) * source->volts;
        }
    }
    return watts;
}

}  // namespace

WarmOhms::WarmOhms(const HeatModel& model, const Settled& cold, double step)
    : model_(model), cold_(cold), step_(step), factors_(model.bodies().size(), 1.0), until_(model.bodies().size()) {}

bool WarmOhms::counts(std::size_t i, const Settled& now, double supply) const {
    const Body& body = model_.bodies()[i];
    if (body.kind == BodyKind::pack || body.kind == BodyKind::joint || body.kind == BodyKind::module) return false;
    const double watts = model_.watts(body, now);
    if (watts < least_power_share * supply || !(watts > 0)) return false;
    if (!std::holds_alternative<Motor>(now.network.at(body.branch).law)) return true;
    constexpr double standing = 1e-3;  // rad/s
    constexpr double overload = 1.3;   // of the heat at the rated current
    const double usual = (body.still_air + body.full_air) * model_.winding_rise();
    if (std::abs(now.point.speed[body.branch.index]) >= standing) return watts > overload * usual;
    // What a held unit draws is what its electronics let through as they try and pause, and no matter of its copper.
    return !model_.circuit().part(body.part).electronics;
}

bool WarmOhms::choose(const Settled& now, std::span<const double> celsius, const std::vector<bool>& left_out) {
    bool changed = false;
    const double supply = supply_watts(model_.circuit(), now);
    for (std::size_t i = 0; i < factors_.size(); ++i) {
        until_[i].reset();
        if (left_out[i] || !counts(i, now, supply)) continue;
        const Body& body = model_.bodies()[i];
        const double factor = factor_at(body, celsius[i]);
        const double by_kelvin = factor_at(body, celsius[i] + 1) - factor;
        double ahead = step_ * factor / by_kelvin;
        // A body that comes to rest within the step has its ohms half way to there.
        const auto rests = steady_temperature(model_.heat(body, now));
        if (rests && *rests < celsius[i] + ahead) ahead = std::max(0.0, *rests - celsius[i]);
        const double chosen = factor_at(body, celsius[i] + ahead / 2);
        until_[i] = celsius[i] + std::max(ahead, 0.5);
        if (std::abs(chosen - factors_[i]) < same_ohms * step_ * factors_[i]) continue;
        factors_[i] = chosen;
        changed = true;
    }
    return changed;
}

Law WarmOhms::law_at(std::size_t i, double factor) const {
    Law law = cold_.network.at(model_.bodies()[i].branch).law;
    if (auto* motor = std::get_if<Motor>(&law)) motor->armature_ohms *= factor;
    if (auto* resistor = std::get_if<Resistor>(&law)) resistor->ohms *= factor;
    return law;
}

std::optional<Fault> WarmOhms::as_fault() const {
    std::vector<Change> changes;
    for (std::size_t i = 0; i < factors_.size(); ++i) {
        if (factors_[i] != 1) changes.emplace_back(SetLaw{model_.bodies()[i].branch, law_at(i, factors_[i])});
    }
    if (changes.empty()) return std::nullopt;
    auto mode = std::make_shared<FaultMode>();
    mode->mode = "warm";
    mode->catalogued = false;
    mode->changes = [changes](double, double) { return changes; };
    return Fault{mode, 0, 0.5, {}, {}};
}

}  // namespace voltfall
