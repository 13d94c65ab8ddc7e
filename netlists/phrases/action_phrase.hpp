// What a person does to a vehicle on the bench, typed in a line.
#pragma once

#include <optional>
#include <string>
#include <variant>

#include "netlists/phrases/test.hpp"
#include "netlists/text/words.hpp"

namespace voltfall {

/// Switches, contacts or the key are set and stay so: `hi`, `key off`.
struct TurnControls {
    StatePhrase state;
};
/// A new part is fitted: `new M1`, or `new C303` by the plug that has its name alone; of a fuse with the amperes typed
/// behind it, where there are any: `new F7 40A`.
struct FitPart {
    PartId part;
    std::optional<double> amps;
};
/// A joint, wire or part is repaired: `repair C101.4`. The fault's phrase names its place too.
struct RepairPlace {
    std::string place;
};
/// `say nothing`: the vehicle is sound.
struct SayNothing {};

struct Action {
    std::variant<Test, TurnControls, FitPart, RepairPlace, SayNothing> what;
    std::string text;  ///< as typed, or as it would be
};

/// Reads a line of the bench. What is no other action is a test. Returns nullopt, and at least one problem, when it is
/// not understood.
std::optional<Action> read_action_phrase(const TypedText& line, const Circuit& circuit, Problems& problems);

/// The actions of these, with the lines that would be typed.
Action action_of(const Circuit& circuit, Test test);
Action action_of(const Circuit& circuit, FitPart fit);
Action action_of(RepairPlace repair);
Action action_of(SayNothing nothing);

}  // namespace voltfall
