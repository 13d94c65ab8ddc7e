#include "netlists/files/job_file.hpp"

#include <algorithm>
#include <array>

#include "netlists/files/file_top.hpp"
#include "netlists/files/missing_headers.hpp"
#include "netlists/files/section_names.hpp"
#include "netlists/files/toml_file.hpp"
#include "netlists/files/tools_line.hpp"
#include "netlists/text/characters.hpp"
#include "netlists/text/problem_code.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

/// Most lines of a section of a job.
constexpr std::size_t most_readings = 1000;
constexpr std::array<std::string_view, 5> job_keys{"format", "circuit", "job", "concern", "tools"};
/// What [repaired] says when no fault was found.
constexpr std::string_view nothing_found = "nothing";

/// The place as the circuit names it, "nothing" where no fault was found; nullopt and a problem for anything else.
std::optional<std::string> repaired_place(const Circuit& circuit, const std::string& typed, const SourcePlace& at,
                                          Problems& problems) {
    if (same_word(typed, nothing_found)) return std::string(nothing_found);
    if (auto place = find_place(circuit, typed)) return place;
    const std::string meant = did_you_mean(typed, place_names(circuit));
    problems.error(ProblemCode::unknown_place, at, "nothing that can be repaired is called '" + typed + "'",
                   meant.empty()
                       ? "a part, plug, cavity or wire of the circuit, or nothing = \"…\" where no fault was found"
                       : meant);
    return std::nullopt;
}

/// The plug of that name as the circuit writes it, or empty.
std::string plug_named(const Circuit& circuit, std::string_view name) {
    const auto found = std::find_if(circuit.parts.begin(), circuit.parts.end(),
                                    [&](const Part& part) { return !part.plug.empty() && same_word(part.plug, name); });
    return found == circuit.parts.end() ? std::string() : found->plug;
}

class JobReader {
public:
    JobReader(const TomlFile& file, JobReading& out, const CircuitSource& circuits)
        : file_(file), circuits_(circuits), out_(out), top_(file, "job", out.problems), job_(std::make_shared<Job>()) {}

    void read() {
        job_->path = file_.path;
        read_top();
        read_circuit();
        check_section_names();
        read_sections();
        job_->names_tools = !job_->tools.empty();
        if (!job_->names_tools) job_->tools = usual_tools();
        if (out_.problems.has_errors()) {
            out_.circuit = nullptr;
            return;
        }
        out_.job = job_;
    }

private:
    void error(ProblemCode code, SourcePlace place, std::string message, std::string suggestion = {}) {
        top_.error(code, std::move(place), std::move(message), std::move(suggestion));
    }

    void read_top() {
        top_.check_keys(job_keys, job_keys, "; readings stand under [readings]");
        check_format(file_, out_.problems);
        job_->job = text_of("job");
        job_->concern = text_of("concern", Numbers::refused);
        if (const TomlEntry* tools = top_.entry("tools")) read_tools(*tools);
    }

    enum class Numbers { taken, refused };
    /// A text; the number of a job may be typed without quotes.
    std::string text_of(std::string_view key, Numbers numbers = Numbers::taken) {
        const TomlEntry* found = top_.entry(key);
        if (!found) return {};
        if (const auto* text = std::get_if<std::string>(&found->value.value)) return *text;
        const auto* number = std::get_if<long long>(&found->value.value);
        if (number && numbers == Numbers::taken) return std::to_string(*number);
        error(ProblemCode::wrong_type, found->value.place, "'" + std::string(key) + "' must be a text",
              std::string(key) + " = \"…\"");
        return {};
    }

    void read_tools(const TomlEntry& tools) {
        std::vector<TypedText> list;
        if (const auto* texts = std::get_if<TextList>(&tools.value.value))
            list = *texts;
        else if (tools.is_text())
            list = tools_between_commas(tools.text());
        else
            return error(ProblemCode::wrong_type, tools.value.place, "'tools' must be a list of texts",
                         "tools = [\"meter\", \"clamp\", \"lamp 21W\"]");
        constexpr std::size_t most_tools = 100;
        if (list.size() > most_tools)
            return error(ProblemCode::too_many, tools.value.place,
                         std::to_string(list.size()) + " tools; at most " + std::to_string(most_tools) + " are read",
                         "name each tool once");
        for (const TypedText& text : list) add_tool(job_->tools, text, out_.problems);
    }

    void read_circuit() {
        FileTop::NamedCircuit named = top_.read_circuit(circuits_);
        job_->circuit_path = std::move(named.path);
        out_.circuit = std::move(named.circuit);
    }

    void check_section_names() {
        const std::vector<std::string> known = words_of_sections(SectionOf::job);
        for (const TomlSection& section : file_.sections) {
            if (section.name.empty() || std::find(known.begin(), known.end(), section.name) != known.end()) continue;
            std::string advice = section_advice(section.name, SectionOf::job);
            if (advice.empty()) advice = did_you_mean(section.name, known);
            error(ProblemCode::unknown_section, section.place, "'[" + section.name + "]' is no section of a job",
                  advice.empty() ? "a job has [readings], [fitted], [history], [repaired] and [after]" : advice);
        }
    }

    void read_sections() {
        for (const TomlSection& section : file_.sections) {
            const auto known = section_named(section.name);
            if (section.entries.size() > most_readings) {
                error(ProblemCode::too_many, section.place,
                      std::to_string(section.entries.size()) + " lines in [" + section.name + "]; at most " +
                          std::to_string(most_readings) + " are read",
                      "keep the readings of one vehicle in the job");
                continue;
            }
            for (const TomlEntry& e : section.entries) {
                if (known == FileSection::readings) read_reading(e, job_->readings);
                if (known == FileSection::after) read_reading(e, job_->after);
                if (known == FileSection::repaired) read_repaired(e);
                if (known == FileSection::fitted) read_fitted(e);
                if (known == FileSection::history) read_history(e);
            }
        }
    }

    void read_reading(const TomlEntry& e, std::vector<Reading>& into) {
        if (!e.is_text()) {
            return error(ProblemCode::wrong_type, e.value.place, "reading '" + e.key + "' must be a text",
                         e.key + " = \"hi  M1.1 to B1-  10.3V\"");
        }
        if (!out_.circuit) return;  // what its words mean is only known with the circuit; its problems stand already
        if (auto reading = read_reading_phrase(e.text(), e.key, *out_.circuit, out_.problems)) {
            into.push_back(std::move(*reading));
        }
    }

    void read_repaired(const TomlEntry& e) {
        if (!e.is_text()) {
            return error(ProblemCode::wrong_type, e.value.place, "what was done at '" + e.key + "' must be a text",
                         e.key + " = \"new terminal and seal\"");
        }
        if (!out_.circuit) return;
        const auto place = repaired_place(*out_.circuit, e.key, e.key_place, out_.problems);
        if (!place) return;
        if (trimmed(std::string_view(e.text().text)).empty()) {
            return error(ProblemCode::empty_phrase, e.value.place, "what was done at '" + e.key + "' is not said",
                         e.key + " = \"new terminal and seal\"");
        }
        const bool nothing = same_word(*place, nothing_found);
        const auto contrary = std::find_if(job_->repaired.begin(), job_->repaired.end(), [&](const auto& other) {
            return same_word(other.place, nothing_found) != nothing;
        });
        if (contrary != job_->repaired.end()) {
            return error(ProblemCode::contradiction, e.key_place,
                         "'" + e.key + "' stands beside '" + contrary->place +
                             "': either no fault was found, or "
                             "something was repaired",
                         "take one of them out");
        }
        job_->repaired.push_back({*place, e.text().text});
    }

    void read_fitted(const TomlEntry& e) {
        if (!e.is_text())
            return error(ProblemCode::wrong_type, e.value.place, "what is said of '" + e.key + "' must be a text",
                         e.key + " = \"7 days ago\"");
        if (!out_.circuit) return;
        const PartId part = out_.circuit->find_part(e.key);
        std::string plug = part.valid() ? std::string() : plug_named(*out_.circuit, e.key);
        if (part.valid() || !plug.empty()) {
            job_->fitted.push_back({part, e.text().text, std::move(plug)});
            return;
        }
        std::vector<std::string> names;
        for (const Part& p : out_.circuit->parts) {
            names.push_back(p.name);
            if (!p.plug.empty()) names.push_back(p.plug);
        }
        error(ProblemCode::unknown_part, e.key_place, "no part or plug is called '" + e.key + "'",
              did_you_mean_or_known(e.key, names));
    }

    void read_history(const TomlEntry& e) {
        if (e.is_text()) {
            job_->history.push_back(e.text().text);
        } else if (const auto* texts = std::get_if<TextList>(&e.value.value)) {
            for (const TypedText& text : *texts) job_->history.push_back(text.text);
        } else {
            error(ProblemCode::wrong_type, e.value.place, "a line of the history must be a text",
                  e.key + " = \"dash taken out last month\"");
        }
    }

    const TomlFile& file_;
    const CircuitSource& circuits_;
    JobReading& out_;
    FileTop top_;
    std::shared_ptr<Job> job_;
};

JobReading job_without_readings(const TomlFile& file, Problems problems) {
    JobReading out;
    CircuitReading circuit = read_circuit(file, std::move(problems));
    out.problems = std::move(circuit.problems);
    out.circuit = circuit.circuit;
    if (!out.circuit) return out;
    auto job = std::make_shared<Job>();
    job->path = job->circuit_path = file.path;
    job->tools = usual_tools();
    out.job = std::move(job);
    return out;
}

/// Adds the reading under the next free number.
void add_numbered(std::vector<Reading>& readings, Reading reading) {
    std::size_t number = readings.size() + 1;
    const auto taken = [&] {
        return std::any_of(readings.begin(), readings.end(),
                           [&](const Reading& other) { return other.id == std::to_string(number); });
    };
    while (taken()) ++number;
    reading.id = std::to_string(number);
    readings.push_back(std::move(reading));
}

}  // namespace

JobReading read_job(const TomlFile& file, Problems problems, const CircuitSource& circuits) {
    if (holds_circuit(file)) return job_without_readings(file, std::move(problems));
    JobReading out;
    out.problems = std::move(problems);
    if (file.sections.empty()) return out;  // unreadable, which is reported
    if (report_empty(file, out.problems)) return out;
    if (report_strange_file(file, out.problems)) return out;
    TomlFile whole = file;
    put_in_job_headers(whole, out.problems);
    JobReader(whole, out, circuits).read();
    out.problems.sort();
    return out;
}

JobReading read_job_file(const std::string& path) {
    Problems problems;
    const TomlFile file = read_toml_file(path, problems);
    return read_job(file, std::move(problems));
}

JobReading read_job_text(std::string_view text, const std::string& path) {
    Problems problems;
    const TomlFile file = read_toml_text(text, path, problems);
    return read_job(file, std::move(problems));
}

void add_reading(Job& job, Reading reading) {
    add_numbered(job.readings, std::move(reading));
}

void add_reading_after(Job& job, const Circuit& circuit, const TypedText& phrase, Problems& problems) {
    if (auto reading = read_reading_phrase(phrase, "", circuit, problems)) add_numbered(job.after, *std::move(reading));
}

namespace {

/// The first word that names something, without the marks behind it: "replaced R1, and its plug".
std::optional<std::string> place_within(const Circuit& circuit, std::vector<Word> words) {
    for (Word& word : words) {
        while (word.text.size() > 1 && std::string_view(".,:;").find(word.text.back()) != std::string_view::npos)
            word.text.pop_back();
        if (auto place = find_place(circuit, word.text)) return place;
    }
    return std::nullopt;
}

/// "no fault found", "nothing found": the job ends without a repair.
bool says_nothing_found(const std::vector<Word>& words) {
    return words.size() >= 2 && (same_word(words[0].text, "no") || same_word(words[0].text, nothing_found)) &&
           std::any_of(words.begin(), words.end(), [](const Word& word) { return same_word(word.text, "found"); });
}

}  // namespace

void add_repaired(Job& job, const Circuit& circuit, const TypedText& phrase, Problems& problems) {
    WordReader words(phrase, problems);
    if (words.at_end())
        return problems.error(ProblemCode::empty_phrase, phrase.place, "nothing is said to be mended",
                              "\"C101.4 new terminal\"");
    const SourcePlace at = words.place();
    Word place = words.take();
    Problems unused;
    const std::vector<Word> said = cut_words(phrase, unused);
    if (says_nothing_found(said)) return job.repaired.push_back({std::string(nothing_found), phrase.text});
    const std::string rest =
        words.at_end() ? "mended" : phrase.text.substr(phrase.text.find(place.text) + place.text.size());
    const auto first = rest.find_first_not_of(" :=,");
    if (place.text.size() > 1 && place.text.back() == ':') place.text.pop_back();
    // In a sentence the place stands where it may; all of it is what was done.
    const bool named = same_word(place.text, nothing_found) || find_place(circuit, place.text);
    if (auto within = place_within(circuit, said); !named && within)
        return job.repaired.push_back({*std::move(within), phrase.text});
    if (auto found = repaired_place(circuit, place.text, at, problems))
        job.repaired.push_back({*std::move(found), first == std::string::npos ? "mended" : rest.substr(first)});
}

void add_reading(Job& job, const Circuit& circuit, const TypedText& phrase, Problems& problems) {
    if (auto reading = read_reading_phrase(phrase, "", circuit, problems)) add_reading(job, *std::move(reading));
}

}  // namespace voltfall
