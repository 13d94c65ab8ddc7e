#include "netlists/phrases/spoken_fault_rows.hpp"

#include <algorithm>

#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

using As = SpokenFault::As;

// What is said of several kinds of places means what the catalogue has at the place: a wire chafes, a motor touches its
// case. The words are common practice of the trade; no published list of them is known.
constexpr SpokenFault of_one_place[]{
    {As::amps,
     "|wrong/oversize/oversized/bigger/incorrect/undersize/undersized fuse/rating/size? fitted/installed?|"
     "fuse? fitted/installed",
     "{place} rating"},
    {As::first,
     "thermal? limiter/cutout/cut-out/cutoff/cut-off/protector/link open/blown/tripped/popped/burnt/gone/dead out?|"
     "open/blown/tripped/popped/burnt thermal? limiter/cutout/cut-out/cutoff/cut-off/protector/link",
     "{place} limiter open; {place} thermal-link open"},
    {As::first,
     "worn/bad/short/sticking/sticky brush/brushes|brush/brushes worn/bad/short/sticking/sticky/gone/shot/finished "
     "out/down?",
     "{place} worn-brushes"},
    {As::first,
     "tight/stiff/dry/worn/bad/rough "
     "bearing/bearings/bush/bushes/bushing/bushings|bearing/bearings/bush/bushes/bushing/"
     "bushings tight/stiff/dry/worn/bad/rough/gone/shot|drags/dragging/binds/binding/stiff/tight|hard/stiff turn|turns "
     "hard/stiff",
     "{place} drag"},
    {As::first,
     "seized/locked/frozen/jammed/stuck up/solid?|won't/doesn't/can't/cannot/not turn/spin/turning/rotate|rotor "
     "seized/locked/stuck",
     "{place} seized"},
    {As::first,
     "dirty/clogged/fouled/caked/packed wheel/cage/impeller/blades|wheel/cage/impeller/blades "
     "dirty/clogged/fouled/caked/packed|fouled/clogged|mouse? leaves/debris/dirt/nest wheel/cage/impeller?|full "
     "leaves/debris/dirt",
     "{place} fouled"},
    {As::first,
     "filter/intake/air/airway/duct/vents blocked/clogged/plugged/restricted/dirty|blocked/clogged/plugged/restricted/"
     "dirty filter/intake/air/airway/duct/vents",
     "{place} blocked-air"},
    {As::first,
     "shorted/short turn/turns/winding/windings|turn/turns/winding/windings/coil shorted/short|shorted/short coil",
     "{place} coil shorted-turns; {place} shorted-turns"},
    {As::first, "short/shorted/shorting/touching case/housing", "{place} short-to-case; {place} chafe"},
    {As::first,
     "dead? short/shorts/shorted/shorting/touches/touching/rubbed/rubs/rubbing/chafed/chafes/chafing/pinched/grounded/"
     "leaking through? on? metal/exhaust/bracket/edge/engine|rubbed/chafed/worn/rubs/rubbing/chafing/pinched/"
     "skinned/bare through?|grounded/earthed/earthing out?",
     "{place} chafe; {place} short-to-case"},
    {As::first, "short/shorts/shorted/shorting/touches/touching power", "{place} short-to-30"},
    {As::first, "dead/hard short/shorted|dead-short", "{place} chafe; {place} short-to-case"},
    {As::first, "shorted/short/shorts/short-circuited/short-circuit circuit?",
     "{place} shorted; {place} diode shorted"},
    {As::either, "shorted/short/shorts/short-circuited/short-circuit circuit?",
     "{place} chafe; {place} short-to-30; {place} short-to-case; {place} shorted-turns; {place} coil shorted-turns"},
    {As::first,
     "contact/contacts/output/points? welded/fused contact/contacts/output/points? closed/shut/on/together?|"
     "contact/contacts/output/points? stuck/sticks/sticking/stays closed/shut/on/made/together/engaged",
     "{place} stuck closed; {place} welded; {place} full-on"},
    {As::first,
     "contact/contacts/output/points? stuck/stays open/off|contact/contacts/points? won't/doesn't/don't/not "
     "close/closing/make/making",
     "{place} stuck open; {place} contact open"},
    {As::either, "stuck/sticks/sticking/sticky",
     "{place} welded; {place} contact open; {place} stuck closed; {place} stuck open"},
    {As::first,
     "contact/contacts/points burnt/burned/pitted/dirty/worn/bad/poor/corroded/eroded/resistance "
     "out?|burnt/burned/pitted/"
     "dirty/worn/bad/poor/corroded/eroded contact/contacts/points|high? resistance contact/contacts/points",
     "{place} contact resistance; {place} resistance"},
    {As::first, "contact/contacts/points open/dead|no contact|open contact/contacts/points",
     "{place} contact open; {place} open"},
    {As::first,
     "coil/winding open/dead/burnt/burned/bad/gone/blown/broken/failed out?|open/dead/burnt/burned/bad/broken "
     "coil/winding|coil/winding no beep|no beep coil/winding",
     "{place} coil open; {place} open"},
    {As::either,
     "won't/doesn't/not/never pull/pulls/pulling/click/clicks/clicking/energise/energize/engage/engaging/operate "
     "in?|no "
     "click",
     "{place} coil open; {place} contact open"},
    {As::first, "stuck/jammed/sticks/sticking/seized/frozen/broken on/in/at? {position}|won't/doesn't leave {position}",
     "{place} stuck {position}"},
    {As::first,
     "burnt/burned/pitted/dirty/worn/corroded/melted/resistance on/in/at? {position} "
     "contact/terminal/position?|{position} "
     "contact/terminal/position? burnt/burned/pitted/dirty/worn/corroded/melted/resistance|contact {position} "
     "burnt/burned/pitted/dirty/worn/corroded/melted",
     "{place} contact {position} resistance"},
    {As::first,
     "{position} contact/terminal/position? dead/open/broken/gone/out/missing|contact {position} "
     "dead/broken/gone|dead/open/no/lost/missing on/in/at? {position} contact/terminal/position?|no contact on/in/at? "
     "{position}",
     "{place} contact {position} open"},
    {As::first,
     "pair coil? open/broken/burnt/blown out?|open/broken/burnt/blown coil? pair|coil pair open/broken/burnt/blown "
     "out?",
     "{place} coil {pair} open"},
    {As::joint,
     "burnt/burned/melted/overheated/charred/cooked/corroded/green/rusty/rust/rusted/dirty/poor/bad/loose/spread/slack "
     "fit/contact/connection/joint/pin/terminal/ground/earth/up?|bad/poor/loose/dirty "
     "connection/contact/joint/ground/earth/fit/pin/terminal|not tight|needs cleaning",
     "{place} resistance"},
    {As::first, "missing/absent/removed/pulled|not fitted/there/installed|no fuse", "{place} missing; {place} open"},
    {As::first, "blown/blew/blows/popped/pops/burnt/burned/melted/gone/tripped out/up/again?",
     "{place} blown; {place} open; {place} thermal-link open"},
    {As::first,
     "green/white/badly? "
     "corroded/corrosion/green/verdigris/crusty/oxidised/oxidized/resistive/hi-res|high/excessive/excess/too? "
     "resistance/ohms",
     "{place} resistance; {place} contact resistance"},
    {As::first,
     "backed/pushed/pulled/pushed-out/backed-out/popped out/back/pin/terminal? pin/terminal?|pin/terminal "
     "backed/pushed/pulled/popped/backed-out/pushed-out/loose out/back?|not seated/latched/home|unseated",
     "{place} pushed-out; {place} open"},
    {As::first,
     "open/broken/cut/severed/snapped/parted/disconnected/lost/detached/adrift/loose/torn "
     "circuit/circuited/through/off/"
     "out/completely?|no beep/connection/contact|not connected|came/come/fell/fallen/hanging/has/dropped "
     "off/adrift|break/lost/off/gone|break ground?|no ground|lost ground",
     "{place} open; {place} pushed-out"},
    {As::first, "weak/low/flat/discharged/tired/dying/drained/down|run down", "{place} weak"},
    {As::first, "not/no charging/charge|charging/charge dead/bad", "{place} not-charging"},
    {As::first,
     "full on|full/flat out/speed always/permanently?|stuck/always/runs full on/speed?|stuck on|shorted|on all time",
     "{place} full-on"},
    {As::first,
     "gives/sends/puts? no signal/output/command/control out?|no signal/output/command/control coming? "
     "out?|output/command/"
     "signal dead/missing/lost",
     "{place} no-command; {place} dead"},
    {As::first, "ignores/misses/doesn't/not see/seeing? command/signal", "{place} no-command-seen"},
    {As::first, "air? gap wide/big/large/worn/excessive/out|wide/big/large/worn/excessive air? gap", "{place} gap"},
    {As::first, "no/low/wrong pressure|pressure low/wrong/gone", "{place} pressure"},
    {As::either,
     "dead/bad/faulty/failed/defective/duff/shot/kaput/knackered/toast/broken/u/s|does/doesn't/won't/not "
     "nothing/work/working/run/running",
     "{place} dead; {place} blown; {place} open; {place} seized; {place} coil open; {place} contact open; {place} "
     "limiter "
     "open; {place} weak; {place} no-command"},
    // A number of ohms alone.
    {As::number, "", "{place} resistance"},
};

constexpr SpokenFault of_two_places[]{
    {As::first,
     "swapped/crossed/reversed/transposed/switched/exchanged/mixed/interchanged over/round/around/up?|wrong "
     "round/way/places|back front",
     "swapped {place} {other}"},
    {As::first,
     "short/shorted/shorts/shorting/touch/touches/touching/bridged/bridge/rubbed/rub/rubbing/melted/fused/chafed "
     "through? together/other/each/one? other/another?",
     "{place} bridge {other}"},
};

constexpr SpokenFault of_no_place[]{
    {As::first,
     "alternator/generator/charging/system not/no charging/charge|alternator/generator/charging "
     "dead/bad/failed/faulty/out/down|not/no charging/charge",
     "{battery} not-charging"},
    {As::either,
     "low on? gas/refrigerant/pressure/charge|gas/refrigerant/pressure low/gone/leaked out?|no/lost "
     "gas/refrigerant/pressure|"
     "undercharged|out gas/refrigerant",
     "{pressed}"},
    {As::first,
     "no fault/faults/problem/trouble found?|nothing wrong/found/faulty|all "
     "good/ok/fine/sound|nff|ntf|healthy|sound|fault "
     "free|not faulty",
     "nothing"},
};

constexpr std::string_view silent[]{
    "in",         "of",     "at",      "the",   "is",       "are",        "was",     "has",   "have",  "a",
    "an",         "to",     "from",    "and",   "its",      "it",         "it's",    "there", "with",  "too",
    "very",       "bit",    "circuit", "wire",  "wires",    "wiring",     "lead",    "cable", "got",   "my",
    "by",         "inside", "just",    "now",   "been",     "against",    "between", "for",   "value", "internal",
    "internally", "nearly", "almost",  "badly", "slightly", "completely", "totally", "both",  "each"};

}  // namespace

std::span<const SpokenFault> spoken_faults() {
    return of_one_place;
}
std::span<const SpokenFault> spoken_faults_of_two() {
    return of_two_places;
}
std::span<const SpokenFault> spoken_faults_of_none() {
    return of_no_place;
}

bool says_nothing_of_a_fault(std::string_view word) {
    return std::any_of(std::begin(silent), std::end(silent),
                       [&](std::string_view one) { return same_word(one, word); });
}

}  // namespace voltfall
