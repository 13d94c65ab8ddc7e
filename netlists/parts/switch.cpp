// Switch: a common terminal and positions that close contacts to it.
#include "netlists/parts/kinds.hpp"
#include "netlists/parts/switch_contacts.hpp"
#include "netlists/text/problem_code.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

constexpr FigureBounds figures[] = {
    {"switch", "rated amps", Unit::ampere, 0.01, most_rated_amps},
    {"switch", "contact ohms", Unit::ohm, 0, most_contact_ohms},
};

/// `C:` or `C :`; the name before the colon is the common terminal.
void read_common(PartReader& reader, Part& part) {
    const Word* first = reader.peek();
    if (first && first->text.size() > 1 && first->text.back() == ':') {
        part.common = reader.take().text;
        part.common.pop_back();
        return;
    }
    if (first && first->text.find('=') == std::string::npos && !same_word(first->text, "off")) {
        part.common = reader.take().text;
        if (const Word* colon = reader.peek(); colon && colon->text == ":") {
            reader.take();
            return;
        }
    }
    const bool moves_by_itself =
        first && first->measure && (first->measure->unit == Unit::celsius || first->measure->unit == Unit::pascal);
    if (moves_by_itself) {
        return reader.error(ProblemCode::does_not_fit, reader.place_of(*first),
                            "'" + part.name + "' is moved by " + first->text + ", not by a hand",
                            "what pressure or heat moves is a contact, with both its figures: contact closes 92C, "
                            "opens 87C");
    }
    reader.error(
        ProblemCode::missing_word, first ? reader.place_of(*first) : reader.place(),
        "'" + part.name + "' must name its common terminal with a colon before the positions",
        first && (same_word(first->text, "opens") || same_word(first->text, "closes") ||
                  same_word(first->text, "normally"))
            ? "what pressure or heat moves is a contact: write contact in place of " + std::string(part.kind->word)
            : "for example " + std::string(part.kind->example));
    if (part.common.empty()) part.common = "C";
}

void read(PartReader& reader, Part& part) {
    reader.after_or_row(part, "contact", "contact ohms", Unit::ohm, "switch_ohm");
    reader.rating(part);
    reader.feed(part);
    read_common(reader, part);
    read_positions(reader, part);
}

std::vector<std::string> terminals(const Part& part) {
    std::vector<std::string> names = position_contacts(part);
    names.insert(names.begin(), part.common);
    return names;
}

void lay(const Part& part, Layout& layout) {
    const double ohms = part.value("contact ohms");
    lay_position_contacts(part, layout, ohms);
}

}  // namespace

constinit const Kind switch_kind{
    .word = "switch",
    .example = "switch C: off lo=1 ml=2 mh=3 hi=4",
    .fitting = Fitting::plugs_in,
    .joining = Joining::nothing,
    .duty = Duty::control,
    .drop = Drop::none,
    .load = LoadKind::none,
    .load_words = "",
    .read = read,
    .terminals = terminals,
    .terminal_aliases = "",
    .lay = lay,
    .figures = figures,
    .terminals_called = "contacts",
};

}  // namespace voltfall
