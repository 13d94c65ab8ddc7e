#include "netlists/tables/insulation.hpp"

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>
#include <limits>
#include <numbers>
#include <string>
#include <utility>

namespace voltfall {

namespace {

struct ClassRow {
    std::string_view type;  ///< upper case, without hyphen
    double celsius;
};

constexpr std::array class_rows{
    // SAE J1128 types (reference wires 2.5: Nizing/en/gpt.aspx and twp.aspx, awcwire.com FAQ-Automotive-Wire)
    ClassRow{"GPT", 80},
    ClassRow{"TWP", 85},
    ClassRow{"GXL", 125},
    ClassRow{"TXL", 125},
    ClassRow{"SXL", 125},
    // ISO 6722 types (Nizing/en/flryb.aspx, fl2xb.aspx, flr13ya.aspx)
    ClassRow{"FLRYA", 105},  // as FLRY-B with other strands, MEMORY
    ClassRow{"FLRYB", 105},
    ClassRow{"FLRY", 105},
    ClassRow{"FL2XB", 125},
    ClassRow{"FL2X", 125},
    ClassRow{"FLR13YA", 150},
    ClassRow{"FLR13Y", 150},
    // JASO types (ppgolden.com/D611.htm)
    ClassRow{"AV", 80},
    ClassRow{"AVS", 80},
    ClassRow{"AVX", 100},
    ClassRow{"AVSX", 100},
    ClassRow{"AVSSH", 100},
    ClassRow{"AEX", 120},
    ClassRow{"AESSX", 120},
};

}  // namespace

double melt_through_seconds(double metal_celsius, double start_celsius, double melts_at_celsius, double wall_mm) {
    constexpr double diffusivity = 1.1e-7;  // m2/s, PVC
    if (metal_celsius <= melts_at_celsius) return std::numeric_limits<double>::infinity();
    if (start_celsius >= melts_at_celsius) return 0;
    const double wall = wall_mm / 1000;
    const double delay = 4 * wall * wall / (std::numbers::pi * std::numbers::pi * diffusivity);
    return delay * std::log((metal_celsius - start_celsius) / (metal_celsius - melts_at_celsius));
}

std::optional<double> insulation_class(std::string_view type) {
    std::string plain;
    for (const char c : type) {
        if (c != '-') plain += static_cast<char>(std::toupper(static_cast<unsigned char>(c)));
    }
    const auto row =
        std::find_if(class_rows.begin(), class_rows.end(), [&](const ClassRow& r) { return r.type == plain; });
    if (row == class_rows.end()) return std::nullopt;
    return row->celsius;
}

std::vector<std::string> insulation_types() {
    std::vector<std::string> types;
    for (const ClassRow& row : class_rows) {
        std::string type(row.type);
        if (type == "FLRYA" || type == "FLRYB" || type == "FL2XB") type.insert(type.size() - 1, "-");
        types.push_back(std::move(type));
    }
    return types;
}

}  // namespace voltfall
