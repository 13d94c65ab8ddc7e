#include "netlists/phrases/action_phrase.hpp"

#include <fmt/format.h>

#include "netlists/phrases/fault_phrase.hpp"
#include "netlists/phrases/places.hpp"
#include "netlists/phrases/reading_phrase.hpp"
#include "netlists/phrases/test_order.hpp"
#include "netlists/phrases/test_phrase.hpp"
#include "netlists/text/characters.hpp"
#include "netlists/text/problem_code.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

std::string first_word(const std::string& text) {
    return text.substr(0, text.find_first_of(" \t"));
}

/// The rest behind the first word, where the line begins with it.
std::optional<std::string> rest_behind(const std::string& line, std::string_view word) {
    const std::string first = first_word(line);
    if (!same_word(first, word)) return std::nullopt;
    return std::string(trimmed(std::string_view(line).substr(first.size())));
}

/// `new C303`: the plug at a part is renewed with its pins, which is how that joint is repaired; nullopt where the name
/// is a part's own, or none of a plug.
std::optional<RepairPlace> read_new_plug(const std::string& rest, const Circuit& circuit) {
    if (circuit.find_part(rest).valid()) return std::nullopt;
    auto plug = find_connector(circuit, rest);
    return plug ? std::optional(RepairPlace{*std::move(plug)}) : std::nullopt;
}

std::optional<FitPart> read_fit(const std::string& rest, const SourcePlace& place, const Circuit& circuit,
                                Problems& problems) {
    const std::string name = first_word(rest);
    const PartId id = circuit.find_part(name);
    if (!id.valid()) {
        std::vector<std::string> names;
        for (const Part& part : circuit.parts) names.insert(names.end(), {part.name, part.plug});
        problems.error(ProblemCode::unknown_part, place, fmt::format("no part is called '{}'", name),
                       did_you_mean(name, names));
        return std::nullopt;
    }
    const std::string rating(trimmed(std::string_view(rest).substr(name.size())));
    if (!circuit.part(id).fuse || rating.empty()) return FitPart{id, std::nullopt};
    const auto amps = parse_measure(rating);
    if (amps && (amps->unit == Unit::ampere || amps->unit == Unit::none)) return FitPart{id, amps->value};
    problems.error(ProblemCode::no_figure, place, fmt::format("'{}' are no amperes", rating),
                   "write new " + circuit.part(id).name);
    return std::nullopt;
}

/// A fault's phrase, or a place alone.
std::optional<RepairPlace> read_repair(const std::string& rest, const SourcePlace& place, const Circuit& circuit,
                                       Problems& problems) {
    Problems own;
    if (const auto fault = read_fault_phrase({rest, place}, circuit, own)) return RepairPlace{fault->mode->repair};
    const bool one_word = rest.find_first_of(" \t") == std::string::npos;
    if (const auto known = find_place(circuit, rest); known && one_word) return RepairPlace{*known};
    problems.add_all(own);
    return std::nullopt;
}

/// Settings alone; nothing where the line says anything else.
std::optional<TurnControls> read_turn(const TypedText& line, const Circuit& circuit) {
    // A name written just as the circuit writes it is the part, not a position of the same letters.
    if (const PartId part = circuit.find_part(line.text); part.valid() && circuit.part(part).name == line.text)
        return std::nullopt;
    Problems unused;
    const auto state = read_state_phrase(line, circuit, unused);
    if (!state || state->empty()) return std::nullopt;
    StatePhrase settings;
    settings.settings = state->settings;
    settings.key = state->key;
    settings.earlier = state->earlier;
    settings.sometimes = state->sometimes;
    if (!(settings == *state)) return std::nullopt;
    return TurnControls{*state};
}

}  // namespace

std::optional<Action> read_action_phrase(const TypedText& typed, const Circuit& circuit, Problems& problems) {
    const TypedText line{std::string(trimmed(typed.text)), typed.place};
    const auto with_text = [&](auto what) -> std::optional<Action> {
        if (!what) return std::nullopt;
        return Action{std::move(*what), line.text};
    };
    for (const std::string_view word : {"new", "fit", "replace", "renew", "change"}) {
        const auto rest = rest_behind(line.text, word);
        if (!rest) continue;
        if (auto plug = read_new_plug(*rest, circuit)) return with_text(std::move(plug));
        return with_text(read_fit(*rest, line.place, circuit, problems));
    }
    for (const std::string_view word : {"repair", "say", "mend", "fix"}) {
        const auto rest = rest_behind(line.text, word);
        if (!rest) continue;
        if (same_word(*rest, "nothing") || same_word(*rest, "no fault found")) return Action{SayNothing{}, line.text};
        return with_text(read_repair(*rest, line.place, circuit, problems));
    }
    if (auto turn = read_turn(line, circuit)) return with_text(std::move(turn));
    Problems own;
    auto test = read_test_phrase({in_test_order(line.text, circuit), line.place}, circuit, own);
    if (test)
        problems.add_all(own);
    else
        add_clearest_of_test(line, circuit, problems);
    return with_text(std::move(test));
}

Action action_of(const Circuit& circuit, Test test) {
    std::string text = write_test(circuit, test);
    return {std::move(test), std::move(text)};
}

Action action_of(const Circuit& circuit, FitPart fit) {
    return {fit, "new " + circuit.part(fit.part).name};
}

Action action_of(RepairPlace repair) {
    std::string text = "repair " + repair.place;
    return {std::move(repair), std::move(text)};
}

Action action_of(SayNothing nothing) {
    return {nothing, "say nothing"};
}

}  // namespace voltfall
