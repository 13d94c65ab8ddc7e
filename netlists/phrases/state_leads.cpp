#include "netlists/phrases/state_leads.hpp"

#include <string>
#include <string_view>
#include <vector>

#include "netlists/phrases/places.hpp"
#include "netlists/phrases/values.hpp"
#include "netlists/text/problem_code.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

/// One joint for a lead; a cavity with two halves needs its wire said.
JointId take_lead_point(WordReader& words, const Circuit& circuit, std::string_view example) {
    const Word* word = words.peek();
    if (!word) {
        words.error(ProblemCode::missing_word, nullptr, "a point is missing", "for example " + std::string(example));
        return {};
    }
    words.take();
    const auto point = read_point(*word, words, circuit, words.problems());
    if (!point) return {};
    if (point->joints.size() > 1) {
        std::vector<std::string> halves;
        for (const JointId joint : point->joints) halves.push_back(circuit.joint(joint).name);
        words.error(ProblemCode::two_meanings, word, "'" + word->text + "' has two halves; a lead touches one",
                    "write " + list_words(halves));
        return {};
    }
    return point->joints.front();
}

std::optional<AddedLead> take_two_ended(WordReader& words, const Circuit& circuit, AddedLead lead,
                                        std::string_view example) {
    lead.a = take_lead_point(words, circuit, example);
    if (!words.take_if("to")) {
        words.error(ProblemCode::missing_word, words.peek(), "'to' is missing between the ends of the lead",
                    "for example " + std::string(example));
        return {};
    }
    lead.b = take_lead_point(words, circuit, example);
    if (!lead.a.valid() || !lead.b.valid()) return {};
    if (lead.a == lead.b) {
        words.error(ProblemCode::contradiction, words.peek(), "both ends of the lead are on the same point",
                    "for example " + std::string(example));
        return {};
    }
    return lead;
}

}  // namespace

std::optional<AddedLead> take_jumper_lead(WordReader& words, const Circuit& circuit) {
    words.take();
    return take_two_ended(words, circuit, {AddedLead::Kind::jumper, {}, {}, 0}, "jumper S1.C to B1-");
}

std::optional<AddedLead> take_feed_lead(WordReader& words, const Circuit& circuit) {
    words.take();
    const JointId joint = take_lead_point(words, circuit, "feed M1.1");
    if (!joint.valid()) return {};
    return AddedLead{AddedLead::Kind::feed, joint, {}, 0};
}

std::optional<AddedLead> take_load_lead(WordReader& words, const Circuit& circuit) {
    words.take();
    constexpr std::string_view example = "load 55W M1.1 to B1-";
    const auto watts = take_figure(words, Unit::watt, "load", "the watts of the load are", example);
    return take_two_ended(words, circuit, {AddedLead::Kind::load, {}, {}, watts.value_or(0)}, example);
}

}  // namespace voltfall
