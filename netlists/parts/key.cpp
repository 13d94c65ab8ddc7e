// Key or ignition switch: positions off, acc, on, run, start that close contacts to terminal 30.
#include "netlists/parts/kinds.hpp"
#include "netlists/parts/switch_contacts.hpp"

namespace voltfall {

namespace {

void read(PartReader& reader, Part& part) {
    reader.after_or_row(part, "contact", "contact ohms", Unit::ohm, "switch_ohm");
    reader.feed(part);
    part.common = "30";
    if (const Word* word = reader.peek(); word && (word->text == ":" || word->text == "30:")) reader.take();
    read_positions(reader, part);
    for (const Position& position : part.positions) {
        if (position.name == "off" || position.name == "acc" || position.name == "on" || position.name == "run" ||
            position.name == "start") {
            continue;
        }
        reader.error(reader.place(), "key position '" + position.name + "' is not one of off, acc, on, run, start",
                     "for example " + std::string(part.kind->example));
    }
}

std::vector<std::string> terminals(const Part& part) {
    std::vector<std::string> names = position_contacts(part);
    names.insert(names.begin(), part.common);
    return names;
}

void lay(const Part& part, Layout& layout) { lay_position_contacts(part, layout, part.value("contact ohms")); }

}  // namespace

constinit const Kind key_kind{"key", "key: off acc=75 on=75+15 start=15+50", Fitting::wired, LoadKind::none, "",
                              read, terminals, "B=30", lay};

}  // namespace voltfall
