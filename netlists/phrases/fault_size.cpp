#include "netlists/phrases/fault_size.hpp"

namespace voltfall {

const FigureBounds& size_bounds(const FaultMode& mode) {
    const Unit unit = mode.size->unit;
    if (unit == Unit::ohm) return figure_bounds("fault", "ohms", unit);
    if (unit == Unit::volt) return figure_bounds("fault", "volts", unit);
    if (unit == Unit::ampere) return figure_bounds("fault", "amps", unit);
    return figure_bounds("fault", mode.size->figure.empty() ? "factor" : mode.size->figure, unit);
}

}  // namespace voltfall
