// Key or ignition switch: positions off, acc, on, run, start that close contacts to terminal 30.
#include <array>

#include "netlists/parts/kinds.hpp"
#include "netlists/parts/switch_contacts.hpp"

namespace voltfall {

namespace {

constexpr FigureBounds figures[] = {
    {"key", "rated amps", Unit::ampere, 0.01, most_rated_amps},
    {"key", "contact ohms", Unit::ohm, 0, most_contact_ohms},
};

void read(PartReader& reader, Part& part) {
    reader.after_or_row(part, "contact", "contact ohms", Unit::ohm, "switch_ohm");
    reader.rating(part);
    reader.feed(part);
    part.common = "30";
    if (const Word* word = reader.peek(); word && (word->text == ":" || word->text == "30:")) reader.take();
    static constexpr std::array<std::string_view, 5> positions{"off", "acc", "on", "run", "start"};
    read_positions(reader, part, positions);
}

std::vector<std::string> terminals(const Part& part) {
    std::vector<std::string> names = position_contacts(part);
    names.insert(names.begin(), part.common);
    return names;
}

void lay(const Part& part, Layout& layout) {
    lay_position_contacts(part, layout, part.value("contact ohms"));
}

}  // namespace

constinit const Kind key_kind{
    .word = "key",
    .example = "key: off acc=75 on=75+15 start=15+50",
    .fitting = Fitting::wired,
    .joining = Joining::nothing,
    .duty = Duty::key,
    .drop = Drop::none,
    .load = LoadKind::none,
    .load_words = "",
    .read = read,
    .terminals = terminals,
    .terminal_aliases = "B=30",
    .lay = lay,
    .figures = figures,
};

}  // namespace voltfall
