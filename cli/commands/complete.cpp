#include "cli/commands/complete.hpp"

#include <algorithm>
#include <filesystem>
#include <memory>
#include <utility>

#include "cli/commands/command.hpp"
#include "cli/commands/options.hpp"
#include "engine/solve/state.hpp"
#include "netlists/files/job_file.hpp"
#include "netlists/phrases/reading_phrase.hpp"
#include "netlists/platform/paths.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

/// More names than this help nobody who looks at them.
constexpr std::size_t most_candidates = 400;

const Command* command_of(const std::string& word) {
    for (const Command* command : commands())
        if (command->word == word) return command;
    return nullptr;
}

/// The circuit of the first word that is a file which names or is one.
std::shared_ptr<const Circuit> circuit_at_hand(const std::vector<std::string>& words) {
    for (const std::string& word : words) {
        std::error_code failed;
        if (word.starts_with('-') || !std::filesystem::is_regular_file(path_of(word), failed)) continue;
        if (const JobReading reading = read_job_file(word); reading.circuit) return reading.circuit;
    }
    return nullptr;
}

std::vector<std::string> fault_phrases(const Circuit& circuit) {
    std::vector<std::string> phrases;
    for (const ModePtr& mode : circuit.modes) phrases.push_back(mode->phrase());
    return phrases;
}

std::vector<std::string> state_words(const Circuit& circuit) {
    std::vector<std::string> words{"key run", "key off"};
    for (const State& state : default_states(circuit)) words.push_back(state.label);
    return words;
}

/// An option with the words that it takes, as `one_of` names them.
std::vector<std::string> words_of_option(const CLI::Option& option) {
    std::vector<std::string> words;
    const std::string type = option.get_type_name();
    const std::size_t colon = type.find(':');
    if (colon == std::string::npos) return words;
    for (std::size_t from = colon + 1; from <= type.size();) {
        const std::size_t bar = std::min(type.find('|', from), type.size());
        words.push_back(type.substr(from, bar - from));
        from = bar + 1;
    }
    return words;
}

class Completer {
public:
    explicit Completer(std::vector<std::string> words) : words_(std::move(words)) {
        current_ = words_.empty() ? "" : words_.back();
        if (!words_.empty()) words_.pop_back();
        if (!current_.empty() && (current_.front() == '"' || current_.front() == '\'')) current_.erase(0, 1);
    }

    std::vector<std::string> find() {
        const auto at =
            std::find_if(words_.begin(), words_.end(), [](const std::string& w) { return !w.starts_with('-'); });
        if (at == words_.end()) {
            for (const Command* command : commands()) offer(std::string(command->word));
            if (current_.starts_with('-')) offer_options({});
            return std::move(found_);
        }
        const Command* command = command_of(*at);
        if (command == nullptr) return {};
        CLI::App app;
        app.set_help_flag();
        const CommandWork unused = command->declare(app);
        GlobalOptions ignored;
        declare_global_options(app, ignored);
        if (current_.starts_with('-'))
            offer_options(std::as_const(app).get_options());
        else if (!offer_value(app))
            offer_argument();
        return std::move(found_);
    }

private:
    void offer(const std::string& word) {
        const bool fits = word.size() >= current_.size() && same_word(word.substr(0, current_.size()), current_);
        if (fits && found_.size() < most_candidates) found_.push_back(word);
    }
    void offer_all(const std::vector<std::string>& words) {
        for (const std::string& word : words) offer(word);
    }
    void offer_options(const std::vector<const CLI::Option*>& options) {
        for (const CLI::Option* option : options)
            for (const std::string& name : option->get_lnames()) offer("--" + name);
        offer("--help");
        offer("--version");
    }

    /// Behind an option that takes a value. False where the last word is none.
    bool offer_value(const CLI::App& app) {
        if (words_.empty() || !words_.back().starts_with('-')) return false;
        const CLI::Option* option = app.get_option_no_throw(words_.back());
        if (option == nullptr || option->get_items_expected_max() == 0) return false;
        const std::vector<std::string> choices = words_of_option(*option);
        const std::string type = option->get_type_name();
        offer_all(choices);
        if (type == "FILE" || type == "LIST.csv" || type == "CIRCUIT") found_.emplace_back(files_mark);
        const auto circuit = circuit_at_hand(words_);
        if (!circuit) return true;
        if (type == "F") offer_all(fault_phrases(*circuit));
        if (type == "S") offer_all(state_words(*circuit));
        if (type == "R" || type == "P WORDS" || type == "P,..") offer_names(*circuit);
        return true;
    }

    void offer_names(const Circuit& circuit) {
        // A reading is several words between quotes: what is completed is its last one.
        const auto blank = current_.find_last_of(' ');
        const std::string before = blank == std::string::npos ? "" : current_.substr(0, blank + 1);
        for (const std::string& name : place_names(circuit)) offer(before + name);
        if (before.empty()) offer_all(state_words(circuit));
    }

    void offer_argument() {
        found_.emplace_back(files_mark);
        if (const auto circuit = circuit_at_hand(words_)) offer_names(*circuit);
    }

    std::vector<std::string> words_;
    std::string current_;
    std::vector<std::string> found_;
};

}  // namespace

std::vector<std::string> completions(std::vector<std::string> words) {
    return Completer(std::move(words)).find();
}

}  // namespace voltfall
