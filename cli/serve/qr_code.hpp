// An address as a QR code (ISO/IEC 18004), by libqrencode: for a phone's camera.
#pragma once

#include <string>
#include <vector>

namespace voltfall {

/// The modules row by row, true where dark, without the quiet zone around them. Empty where the text does not fit.
using QrModules = std::vector<std::vector<bool>>;
QrModules qr_modules(const std::string& text);

/// For a terminal: two rows of modules a line, with the quiet zone of four modules. Light modules are drawn, so that
/// the code is dark on light on a dark screen.
std::string qr_text(const QrModules& modules);

/// For a page: a drawing of its own size in CSS pixels, dark on white.
std::string qr_svg(const QrModules& modules);

}  // namespace voltfall
