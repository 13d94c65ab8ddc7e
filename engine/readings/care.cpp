#include "engine/readings/care.hpp"

#include <cctype>

#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

std::string place_of_history(const std::string& line, const std::string& place) {
    const std::string text = lower(line);
    const std::string name = lower(place);
    const auto at = text.find(name);
    if (at == std::string::npos) return {};
    const auto is_word = [](char c) { return std::isalnum(static_cast<unsigned char>(c)) != 0; };
    if (at > 0 && is_word(text[at - 1])) return {};
    if (at + name.size() < text.size() && is_word(text[at + name.size()])) return {};
    return text;
}

}  // namespace

std::vector<std::string> care_words(const Circuit& circuit, const Job& job, const std::string& place) {
    std::vector<std::string> words;
    const std::string whole(read_place(place).owner);
    for (const std::string& name : {place, whole}) {
        if (const Care* care = circuit.care_of(name)) {
            words.insert(words.end(), care->words.begin(), care->words.end());
            break;
        }
    }
    static const std::vector<std::string> known{"hot",  "rubs",        "moves",          "wet",
                                                "rust", "heat-cycled", "repaired-before"};
    for (const std::string& line : job.history) {
        std::string text = place_of_history(line, place);
        if (text.empty()) text = place_of_history(line, whole);
        for (const std::string& word : known) {
            if (!text.empty() && text.find(word) != std::string::npos) words.push_back(word);
        }
    }
    return words;
}

}  // namespace voltfall
