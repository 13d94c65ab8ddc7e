#include "netlists/tables/fuses.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "netlists/tables/defaults.hpp"
#include "netlists/tables/fuse_model.hpp"
#include "netlists/tables/link_heat.hpp"
#include "netlists/tables/wires.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

struct MiniRow {
    double rating;       ///< amperes
    double drop;         ///< typical at the rating, volts
    double melting_i2t;  ///< typical, ampere squared seconds
};

// Rows F20-F29: 297 series (MINI 32 V) data sheet of Littelfuse, read through two transcriptions. The 25 A row's I2t is
// 622 in one and 625 in the other.
constexpr std::array mini_rows{
    MiniRow{2, 0.171, 9},    MiniRow{3, 0.153, 20},    MiniRow{4, 0.121, 31},   MiniRow{5, 0.129, 37},
    MiniRow{7.5, 0.135, 82}, MiniRow{10, 0.108, 122},  MiniRow{15, 0.098, 308}, MiniRow{20, 0.096, 442},
    MiniRow{25, 0.086, 622}, MiniRow{30, 0.087, 1230},
};

constexpr double hours = 3600;

// Mini: rows F1-F3 (Littelfuse 297 series data sheet; at 200 % its 58 V sister's, and the JASO-type row F5); regular
// fuses have the same form of limits. At 135 % the 297 series' sheet promises 600 s, the standard's texts 1800 s: a
// part of unknown make may take the longer. The rows from memory: ISO 8820-3 as makers print it.
constexpr std::array blade_limits{
    FuseLimit{110, 100 * hours, {}, false, "F1: 297 series data sheet of Littelfuse"},
    FuseLimit{135, 0.75, 1800, false, "F4: shinem.jp; F6: ISO 8820-3 on the noiasca page"},
    FuseLimit{160, 0.25, 50, true, "F11: ISO 8820-3, MEMORY"},
    FuseLimit{200, 0.15, 5, false, "F3: 997 series data sheet of Littelfuse; F5: shinem.jp"},
    FuseLimit{350, 0.04, 0.5, true, "F12: ISO 8820-3, MEMORY"},
    FuseLimit{600, 0.02, 0.1, true, "F13: ISO 8820-3, MEMORY"},
};
// Rows F7-F10: DIN 72581-3 form E (noiasca.rothschopf.net/deutsch/dkabel_sicherung.htm); F14 from memory.
constexpr std::array maxi_limits{
    FuseLimit{100, 100 * hours, {}, false, "F7: DIN 72581-3 form E"},
    FuseLimit{135, 60, 1800, false, "F8: DIN 72581-3 form E"},
    FuseLimit{200, 2, 60, false, "F9: DIN 72581-3 form E"},
    FuseLimit{350, 0.2, 7, false, "F10: DIN 72581-3 form E"},
    FuseLimit{600, 0.04, 1, true, "F14: maker sheets, MEMORY"},
};
constexpr std::array cartridge_limits{
    FuseLimit{110, 100 * hours, {}, true, "F15: maker sheets, MEMORY"},
    FuseLimit{135, 60, 1800, true, "F15: maker sheets, MEMORY"},
    FuseLimit{200, 4, 60, true, "F15: maker sheets, MEMORY"},
    FuseLimit{350, 0.2, 7, true, "F15: maker sheets, MEMORY"},
    FuseLimit{600, 0.04, 1, true, "F15: maker sheets, MEMORY"},
};
constexpr std::array glass_limits{
    FuseLimit{110, 4 * hours, {}, true, "F16: SAE J554, MEMORY"},
    FuseLimit{135, 0, 1 * hours, true, "F16: SAE J554, MEMORY"},
    FuseLimit{200, 0, 10, true, "F16: SAE J554, MEMORY"},
};

struct ColourRow {
    double rating;
    std::string_view colour;
};
// dieelektronikerseite.de/Sheets/Sicherungsbezeichnungen.htm; maxi also the form E page above.
constexpr std::array blade_colours{
    ColourRow{1, "black"},   ColourRow{2, "grey"},    ColourRow{3, "violet"}, ColourRow{4, "pink"},
    ColourRow{5, "tan"},     ColourRow{7.5, "brown"}, ColourRow{10, "red"},   ColourRow{15, "blue"},
    ColourRow{20, "yellow"}, ColourRow{25, "clear"},  ColourRow{30, "green"}, ColourRow{35, "blue-green"},
    ColourRow{40, "orange"},
};
constexpr std::array maxi_colours{
    ColourRow{20, "yellow"}, ColourRow{30, "green"},   ColourRow{40, "orange"},
    ColourRow{50, "red"},    ColourRow{60, "blue"},    ColourRow{70, "tan or brown"},
    ColourRow{80, "clear"},  ColourRow{100, "violet"}, ColourRow{120, "pink"},
};

constexpr std::array type_words{
    std::pair{FuseType::mini, std::string_view("mini")},
    std::pair{FuseType::regular, std::string_view("regular")},
    std::pair{FuseType::maxi, std::string_view("maxi")},
    std::pair{FuseType::cartridge, std::string_view("cartridge")},
    std::pair{FuseType::glass, std::string_view("glass")},
    std::pair{FuseType::breaker, std::string_view("breaker")},
    std::pair{FuseType::link, std::string_view("link")},
};

const MiniRow* published_row(FuseType type, double rating) {
    if (type != FuseType::mini) return nullptr;
    const auto found = std::find_if(mini_rows.begin(), mini_rows.end(),
                                    [rating](const MiniRow& row) { return std::abs(row.rating - rating) < 1e-9; });
    return found == mini_rows.end() ? nullptr : &*found;
}

std::string_view tau_row(FuseType type) {
    switch (type) {
        case FuseType::mini:
            return "tau_mini";
        case FuseType::regular:
            return "tau_regular";
        case FuseType::maxi:
            return "tau_maxi";
        case FuseType::cartridge:
            return "tau_cartridge";
        case FuseType::glass:
            return "tau_glass";
        case FuseType::breaker:
        case FuseType::link:  // has its own balance (`link_of`)
            return "tau_breaker";
    }
    return "tau_regular";
}

/// The link whose rating, the ampacity of its copper, this is; in air of 25 °C.
LinkHeat link_of(double rating_amps) {
    constexpr double usual_ambient = 25;
    return link_heat(area_of_ampacity(rating_amps), usual_ambient);
}

}  // namespace

std::optional<FuseType> fuse_type(std::string_view word) {
    for (const auto& [type, text] : type_words) {
        if (same_word(text, word)) return type;
    }
    return std::nullopt;
}

std::string_view fuse_type_word(FuseType type) {
    const auto found =
        std::find_if(type_words.begin(), type_words.end(), [type](const auto& t) { return t.first == type; });
    return found->second;
}

double fuse_ohms(FuseType type, double rating_amps) {
    if (const MiniRow* row = published_row(type, rating_amps)) return row->drop / row->rating;
    return default_value(type == FuseType::breaker ? "breaker_drop_volts" : "fuse_drop_volts") / rating_amps;
}

double fuse_minimum_opening_amps(FuseType type, double rating_amps) {
    if (type == FuseType::link) return link_of(rating_amps).minimum_amps;
    return default_value(type == FuseType::breaker ? "breaker_imin_ratio" : "fuse_imin_ratio") * rating_amps;
}

double fuse_tau_seconds(FuseType type, double rating_amps) {
    if (type == FuseType::link) {
        const LinkHeat link = link_of(rating_amps);
        return link.melting_i2t / (link.minimum_amps * link.minimum_amps);
    }
    // Small regular fuses have no published row here; the mini of the same rating, under the same limits, stands for
    // them: from 15 A up the type's own time constant gives more, as their thicker elements do.
    const bool small_regular = type == FuseType::regular && rating_amps <= 10;
    if (const MiniRow* row = published_row(small_regular ? FuseType::mini : type, rating_amps)) {
        const double minimum = fuse_minimum_opening_amps(type, rating_amps);
        return row->melting_i2t / (minimum * minimum);
    }
    return default_value(tau_row(type));
}

std::optional<double> fuse_opening_seconds(FuseType type, double rating_amps, double amps) {
    return seconds_to_open(fuse_model(type, rating_amps), {}, amps);
}

double fuse_melting_i2t(FuseType type, double rating_amps) {
    const double minimum = fuse_minimum_opening_amps(type, rating_amps);
    return fuse_tau_seconds(type, rating_amps) * minimum * minimum;
}

double fuse_ambient_factor(double ambient_celsius) {
    constexpr double per_kelvin = 0.00153;
    return 1 - per_kelvin * (ambient_celsius - 25);
}

std::span<const FuseLimit> fuse_limits(FuseType type) {
    switch (type) {
        case FuseType::mini:
        case FuseType::regular:
            return blade_limits;
        case FuseType::maxi:
            return maxi_limits;
        case FuseType::cartridge:
            return cartridge_limits;
        case FuseType::glass:
            return glass_limits;
        case FuseType::breaker:
        case FuseType::link:
            return {};
    }
    return {};
}

std::string_view fuse_colour(FuseType type, double rating_amps) {
    std::span<const ColourRow> rows;
    if (type == FuseType::mini || type == FuseType::regular) rows = blade_colours;
    if (type == FuseType::maxi) rows = maxi_colours;
    const auto found = std::find_if(rows.begin(), rows.end(),
                                    [&](const ColourRow& row) { return std::abs(row.rating - rating_amps) < 1e-9; });
    return found == rows.end() ? std::string_view{} : found->colour;
}

double pulses_survived(double share_of_i2t) {
    struct Row {
        double share;
        double decades;
    };
    constexpr std::array rows{Row{1, 0}, Row{0.48, 2}, Row{0.38, 3}, Row{0.29, 4}, Row{0.22, 5}};
    if (share_of_i2t >= rows.front().share) return 0;
    for (std::size_t i = 1; i < rows.size(); ++i) {
        if (share_of_i2t < rows[i].share) continue;
        const double along = (rows[i - 1].share - share_of_i2t) / (rows[i - 1].share - rows[i].share);
        return std::pow(10.0, rows[i - 1].decades + along * (rows[i].decades - rows[i - 1].decades));
    }
    return std::pow(10.0, rows.back().decades);
}

double nearest_fuse_rating(double amps) {
    static constexpr std::array made{1.0,  2.0,  3.0,  4.0,  5.0,  7.5,  10.0, 15.0,  20.0, 25.0,
                                     30.0, 35.0, 40.0, 50.0, 60.0, 70.0, 80.0, 100.0, 120.0};
    return *std::min_element(made.begin(), made.end(),
                             [&](double a, double b) { return std::abs(a - amps) < std::abs(b - amps); });
}

}  // namespace voltfall
