#include "netlists/phrases/vocabulary.hpp"

#include <algorithm>
#include <array>

#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

constexpr std::array<Saying, 4> relay{{
    {"clicks", "click|clicking|clicks in|pulls|pulls in|works|ok|fine|does click"},
    {"silent",
     "does not click|doesn't click|not clicking|no click|never clicks|won't pull in|will not pull in|won't "
     "click|dead|quiet|does nothing|does not pull|does not "
     "pull in|doesn't pull in|no sound|mute|doesn't energize|doesn't energise|does not energize|does not "
     "energise|won't energize|won't energise|not energizing|not energising|not pulling in|isn't pulling "
     "in|never pulls in|doesn't engage|won't engage"},
    {"pulled",
     "pulled in|energizes|energises|energizing|energising|engages|closed|energised|energized|made|stuck on|stays "
     "on|stays pulled|sticks|stuck closed|on"},
    {"released", "not pulled|not pulled in|open|off|de-energised|dropped|dropped out|drops out|stuck open"},
}};
constexpr std::array<Saying, 5> fuse{{
    {"good",
     "ok|okay|intact|whole|working|works|holds|held|fine|sound|not blown|not open|has continuity|tests fine|checks "
     "out"},
    {"blown", "blows|blew|burnt|burned|gone|popped|pops|open|melted|bad|has blown|burnt out|does not hold"},
    {"sometimes-blown",
     "sometimes blown|sometimes blows|blows sometimes|blown sometimes|keeps blowing|keeps popping|now and then blown"},
    {"tripped", "trips|has tripped"},
    {"missing",
     "is missing|not there|not in its seat|out of its socket|out of its seat|out of its holder|not seated|fell "
     "out|absent|seat empty|empty"},
}};
constexpr std::array<Saying, 4> test_lamp{{
    {"bright",
     "brightly|full|fully lit|lights fully|lights bright|lights brightly|bright light|comes on full|comes on "
     "bright|comes on brightly"},
    {"dim", "dimly|weak|faint|lights dimly|lights weakly|comes on dim|comes on dimly|glows|yellow|orange|half"},
    {"dark",
     "off|out|not lit|unlit|does not light|does not come on|doesn't come on|stays dark|doesn't light|no "
     "light|dead|nothing"},
    {"lit", "on|lights|lights up|light|comes on|glows fully"},
}};
constexpr std::array<Saying, 2> beep{{
    {"yes", "beeps|buzzes|sounds|continuity|closed|does"},
    {"no", "silent|quiet|does not beep|doesn't beep|no beep|no sound|no continuity|open"},
}};
constexpr std::array<Saying, 2> live{{
    {"live",
     "hot|powered|power|has power|good power|voltage|full voltage|battery voltage|full battery voltage|full "
     "power|battery "
     "volts|full volts|supply|supply voltage|system voltage"},
    {"dead", "not live|no power|no volts|no voltage|no battery voltage|no juice|not powered|has no power"},
}};
constexpr std::array<Saying, 3> air{{
    {"none", "no|nothing|no air|stopped"},
    {"weak", "low|poor|little|less|weakly|feeble|hardly any|half|reduced"},
    {"normal", "ok|okay|good|fine|full|strong|as usual"},
}};
constexpr std::array<Saying, 3> warmth{{
    {"cold", "cool|no warmer|not warm|stays cold|none"},
    {"warm", "hand warm|lukewarm|gets warm|a bit warm|a little warm"},
    {"hot",
     "gets hot|very hot|too hot|too hot to touch|too hot to hold|too warm to hold|too warm to touch|hot to "
     "touch|burning|burning hot|red hot|boiling|scorching"},
}};
constexpr std::array<Saying, 3> drag{
    {{"good", "ok|tight|firm|normal|fine"}, {"light", "weak|little|loose"}, {"none", "no|no drag|falls out"}}};
constexpr std::array<Saying, 3> ripple{
    {{"even", "regular|smooth"}, {"one-low", "one low"}, {"gaps", "gap|missing|uneven"}}};
constexpr std::array<Saying, 3> bus{
    {{"idle", "quiet|at rest"}, {"busy", "active|talking"}, {"dead", "no signal|nothing"}}};

constexpr std::array<Saying, 20> look{{
    {"melted", "melting|molten"},
    {"burnt",
     "burned|burn|charred|scorched|brown|discoloured|discolored|overheated|burned up|burnt up|burnt out|burned "
     "out|fried|cooked|toasted|crispy"},
    {"crust", "corroded|corrosion|verdigris|stuff|powder|crusty|oxidised|oxidized"},
    {"rubbed", "chafed|chafing|bare|rubbed through|worn through"},
    {"wet", "wet inside|damp|full of water|water|moist"},
    {"loose", "spread|loose fit|loose in holder|loose in its holder|loose in its seat"},
    {"debris", "leaves|dirt|dust|nest|dirty"},
    {"cracked", "broken|crack"},
    {"burst", "blackened"},
    {"slumped", "sagged"},
    {"whole", "intact"},
    {"hairline", "hairline crack"},
    {"rust", "rusty|rusted"},
    {"missing", "gone|not there"},
    {"blown", ""},
    {"clean", "clean and tight|tight and clean|tight|good|ok|fine|sound|normal|nothing"},
    {"pushed-out", "pushed out|backed out|backed-out|pushed back"},
    {"stiff", ""},
    {"turns-freely", "turns freely"},
    {"stuck", "seized|jammed"},
}};
constexpr std::array<std::string_view, 5> colours{"green", "white", "black", "blue", "dark"};
/// Words between, which alone say nothing of what was seen.
constexpr std::array<std::string_view, 14> links{"a",        "bit",     "little",     "very", "and",
                                                 "slightly", "with",    "looks",      "is",   "pin",
                                                 "terminal", "contact", "insulation", "cover"};
constexpr std::array<Saying, 3> by_hand{{
    {"turns-freely",
     "freely|free|easily|smoothly|turns freely|spins freely|turns easily|spins easily|turns free|turned "
     "freely|easy to turn|free to turn|spins by hand fine|turns by hand fine|by hand|turns by hand|spins by hand|spins "
     "free|spins freely by hand|turns free by hand"},
    {"stiff",
     "stiffly|stiff to turn|hard to turn|hard|rough|turns stiff|turns stiffly|turns hard|turns rough|tight|turns "
     "heavily|hard to spin|hard to spin by hand|hard to turn by hand|stiff by hand|tight to turn|binds"},
    {"stuck",
     "seized|jammed|locked|locked up|locked solid|seized up|frozen|won't budge|not at all|doesn't turn by hand|won't "
     "turn by hand|will not turn by hand|can't be turned|turns not at all|does not turn by hand|cannot be turned"},
}};
constexpr std::array<Saying, 5> key{{
    {"off", "out|removed"},
    {"acc", "accessory|accessories|radio"},
    {"on", "ignition"},
    {"run", "running|engine running|idle|idling"},
    {"start", "crank|cranking|starting"},
}};
constexpr std::array<Saying, 2> engine{{{"engine", ""}, {"ignition", "ign"}}};
constexpr std::array<Saying, 1> fillers{{{"with", "at|in|on|when|while|and|the|position|pos|speed|set|switch|then"}}};
constexpr std::array<Saying, 2> height{{{"hi", "high|highest|max|maximum|full"}, {"lo", "low|lowest|min|minimum"}}};
constexpr std::array<Saying, 1> metal{{{"metal", "ground|gnd|chassis|body|earth|frame"}}};

}  // namespace

Sayings relay_sayings() {
    return relay;
}
Sayings fuse_sayings() {
    return fuse;
}
Sayings test_lamp_sayings() {
    return test_lamp;
}
Sayings beep_sayings() {
    return beep;
}
Sayings live_sayings() {
    return live;
}
Sayings air_sayings() {
    return air;
}
Sayings warmth_sayings() {
    return warmth;
}
Sayings drag_sayings() {
    return drag;
}
Sayings ripple_sayings() {
    return ripple;
}
Sayings bus_sayings() {
    return bus;
}
Sayings look_sayings() {
    return look;
}
bool colours_a_look(std::string_view word) {
    return std::any_of(colours.begin(), colours.end(), [&](std::string_view w) { return same_word(w, word); });
}
bool links_a_look(std::string_view word) {
    return std::any_of(links.begin(), links.end(), [&](std::string_view w) { return same_word(w, word); });
}
Sayings by_hand_sayings() {
    return by_hand;
}
Sayings key_sayings() {
    return key;
}
Sayings engine_sayings() {
    return engine;
}
Sayings state_fillers() {
    return fillers;
}
Sayings height_sayings() {
    return height;
}
Sayings metal_sayings() {
    return metal;
}

}  // namespace voltfall
