#include "netlists/tables/link_heat.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "netlists/tables/wires.hpp"

namespace voltfall {

namespace {

/// Temperature at which copper's straight line of resistance passes zero, below 0 °C (row W4).
constexpr double copper_zero = 234.45;
constexpr double kelvin = 273.15;
/// Row W20: 105 °C insulation in 30 °C.
constexpr double ampacity_class = 105;
constexpr double ampacity_ambient = 30;
/// Oxidised copper (textbook tables of emissivity, 0.78 to 0.87).
constexpr double emissivity = 0.8;
constexpr double stefan_boltzmann = 5.670e-8;  // W/(m2 K4)
/// Share of tau over which a state is stepped on: the balance is stiffest at the melting point, where c rises by 4.
constexpr double step_share = 1.0 / 32;
/// Near its end the heat hardly moves: steps there are so much longer, from where a tau would move it by less than
/// this.
constexpr double longer_at_rest = 4;
constexpr double nearly_at_rest = 1.0 / 64;

double radiation_of(double celsius, double ambient) {
    const double hot = (celsius + kelvin) * (celsius + kelvin);
    const double cold = (ambient + kelvin) * (ambient + kelvin);
    return hot * hot - cold * cold;
}

/// Convection from a wire in still air grows with the rise to the power of 1.25 (laminar, textbook).
double convected(double rise) {
    return rise * std::sqrt(std::sqrt(rise));
}

double logarithm_of(double celsius, double ambient) {
    return std::log((copper_zero + celsius) / (copper_zero + ambient));
}

}  // namespace

double LinkHeat::celsius(double heat) const {
    return (copper_zero + ambient_celsius) * std::exp(heat * logarithm) - copper_zero;
}

double LinkHeat::cooling(double heat) const {
    const double now = celsius(heat);
    const double rise = std::max(0.0, (now - ambient_celsius) / (copper_melts_celsius - ambient_celsius));
    const double lost = convection * convected(rise) + radiation * radiation_of(now, ambient_celsius) / radiated;
    return lost * copper_temperature_factor(copper_melts_celsius) / copper_temperature_factor(now);
}

LinkHeat link_heat(double area_mm2, double ambient_celsius) {
    const double ohms_metre = copper_ohm_per_metre(area_mm2);
    const double around = std::numbers::pi * 2 * std::sqrt(area_mm2 / std::numbers::pi) * 1e-3;  // m2 a metre
    const double radiation_factor = around * emissivity * stefan_boltzmann;
    const double ampacity = wire_ampacity(area_mm2);
    const double at_ampacity = ampacity * ampacity * ohms_metre * copper_temperature_factor(ampacity_class);
    const double by_air = at_ampacity - radiation_factor * radiation_of(ampacity_class, ampacity_ambient);
    const double convection_factor = std::max(0.0, by_air) / convected(ampacity_class - ampacity_ambient);

    const double by_convection = convection_factor * convected(copper_melts_celsius - ambient_celsius);
    const double by_radiation = radiation_factor * radiation_of(copper_melts_celsius, ambient_celsius);
    LinkHeat link;
    link.ambient_celsius = ambient_celsius;
    link.logarithm = logarithm_of(copper_melts_celsius, ambient_celsius);
    link.radiated = radiation_of(copper_melts_celsius, ambient_celsius);
    link.minimum_amps =
        std::sqrt((by_convection + by_radiation) / (ohms_metre * copper_temperature_factor(copper_melts_celsius)));
    const double one_second = melting_amps(area_mm2, 1, ambient_celsius);
    link.melting_i2t = one_second * one_second;
    link.convection = by_convection / (by_convection + by_radiation);
    link.radiation = 1 - link.convection;
    return link;
}

double link_seconds(const LinkHeat& link, double tau, double from, double to, double drive) {
    // Gauss-Legendre of five points over pieces that halve towards the end, where the net heat may be least.
    constexpr std::array points{0.0, 0.5384693101056831, -0.5384693101056831, 0.9061798459386640, -0.9061798459386640};
    constexpr std::array weights{0.5688888888888889, 0.4786286704993665, 0.4786286704993665, 0.2369268850561891,
                                 0.2369268850561891};
    constexpr int pieces = 24;
    double sum = 0;
    double left = from;
    for (int piece = 0; piece < pieces; ++piece) {
        const double right = piece + 1 == pieces ? to : (left + to) / 2;
        const double half = (right - left) / 2;
        for (std::size_t i = 0; i < points.size(); ++i)
            sum += weights[i] * half / (drive - link.cooling((left + right) / 2 + half * points[i]));
        left = right;
    }
    return tau * sum;
}

double link_heat_after(const LinkHeat& link, double tau, double from, double drive, double seconds) {
    const auto rate = [&](double heat) { return drive - link.cooling(std::clamp(heat, 0.0, 1.0)); };
    // Above the melting current the steps are as short as the heating is quick.
    const double longest = tau * step_share / std::max(1.0, drive);
    double heat = from;
    double left = seconds;
    while (left > 0 && heat < 1) {
        const double k1 = rate(heat);
        const bool slow = std::abs(k1) < nearly_at_rest;
        const double step = std::min(left, slow ? longer_at_rest * longest : longest);
        const double h = step / tau;
        const double k2 = rate(heat + h * k1 / 2);
        const double k3 = rate(heat + h * k2 / 2);
        const double k4 = rate(heat + h * k3);
        const double change = h * (k1 + 2 * k2 + 2 * k3 + k4) / 6;
        heat = std::clamp(heat + change, 0.0, 1.0);
        left -= step;
        constexpr double at_rest = 1e-10;
        if (std::abs(change) < at_rest) break;
    }
    return heat;
}

}  // namespace voltfall
