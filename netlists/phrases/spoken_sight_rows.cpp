// What is seen, smelt, felt or heard, and what came of something that was done.
#include "netlists/phrases/spoken_rows.hpp"

namespace voltfall {

namespace {

constexpr SpokenRow rows[]{
    {Unit::none, SpokenAs::reading,
     "{load} runs/stays/running on? all? time/always? even? when/with/while? switch/switched/turned off",
     "off {load} runs"},
    {Unit::none, SpokenAs::reading, "{load} blade/blades/wheel/impeller/cage/rotor/pulley stuck/jammed/seized",
     "look {load} stuck"},
    {Unit::none, SpokenAs::either,
     "no ground/earth signal? at/to/on? {relay}? from/by control/ecu/module unit/module?|control/ecu/module unit? not "
     "grounding/earthing {relay}?|control/ecu/module unit? doesn't/does/won't not? ground/earth {relay}?",
     "{battery+} to {relay 85} dead; {battery+} to {relay 86} dead"},
    {Unit::none, SpokenAs::reading,
     "can? hear {relay} click/clicking/clicks?|{relay} feels click|feel/felt/heard {relay} "
     "click/clicking/clicks?|click "
     "from/at/in {relay}",
     "relay {relay} clicks"},
    {Unit::none, SpokenAs::reading,
     "can't/cannot/don't/didn't/not hear/feel {relay} click/clicking?|{relay} does/did/do? not/doesn't/didn't/won't "
     "click/clicking/pull/pulls in?|no click/sound from/at/in/of/out of? {relay}",
     "relay {relay} silent"},
    {Unit::none, SpokenAs::reading,
     "burning/burnt/hot? plastic/rubber/electrical/insulation? smell from/at/of/in {place}|{place} smells "
     "burnt/hot/burning?|smell of burning from/at/in "
     "{place}|smell/smells burnt/burning at/from {place}",
     "smell {place}"},
    {Unit::none, SpokenAs::reading, "burning/burnt/hot smell from/at/of/in {load}|{load} smells burnt/hot/burning?",
     "smell {load}"},
    {Unit::none, SpokenAs::reading, "smoke from/out of? {place}|{place} smokes/smoked/smoking", "smoke {place}"},
    {Unit::none, SpokenAs::reading, "smoke from/out of? {load}|{load} smokes/smoked/smoking", "smoke {load}"},
    {Unit::none, SpokenAs::either,
     "{thing} feels? hot/warm to? touch?|{thing} runs/running hot/warm|{thing} too hot/warm|{thing} getting/goes "
     "hot/warm",
     "{place} temp 60C; {place} rise 40C"},
    {Unit::none, SpokenAs::either,
     "{part} feels/felt? too? hot/warm to? touch?|{part} runs/running/getting/goes hot/warm",
     "{part} temp 60C; {part} rise 40C"},
    {Unit::none, SpokenAs::each,
     "only {position} works/runs|{position} ok/works/good/fine/only all? rest/others dead/out/nothing/off|{position} "
     "only "
     "works/runs?|{load} only works/runs? on/in/at {position}|{load} "
     "works/runs "
     "on/in/at {position} only|{load} works/runs only on/in/at {position}|works/runs on/in/at {position} only|only "
     "works/runs on/in/at {position}|works/runs only on/in/at {position}|{load}? only {position}|nothing/lost/dead "
     "all? but/except {position}",
     "{others} {it} dead; {position} {it} normal"},
    {Unit::none, SpokenAs::reading, "no/lost/missing {position}|{position} missing/lost/gone/inoperative",
     "{position} {it} dead"},
    {Unit::none, SpokenAs::each, "only/lost {position} dead/out/lost/gone/missing/inoperative",
     "{others} {it} normal; {position} {it} dead"},
    {Unit::none, SpokenAs::reading, "no/missing fuse in/at/from {fuse}|fuse missing in/at/from {fuse}",
     "fuse {fuse} missing"},
    {Unit::none, SpokenAs::reading, "nothing wrong/bad with/at/on/in? {place}|{place} nothing wrong/bad",
     "look {place} clean"},
    {Unit::none, SpokenAs::reading,
     "keeps/keep blowing/popping {fuse}|{fuse} blew/blows/blown/popped twice/again/repeatedly/often|blew/blows/popped "
     "{fuse} twice/again/repeatedly/often",
     "fuse {fuse} sometimes-blown"},
    {Unit::none, SpokenAs::reading, "blows/blew/blowing/pops/popped/popping {fuse}", "fuse {fuse} blown"},
    {Unit::none, SpokenAs::either, "fuse/fuses keeps/keep blowing/popping|keeps/keep blowing/popping fuse/fuses",
     "{fuses sometimes-blown}"},
    {Unit::none, SpokenAs::either,
     "fuse/fuses blows/blow/blew/blown/blowing/pops/pop/popped/popping/goes/went/gone|blows/blew/blowing/pops/popped/"
     "popping fuse/fuses|blown/popped/burnt/burned fuse",
     "{fuses blown}"},
    {Unit::none, SpokenAs::either, "no/lost/bad ground/earth at/on/to/for {relay}|{relay} no ground/earth",
     "{battery+} to {relay 85} dead; {battery+} to {relay 86} dead"},
    {Unit::none, SpokenAs::reading,
     "{load} full/max/maximum/top/high speed? all/every time/speeds/positions|{load} always full/max/maximum/top/high "
     "speed?|{load} always runs/run/blows full/max/maximum/top/high speed?",
     "{lower} {load} fast"},
    {Unit::none, SpokenAs::reading,
     "{load} bearing/bearings noisy/noise/squeals/squeal/squeaks/dry/rough/howl/howls/whine/whines", "{load} squeals"},
    {Unit::none, SpokenAs::reading, "{load} shaft/armature tight/stiff/heavy/rough", "look {load} stiff"},
    {Unit::none, SpokenAs::reading, "no {load} at? all?", "{load} dead"},
    {Unit::none, SpokenAs::reading, "nothing works/happens/runs/moves|everything/all dead/out", "{it} dead"},
    {Unit::none, SpokenAs::each,
     "power/feed/supply/juice in/into/to/at at? {relay} but/and? not/no/none/nothing out/through?|{relay} "
     "power/feed/supply/juice? in but/and? not/no/none/nothing out",
     "{relay 30} live; {relay 87} dead"},
    {Unit::none, SpokenAs::reading,
     "{load} hums/hum/humming/buzzes/buzzing but/and? does/do/will/is? won't/doesn't/not/can't/cannot "
     "turn/run/spin/start/move",
     "{load} hums"},
    {Unit::none, SpokenAs::reading,
     "{load} works/runs/goes/comes? off/on/in and on/off/out|{load} works/runs now/sometimes and then/not",
     "{load} intermittent"},
    {Unit::none, SpokenAs::reading, "{load} won't/doesn't/not/can't/cannot pull/pulls/pulling in", "{load} dead"},
    {Unit::none, SpokenAs::reading,
     "mouse/mice/bird? leaves/leaf/debris/rubbish/paper/nest/nests in/inside/on {load}|{load} full/packed/blocked "
     "of/with "
     "leaves/debris/rubbish/paper/dirt",
     "look {load} debris"},
    {Unit::none, SpokenAs::reading, "water in/inside/on {load}|{load} full of water", "look {load} wet"},
    {Unit::none, SpokenAs::reading, "water in/inside/on {place}", "look {place} wet"},
    {Unit::none, SpokenAs::reading,
     "{part} socket/holder/seat/terminal/terminals melted|melted {part} socket/holder/seat/terminal/terminals",
     "look {part} melted"},
    {Unit::none, SpokenAs::reading,
     "{part} socket/holder/seat/terminal/terminals burnt/burned|burnt/burned {part} "
     "socket/holder/seat/terminal/terminals",
     "look {part} burnt"},
    {Unit::none, SpokenAs::either, "bad/poor ground/earth at/on? {place}|{place} bad/poor ground/earth",
     "across {place} 0.3V; look {place} rust; look {place} loose"},
    {Unit::none, SpokenAs::reading,
     "no speeds/speed|no speed at all|no {load} at all? on/in/at? any/all/every/each speed/speeds/position/positions",
     "{every} {it} dead"},
    {Unit::none, SpokenAs::reading,
     "lamp clipped/hooked/connected? {battery} plus/positive on/lights/lit/bright at/on {point}",
     "lamp {battery+} to {point} lit"},
    {Unit::none, SpokenAs::reading,
     "light/bulb on/lights/lit at/on {point}|test light/lamp/bulb on/lights/lit at/on {point}|tester lights/lit at/on "
     "{point}",
     "lamp {point} lit"},
    {Unit::none, SpokenAs::reading,
     "no light at/on {point}|light/bulb off/dark at {point}|test light/lamp/bulb off/dark at/on {point}|test? "
     "light/lamp/bulb/tester doesn't/won't/didn't light at/on {point}|test? light/lamp/bulb/tester does/did/will not "
     "light at/on {point}",
     "lamp {point} dark"},
    {Unit::none, SpokenAs::reading,
     "{load} works/runs/ran/good on bench|{load} works/runs/ran on/off/from battery of its? own|{load} works/runs/ran "
     "on/off/from its? own battery|{load} bench tested/tests/checked/checks? good/ok/fine",
     "{load} good"},
    {Unit::none, SpokenAs::either,
     "{load} works/runs/turns straight/direct/directly off/from/on battery|{load} works/runs/turns when? "
     "fed/jumped/jumpered "
     "direct/directly?|{load} works/runs/turns when/if/once? jump/jumper/feed/wire/hook it? up? "
     "straight/direct/directly? "
     "from/off/on/to? {battery}?|{load} works/runs/turns with/on? jumper/fused "
     "wire/lead? from/off/on/to? {battery}?|fed 12v/24v/power? direct/directly/straight? to? {load} and? "
     "it? runs/works/turns/spins/engages/clicks fine/ok/well/good?|jump/jumped/jumpered/hooked/wired/fed/powered/"
     "hotwired/ran/connected up? {load} direct/directly/straight/up? from/off/on/with? {battery}? and/now? it? {load}? "
     "runs/run/works/work/turns/spins/engages/ok/fine/good/fast "
     "fine/ok/well/good?|jump/jumped/jumpered/hooked/wired/fed/"
     "powered/hotwired/connected up? direct/directly/straight from/off/on/with? {battery}? and/now? it? {load} "
     "runs/run/works/work/turns/spins/engages/ok/fine/good/fast fine/ok/well/good?",
     "feed {load+} {load} normal; feed {load+}, jumper {load-} to {battery-} {load} normal"},
};

}  // namespace

std::span<const SpokenRow> spoken_sights() {
    return rows;
}

}  // namespace voltfall
