#include "netlists/files/lesson_file.hpp"

#include <algorithm>
#include <array>

#include "netlists/files/circuit_draft.hpp"
#include "netlists/files/file_top.hpp"
#include "netlists/files/toml_file.hpp"
#include "netlists/files/tools_line.hpp"
#include "netlists/phrases/fault_phrase.hpp"
#include "netlists/phrases/test_phrase.hpp"
#include "netlists/tables/figure_bounds.hpp"
#include "netlists/text/characters.hpp"
#include "netlists/text/lists.hpp"
#include "netlists/text/plain_text.hpp"
#include "netlists/text/problem_code.hpp"
#include "netlists/text/sealed_text.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

constexpr std::array<std::string_view, 17> lesson_keys{"format", "circuit", "title", "concern", "level", "skill",
                                                       "goal",   "serves",  "meets", "fault",   "root",  "budget",
                                                       "allow",  "tools",   "traps", "coach",   "reason"};
constexpr std::string_view afterwards_key = "afterwards";
constexpr std::array<std::string_view, 8> skills{
    "speed pattern",     "voltage drop",     "grounds",       "shorts and fuses",
    "relays and clutch", "packs and motors", "intermittents", "proving"};
constexpr std::array<std::string_view, 11> actions{"look", "fuse",   "volts", "drop", "amps",  "lamp",
                                                   "ohms", "unplug", "pull",  "new",  "wiggle"};
constexpr std::array<TrapKind, 3> trap_kinds{TrapKind::blind, TrapKind::floats, TrapKind::full};
constexpr long long least_level = 1;
constexpr long long most_level = 3;

std::vector<std::string> as_strings(std::span<const std::string_view> words) {
    return {words.begin(), words.end()};
}

class LessonReader {
public:
    LessonReader(const TomlFile& file, LessonReading& out, const CircuitSource& circuits)
        : file_(file),
          circuits_(circuits),
          out_(out),
          top_(file, "lesson", out.problems),
          lesson_(std::make_shared<Lesson>()) {}

    void read() {
        lesson_->path = file_.path;
        check_names();
        check_format(file_, out_.problems);
        read_texts();
        read_level();
        read_circuit();
        read_budget();
        read_allow();
        read_tools();
        if (out_.circuit) {
            read_faults("fault", lesson_->faults);
            read_faults("root", lesson_->roots);
            check_faults();
            read_traps();
        }
        if (out_.problems.has_errors()) {
            out_.circuit = nullptr;
            return;
        }
        out_.lesson = lesson_;
    }

private:
    void error(ProblemCode code, SourcePlace place, std::string message, std::string suggestion = {}) {
        top_.error(code, std::move(place), std::move(message), std::move(suggestion));
    }

    void check_names() {
        std::vector<std::string_view> known(lesson_keys.begin(), lesson_keys.end());
        known.push_back(afterwards_key);
        top_.check_keys(known, lesson_keys);
        for (const TomlSection& section : file_.sections)
            if (!section.name.empty())
                error(ProblemCode::unknown_section, section.place, "'[" + section.name + "]' is no section of a lesson",
                      "a lesson has keys only; take the section out");
    }

    /// A text as it is meant: unsealed where it is sealed.
    TypedText opened(TypedText text) {
        if (!is_sealed(text.text)) return text;
        if (auto plain = unseal_text(text.text)) {
            text.text = std::move(*plain);
            text.place.text.clear();  // a problem must not show the line either way
        } else {
            error(ProblemCode::seal_broken, text.place, "the sealed text was changed", "type it anew as plain text");
            text.text.clear();
        }
        return text;
    }

    TypedText text_of(std::string_view key) {
        const TomlEntry* found = top_.entry(key);
        if (!found) return {{}, top_.whole_file()};
        if (found->is_text()) return opened(found->text());
        error(ProblemCode::wrong_type, found->value.place, "'" + std::string(key) + "' must be a text",
              std::string(key) + " = \"…\"");
        return {{}, found->value.place};
    }

    std::vector<TypedText> texts_of(std::string_view key, std::string_view example) {
        const TomlEntry* found = top_.entry(key);
        std::vector<TypedText> list;
        if (!found) return list;
        if (const auto* texts = std::get_if<TextList>(&found->value.value))
            list = *texts;
        else if (found->is_text())
            list = {found->text()};
        else
            error(ProblemCode::wrong_type, found->value.place, "'" + std::string(key) + "' must be a list of texts",
                  std::string(key) + " = [\"" + std::string(example) + "\"]");
        for (TypedText& text : list) text = opened(std::move(text));
        return list;
    }

    void needed(std::string_view key, const std::string& value, std::string_view example) {
        if (!value.empty() || top_.lost(key) || top_.is_misspelt(key)) return;
        const TomlEntry* found = top_.entry(key);
        if (found && !found->is_text()) return;  // of the wrong type, which is told
        error(ProblemCode::missing_key, found ? found->value.place : top_.whole_file(),
              "the lesson says no '" + std::string(key) + "'",
              "write " + std::string(key) + " = \"" + std::string(example) + "\"");
    }

    void read_texts() {
        lesson_->title = text_of("title").text;
        lesson_->concern = text_of("concern").text;
        lesson_->goal = text_of("goal").text;
        lesson_->meets = text_of("meets").text;
        lesson_->reason = text_of("reason").text;
        lesson_->afterwards = text_of(afterwards_key).text;
        for (const TypedText& text : texts_of("serves", "AURETR112")) lesson_->serves.push_back(text.text);
        needed("title", lesson_->title, "Only high works");
        needed("concern", lesson_->concern, "no air on the three lower settings");
        const TypedText skill = text_of("skill");
        if (!reads_plain(skill, out_.problems)) {
            lesson_->skill = std::string(skills.front());
        } else if (skill.text.empty()) {
            lesson_->skill = std::string(skills.front());
        } else if (std::find(skills.begin(), skills.end(), skill.text) != skills.end()) {
            lesson_->skill = skill.text;
        } else {
            const auto advice = did_you_mean(skill.text, as_strings(skills));
            error(ProblemCode::unknown_word, skill.place, "'" + skill.text + "' is no skill of a lesson",
                  advice.empty() ? "one of " + joined(skills, " or ") : advice);
        }
        const TomlEntry* coach = top_.entry("coach");
        if (!coach) return;
        if (const bool* said = std::get_if<bool>(&coach->value.value))
            lesson_->coach = *said;
        else
            error(ProblemCode::wrong_type, coach->value.place, "'coach' must be true or false", "coach = false");
    }

    void read_level() {
        const TomlEntry* level = top_.entry("level");
        if (!level) return;
        const auto* number = std::get_if<long long>(&level->value.value);
        if (!number || *number < least_level || *number > most_level)
            return error(ProblemCode::figure_out_of_range, level->value.place,
                         "the level is " + value_words(*level) + "; it must be the number 1, 2 or 3", "level = 1");
        lesson_->level = static_cast<int>(*number);
    }

    void read_circuit() {
        FileTop::NamedCircuit named = top_.read_circuit(circuits_);
        lesson_->circuit_path = std::move(named.path);
        out_.circuit = std::move(named.circuit);
    }

    void read_budget() {
        const TypedText text = text_of("budget");
        if (text.text.empty()) return needed("budget", {}, "25min");
        if (!reads_plain(text, out_.problems)) return;
        std::string typed = text.text;
        typed.erase(std::remove(typed.begin(), typed.end(), ' '), typed.end());  // `60 min`
        const auto measure = parse_measure(typed);
        if (!measure || measure->unit != Unit::second)
            return error(ProblemCode::no_figure, text.place, "'" + text.text + "' is no time",
                         "write budget = \"25min\"");
        const FigureBounds& bounds = figure_bounds("lesson", "budget", Unit::second);
        if (const auto wrong = outside_bounds(bounds, measure->value, text.text, "budget = \"25min\""))
            return error(ProblemCode::figure_out_of_range, text.place, wrong->message, wrong->suggestion);
        lesson_->budget_minutes = measure->value / 60;
        lesson_->budget_place = text.place;
    }

    void read_allow() {
        const TomlEntry* written = top_.entry("allow");
        if (!written) lesson_->allow = as_strings(actions);
        lesson_->allow_place = written ? written->key_place : top_.whole_file();
        const auto* list = written ? std::get_if<TextList>(&written->value.value) : nullptr;
        if (list && list->empty() && !written->value.misread)
            error(ProblemCode::empty_list, written->value.place, "the list 'allow' is empty: nothing could be done",
                  "name actions, or take the key out to allow all: " + joined(actions));
        for (const TypedText& text : texts_of("allow", "volts")) {
            if (!reads_plain(text, out_.problems)) continue;
            if (std::find(actions.begin(), actions.end(), text.text) != actions.end()) {
                lesson_->allow.push_back(text.text);
                continue;
            }
            const auto advice = did_you_mean(text.text, as_strings(actions));
            error(ProblemCode::unknown_word, text.place, "'" + text.text + "' is no action of a lesson",
                  advice.empty() ? "actions are " + joined(actions) : advice);
        }
    }

    void read_tools() {
        for (const TypedText& text : texts_of("tools", "meter")) add_tool(lesson_->tools, text, out_.problems);
        if (lesson_->tools.empty()) lesson_->tools = usual_tools();
    }

    void read_faults(std::string_view key, std::vector<Fault>& into) {
        for (const TypedText& text : texts_of(key, "R1 limiter open")) {
            if (same_word(text.text, "nothing")) {
                hides_nothing_ = true;
                lesson_->fault_places.push_back(text.place);
                continue;
            }
            Problems own;
            auto fault = read_fault_phrase(text, *out_.circuit, own);
            // A size that is only taken for granted is half a phrase: a lesson hides one thing, not any of its size.
            for (const Problem& problem : own.list()) {
                const Severity severity =
                    problem.code == ProblemCode::missing_figure ? Severity::error : problem.severity;
                out_.problems.add({problem.code, severity, problem.place, problem.message, problem.suggestion});
            }
            if (!fault) {
                misread_fault_ = true;
                continue;
            }
            if (is_hidden(*fault)) {
                error(ProblemCode::written_twice, text.place, "'" + fault->mode->phrase() + "' stands twice",
                      "name each fault once");
                continue;
            }
            into.push_back(std::move(*fault));
            lesson_->fault_places.push_back(text.place);
        }
    }

    bool is_hidden(const Fault& fault) const {
        const auto same = [&](const Fault& other) { return other.mode->phrase() == fault.mode->phrase(); };
        return std::any_of(lesson_->faults.begin(), lesson_->faults.end(), same) ||
               std::any_of(lesson_->roots.begin(), lesson_->roots.end(), same);
    }

    /// Neither a fault nor the word that says so: the half of a lesson.
    void check_faults() {
        const bool some = !lesson_->faults.empty() || !lesson_->roots.empty();
        const TomlEntry* written = top_.entry("fault");
        if (hides_nothing_ && some) {
            error(ProblemCode::contradiction, written ? written->value.place : top_.whole_file(),
                  "'nothing' stands beside a fault: the vehicle is sound, or it is not", "take one of them out");
        }
        const auto* list = written ? std::get_if<TextList>(&written->value.value) : nullptr;
        if (list && list->empty() && some) {
            error(ProblemCode::empty_list, written->value.place, "the list 'fault' is empty",
                  "name what failed, or take the key out");
        }
        if (some || hides_nothing_ || misread_fault_ || top_.lost("fault") || top_.lost("root")) return;
        if (top_.is_misspelt("fault") || top_.is_misspelt("root")) return;
        const TomlEntry* found = top_.entry("fault");
        error(ProblemCode::missing_fault, found ? found->value.place : top_.whole_file(), "the lesson hides no fault",
              "write fault = [\"R1 limiter open\"], or [\"nothing\"]");
    }

    /// The last word of a trap is no word of traps.
    void report_trap_word(const TypedText& text, std::string_view test) {
        std::vector<std::string> known;
        for (const TrapKind kind : trap_kinds) known.emplace_back(trap_word(kind));
        const auto blank = test.find_last_of(" \t");
        const std::string_view last = test.substr(blank == std::string_view::npos ? 0 : blank + 1);
        const std::string near = did_you_mean(last, known);
        const int at = character_count(test.substr(0, test.size() - last.size()));
        error(ProblemCode::missing_word, near.empty() ? text.place : text.place.shifted(at, character_count(last)),
              near.empty() ? "the trap '" + std::string(trimmed(test)) + "' does not say how it misleads"
                           : "'" + std::string(last) + "' is no way in which a test misleads",
              near.empty() ? "end it with blind, floats or full: off  M1.1 to B1-  blind" : near);
    }

    /// `off  M1.1 to B1-  blind: no current flows`
    void read_traps() {
        for (const TypedText& text : texts_of("traps", "off  M1.1 to B1-  blind: why")) {
            const auto colon = text.text.find(':');
            std::string test = text.text.substr(0, colon);
            std::optional<TrapKind> kind;
            for (const TrapKind one : trap_kinds) {
                const std::string_view word = trap_word(one);
                test.resize(test.find_last_not_of(" \t") + 1);
                if (!std::string_view(test).ends_with(word)) continue;
                kind = one;
                test.resize(test.size() - word.size());
            }
            if (!kind) {
                report_trap_word(text, test);
                continue;
            }
            auto reading = read_test_phrase({test, text.place}, *out_.circuit, out_.problems);
            if (!reading) continue;
            std::string why = colon == std::string::npos ? "" : text.text.substr(colon + 1);
            why.erase(0, std::min(why.find_first_not_of(' '), why.size()));
            lesson_->traps.push_back({std::move(*reading), *kind, test, std::move(why), text.place});
        }
    }

    const TomlFile& file_;
    const CircuitSource& circuits_;
    LessonReading& out_;
    FileTop top_;
    std::shared_ptr<Lesson> lesson_;
    bool hides_nothing_{false};
    bool misread_fault_{false};
};

/// Seals the texts in quotes of one line from `from` on; stops at a note.
void seal_quotes(std::string& line, std::size_t from) {
    for (std::size_t at = line.find_first_of("\"#", from); at != std::string::npos && line[at] == '"';
         at = line.find_first_of("\"#", at)) {
        const std::size_t end = line.find('"', at + 1);
        if (end == std::string::npos) return;
        const std::string text = line.substr(at + 1, end - at - 1);
        const std::string sealed = is_sealed(text) ? text : seal_text(text);
        line.replace(at + 1, text.size(), sealed);
        at += sealed.size() + 2;
    }
}

}  // namespace

std::string_view trap_word(TrapKind kind) {
    switch (kind) {
        case TrapKind::blind:
            return "blind";
        case TrapKind::floats:
            return "floats";
        case TrapKind::full:
            return "full";
    }
    return {};
}

std::span<const std::string_view> lesson_skills() {
    return skills;
}

std::span<const std::string_view> lesson_actions() {
    return actions;
}

LessonReading read_lesson_file(const std::string& path) {
    Problems problems;
    const TomlFile file = read_toml_file(path, problems);
    return read_lesson(file, std::move(problems));
}

LessonReading read_lesson(const TomlFile& file, Problems problems, const CircuitSource& circuits) {
    LessonReading out;
    out.problems = std::move(problems);
    if (file.sections.empty()) return out;  // unreadable, which is reported
    LessonReader(file, out, circuits).read();
    out.problems.sort();
    return out;
}

std::string seal_lesson(std::string_view file_text) {
    std::string result;
    bool hidden = false;
    for (std::size_t at = 0; at < file_text.size();) {
        const std::size_t end = std::min(file_text.find('\n', at), file_text.size());
        std::string line(file_text.substr(at, end - at));
        at = end + 1;
        const auto equals = line.find('=');
        const auto first = line.find_first_not_of(" \t");
        std::size_t from = 0;
        if (first != std::string::npos && equals != std::string::npos && line[first] != '"' && line[first] != ']') {
            const std::string key = line.substr(first, line.find_last_not_of(" \t", equals - 1) + 1 - first);
            hidden = key == "fault" || key == "root" || key == "traps" || key == "reason";
            from = equals + 1;
        }
        if (hidden) seal_quotes(line, from);
        result += line + "\n";
    }
    return result;
}

}  // namespace voltfall
