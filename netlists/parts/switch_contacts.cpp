#include "netlists/parts/switch_contacts.hpp"

#include <algorithm>

#include "netlists/parts/kind.hpp"
#include "netlists/parts/usual_changes.hpp"
#include "netlists/text/characters.hpp"
#include "netlists/text/lists.hpp"
#include "netlists/text/problem_code.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

/// The contacts between plus signs; an empty one where a sign joins nothing.
std::vector<std::string> split_at_plus(std::string_view text) {
    std::vector<std::string> contacts;
    while (true) {
        const auto plus = text.find('+');
        contacts.emplace_back(text.substr(0, plus));
        if (plus == std::string_view::npos) return contacts;
        text.remove_prefix(plus + 1);
    }
}

std::vector<Change> open_all(const std::vector<BranchId>& branches) {
    std::vector<Change> changes;
    for (const BranchId branch : branches) changes.push_back(OpenBranch{branch});
    return changes;
}

std::vector<Change> add_to_all(const std::vector<BranchId>& branches, double ohms) {
    std::vector<Change> changes;
    for (const BranchId branch : branches) changes.push_back(AddOhms{branch, ohms});
    return changes;
}

/// `contact NAME open|resistance` for one name that stands for some branches.
void contact_name_modes(const std::string& owner, Layout& layout, const std::string& name,
                        const std::vector<BranchId>& branches, bool catalogued, const std::string& looks) {
    FaultMode& open = layout.mode({"contact " + name + " open", "contact " + name + " of " + owner + " does not close"},
                                  FaultClass::switch_relay, {ModeFact::may_touch},
                                  [branches](double, double) { return open_all(branches); });
    open.catalogued = catalogued;
    open.looks = looks;
    FaultMode& poor = layout.mode({"contact " + name + " resistance", "poor contact " + name + " in " + owner},
                                  FaultClass::switch_relay, {ModeFact::poor_contact, ModeFact::may_touch},
                                  [branches](double ohms, double) { return add_to_all(branches, ohms); });
    poor.size = resistance_range();
    poor.catalogued = catalogued;
    poor.looks = looks;
}

/// The position that alone closes this contact and nothing else, or null.
const Position* sole_position(const Part& part, const std::string& contact) {
    const Position* found = nullptr;
    for (const Position& position : part.positions) {
        const bool closes =
            std::find(position.contacts.begin(), position.contacts.end(), contact) != position.contacts.end();
        if (!closes) continue;
        if (found || position.contacts.size() != 1) return nullptr;
        found = &position;
    }
    return found;
}

void position_modes(const Part& part, Layout& layout) {
    for (std::size_t i = 0; i < part.positions.size(); ++i) {
        const PartId id = layout.part_id();
        FaultMode& stuck =
            layout.mode({"stuck " + part.positions[i].name, part.name + " stuck in " + part.positions[i].name},
                        FaultClass::switch_relay, {ModeFact::may_touch}, staying_in(id, i));
        stuck.share = 0.3;  // opens are much commoner than stuck positions (common practice, no source)
    }
}

}  // namespace

namespace {

class PositionReader {
public:
    PositionReader(PartReader& reader, Part& part, std::span<const std::string_view> allowed)
        : reader_(reader), part_(part), allowed_(allowed.begin(), allowed.end()) {}

    void take(const Word& word) {
        const auto equals = word.text.find('=');
        Position position{word.text.substr(0, equals), {}};
        if (!check_name(word, position.name)) return;
        if (equals != std::string::npos) {
            position.contacts = split_at_plus(std::string_view(word.text).substr(equals + 1));
            check_contacts(word, position);
        }
        part_.positions.push_back(std::move(position));
    }

private:
    void error(ProblemCode code, const Word& word, std::string message, std::string suggestion) {
        reader_.error(code, reader_.place_of(word), std::move(message), std::move(suggestion));
    }

    bool check_name(const Word& word, const std::string& name) {
        const std::string example = "for example " + std::string(part_.kind->example);
        if (name.empty()) {
            error(ProblemCode::missing_word, word, "'" + word.text + "' has no position name", "for example hi=4");
            return false;
        }
        if (!is_name(name)) {
            error(ProblemCode::bad_name, word, "'" + name + "' is no name of a position: letters, digits, _ - / only",
                  example);
            return false;
        }
        if (!allowed_.empty() && std::find(allowed_.begin(), allowed_.end(), name) == allowed_.end()) {
            const std::string near = did_you_mean(name, allowed_);
            error(ProblemCode::unknown_position, word,
                  std::string(part_.kind->word) + " position '" + name + "' is not one of " + list(),
                  near.empty() ? example : near);
            return true;  // kept: the line has one mistake, not two
        }
        // Phrases are read whatever the case of their words: `m1` and `M1` are one name.
        const bool twice = std::any_of(part_.positions.begin(), part_.positions.end(),
                                       [&](const Position& p) { return same_word(p.name, name); });
        if (twice) {
            error(ProblemCode::written_twice, word, "position '" + name + "' of '" + part_.name + "' stands twice",
                  "name each position once; one that closes two contacts is written hi=4+5");
        }
        return !twice;
    }

    void check_contacts(const Word& word, const Position& position) {
        const auto& contacts = position.contacts;
        const auto empty = std::find(contacts.begin(), contacts.end(), "");
        if (contacts.size() == 1 && empty != contacts.end()) {
            error(ProblemCode::missing_word, word, "position '" + word.text + "' names no contact after '='",
                  "write " + position.name + " alone, or " + position.name + "=4");
        } else if (empty != contacts.end()) {
            error(ProblemCode::missing_word, word, "a '+' of position '" + word.text + "' joins nothing",
                  "for example hi=4+5");
        }
        for (auto contact = contacts.begin(); contact != contacts.end(); ++contact) {
            if (contact->empty()) continue;
            if (!is_name(*contact)) {
                error(ProblemCode::bad_name, word,
                      "'" + *contact + "' is no name of a contact: letters, digits, _ - / only", "for example hi=4");
                continue;
            }
            if (same_word(*contact, part_.common)) {
                error(ProblemCode::contradiction, word, "'" + word.text + "' closes the common terminal onto itself",
                      "name the contact that it closes to " + part_.common);
            } else if (std::find(contacts.begin(), contact, *contact) != contact) {
                error(ProblemCode::written_twice, word, "'" + word.text + "' names contact '" + *contact + "' twice",
                      "name it once");
            }
        }
    }

    std::string list() const { return joined(allowed_, ", "); }

    PartReader& reader_;
    Part& part_;
    std::vector<std::string> allowed_;
};

}  // namespace

/// `lo = 1`, `lo= 1`: a position that was typed with blanks around its sign, as one word.
static Word with_its_contact(PartReader& reader, Word word) {
    const auto join = [&] {
        const Word next = reader.take();
        word.text += next.text;
        word.length = next.offset + next.length - word.offset;
    };
    const auto next = [&]() -> const Word* {
        const Word* found = reader.peek();
        return found && !found->after_comma && !found->quoted ? found : nullptr;
    };
    const bool named = !word.text.empty() && word.text.find('=') == std::string::npos;
    if (named && next() && next()->text == "=") join();
    const bool open = word.text.size() > 1 && word.text.back() == '=';
    if (open && next() && next()->text.find('=') == std::string::npos) join();
    return word;
}

/// More positions than any control of a vehicle has (ASSUMED).
constexpr std::size_t most_positions = 60;

void read_positions(PartReader& reader, Part& part, std::span<const std::string_view> allowed) {
    PositionReader positions(reader, part, allowed);
    bool first = true;
    while (const Word* word = reader.peek()) {
        if (!first && word->after_comma && word->text.find('=') == std::string::npos) break;
        first = false;
        const Word taken = with_its_contact(reader, reader.take());
        if (part.positions.size() >= most_positions) {
            reader.error(ProblemCode::too_many, reader.place_of(taken),
                         "'" + part.name + "' has more than " + std::to_string(most_positions) + " positions",
                         "draw the wafers of the switch as switches of their own");
            while (reader.peek()) reader.take();
            break;
        }
        positions.take(taken);
    }
    if (part.positions.size() < 2) {
        reader.error_of_line(ProblemCode::wrong_count, "'" + part.name + "' needs at least two positions",
                             "for example " + std::string(part.kind->example));
    }
    const bool closes = std::any_of(part.positions.begin(), part.positions.end(),
                                    [](const Position& position) { return !position.contacts.empty(); });
    if (part.positions.size() >= 2 && !closes) {
        reader.error_of_line(ProblemCode::missing_word, "'" + part.name + "' closes no contact in any position",
                             "write the contact behind its position with '=': " + std::string(part.kind->example));
    }
    if (const auto off = part.position_named("off")) part.rest_position = *off;
}

std::vector<std::string> position_contacts(const Part& part) {
    std::vector<std::string> names;
    for (const Position& position : part.positions) {
        for (const std::string& contact : position.contacts) {
            if (std::find(names.begin(), names.end(), contact) == names.end()) names.push_back(contact);
        }
    }
    return names;
}

void lay_position_contacts(const Part& part, Layout& layout, double closed_ohms) {
    const std::string looks = "melted burnt loose";
    const std::vector<std::string> at_rest =
        part.positions.empty() ? std::vector<std::string>{} : part.positions[part.rest_position].contacts;
    Part& own = layout.circuit().parts[layout.part_id().index];
    for (const std::string& name : position_contacts(part)) {
        if (!layout.used(name)) continue;
        const bool closed = std::find(at_rest.begin(), at_rest.end(), name) != at_rest.end();
        const JointId common = layout.pin(part.common);
        own.contacts[name] = layout.branch({"contact " + name, BranchSort::contact}, common, layout.pin(name),
                                           Contact{closed_ohms, closed}, contact_sigma());
    }
    for (const auto& name : position_contacts(part)) {
        const auto found = own.contacts.find(name);
        if (found == own.contacts.end()) continue;
        contact_name_modes(part.name, layout, name, {found->second}, sole_position(part, name) == nullptr, looks);
    }
    for (const Position& position : part.positions) {
        std::vector<BranchId> branches;
        for (const std::string& contact : position.contacts) {
            if (const auto found = own.contacts.find(contact); found != own.contacts.end()) {
                branches.push_back(found->second);
            }
        }
        if (branches.empty() || own.contacts.count(position.name)) continue;
        const bool sole = position.contacts.size() == 1 && sole_position(part, position.contacts[0]) == &position;
        contact_name_modes(part.name, layout, position.name, branches, sole, looks);
    }
    position_modes(part, layout);
}

}  // namespace voltfall
