#include "netlists/files/job_store.hpp"

#include <algorithm>
#include <stdexcept>
#include <utility>

#include "netlists/files/job_edit.hpp"
#include "netlists/phrases/reading_order.hpp"

namespace voltfall {

namespace {

/// How long another program's change is waited for.
constexpr double patience_seconds = 10;

std::size_t all_readings(const Job& job) {
    return job.readings.size() + job.after.size();
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
    const std::optional<EditedJob> edited = edit(*text, out);
    if (!edited) return out;
    // What was written must read as what was there and the change, else nothing is written.
    const JobReading again = read_job_text(edited->text, path);
    const std::size_t had = all_readings(*out.before);
    const std::size_t has = again.job ? all_readings(*again.job) : had;
    if (std::max(has, had) - std::min(has, had) != 1) {
        throw std::logic_error("a job would not read as before with a reading " + edited->key);
    }
    if (const auto written = replace_whole_file(path, edited->text); !written) {
        out.failure = written.error();
        return out;
    }
    out.text_before = *text;
    out.text_after = edited->text;
    out.circuit = again.circuit;
    out.after = again.job;
    out.key = edited->key;
    return out;
}

}  // namespace

StoredReading store_reading(const std::string& path, const TypedText& phrase, RepairStage stage) {
    return change(path, [&](const std::string& text, StoredReading& out) -> std::optional<EditedJob> {
        Job trial = *out.before;
        const TypedText kept{in_reading_order(phrase.text, *out.circuit), phrase.place};
        add_reading(trial, *out.circuit, kept, out.phrase_problems);
        if (out.phrase_problems.has_errors()) return std::nullopt;
        out.phrase = kept.text;
        return with_reading(text, kept.text, stage == RepairStage::after ? "after" : "readings");
    });
}

StoredReading remove_reading(const std::string& path, const std::string& key) {
    return change(path, [&](const std::string& text, StoredReading& out) -> std::optional<EditedJob> {
        std::string without = without_reading(text, key);
        if (without == text) {
            out.failure = FileFailure{"there is no reading " + key + " in " + path, "nothing was changed"};
            return std::nullopt;
        }
        return EditedJob{std::move(without), key};
    });
}

}  // namespace voltfall
