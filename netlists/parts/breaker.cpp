// Circuit breaker: opens like a fuse; one that resets by itself or by hand.
#include "netlists/parts/fuse_element.hpp"
#include "netlists/parts/kinds.hpp"
#include "netlists/parts/part_reader.hpp"
#include "netlists/tables/defaults.hpp"

namespace voltfall {

namespace {

constexpr FigureBounds figures[] = {
    {"breaker", "rated amps", Unit::ampere, 0.05, most_fuse_amps},
};

void read(PartReader& reader, Part& part) {
    reader.required(part, "rated amps", Unit::ampere);
    if (reader.flag(part, {"resets", "manual"}).empty()) part.flags.emplace_back("manual");
    reader.feed(part);
}

void lay(const Part& part, Layout& layout) {
    const double rating = part.value("rated amps");
    lay_opening_element(layout, "breaker", rating, default_value("breaker_drop_volts") / rating,
                        {"breaker " + part.name + " tripped", "breaker " + part.name + " open, though it looks good",
                         "poor contact in breaker " + part.name});
}

}  // namespace

constinit const Kind breaker_kind = passive_kind({
    .word = "breaker",
    .example = "breaker 30A resets",
    .fitting = Fitting::wired,
    .drop = Drop::none,
    .read = read,
    .terminals = two_terminals,
    .terminal_aliases = opening_element_aliases,
    .lay = lay,
    .figures = figures,
});

}  // namespace voltfall
