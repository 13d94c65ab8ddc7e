// A simple, pressure or temperature contact.
#include <algorithm>
#include <iterator>
#include <optional>

#include "netlists/parts/kinds.hpp"
#include "netlists/parts/layout.hpp"
#include "netlists/parts/part_reader.hpp"
#include "netlists/parts/usual_changes.hpp"
#include "netlists/text/problem_code.hpp"

namespace voltfall {

namespace {

constexpr FigureBounds figures[] = {
    {"contact", "opens at", Unit::pascal, 100, 1e8},
    {"contact", "closes at", Unit::pascal, 100, 1e8},
    {"contact", "healthy at", Unit::pascal, 0, 1e8},
    {"contact", "opens at", Unit::celsius, coldest, 500},
    {"contact", "closes at", Unit::celsius, coldest, 500},
    {"contact", "healthy at", Unit::celsius, coldest, 500},
    {"contact", "contact ohms", Unit::ohm, 0, most_contact_ohms},
};

constexpr std::size_t open_position = 0;
constexpr std::size_t closed_position = 1;

/// How it stands at its healthy figure, where the figures tell: it opens below `opens` and closes above `closes`, or
/// the other way where it opens at the higher of the two. Nothing between them, where it stands as it last did.
std::optional<bool> closed_at_healthy(const Part& part) {
    const Parameter* opens = part.parameter("opens at");
    const Parameter* closes = part.parameter("closes at");
    const Parameter* healthy = part.parameter("healthy at");
    if (!opens || !closes || !healthy || opens->value == closes->value) return std::nullopt;
    const bool opens_below = opens->value < closes->value;
    if (opens_below ? healthy->value >= closes->value : healthy->value <= closes->value) return true;
    if (opens_below ? healthy->value <= opens->value : healthy->value >= opens->value) return false;
    return std::nullopt;
}

/// What moves it, where its figures tell on which side of them it is open: both of them, or one beside its healthy
/// figure, at which it is closed.
std::optional<MovingQuantity> moved_by(const Part& part) {
    const Parameter* opens = part.parameter("opens at");
    const Parameter* closes = part.parameter("closes at");
    const Parameter* healthy = part.parameter("healthy at");
    const Parameter* other = closes ? closes : healthy;
    if (!opens || !other || other->unit != opens->unit || other->value == opens->value) return std::nullopt;
    MovingQuantity quantity;
    quantity.unit = opens->unit;
    quantity.opens = opens->value;
    quantity.closes = closes ? closes->value : opens->value;
    if (healthy && healthy->unit == opens->unit) quantity.healthy = healthy->value;
    quantity.closes_above = opens->value < other->value;
    quantity.rests_closed = part.rest_position == closed_position;
    return quantity;
}

/// Pressures or temperatures at which the contact does not stand as it should. How far beyond its figures a system goes
/// is ASSUMED: empty, a third too much, 40 K too cold or too warm.
SizeRange range_away(const MovingQuantity& quantity) {
    constexpr double too_much = 1.33;
    constexpr double kelvins = 40;
    const double at = quantity.threshold();
    const bool pressure = quantity.unit == Unit::pascal;
    const double far =
        quantity.leaves_below() ? (pressure ? 0 : at - kelvins) : (pressure ? too_much * at : at + kelvins);
    return {std::min(at, far),
            std::max(at, far),
            (at + far) / 2,
            quantity.unit,
            false,
            "beyond its figures",
            pressure ? "pressure" : "temperature"};
}

/// The system behind the contact is not as it should be, and the sound contact says so.
void lay_system(const Part& part, BranchId branch, Layout& layout) {
    if (!part.moved_by) return;
    const MovingQuantity& quantity = *part.moved_by;
    const bool pressure = quantity.unit == Unit::pascal;
    const bool low = quantity.leaves_below();
    const std::string what = pressure ? (low ? "the system at " + part.name + " is empty or short of pressure"
                                             : "the system at " + part.name + " has too much pressure")
                                      : "it is too " + std::string(low ? "cold" : "warm") + " at " + part.name;
    const bool closed = !quantity.rests_closed;
    FaultMode& system =
        layout.mode({pressure ? "pressure" : "temp", what + ": its sound contact " + (closed ? "closes" : "opens")},
                    FaultClass::outside, {ModeFact::outside_circuit}, holding(branch, closed));
    system.size = range_away(quantity);
    system.repair = system.phrase();
}

void read(PartReader& reader, Part& part) {
    const auto figure = [&](std::string_view word, std::string_view name) {
        const Unit unit = reader.unit_after(word) == Unit::celsius ? Unit::celsius : Unit::pascal;
        return reader.after(part, word, name, unit);
    };
    constexpr std::pair<std::string_view, std::string_view> at_rest[]{
        {"N.O.", "normally open"},   {"NO", "normally open"},   {"N/O", "normally open"},   {"N.O", "normally open"},
        {"N.C.", "normally closed"}, {"NC", "normally closed"}, {"N/C", "normally closed"}, {"N.C", "normally closed"}};
    for (const auto& [said, meant] : at_rest) reader.put_for(said, meant);
    const bool opens = figure("opens", "opens at");
    const bool closes = figure("closes", "closes at");
    figure("healthy", "healthy at");
    const auto mixed = std::adjacent_find(part.parameters.begin(), part.parameters.end(),
                                          [](const Parameter& a, const Parameter& b) { return a.unit != b.unit; });
    if (mixed != part.parameters.end()) {
        reader.error_of_line(ProblemCode::contradiction,
                             "'" + part.name + "' has figures in " + std::string(unit_name(mixed->unit)) + " and in " +
                                 std::string(unit_name(std::next(mixed)->unit)) + "; one quantity moves a contact",
                             "write them in one unit: contact opens 1.96bar, closes 2.25bar");
    }
    const Parameter* one = part.parameter("opens at");
    const Parameter* other = part.parameter("closes at");
    if (one && other && one->value == other->value) {
        reader.error_of_line(ProblemCode::contradiction,
                             "'" + part.name + "' opens and closes at the same " + write_measure(one->value, one->unit),
                             "a contact goes back at another figure: contact opens 1.96bar, closes 2.25bar");
    }
    reader.after_or_row(part, "contact", "contact ohms", Unit::ohm, "contact_ohm");
    const std::string normally = reader.flag(part, {"normally"});
    const std::string way = reader.flag(part, {"open", "closed"});
    if (!normally.empty() && way.empty()) {
        reader.error_of_line(ProblemCode::missing_word, "'" + part.name + "': normally what?",
                             "contact normally open, or contact normally closed");
    }
    part.positions = {{"open", {}}, {"closed", {"1"}}};
    // A contact with figures is at work and stands as its healthy figure puts it, whatever it does without pressure;
    // closed where they do not tell, unless its line says otherwise.
    const bool at_work = opens || closes;
    const bool rests_closed = closed_at_healthy(part).value_or(way.empty() ? at_work : way == "closed");
    part.rest_position = rests_closed ? closed_position : open_position;
    part.moved_by = moved_by(part);
    if (!at_work && way.empty() && normally.empty()) {
        reader.error_of_line(
            ProblemCode::missing_word, "'" + part.name + "' must say how it stands at rest",
            "contact normally open, or its figures: contact opens 1.96bar, closes 2.25bar, healthy 2.5bar");
    }
    reader.feed(part);
}

void lay(const Part& part, Layout& layout) {
    const bool closed = part.rest_position == closed_position;
    const BranchId branch = layout.branch({"contact", BranchSort::contact}, "1", "2",
                                          Contact{part.value("contact ohms"), closed}, contact_sigma());
    layout.circuit().parts[layout.part_id().index].contacts["1"] = branch;
    const auto hold = [&](std::string_view way, bool stays_closed, double share) {
        const std::string stuck = "stuck " + std::string(way);
        FaultMode& mode = layout.mode({stuck, "contact of " + part.name + " " + stuck}, FaultClass::switch_relay,
                                      {ModeFact::may_touch}, holding(branch, stays_closed));
        mode.share = share;
    };
    hold("open", false, 2);
    hold("closed", true, 0.5);
    FaultMode& open = layout.mode({"open", "contact of " + part.name + " does not close"}, FaultClass::switch_relay,
                                  {ModeFact::lost_contact, ModeFact::may_touch}, opening(branch));
    open.catalogued = false;  // the same as stuck open
    FaultMode& poor = layout.mode({"resistance", "poor contact in " + part.name}, FaultClass::switch_relay,
                                  {ModeFact::poor_contact, ModeFact::may_touch}, adding_ohms(branch));
    poor.size = resistance_range();
    poor.looks = "burnt crust wet";
    lay_system(part, branch, layout);
}

}  // namespace

constinit const Kind contact_kind{
    .word = "contact",
    .example = "contact opens 1.96bar, closes 2.25bar, healthy 2.5bar",
    .fitting = Fitting::wired,
    .joining = Joining::nothing,
    .duty = Duty::acting_contact,
    .drop = Drop::none,
    .load = LoadKind::none,
    .load_words = "",
    .read = read,
    .terminals = two_terminals,
    .terminal_aliases = "a=1 b=2 81=1 81a=2 82=1 82a=2",
    .lay = lay,
    .figures = figures,
};

}  // namespace voltfall
