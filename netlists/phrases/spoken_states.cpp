#include "netlists/phrases/spoken_rows.hpp"

namespace voltfall {

namespace {

constexpr SpokenState state_rows[]{
    {"over/on/hits/hitting speed? bump/bumps/potholes|on/over rough/bumpy road/roads|when/while hit/hits/hitting "
     "bump/bumps/potholes",
     "bump"},
    {"bump/bumps/bumped/hit/hits/smack/smacked/slap/slapped/thump/thumped/bang/banged/kick/kicked/whack/whacked on? "
     "dash/dashboard/console/floor/fender/body/roof/cab/panel and? it?|when/while/by? "
     "hitting/bumping/smacking/thumping/kicking dash/dashboard/console/floor/fender/body/roof/cab/panel",
     "bump"},
    {"when/after/if/once/with/by you/we/i? "
     "tap/taps/tapped/tapping/hit/hits/hitting/bang/banged/banging/knock/knocked/knocking/"
     "thump/thumped on? {part}",
     "tap {part}"},
    {"when/if/once {part} tapped/hit/banged/knocked/thumped", "tap {part}"},
    {"when/after/if/once/with/by you/we/i? "
     "tap/taps/tapped/tapping/hit/hits/hitting/bang/banged/banging/knock/knocked/knocking/"
     "thump/thumped on? it? with? hammer/stick/wrench/mallet/screwdriver/handle/hand?",
     "tap {it}"},
    {"tap/tapped/hit/bang/banged/knock/knocked/thump/thumped on? {part} with? "
     "hammer/stick/wrench/mallet/screwdriver/hand? handle/shaft? and? it?",
     "tap {part}"},
    {"tap/tapped/hit/bang/banged/knock/knocked/thump/thumped on? it and it?", "tap {it}"},
    {"when/after/if/once spin/spun/turn/turned/push/pushed/flick/flicked {part} by? hand?", "turn {part}"},
    {"when/after/if/once/with push/pushed/spin/spun/flick/flicked it? by? hand?|when/after/if/once/with turn/turned "
     "it? "
     "by hand",
     "turn {it}"},
    {"when/while/if/as/after/by wiggle/wiggled/wiggling/move/moved/moving/shake/shaking/shaken/flex/flexing "
     "{place} makes/made/causes? it?|when/while/if {place} wiggled/moved/shaken/flexed|wiggling/shaking/flexing "
     "{place} makes/made/causes? it?",
     "wiggle {place}"},
    // Whole sentences about all positions but one, in the one way that the readings below know.
    {"lost/no? {load}? on/in/at? all/every/any/each/other? speed/speeds/position/positions/setting/settings "
     "lost/dead/out/gone/missing/inoperative? but/except/besides for? {position} "
     "lost/dead/out/gone/missing/inoperative?|all/everything but/except/besides for? {position} "
     "lost/dead/out/gone/missing/inoperative|nothing/none but/except/besides for? {position} "
     "works/work/runs/run|lost/no? all/every but/except {position} speed/position? "
     "lost/dead/out/gone/missing/inoperative",
     "lost all but {position}"},
    {"all/every/each speed/speeds/position/positions/setting/settings work/works/working/ok/okay/good/fine/run/runs "
     "but/except/besides for? {position}|all/everything/every/each/any "
     "speed/speeds/position/positions/setting/settings? "
     "but/except/besides for? {position} work/works/working/ok/okay/good/fine/run/runs",
     "only {position} dead"},
    {"on/in/at? all/every/any/each/both two/three/four/five/2/3/4/5? speed/speeds/position/positions/setting/settings",
     "{every}"},
    {"{part} replaced/swapped/changed/renewed/exchanged with/for/from "
     "horn/spare/another/other/identical/same/good/new relay/fuse/one/motor/switch/part? and? it?",
     "new {part}"},
    {"if/when/once/with/by i/you/we? ground/grounding/grounded/earth/earthing/earthed {point}",
     "jumper {point} to {battery-}"},
    {"as soon as key turned/comes/goes/is on|when/once key turned/comes/goes/is on", "key on"},
    {"{point} grounded/earthed by? hand? and? it?|grounded/grounding/earthed/earthing {point} and? it?|with {point} "
     "grounded/earthed",
     "jumper {point} to {battery-}"},
    {"plug/connector? {plug} off/apart/disconnected/unplugged/undone", "unplug {place}"},
    {"with {fuse} out/pulled/removed|{fuse} pulled/removed", "pull {fuse}"},
    {"cleaned/remade/redid/retightened/tightened up? {place} and? it?|{place} cleaned/remade/redone/tightened up? and? "
     "it?",
     "new {place}"},
    {"when/if/once? i/you/we? jumped/jumpered/jumper/jump/bypass/bridge/bypassed/bridged/jumping/bypassing {relay} "
     "and? "
     "it?|with? {relay} jumped/jumpered/bypassed/bridged",
     "jumper {relay contact}"},
    {"when/once/after/if it? warm/warms/warmed/warming up?|once/when it? hot|gets hot", "hot"},
    {"in/after rain|when raining|when it rains|after/in car? wash/washing", "wet"},
    {"with? {place} unplugged/disconnected|unplugged/disconnected {place} and? it?|with {place} off", "unplug {place}"},
    {"with? {part} unplugged/disconnected|unplugged/disconnected {part} and? it?", "unplug {part}"},
    {"with? plug/plugs/connector/connectors off/unplugged/disconnected|with? it? unplugged/disconnected",
     "unplug {named plug}"},
    {"when/once/with/if press/pressed/push/pushed {position} button?|when/once/with/if {position} button/switch "
     "pressed/pushed/on",
     "{position}"},
    {"swapped/tried/fitted in/on? new/good/another {part} and? it?", "new {part}"},
    {"when/while? cranking|while starting engine?", "key start"},
    {"when/while/if/as/once/whenever you/we? start/starting/started/crank/cranked "
     "car/vehicle/engine/bus/van/truck/bookmobile|when/while/if/as/once/whenever car/vehicle/engine/bus/van/truck "
     "starts/started/starting/cranks/cranking|at/on/during/in engine/cranking "
     "start/starting/cranking/start-up/startup?",
     "key start"},
    {"from cold|when/while it? cold|once/when/after/if/until it? cooled/cools/cool down/off?|after cooling down/off?",
     "cold"},
    {"after/once turn/turning/turned? key turned? off|after shut-off/shutdown|with? key out", "key off"},
    {"replaced/swapped/changed/renewed/exchanged/tried ac/fan/blower/main? {part} with/for/from "
     "horn/wiper/headlight/headlamp/light/fan/pump/defrost/spare/another/other/identical/same/neighbouring/next/good/"
     "new "
     "relay/fuse/one/motor/switch? {part}? and? now? it?",
     "new {part}"},
    {"replaced/swapped/changed/renewed {part} with/for? known? good? one/part/unit|replaced/swapped/changed/renewed "
     "{part} and? now? it?|{part} replaced/swapped/changed/renewed|new {part} fitted/installed|fitted/installed new "
     "{part}",
     "new {part}"},
    {"wiggle/wiggled/wiggling/move/moved/moving/shake/shaking harness/wires/wire/wiring/plug/connector? at/on/near? "
     "{place} "
     "and? it?",
     "wiggle {place}"},
    {"when/if turn/turned/switch/switched/go/put/select/selected it? on/in? {position}|as/so soon as you/we? "
     "turn/turned/switch/switched/go/goes/put/select/selected it? on/in? {position}",
     "at {position}"},
    {"right/straight away|immediately|instantly|as/so soon as you/we? it? "
     "turn/turned/switch/switched/goes/hit/put/select/selected/get? it? "
     "on?|moment/when "
     "it? turn/turned/switch/switched it? on",
     "at once"},
    // Says no more than that it was switched on.
    {"every/each time you/we? turn/turned/switch/switched/put it? on|whenever you/we? turn/turned/switch/switched/put "
     "it? on|every/each time it? turned/switched/put on|every/each time it? goes/comes on|whenever it? "
     "turned/switched/goes/comes on",
     ""},
    {"every? now and then|once in while|from time to time", "sometimes"},
    // A few minutes are five (ASSUMED): what warms in a minute has warmed, what takes an hour has not.
    {"after/for few/some/couple of? minutes/mins/min", "after 5min"},
    {"one/an hour", "60min"},
    {"one/a minute", "1min"},
    {"two minutes", "2min"},
    {"five minutes", "5min"},
    {"ten minutes", "10min"},
    {"half hour", "30min"},
};

}  // namespace

std::span<const SpokenState> spoken_states() {
    return state_rows;
}

}  // namespace voltfall
