#include "netlists/tables/wires.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <span>

namespace voltfall {

namespace {

struct SizeRow {
    double size;
    double value;
};

// ISO 6722-1, largest conductor resistance at 20 °C: mm2, mohm/m. As printed by a wire maker
// (github.com/chunkaiw3874/Nizing-Website, Nizing/en/flryb.aspx, fl2xb.aspx, flr13ya.aspx).
constexpr std::array iso_6722{
    SizeRow{0.35, 54.4}, SizeRow{0.5, 37.1}, SizeRow{0.75, 24.7}, SizeRow{1, 18.5},
    SizeRow{1.5, 12.7},  SizeRow{2, 9.42},   SizeRow{2.5, 7.60},  SizeRow{3, 6.15},
    SizeRow{4, 4.71},    SizeRow{6, 3.14},   SizeRow{10, 1.82},   SizeRow{16, 1.16},
};

// SAE stranded areas, which are 5-11 % below the gauge they are named after: AWG, circular mils
// (delzer.com/powerproducts/ANC_CAT_003/70).
constexpr std::array sae_areas{
    SizeRow{18, 1537}, SizeRow{16, 2336}, SizeRow{14, 3702}, SizeRow{12, 5833},
    SizeRow{10, 9343}, SizeRow{8, 14810}, SizeRow{6, 24538}, SizeRow{4, 37360},
};

// Row W20: AWG, amperes. 105 °C insulation, up to two conductors, 30 °C, outside engine spaces
// (33 CFR 183.425 table E; jamestowndistributors.com docId=84, delzer.com).
constexpr std::array ampacity_rows{
    SizeRow{18, 20}, SizeRow{16, 25}, SizeRow{14, 35}, SizeRow{12, 45}, SizeRow{10, 60},
    SizeRow{8, 80},  SizeRow{6, 120}, SizeRow{4, 160}, SizeRow{2, 210},
};

/// One circular mil is the area of a circle of 0.0254 mm.
constexpr double mm2_per_circular_mil = std::numbers::pi / 4 * 0.0254 * 0.0254;

const SizeRow* find_size(std::span<const SizeRow> rows, double size) {
    constexpr double same_size = 1e-9;
    const auto found = std::find_if(rows.begin(), rows.end(), [size](const SizeRow& row) {
        return std::abs(row.size - size) <= same_size * std::max(1.0, std::abs(size));
    });
    return found == rows.end() ? nullptr : &*found;
}

double round_area_mm2(double diameter_mm) {
    return std::numbers::pi / 4 * diameter_mm * diameter_mm;
}

}  // namespace

double awg_diameter_mm(double gauge) {
    return 0.127 * std::pow(92.0, (36.0 - gauge) / 39.0);
}

double copper_ohm_per_metre(double area_mm2) {
    // IACS copper, 58.0 MS/m at 20 °C; 1 ohm.m over 1 mm2 is 1e6 ohm/m.
    constexpr double iacs_ohm_metre = 1.7241e-8;
    return iacs_ohm_metre * 1e6 / area_mm2;
}

double copper_temperature_factor(double celsius) {
    // Industrial Power Engineering Handbook p.970; per kelvin at 20 °C.
    constexpr double per_kelvin = 0.00393;
    return 1 + per_kelvin * (celsius - 20);
}

double wire_area_mm2(WireStandard standard, double size) {
    switch (standard) {
        case WireStandard::metric:
            return size;
        case WireStandard::awg:
            if (const SizeRow* row = find_size(sae_areas, size)) return row->value * mm2_per_circular_mil;
            return round_area_mm2(awg_diameter_mm(size));
    }
    return size;
}

double wire_ohm_per_metre(WireStandard standard, double size) {
    if (standard == WireStandard::metric) {
        if (const SizeRow* row = find_size(iso_6722, size)) return row->value / 1000;
    }
    return copper_ohm_per_metre(wire_area_mm2(standard, size));
}

namespace {

/// The ampacity table by area: it goes by gauge, and its areas here are the round ones of ASTM B258.
const std::array<double, ampacity_rows.size()>& ampacity_areas() {
    static const auto areas = [] {
        std::array<double, ampacity_rows.size()> list{};
        std::transform(ampacity_rows.begin(), ampacity_rows.end(), list.begin(),
                       [](const SizeRow& row) { return round_area_mm2(awg_diameter_mm(row.size)); });
        return list;
    }();
    return areas;
}

std::array<double, ampacity_rows.size()> table_amps() {
    std::array<double, ampacity_rows.size()> amps{};
    std::transform(ampacity_rows.begin(), ampacity_rows.end(), amps.begin(),
                   [](const SizeRow& row) { return row.value; });
    return amps;
}

/// Straight lines between the points over the logarithms of both; the first and last go on. `xs` rising.
template <std::size_t n>
double on_logarithms(const std::array<double, n>& xs, const std::array<double, n>& ys, double x) {
    const auto above = std::upper_bound(xs.begin() + 1, xs.end() - 1, x);
    const auto upper = static_cast<std::size_t>(above - xs.begin());
    const std::size_t lower = upper - 1;
    const double share = std::log(x / xs[lower]) / std::log(xs[upper] / xs[lower]);
    return ys[lower] * std::pow(ys[upper] / ys[lower], share);
}

}  // namespace

double wire_ampacity(double area_mm2) {
    return on_logarithms(ampacity_areas(), table_amps(), area_mm2);
}

double area_of_ampacity(double amps) {
    return on_logarithms(table_amps(), ampacity_areas(), amps);
}

double bundle_factor(int wires) {
    if (wires <= 2) return 1;
    if (wires == 3) return 0.70;
    return wires <= 6 ? 0.60 : 0.50;
}

namespace {

/// log10(1 + (Tm - Ta) / (234 + Ta)) / 33, in 1/s per circular mil squared and ampere squared.
double onderdonk(double from_celsius, double melts_at) {
    return std::log10(1 + (melts_at - from_celsius) / (234 + from_celsius)) / 33;
}

}  // namespace

double melting_amps(double area_mm2, double seconds, double from_celsius, double melts_at) {
    return area_mm2 / mm2_per_circular_mil * std::sqrt(onderdonk(from_celsius, melts_at) / seconds);
}

double melting_seconds(double area_mm2, double amps, double from_celsius) {
    const double mils = area_mm2 / mm2_per_circular_mil;
    return mils * mils * onderdonk(from_celsius, copper_melts_celsius) / (amps * amps);
}

double long_melting_amps(double diameter_mm) {
    return 80 * std::pow(diameter_mm, 1.5);
}

}  // namespace voltfall
