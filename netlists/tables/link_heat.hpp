// The heat of a fusible link: a round copper wire that melts.
//
// The state is u, the share of the heat that brings its copper from the surroundings to 1083 °C, counted so that it
// grows evenly with I^2 t (Onderdonk's logarithm, row W30): tau du/dt = (I / Imin)^2 - c(u). c is the square of the
// current that holds the wire at the temperature of u, over that which holds it at the melting point.
#pragma once

namespace voltfall {

/// Balance of one link in air: Q' = convection (T - Ta)^1.25 + radiation (T^4 - Ta^4), W/m. Radiation is that of
/// oxidised copper (emissivity 0.8, textbook value); convection is such that the table's ampacity (row W20) holds the
/// wire at 105 °C in 30 °C. Heat that its ends carry away is left out: some percent for a link of 0.15 m.
struct LinkHeat {
    double ambient_celsius{};
    double minimum_amps{};  ///< Imin: the current that just melts it, without end
    double melting_i2t{};   ///< A2s far above Imin, from the surroundings' temperature
    double convection{};    ///< share of Imin^2 R that convection carries off at the melting point
    double radiation{};     ///< the same of radiation; the two make 1
    double logarithm{};     ///< Onderdonk's, from the surroundings' temperature to the melting point
    double radiated{};      ///< T^4 - Ta^4 at the melting point, K^4

    /// Temperature of a state, °C: the surroundings' at 0, 1083 at 1.
    double celsius(double heat) const;
    /// c of the formula above: 0 in the cold state, 1 at the melting point.
    double cooling(double heat) const;
};

/// A link of some copper area (mm2) in air of -40 to 125 °C.
LinkHeat link_heat(double area_mm2, double ambient_celsius);

/// Seconds from one state to a higher one at a constant drive (I / Imin)^2 that reaches it, for a time constant of
/// `tau` = I2t / Imin^2 seconds.
double link_seconds(const LinkHeat& link, double tau, double from, double to, double drive);

/// The state after some seconds at a constant drive; it stops at 1, where the wire has melted.
double link_heat_after(const LinkHeat& link, double tau, double from, double drive, double seconds);

}  // namespace voltfall
