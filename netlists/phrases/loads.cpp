#include "netlists/phrases/loads.hpp"

#include <algorithm>
#include <array>
#include <deque>

#include "netlists/parts/kind.hpp"
#include "netlists/text/suggest.hpp"
#include "netlists/text/words.hpp"

namespace voltfall {

namespace {

/// `blowers` is a blower.
bool same_or_plural(std::string_view word, std::string_view typed) {
    const bool plural = typed.size() == word.size() + 1 && (typed.back() == 's' || typed.back() == 'S');
    return same_word(word, plural ? typed.substr(0, word.size()) : typed);
}

bool is_general_load_word(std::string_view word) {
    return same_word(word, "blower") || same_word(word, "fan") || same_word(word, "clutch") || same_word(word, "lamp");
}

/// Walks from a switch's contacts and collects the loads that it meets.
class Walk {
public:
    /// Which side of the switch the walk begins at.
    enum class Side { contacts, common };

    Walk(const Circuit& circuit, PartId control, Side side)
        : circuit_(circuit), control_(control), seen_(circuit.joints.size()) {
        for (const JointId stop : {circuit.reference, circuit.metal, circuit.bus_30, circuit.bus_15}) {
            if (stop.valid()) seen_[stop.index] = true;
        }
        for (const auto& [contact, branch] : circuit.part(control).contacts) {
            if (side == Side::common) {
                visit(circuit.branch(branch).a);
                continue;
            }
            const auto pin = circuit.part(control).pins.find(contact);
            visit(pin == circuit.part(control).pins.end() ? circuit.branch(branch).b : pin->second);
        }
    }

    /// Does what it begins at lead straight to ground?
    bool grounded() const { return grounded_; }

    std::vector<PartId> loads() {
        while (!open_.empty()) {
            const JointId joint = open_.front();
            open_.pop_front();
            for (const Branch& branch : circuit_.branches) {
                if (branch.a == joint) cross(branch, branch.b);
                if (branch.b == joint) cross(branch, branch.a);
            }
        }
        std::sort(loads_.begin(), loads_.end());
        return loads_;
    }

private:
    void visit(JointId joint) {
        if (!joint.valid()) return;
        grounded_ |= joint == circuit_.reference || joint == circuit_.metal;
        if (seen_[joint.index]) return;
        seen_[joint.index] = true;
        open_.push_back(joint);
    }

    bool is_own(const Branch& branch) const {
        const Part& part = circuit_.part(control_);
        return std::any_of(part.contacts.begin(), part.contacts.end(),
                           [&](const auto& contact) { return &circuit_.branch(contact.second) == &branch; });
    }

    void cross(const Branch& branch, JointId far) {
        if (is_own(branch)) return;
        if (!branch.part.valid()) return visit(far);
        const Part& part = circuit_.part(branch.part);
        if (part.load_branch.valid() && &circuit_.branch(part.load_branch) == &branch) return meet(branch.part);
        if (part.relay && &circuit_.branch(part.relay->coil) == &branch) {
            for (const BranchId contact : {part.relay->normally_open, part.relay->normally_closed}) {
                if (!contact.valid()) continue;
                visit(circuit_.branch(contact).a);
                visit(circuit_.branch(contact).b);
            }
            return;
        }
        if (part.fuse && &circuit_.branch(part.fuse->element) == &branch) return;
        const bool other_switch = branch.part != control_ && circuit_.is_control(branch.part);
        if (!other_switch) visit(far);
    }

    void meet(PartId load) {
        if (std::find(loads_.begin(), loads_.end(), load) == loads_.end()) loads_.push_back(load);
    }

    const Circuit& circuit_;
    PartId control_;
    std::vector<bool> seen_;
    std::deque<JointId> open_;
    std::vector<PartId> loads_;
    bool grounded_ = false;
};

std::vector<PartId> those_called(const Circuit& circuit, const std::vector<PartId>& loads, std::string_view word) {
    std::vector<PartId> found;
    std::copy_if(loads.begin(), loads.end(), std::back_inserter(found),
                 [&](PartId load) { return is_called(circuit.part(load), word); });
    return found;
}

/// Do the file's own words call a resistor what heats?
bool says_it_heats(const Part& part) {
    static constexpr std::string_view heating[]{"heat",     "heater",   "heated",   "heating", "element",
                                                "window",   "screen",   "grid",     "mirror",  "seat",
                                                "demister", "defogger", "defroster"};
    Problems unused;
    const auto words = cut_words(TypedText::argument("", part.print), unused);
    return std::any_of(words.begin(), words.end(), [&](const Word& word) {
        return std::any_of(std::begin(heating), std::end(heating),
                           [&](std::string_view one) { return same_word(one, word.text); });
    });
}

/// A position called `fan` would be read in its place.
bool is_position(const Circuit& circuit, const std::string& word) {
    return std::any_of(circuit.parts.begin(), circuit.parts.end(),
                       [&](const Part& part) { return part.position_named(word).has_value(); });
}

/// The word for a load of its kind that stands in its line or in the circuit's name; empty where none does.
std::string word_said_of(const Circuit& circuit, const Part& part) {
    for (const std::string& text : {part.print, circuit.name}) {
        Problems unused;
        for (const Word& word : cut_words(TypedText::argument("", text), unused)) {
            if (!is_called(part, word.text)) continue;
            std::string said = lower(word.text);
            if (said.ends_with('s') && is_called(part, said.substr(0, said.size() - 1))) said.pop_back();
            if (!is_position(circuit, said)) return said;
        }
    }
    return {};
}

}  // namespace

bool is_called(const Part& part, std::string_view word) {
    if (!part.kind) return false;
    std::string_view words = part.kind->load_words;
    while (!words.empty()) {
        const auto blank = words.find(' ');
        if (same_or_plural(words.substr(0, blank), word)) return true;
        words = blank == std::string_view::npos ? std::string_view{} : words.substr(blank + 1);
    }
    return false;
}

std::string word_of_load(const Circuit& circuit, PartId load) {
    const Part& part = circuit.part(load);
    const auto like_it =
        std::count_if(circuit.parts.begin(), circuit.parts.end(), [&](const Part& p) { return p.kind == part.kind; });
    if (!part.kind || part.kind->load_words.empty() || like_it != 1) return {};
    for (const Control& control : circuit.controls) {
        // A door's motor is called as its control where its own line says so.
        if (is_called(part, control.word) || same_word(part.print, control.word)) return control.word;
    }
    // A resistor in a motor's way is a load too, and no heater.
    if (part.kind->load == LoadKind::heater && !says_it_heats(part)) return {};
    // A motor may drive anything: what its line or the file's name says, or its name.
    if (part.kind->load == LoadKind::motor) return word_said_of(circuit, part);
    const std::string_view words = part.kind->load_words;
    return std::string(words.substr(0, words.find(' ')));
}

std::vector<PartId> loads_of(const Circuit& circuit) {
    std::vector<PartId> loads;
    for (std::size_t i = 0; i < circuit.parts.size(); ++i) {
        if (circuit.parts[i].load_branch.valid()) loads.push_back({static_cast<std::uint32_t>(i)});
    }
    return loads;
}

bool is_load_word(const Circuit& circuit, std::string_view word) {
    if (is_general_load_word(word)) return true;
    const auto named = [&](const Control& control) { return same_word(control.word, word); };
    const auto called = [&](const Part& part) { return part.load_branch.valid() && is_called(part, word); };
    return std::any_of(circuit.controls.begin(), circuit.controls.end(), named) ||
           std::any_of(circuit.parts.begin(), circuit.parts.end(), called);
}

std::vector<PartId> loads_switched_by(const Circuit& circuit, PartId control) {
    Walk behind(circuit, control, Walk::Side::contacts);
    std::vector<PartId> loads = behind.loads();
    // A switch to ground has no load behind its contacts: what it switches hangs on its common.
    return loads.empty() && behind.grounded() ? Walk(circuit, control, Walk::Side::common).loads() : loads;
}

MeantLoad find_load(const Circuit& circuit, std::string_view word) {
    const auto called = those_called(circuit, loads_of(circuit), word);
    if (called.size() == 1) return {called.front(), called};
    std::vector<PartId> switched;
    for (const Control& control : circuit.controls) {
        if (!same_word(control.word, word)) continue;
        switched = loads_switched_by(circuit, control.part);
    }
    std::sort(switched.begin(), switched.end());
    if (auto narrowed = those_called(circuit, switched, word); !narrowed.empty()) switched = std::move(narrowed);
    if (switched.size() == 1) return {switched.front(), switched};
    return {{}, switched.empty() ? called : switched};
}

}  // namespace voltfall
