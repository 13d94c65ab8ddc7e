#include "netlists/tables/fuses.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "netlists/tables/defaults.hpp"
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

/// A fusible link is slow like a breaker's bimetal; neither has a published row, so a link takes the breaker's.
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
        case FuseType::link:
            return "tau_breaker";
    }
    return "tau_regular";
}

bool is_breaker_like(FuseType type) {
    return type == FuseType::breaker || type == FuseType::link;
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
    return default_value(is_breaker_like(type) ? "breaker_imin_ratio" : "fuse_imin_ratio") * rating_amps;
}

double fuse_tau_seconds(FuseType type, double rating_amps) {
    if (const MiniRow* row = published_row(type, rating_amps)) {
        const double minimum = fuse_minimum_opening_amps(type, rating_amps);
        return row->melting_i2t / (minimum * minimum);
    }
    return default_value(tau_row(type));
}

std::optional<double> fuse_opening_seconds(FuseType type, double rating_amps, double amps) {
    const double share = fuse_minimum_opening_amps(type, rating_amps) / amps;
    const double squared = share * share;
    // Also when there is no current, or none that is a number.
    if (!(squared < 1)) return std::nullopt;
    // ln(I^2 / (I^2 - Imin^2)), which stays exact for currents far above Imin.
    return -fuse_tau_seconds(type, rating_amps) * std::log1p(-squared);
}

}  // namespace voltfall
