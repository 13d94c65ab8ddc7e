#include "engine/figures/case_deck.hpp"

#include "netlists/phrases/fault_phrase.hpp"
#include "netlists/spice/deck.hpp"

namespace voltfall {

namespace {

/// The node of every joint that a person can name.
std::vector<std::pair<std::string, std::string>> nodes_of(const Circuit& circuit, const Deck& deck) {
    std::vector<std::pair<std::string, std::string>> nodes;
    for (std::uint32_t i = 0; i < circuit.joints.size(); ++i) {
        const std::string& name = circuit.joints[i].name;
        if (circuit.find_joint(name) == JointId{i}) nodes.emplace_back(name, Deck::node_name(deck.node_of_joint[i]));
    }
    return nodes;
}

}  // namespace

tl::expected<DeckAnswer, SolveFailure> case_deck(Simulator& simulator, const Circuit& circuit, const State& state,
                                                 std::span<const Fault> faults, DeckMoment moment) {
    const CourseResult course = run_course(simulator, circuit, state, faults);
    if (!course) return tl::unexpected(course.error());
    const bool after = moment == DeckMoment::after;
    const Settled& settled = after ? course->end() : course->faulted;
    const Deck deck = build_deck(settled.network);
    DeckAnswer answer;
    for (const Fault& fault : faults) answer.faults.push_back(write_fault(circuit, fault));
    answer.state = state.label;
    answer.at = after ? "after" : "faulted";
    answer.nodes = nodes_of(circuit, deck);
    answer.deck = deck_file_text(deck, settled.network);
    return answer;
}

}  // namespace voltfall
