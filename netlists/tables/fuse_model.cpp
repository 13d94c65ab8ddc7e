#include "netlists/tables/fuse_model.hpp"

#include <algorithm>
#include <boost/math/tools/roots.hpp>
#include <cmath>
#include <cstdint>

#include "netlists/tables/defaults.hpp"
#include "netlists/tables/wires.hpp"

namespace voltfall {

namespace {

/// How a type's quickest and slowest parts differ from the usual one (ASSUMED).
struct EdgeFactors {
    double minimum{1};  ///< factor on Imin
    double seconds{1};  ///< factor on both time constants
};

EdgeFactors factors_of(Edge edge) {
    switch (edge) {
        case Edge::earliest:
            return {1, 0.7};
        case Edge::typical:
            return {};
        case Edge::latest:
            return {1.3 / 1.2, 1.4};
    }
    return {};
}

/// A link's free length, its sleeve and what lies on it: how far its melting current and heat differ (ASSUMED).
EdgeFactors link_factors_of(Edge edge) {
    switch (edge) {
        case Edge::earliest:
            return {0.85, 0.9};
        case Edge::typical:
            return {};
        case Edge::latest:
            return {1.15, 1.1};
    }
    return {};
}

/// The share and time constant of the slow stage; a breaker's bimetal is one body.
struct SlowStage {
    double share{0};
    double seconds{1};
};

SlowStage slow_stage(FuseType type) {
    switch (type) {
        case FuseType::mini:
        case FuseType::regular:
        case FuseType::glass:
            return {default_value("slow_share_blade"), default_value("slow_tau_blade")};
        case FuseType::maxi:
        case FuseType::cartridge:
            return {default_value("slow_share_maxi"), default_value("slow_tau_maxi")};
        case FuseType::breaker:
        case FuseType::link:
            return {};
    }
    return {};
}

double total_at(const FuseModel& model, FuseHeat heat, double amps, double seconds) {
    return heat_after(model, heat, amps, seconds).total();
}

/// The time between two at which the heat passes 1; it is on either side at the two.
double crossing(const FuseModel& model, FuseHeat heat, double amps, double from, double to) {
    std::uintmax_t rounds = 100;
    const auto excess = [&](double t) { return total_at(model, heat, amps, t) - 1; };
    const auto between =
        boost::math::tools::toms748_solve(excess, from, to, boost::math::tools::eps_tolerance<double>(40), rounds);
    return (between.first + between.second) / 2;
}

/// The one time after 0 at which the heat turns from rising to falling or back, if there is one.
std::optional<double> turning_point(const FuseModel& model, FuseHeat heat, double ratio) {
    const double fast = (ratio * (1 - model.slow_share) - heat.fast) / model.fast_seconds;
    const double slow = (ratio * model.slow_share - heat.slow) / model.slow_seconds;
    if (!(fast * slow < 0)) return std::nullopt;
    const double rate = 1 / model.fast_seconds - 1 / model.slow_seconds;
    const double at = -std::log(-slow / fast) / rate;
    return at > 0 && std::isfinite(at) ? std::optional(at) : std::nullopt;
}

}  // namespace

namespace {

FuseModel link_model(double ampacity, Edge edge, double ambient_celsius) {
    const LinkHeat link = link_heat(area_of_ampacity(ampacity), ambient_celsius);
    const EdgeFactors factors = link_factors_of(edge);
    FuseModel model;
    model.minimum_amps = link.minimum_amps * factors.minimum;
    model.fast_seconds = link.melting_i2t * factors.seconds / (model.minimum_amps * model.minimum_amps);
    model.link = link;
    return model;
}

double drive_of(const FuseModel& model, double amps) {
    const double share = amps / model.minimum_amps;
    return share * share;
}

}  // namespace

FuseModel fuse_model(FuseType type, double rating_amps, Edge edge, double ambient_celsius) {
    if (type == FuseType::link) return link_model(rating_amps, edge, ambient_celsius);
    const EdgeFactors factors = factors_of(edge);
    const SlowStage slow = slow_stage(type);
    const double minimum = fuse_minimum_opening_amps(type, rating_amps) * factors.minimum;
    // Far above Imin both stages heat without cooling: I2t = Imin^2 / ((1 - s) / fast + s / slow). A part with another
    // Imin has the same metal, so the same I2t.
    const double tau = fuse_tau_seconds(type, rating_amps) / (factors.minimum * factors.minimum);
    const double fast = (1 - slow.share) / (1 / tau - slow.share / slow.seconds);
    return {minimum * fuse_ambient_factor(ambient_celsius), slow.share, fast * factors.seconds,
            slow.seconds * factors.seconds};
}

namespace {

/// Published seconds at a percentage of the rating by the rows that give them; nothing below the first of them.
std::optional<double> limit_at(std::span<const FuseLimit> limits, double percent,
                               std::optional<double> (*seconds_of)(const FuseLimit&)) {
    const FuseLimit* below = nullptr;
    for (const FuseLimit& row : limits) {
        const auto seconds = seconds_of(row);
        if (!seconds) continue;
        if (row.percent > percent) {
            if (!below) return std::nullopt;
            const double share = std::log(percent / below->percent) / std::log(row.percent / below->percent);
            return *seconds_of(*below) * std::pow(*seconds / *seconds_of(*below), share);
        }
        below = &row;
    }
    if (!below) return std::nullopt;
    const double over = below->percent / percent;
    return *seconds_of(*below) * over * over;
}

std::optional<double> earliest_of(const FuseLimit& row) {
    return row.earliest > 0 ? std::optional(row.earliest) : std::nullopt;
}

std::optional<double> latest_of(const FuseLimit& row) {
    return row.latest;
}

}  // namespace

FuseBand fuse_band(FuseType type, double rating_amps, double amps, double ambient_celsius) {
    const auto by_model = [&](Edge edge) {
        return seconds_to_open(fuse_model(type, rating_amps, edge, ambient_celsius), {}, amps);
    };
    FuseBand band{by_model(Edge::earliest), by_model(Edge::latest)};
    const std::span<const FuseLimit> limits = fuse_limits(type);
    if (limits.empty() || !std::isfinite(amps)) return band;
    const double percent = 100 * std::abs(amps) / (rating_amps * fuse_ambient_factor(ambient_celsius));
    const auto earliest = limit_at(limits, percent, earliest_of);
    const auto latest = limit_at(limits, percent, latest_of);
    if (earliest) band.earliest = std::min(*earliest, band.earliest.value_or(*earliest));
    band.latest = latest && band.latest ? std::optional(std::max(*latest, *band.latest)) : std::nullopt;
    return band;
}

FuseHeat heat_after(const FuseModel& model, FuseHeat heat, double amps, double seconds) {
    const double ratio = drive_of(model, amps);
    if (model.link) return {link_heat_after(*model.link, model.fast_seconds, heat.fast, ratio, seconds), 0};
    const auto towards = [&](double from, double to, double tau) {
        return to - (to - from) * std::exp(-seconds / tau);
    };
    return {towards(heat.fast, ratio * (1 - model.slow_share), model.fast_seconds),
            towards(heat.slow, ratio * model.slow_share, model.slow_seconds)};
}

std::optional<double> seconds_to_open(const FuseModel& model, FuseHeat heat, double amps) {
    if (!std::isfinite(amps)) return std::nullopt;
    if (heat.total() >= 1) return 0.0;
    const double ratio = drive_of(model, amps);
    if (model.link) {
        if (!(ratio > 1)) return std::nullopt;
        return link_seconds(*model.link, model.fast_seconds, heat.fast, 1, ratio);
    }
    const auto turn = turning_point(model, heat, ratio);
    if (turn && total_at(model, heat, amps, *turn) >= 1) return crossing(model, heat, amps, 0, *turn);
    if (!(ratio > 1)) return std::nullopt;
    double to = std::max(turn.value_or(0), model.fast_seconds) * 2;
    while (total_at(model, heat, amps, to) < 1) {
        to *= 2;
        // Rounding keeps the heat below 1 where the current hardly passes Imin.
        if (to > 1e3 * std::max(model.slow_seconds, model.fast_seconds)) return std::nullopt;
    }
    return crossing(model, heat, amps, turn.value_or(0), to);
}

double seconds_to_cool(const FuseModel& model, FuseHeat heat, double share) {
    if (heat.total() <= share) return 0;
    const double slowest = std::max(model.slow_seconds, model.fast_seconds);
    std::uintmax_t rounds = 100;
    const auto excess = [&](double t) { return total_at(model, heat, 0, t) - share; };
    const auto between = boost::math::tools::toms748_solve(excess, 0.0, slowest * std::log(2 * heat.total() / share),
                                                           boost::math::tools::eps_tolerance<double>(40), rounds);
    return (between.first + between.second) / 2;
}

std::optional<double> one_pole_opening_seconds(double minimum_amps, double tau_seconds, double amps) {
    const double share = minimum_amps / amps;
    const double squared = share * share;
    // Also when there is no current, or none that is a number.
    if (!(squared < 1)) return std::nullopt;
    // ln(I^2 / (I^2 - Imin^2)), which stays exact for currents far above Imin.
    return -tau_seconds * std::log1p(-squared);
}

}  // namespace voltfall
