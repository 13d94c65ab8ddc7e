#include "cli/serve/qr_code.hpp"

#include <fmt/format.h>
#include <qrencode.h>

#include <memory>

namespace voltfall {

namespace {

/// Modules of light around the code, as the standard asks for.
constexpr int quiet_zone = 4;

bool is_dark(const QrModules& modules, int row, int column) {
    const int size = static_cast<int>(modules.size());
    return row >= 0 && row < size && column >= 0 && column < size &&
           modules[static_cast<std::size_t>(row)][static_cast<std::size_t>(column)];
}

}  // namespace

QrModules qr_modules(const std::string& text) {
    const std::unique_ptr<QRcode, decltype(&QRcode_free)> code(QRcode_encodeString8bit(text.c_str(), 0, QR_ECLEVEL_L),
                                                               &QRcode_free);
    if (!code) return {};
    QrModules modules;
    for (int row = 0; row < code->width; ++row) {
        std::vector<bool> line;
        // The lowest bit of a byte is its module; the others tell what it is for.
        for (int column = 0; column < code->width; ++column)
            line.push_back((code->data[row * code->width + column] & 1) != 0);
        modules.push_back(std::move(line));
    }
    return modules;
}

std::string qr_text(const QrModules& modules) {
    if (modules.empty()) return {};
    const int size = static_cast<int>(modules.size());
    std::string text;
    for (int row = -quiet_zone; row < size + quiet_zone; row += 2) {
        for (int column = -quiet_zone; column < size + quiet_zone; ++column) {
            const bool upper = !is_dark(modules, row, column);
            const bool lower = row + 1 < size + quiet_zone && !is_dark(modules, row + 1, column);
            text += upper ? (lower ? "█" : "▀") : (lower ? "▄" : " ");
        }
        text += "\n";
    }
    return text;
}

std::string qr_svg(const QrModules& modules) {
    if (modules.empty()) return {};
    constexpr int pixels_a_module = 5;
    const int size = static_cast<int>(modules.size());
    const int all = size + 2 * quiet_zone;
    std::string path;
    for (int row = 0; row < size; ++row)
        for (int column = 0; column < size; ++column)
            if (is_dark(modules, row, column))
                path += fmt::format("M{} {}h1v1h-1z", column + quiet_zone, row + quiet_zone);
    return fmt::format(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{0}\" height=\"{0}\" viewBox=\"0 0 {1} {1}\" role=\"img\" "
        "aria-label=\"the address as a QR code\" shape-rendering=\"crispEdges\"><rect width=\"{1}\" height=\"{1}\" "
        "fill=\"#fff\"/><path d=\"{2}\" fill=\"#000\"/></svg>\n",
        all * pixels_a_module, all, path);
}

}  // namespace voltfall
