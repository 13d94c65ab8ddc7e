// Faults in the trade's words: the phrases that a line may mean.
#include <algorithm>
#include <array>
#include <optional>

#include "netlists/phrases/fault_line.hpp"
#include "netlists/phrases/fault_phrase.hpp"
#include "netlists/phrases/fault_places.hpp"
#include "netlists/phrases/places.hpp"
#include "netlists/phrases/spoken_fault_rows.hpp"
#include "netlists/phrases/spoken_pattern.hpp"
#include "netlists/text/problem_code.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

/// Longer lines are stories: nobody means one fault by them.
constexpr std::size_t most_words = 16;
/// Beyond so many a list of meanings helps nobody.
constexpr std::size_t most_meanings = 6;

/// A row with its patterns cut.
struct CutRow {
    const SpokenFault* row;
    std::vector<SpokenPattern> said;
    bool also_alone;  ///< nothing need be said
};
std::vector<CutRow> cut(std::span<const SpokenFault> rows) {
    std::vector<CutRow> all;
    for (const SpokenFault& row : rows) {
        const bool alone = row.said.empty() || row.said.front() == '|';
        all.push_back({&row, cut_patterns(alone && !row.said.empty() ? row.said.substr(1) : row.said), alone});
    }
    return all;
}

/// The faults that the rows give for one line, each phrase once.
class Meanings {
public:
    Meanings(const Circuit& circuit, const FaultLine& told) : circuit_(circuit), told_(told) {}

    std::vector<std::string> find(std::span<const CutRow> rows) {
        // The catalogue's own words need no row.
        if (told_.places.size() == 1 && !told_.rest.empty()) {
            std::string phrase = told_.places.front();
            for (const Word& word : told_.rest) phrase += " " + word.text;
            add({SpokenFault::As::first, {}, {}}, phrase);
            if (!found_.empty()) return std::move(found_);
        }
        for (const CutRow& cut_row : rows) {
            if (cut_row.row->as == SpokenFault::As::amps && !told_.amps) continue;
            if (cut_row.row->as == SpokenFault::As::number && (told_.amps || told_.value.empty())) continue;
            std::optional<SpokenNames> names;
            if (told_.rest.empty()) {
                if (cut_row.also_alone) names.emplace();
            } else {
                for (const SpokenPattern& said : cut_row.said) {
                    names = match_spoken(circuit_, told_.rest, 0, said);
                    if (names && names->words == told_.rest.size()) break;
                    names.reset();
                }
            }
            if (!names) continue;
            add_row(*cut_row.row, *names);
            if (!found_.empty()) break;
        }
        return std::move(found_);
    }

    const std::optional<Problem>& nearest() const { return nearest_; }

private:
    void add_row(const SpokenFault& row, const SpokenNames& names) {
        std::string_view left = row.meant;
        while (!left.empty()) {
            const auto end = left.find(';');
            std::string_view one = left.substr(0, end);
            while (one.starts_with(' ')) one.remove_prefix(1);
            left = end == std::string_view::npos ? std::string_view{} : left.substr(end + 1);
            for (const std::string& place : places_of(one)) add(row, filled(one, place, names));
            if (!found_.empty() && row.as != SpokenFault::As::either) return;
        }
    }

    /// The place itself, and each contact of a plug, a splice or a part that has none of such faults itself.
    std::vector<std::string> places_of(std::string_view meant) const {
        if (meant.find("{pressed}") != std::string_view::npos) {
            std::vector<std::string> pressed;
            for (const ModePtr& mode : circuit_.modes) {
                if (mode->is(ModeFact::outside_circuit) && moved_by_pressure(*mode)) pressed.push_back(mode->phrase());
            }
            return pressed;
        }
        if (told_.places.empty()) {
            // Where no place is said it is every part that can have the fault.
            if (meant.find("{place}") == std::string_view::npos) return {""};
            std::vector<std::string> all;
            for (const Part& part : circuit_.parts) all.push_back(part.name);
            return all;
        }
        const std::string& place = told_.places.front();
        if (!modes_at(circuit_, place).empty()) return {place};
        const auto contacts = cavities_of(circuit_, place);
        return contacts.empty() ? std::vector{place} : contacts;
    }

    bool moved_by_pressure(const FaultMode& mode) const {
        const Parameter* opens = mode.part.valid() ? circuit_.part(mode.part).parameter("opens at") : nullptr;
        return opens && opens->unit == Unit::pascal;
    }

    std::string filled(std::string_view meant, const std::string& place, const SpokenNames& names) const {
        const std::string other = told_.places.size() > 1 ? told_.places[1] : "";
        const std::string battery = circuit_.part(circuit_.battery).name;
        const std::pair<std::string_view, std::string> slots[]{{"{place}", place},     {"{pressed}", place},
                                                               {"{other}", other},     {"{position}", names.position},
                                                               {"{pair}", told_.pair}, {"{battery}", battery}};
        std::string text(meant);
        for (const auto& [slot, name] : slots) {
            if (const auto at = text.find(slot); at != std::string::npos) text.replace(at, slot.size(), name);
        }
        return text;
    }

    void add(const SpokenFault& row, const std::string& phrase) {
        // A bare number takes the unit of the fault's size; ohms may be thousandths, and are not guessed.
        static constexpr std::array<std::string_view, 3> units{"", "V", "A"};
        for (const std::string_view unit : units) {
            const std::string sized =
                phrase + (told_.value.empty() ? "" : " " + told_.value + std::string(unit)) + told_.tail;
            Problems problems;
            const auto fault = read_fault_in_order(TypedText::argument("", sized), circuit_, problems);
            if (!fault) {
                if (!nearest_ && told_.places.size() == 1) nearest_ = problems.list().front();
                if (unit.empty() && problems.list().front().code == ProblemCode::wrong_unit)
                    nearest_ = problems.list().front();
                if (told_.value.empty()) return;
                continue;
            }
            const FaultMode& mode = *fault->mode;
            const bool in_fuse =
                mode.part.valid() && circuit_.part(mode.part).fuse && mode.place == circuit_.part(mode.part).name;
            if (row.as == SpokenFault::As::joint && (mode.fault_class != FaultClass::joint || in_fuse)) return;
            if (std::find(found_.begin(), found_.end(), sized) == found_.end()) found_.push_back(sized);
            return;
        }
    }

    const Circuit& circuit_;
    const FaultLine& told_;
    std::vector<std::string> found_;
    std::optional<Problem> nearest_;
};

bool reads(const std::string& line, const Circuit& circuit) {
    Problems problems;
    return read_fault_in_order(TypedText::argument("", line), circuit, problems).has_value();
}

/// The phrases that the line may mean. Where there are none, `nearest` is what is wrong with the phrase that comes next
/// to it: its number has no unit, or the place has no such fault.
std::vector<std::string> meanings_of(const std::string& line, const Circuit& circuit, std::optional<Problem>& nearest) {
    static const std::vector<CutRow> of_one = cut(spoken_faults());
    static const std::vector<CutRow> of_two = cut(spoken_faults_of_two());
    static const std::vector<CutRow> of_none = cut(spoken_faults_of_none());
    if (cut_words(line).size() > most_words) return {};
    const FaultLine told = fault_line(circuit, line);
    const std::vector<CutRow>* rows[]{&of_none, &of_one, &of_two};
    if (told.places.size() >= std::size(rows) || (told.places.empty() && told.rest.empty())) return {};
    Meanings meanings(circuit, told);
    auto found = meanings.find(*rows[told.places.size()]);
    if (found.empty() && told.places.empty()) found = meanings.find(of_one);
    if (found.empty()) nearest = meanings.nearest();
    return found;
}

/// Is it the line's first word that names no place? `at 130%` names one along the wire.
bool begins_elsewhere(const Problem& problem, const TypedText& phrase) {
    if (problem.code != ProblemCode::unknown_place) return false;
    const Word first = cut_words(phrase.text).front();
    return problem.place.column == phrase.place.shifted(first.offset, first.length).column;
}

}  // namespace

std::vector<std::string> faults_meant(const std::string& line, const Circuit& circuit) {
    std::optional<Problem> nearest;
    return meanings_of(line, circuit, nearest);
}

std::string in_fault_order(const std::string& line, const Circuit& circuit) {
    if (reads(line, circuit)) return line;
    const auto meant = faults_meant(line, circuit);
    return meant.size() == 1 ? meant.front() : line;
}

std::optional<Fault> read_fault_phrase(const TypedText& phrase, const Circuit& circuit, Problems& problems) {
    Problems own;
    auto fault = read_fault_in_order(phrase, circuit, own);
    std::optional<Problem> nearest;
    const auto meant = own.has_errors() ? meanings_of(phrase.text, circuit, nearest) : std::vector<std::string>{};
    if (meant.empty()) {
        // Of a line that begins with its place the order itself tells most.
        if (own.has_errors() && nearest && begins_elsewhere(own.list().front(), phrase))
            problems.error(nearest->code, phrase.place, nearest->message, nearest->suggestion);
        else
            problems.add_all(own);
        return own.has_errors() ? std::nullopt : std::move(fault);
    }
    if (meant.size() > most_meanings) {
        const std::vector<std::string> some(meant.begin(), meant.begin() + most_meanings);
        problems.error(ProblemCode::two_meanings, phrase.place, "'" + phrase.text + "' may be one of many faults",
                       "name one, for example " + list_words(some));
    } else if (meant.size() > 1) {
        std::string advice;
        for (const std::string& one : meant) advice += (advice.empty() ? "write " : ", or ") + one;
        problems.error(ProblemCode::two_meanings, phrase.place, "'" + phrase.text + "' may be one of several faults",
                       std::move(advice));
    } else {
        const Problem& first = own.list().front();
        problems.error(first.code, first.place, first.message, "write " + meant.front());
    }
    return std::nullopt;
}

}  // namespace voltfall
