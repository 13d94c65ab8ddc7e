#include "netlists/files/job_draft.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "netlists/files/job_edit.hpp"
#include "netlists/phrases/load_words.hpp"
#include "netlists/phrases/loads.hpp"
#include "netlists/phrases/position_words.hpp"
#include "netlists/phrases/state_phrase.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

using Words = std::vector<std::string>;

/// Lower-case words of letters and digits; apostrophes stay ("doesn't").
Words words_of(std::string_view text) {
    Words words;
    std::string word;
    for (const char c : lower(text) + " ") {
        const bool letter = (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '\'' || c == '_';
        if (letter)
            word += c;
        else if (!word.empty())
            words.push_back(std::exchange(word, {}));
    }
    return words;
}

bool any_of_words(const Words& words, std::initializer_list<std::string_view> wanted) {
    return std::any_of(words.begin(), words.end(), [&](const std::string& word) {
        return std::find(wanted.begin(), wanted.end(), word) != wanted.end();
    });
}

/// The word of a reading that the customer's words come nearest to; empty where they say nothing of how it runs.
std::string_view symptom(const Words& words) {
    if (any_of_words(words, {"weak", "slow", "weaker", "slower", "little", "feeble"})) return "slow";
    for (const LoadWord& row : load_word_table()) {
        if (row.sort != WordSort::manner) continue;
        const Saying ways{row.word, row.also};
        const auto says = [&](const std::string& word) { return is_said({&ways, 1}, word); };
        if (std::any_of(words.begin(), words.end(), says)) return row.word;
    }
    if (any_of_words(words, {"flickers", "cuts"})) return "erratic";
    if (any_of_words(words,
                     {"no", "dead", "nothing", "not", "stopped", "stops", "never", "without", "doesn't", "won't"}))
        return "dead";
    return {};
}

/// Positions that are "on", in the order of the control.
Words positions_of(const Part& control) {
    Words names;
    const auto off = control.position_named("off");
    for (std::size_t i = 0; i < control.positions.size(); ++i)
        if (off != i) names.push_back(control.positions[i].name);
    return names;
}

/// Position words as a person says them: by name, by height ("high") or by order ("second"); in the order of the
/// control.
Words named_positions(const Part& control, const Words& all, const Words& words) {
    Words named;
    for (const std::string& position : all) {
        const bool said = std::any_of(words.begin(), words.end(), [&](const std::string& word) {
            const auto meant = position_called(control, word);
            return meant && control.positions[*meant].name == position;
        });
        if (said) named.push_back(position);
    }
    return named;
}

/// The concern's clauses: "dead on low, high ok" tells of each by itself.
std::vector<Words> clauses_of(std::string_view concern) {
    std::vector<Words> clauses;
    while (!concern.empty()) {
        const auto end = concern.find_first_of(",;.");
        clauses.push_back(words_of(concern.substr(0, end)));
        concern = end == std::string_view::npos ? std::string_view{} : concern.substr(end + 1);
    }
    return clauses;
}

/// "S1=lo,S1=ml" where two controls have the word, else "lo,ml".
std::string position_list(const Circuit& circuit, const Part& control, const Words& positions) {
    std::string text;
    for (const std::string& position : positions)
        text += (text.empty() ? "" : ",") + (circuit.controls.size() > 1 ? control.name + "=" + position : position);
    return text;
}

}  // namespace

namespace {

/// The load that the concern names, else the first that runs or lights.
PartId load_meant(const Circuit& circuit, const std::vector<PartId>& loads, const Words& words) {
    const auto called = std::find_if(loads.begin(), loads.end(), [&](PartId load) {
        return std::any_of(words.begin(), words.end(),
                           [&](const auto& word) { return is_called(circuit.part(load), word); });
    });
    if (called != loads.end()) return *called;
    const auto runs = std::find_if(loads.begin(), loads.end(),
                                   [&](PartId load) { return load_kind_of(circuit.part(load)) != LoadKind::heater; });
    return runs == loads.end() ? loads.front() : *runs;
}

}  // namespace

std::vector<std::string> readings_meant(const Circuit& circuit, std::string_view concern) {
    std::vector<std::string> phrases;
    const Words words = words_of(concern);
    std::string_view how = symptom(words);
    if (any_of_words(words, {"fuse", "fuses"})) {
        const auto fused = std::find_if(circuit.parts.begin(), circuit.parts.end(),
                                        [](const Part& part) { return part.fuse.has_value(); });
        if (fused != circuit.parts.end()) phrases.push_back("fuse " + fused->name + " blown");
    }
    const std::vector<PartId> loads = loads_of(circuit);
    // The key is set by a phrase of its own.
    const auto set = std::find_if(circuit.controls.begin(), circuit.controls.end(),
                                  [&](const Control& one) { return one.part != circuit.key; });
    if (loads.empty() || set == circuit.controls.end()) return phrases;
    const Part& control = circuit.part(set->part);
    const Words all = positions_of(control);
    if (all.empty()) return phrases;
    const Words named = named_positions(control, all, words);
    // "only high works", "works only on high": the others are meant, and do nothing where nobody says what they do.
    const bool only = any_of_words(words, {"only", "except", "but"}) && !named.empty() && named.size() < all.size();
    if (how.empty() && only && any_of_words(words, {"works", "work", "runs", "run", "blows", "turns"})) how = "dead";
    if (how.empty()) return phrases;
    const std::string load = circuit.part(load_meant(circuit, loads, words)).name;
    std::vector<std::string> each;
    for (const Words& clause : clauses_of(concern)) {
        const Words of_clause = named_positions(control, all, clause);
        const bool works = any_of_words(clause, {"ok", "okay", "fine", "works", "work", "normal", "good", "alright"});
        const std::string_view seen = symptom(clause).empty() && works ? "normal" : symptom(clause);
        if (!of_clause.empty() && !seen.empty())
            each.push_back(position_list(circuit, control, of_clause) + "  " + load + " " + std::string(seen));
    }
    if (each.size() > 1) {
        phrases.insert(phrases.end(), each.begin(), each.end());
        return phrases;
    }
    Words meant = named.empty() ? all : named;
    if (only) {
        meant.clear();
        for (const std::string& position : all)
            if (std::find(named.begin(), named.end(), position) == named.end()) meant.push_back(position);
        phrases.push_back(position_list(circuit, control, named) + "  " + load + " normal");
    }
    phrases.push_back(position_list(circuit, control, meant) + "  " + load + " " + std::string(how));
    return phrases;
}

std::string job_draft(const Circuit& circuit, const JobStart& start) {
    std::string text = "# Begun from what the customer says. One reading a line; `voltfall read` adds them too.\n";
    text += fmt::format("format  = 1\ncircuit = {}\n", quoted_for_toml(start.circuit_path));
    if (!start.number.empty()) text += fmt::format("job     = {}\n", quoted_for_toml(start.number));
    text += fmt::format("concern = {}\n", quoted_for_toml(start.concern));
    text += "tools   = [\"meter\", \"clamp\", \"lamp 21W\"]\n\n[readings]\n";
    const std::vector<std::string> meant = readings_meant(circuit, start.concern);
    if (!meant.empty())
        text += "# The customer's words may mean this; take the # away when you have seen it yourself:\n";
    for (std::size_t i = 0; i < meant.size(); ++i) text += fmt::format("# {} = {}\n", i + 1, quoted_for_toml(meant[i]));
    return text;
}

}  // namespace voltfall
