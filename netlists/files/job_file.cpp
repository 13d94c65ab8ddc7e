#include "netlists/files/job_file.hpp"

#include <algorithm>
#include <array>
#include <filesystem>

#include "netlists/files/circuit_file.hpp"
#include "netlists/files/toml_file.hpp"
#include "netlists/files/tools_line.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

constexpr std::array<std::string_view, 5> job_keys{"format", "circuit", "job", "concern", "tools"};
constexpr std::array<std::string_view, 3> job_sections{"readings", "fitted", "history"};

template <std::size_t Count>
std::vector<std::string> as_strings(const std::array<std::string_view, Count>& words) {
    return {words.begin(), words.end()};
}

template <std::size_t Count>
std::string listed(const std::array<std::string_view, Count>& words) {
    std::string text;
    for (std::size_t i = 0; i < Count; ++i)
        text += (i == 0 ? "" : i + 1 == Count ? " and " : ", ") + std::string(words[i]);
    return text;
}

class JobReader {
public:
    JobReader(const TomlFile& file, JobReading& out) : file_(file), out_(out), job_(std::make_shared<Job>()) {}

    void read() {
        job_->path = file_.path;
        read_top();
        read_circuit();
        check_section_names();
        read_sections();
        if (job_->tools.empty()) job_->tools = usual_tools();
        if (out_.problems.has_errors()) {
            out_.circuit = nullptr;
            return;
        }
        out_.job = job_;
    }

private:
    const TomlSection* top() const { return file_.find(""); }
    const TomlEntry* entry(std::string_view key) const { return top() ? top()->find(key) : nullptr; }

    /// Its line could not be read, which is reported already.
    bool lost(std::string_view key) const {
        return top() && std::find(top()->lost.begin(), top()->lost.end(), key) != top()->lost.end();
    }

    SourcePlace whole_file() const {
        SourcePlace place;
        place.file = file_.path;
        return place;
    }

    void error(SourcePlace place, std::string message, std::string suggestion = {}) {
        out_.problems.error(std::move(place), std::move(message), std::move(suggestion));
    }

    void read_top() {
        const auto known = as_strings(job_keys);
        if (top()) {
            for (const TomlEntry& e : top()->entries) {
                if (std::find(known.begin(), known.end(), e.key) != known.end()) continue;
                const auto advice = did_you_mean(e.key, known);
                error(e.key_place, "'" + e.key + "' is no key of a job",
                      advice.empty() ? "a job has " + listed(job_keys) + "; readings stand under [readings]" : advice);
            }
        }
        read_format();
        job_->job = text_of("job");
        job_->concern = text_of("concern");
        if (const TomlEntry* tools = entry("tools")) read_tools(*tools);
    }

    void read_format() {
        const TomlEntry* format = entry("format");
        if (lost("format")) return;
        if (!format)
            return error(whole_file(), "the file does not say its format", "write format = 1 as the first line");
        const auto* number = std::get_if<long long>(&format->value.value);
        if (!number || *number != 1) error(format->value.place, "this program reads format 1", "write format = 1");
    }

    /// A text; the number of a job may be typed without quotes.
    std::string text_of(std::string_view key) {
        const TomlEntry* found = entry(key);
        if (!found) return {};
        if (const auto* text = std::get_if<std::string>(&found->value.value)) return *text;
        if (const auto* number = std::get_if<long long>(&found->value.value)) return std::to_string(*number);
        error(found->value.place, "'" + std::string(key) + "' must be a text", std::string(key) + " = \"…\"");
        return {};
    }

    void read_tools(const TomlEntry& tools) {
        std::vector<TypedText> list;
        if (const auto* texts = std::get_if<std::vector<TypedText>>(&tools.value.value))
            list = *texts;
        else if (tools.is_text())
            list = {tools.text()};
        else
            return error(tools.value.place, "'tools' must be a list of texts",
                         "tools = [\"meter\", \"clamp\", \"lamp 21W\"]");
        for (const TypedText& text : list) {
            if (auto tool = read_tool(text, out_.problems)) job_->tools.push_back(std::move(*tool));
        }
    }

    void read_circuit() {
        const TomlEntry* key = entry("circuit");
        if (lost("circuit")) return;
        if (!key || !key->is_text()) {
            return error(key ? key->value.place : whole_file(), "the job does not name its circuit",
                         "write circuit = \"bookmobile.toml\", a path from this file's folder");
        }
        namespace fs = std::filesystem;
        const std::string typed = key->text().text;
        const fs::path path = fs::path(file_.path).parent_path() / fs::path(typed);
        std::error_code failed;
        if (typed.empty() || !fs::is_regular_file(path, failed)) {
            return error(key->value.place, "there is no circuit file '" + typed + "'", near_file(path));
        }
        job_->circuit_path = path.string();
        CircuitReading circuit = read_circuit_file(job_->circuit_path);
        out_.problems.add_all(circuit.problems);
        out_.circuit = circuit.circuit;
    }

    /// A file of the same folder with a name like the one typed.
    static std::string near_file(const std::filesystem::path& path) {
        std::vector<std::string> names;
        std::error_code failed;
        const auto folder = path.parent_path().empty() ? std::filesystem::path(".") : path.parent_path();
        for (auto it = std::filesystem::directory_iterator(folder, failed);
             !failed && it != std::filesystem::directory_iterator(); it.increment(failed)) {
            if (it->path().extension() == ".toml") names.push_back(it->path().filename().string());
        }
        std::sort(names.begin(), names.end());
        const std::string advice = did_you_mean(path.filename().string(), names);
        return advice.empty() ? "the path counts from the job's folder" : advice;
    }

    void check_section_names() {
        const auto known = as_strings(job_sections);
        for (const TomlSection& section : file_.sections) {
            if (section.name.empty() || std::find(known.begin(), known.end(), section.name) != known.end()) continue;
            const auto advice = did_you_mean(section.name, known);
            error(section.place, "'[" + section.name + "]' is no section of a job",
                  advice.empty() ? "a job has [readings], [fitted] and [history]" : advice);
        }
    }

    void read_sections() {
        for (const TomlSection& section : file_.sections) {
            for (const TomlEntry& e : section.entries) {
                if (section.name == "readings") read_reading(e);
                if (section.name == "fitted") read_fitted(e);
                if (section.name == "history") read_history(e);
            }
        }
    }

    void read_reading(const TomlEntry& e) {
        if (!e.is_text()) {
            return error(e.value.place, "reading '" + e.key + "' must be a text",
                         e.key + " = \"hi  M1.1 to B1-  10.3V\"");
        }
        if (!out_.circuit) return;  // what its words mean is only known with the circuit; its problems stand already
        if (auto reading = read_reading_phrase(e.text(), e.key, *out_.circuit, out_.problems)) {
            job_->readings.push_back(std::move(*reading));
        }
    }

    void read_fitted(const TomlEntry& e) {
        if (!e.is_text())
            return error(e.value.place, "what is said of '" + e.key + "' must be a text", e.key + " = \"7 days ago\"");
        if (!out_.circuit) return;
        const PartId part = out_.circuit->find_part(e.key);
        if (!part.valid()) {
            std::vector<std::string> names;
            for (const Part& p : out_.circuit->parts) names.push_back(p.name);
            return error(e.key_place, "no part is called '" + e.key + "'", did_you_mean(e.key, names));
        }
        job_->fitted.push_back({part, e.text().text});
    }

    void read_history(const TomlEntry& e) {
        if (e.is_text()) {
            job_->history.push_back(e.text().text);
        } else if (const auto* texts = std::get_if<std::vector<TypedText>>(&e.value.value)) {
            for (const TypedText& text : *texts) job_->history.push_back(text.text);
        } else {
            error(e.value.place, "a line of the history must be a text", e.key + " = \"dash taken out last month\"");
        }
    }

    const TomlFile& file_;
    JobReading& out_;
    std::shared_ptr<Job> job_;
};

bool is_circuit_file(const TomlFile& file) {
    const TomlSection* top = file.find("");
    return file.find("parts") && !file.find("readings") && !(top && top->find("circuit"));
}

JobReading job_without_readings(const std::string& path) {
    JobReading out;
    CircuitReading circuit = read_circuit_file(path);
    out.problems = std::move(circuit.problems);
    out.circuit = circuit.circuit;
    if (!out.circuit) return out;
    auto job = std::make_shared<Job>();
    job->path = job->circuit_path = path;
    job->tools = usual_tools();
    out.job = std::move(job);
    return out;
}

}  // namespace

JobReading read_job_file(const std::string& path) {
    JobReading out;
    const TomlFile file = read_toml_file(path, out.problems);
    if (is_circuit_file(file)) return job_without_readings(path);
    if (file.sections.empty()) return out;  // unreadable, which is reported
    JobReader(file, out).read();
    out.problems.sort();
    return out;
}

void add_reading(Job& job, Reading reading) {
    std::size_t number = job.readings.size() + 1;
    const auto taken = [&] {
        return std::any_of(job.readings.begin(), job.readings.end(),
                           [&](const Reading& other) { return other.id == std::to_string(number); });
    };
    while (taken()) ++number;
    reading.id = std::to_string(number);
    job.readings.push_back(std::move(reading));
}

void add_reading(Job& job, const Circuit& circuit, const TypedText& phrase, Problems& problems) {
    if (auto reading = read_reading_phrase(phrase, "", circuit, problems)) add_reading(job, *std::move(reading));
}

}  // namespace voltfall
