#include "netlists/files/job_store.hpp"

#include <algorithm>
#include <stdexcept>
#include <utility>

#include "netlists/files/job_edit.hpp"
#include "netlists/phrases/reading_order.hpp"
#include "netlists/phrases/several_readings.hpp"
#include "netlists/text/problem_code.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

/// How long another program's change is waited for.
constexpr double patience_seconds = 10;

/// Lines of a job that a change may add or take out.
std::size_t all_lines(const Job& job) {
    return job.readings.size() + job.after.size() + job.repaired.size();
}

/// A job file's text after a change of some lines.
struct ManyEdited {
    std::string text;
    std::vector<std::string> keys;
};

std::string_view section_of(RepairStage stage) {
    return stage == RepairStage::after ? "after" : "readings";
}

/// What is told of a file that could not be read: the circuit that the job names went away, or the disk fails.
std::optional<std::string> lost_file(const Problems& problems) {
    for (const Problem& problem : problems.list())
        if (problem.code == ProblemCode::unreadable_file || problem.code == ProblemCode::missing_file)
            return problem.message;
    return std::nullopt;
}

/// Locks and reads the job, has `edit` make the new text from the old, and writes it.
template <class Edit>
StoredReading change(const std::string& path, const Edit& edit) {
    StoredReading out;
    const auto lock = FileLock::take(path, patience_seconds);
    if (!lock) {
        out.failure = lock.error();
        return out;
    }
    const auto text = read_whole_file(path);
    if (!text) {
        out.failure = text.error();
        return out;
    }
    JobReading reading = read_job_text(*text, path);
    out.file_problems = std::move(reading.problems);
    if (!reading.job) return out;
    if (reading.job->path == reading.job->circuit_path) {
        out.failure = FileFailure{path + " is a circuit; readings are kept in a job file",
                                  "a job names its circuit: circuit = \"cab-blower.toml\""};
        return out;
    }
    out.circuit = reading.circuit;
    out.before = reading.job;
    const std::optional<ManyEdited> edited = edit(*text, out);
    if (!edited) return out;
    // What was written must read as what was there and the change, else nothing is written.
    const JobReading again = read_job_text(edited->text, path);
    if (const auto lost = lost_file(again.problems)) {
        out.failure = FileFailure{*lost, "nothing was changed"};
        return out;
    }
    const std::size_t had = all_lines(*out.before);
    const std::size_t has = again.job ? all_lines(*again.job) : had;
    if (std::max(has, had) - std::min(has, had) != edited->keys.size()) {
        throw std::logic_error("a job would not read as before with the lines that were changed");
    }
    if (const auto written = replace_whole_file(path, edited->text); !written) {
        out.failure = written.error();
        return out;
    }
    out.text_before = *text;
    out.text_after = edited->text;
    out.circuit = again.circuit;
    out.after = again.job;
    out.keys = edited->keys;
    out.key = out.keys.back();
    return out;
}

}  // namespace

StoredReading store_readings(const std::string& path, const std::vector<std::string>& phrases, RepairStage stage) {
    return change(path, [&](const std::string& text, StoredReading& out) -> std::optional<ManyEdited> {
        Job trial = *out.before;
        ManyEdited edited{text, {}};
        for (const std::string& phrase : phrases) {
            for (const std::string& kept : readings_in_line(phrase, *out.circuit)) {
                add_reading(trial, *out.circuit, TypedText::argument("reading", kept), out.phrase_problems);
                if (out.phrase_problems.has_errors()) return std::nullopt;
                out.phrase += (out.phrase.empty() ? "" : "; ") + kept;
                EditedJob one = with_reading(edited.text, kept, section_of(stage));
                edited.text = std::move(one.text);
                edited.keys.push_back(std::move(one.key));
            }
        }
        return edited.keys.empty() ? std::nullopt : std::optional(edited);
    });
}

StoredReading store_reading(const std::string& path, const TypedText& phrase, RepairStage stage) {
    return store_readings(path, {phrase.text}, stage);
}

StoredReading store_repair(const std::string& path, const std::string& phrase) {
    return change(path, [&](const std::string& text, StoredReading& out) -> std::optional<ManyEdited> {
        Job trial = *out.before;
        add_repaired(trial, *out.circuit, TypedText::argument("what was repaired", phrase), out.phrase_problems);
        if (out.phrase_problems.has_errors()) return std::nullopt;
        const Repaired& repaired = trial.repaired.back();
        const bool known = std::any_of(out.before->repaired.begin(), out.before->repaired.end(),
                                       [&](const Repaired& one) { return same_word(one.place, repaired.place); });
        if (known) {
            out.failure = FileFailure{repaired.place + " stands under [repaired] already", "nothing was changed"};
            return std::nullopt;
        }
        const bool contrary =
            std::any_of(out.before->repaired.begin(), out.before->repaired.end(),
                        [&](const Repaired& one) { return one.nothing_found() != repaired.nothing_found(); });
        if (contrary) {
            out.failure = FileFailure{"either no fault was found, or something was repaired",
                                      "take out what stands under [repaired] first"};
            return std::nullopt;
        }
        out.phrase = repaired.place + ": " + repaired.words;
        EditedJob one = with_repair(text, repaired.place, repaired.words);
        return ManyEdited{std::move(one.text), {std::move(one.key)}};
    });
}

StoredReading remove_readings(const std::string& path, const std::vector<std::string>& keys, RepairStage stage) {
    return change(path, [&](const std::string& text, StoredReading& out) -> std::optional<ManyEdited> {
        ManyEdited edited{text, keys};
        for (const std::string& key : keys) {
            std::string without = without_reading(edited.text, key, section_of(stage));
            if (without == edited.text) {
                out.failure = FileFailure{"there is no reading " + key + " in " + path, "nothing was changed"};
                return std::nullopt;
            }
            edited.text = std::move(without);
        }
        return edited;
    });
}

StoredReading remove_reading(const std::string& path, const std::string& key) {
    return remove_readings(path, {key});
}

StoredReading remove_repair(const std::string& path, const std::string& place) {
    return change(path, [&](const std::string& text, StoredReading& out) -> std::optional<ManyEdited> {
        std::string without = without_reading(text, place, "repaired");
        if (without == text) {
            out.failure = FileFailure{place + " does not stand under [repaired] in " + path, "nothing was changed"};
            return std::nullopt;
        }
        return ManyEdited{std::move(without), {place}};
    });
}

}  // namespace voltfall
