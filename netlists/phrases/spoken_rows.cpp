#include "netlists/phrases/spoken_rows.hpp"

namespace voltfall {

namespace {

constexpr SpokenRow reading_rows[]{
    {Unit::none, SpokenAs::never,
     "bypass/bypassed/bypassing/jump/jumped/jumping/jumper/jumpered/bridge/bridged/bridging/short/shorted/defeat/"
     "defeated {guard} out? with? wire/jumper/lead/foil/nail?|bypass/bypassed/jump/jumped/jumper/jumpered/bridge/"
     "bridged/short/shorted {guard} and? it? {load}? runs/works/engages/turns/pulls/clicks/comes/came/kicks? "
     "in/on?|bypass/bypassed/jump/jumped/jumper/jumpered/bridge/bridged/short/shorted {guard} "
     "and? no change/difference|with? {guard} "
     "bypassed/jumped/jumpered/bridged/shorted out? it? {load}? runs/works/engages/turns/pulls/clicks/comes? in/on?",
     "{part}; {two 1}; {two 2}"},
    {Unit::none, SpokenAs::each,
     "{load} power and ground/earth but/and? will/does/is? won't/doesn't/not/dead/nothing "
     "run/work/turn/start/spin/engage/pull/move? "
     "in?|power and ground/earth at {load} but/and? will/does/is? won't/doesn't/not/dead/nothing "
     "run/work/turn/start/spin/engage/pull/move? in?",
     "{load+} to {battery-} live; {battery+} to {load-} live; {load} dead"},
    {Unit::none, SpokenAs::each, "{load} power and ground/earth|power and ground/earth at {load}",
     "{load+} to {battery-} live; {battery+} to {load-} live"},
    {Unit::none, SpokenAs::reading,
     "no/nothing/zero power/voltage/volts/juice/feed/output? coming? out/from of/from? {part} on/in/at "
     "{position}|no/nothing/zero power/voltage/volts/juice/feed/output? coming? out/from of/from? "
     "blower/fan/heater/speed? switch/selector/control on/in/at {position}|{part} no output on/in/at {position}",
     "{position} {position out} dead"},
    {Unit::volt, SpokenAs::reading,
     "at/on? {part} output/out on/in/at {position}|at/on? blower/fan/heater/speed? switch/selector/control output/out "
     "on/in/at {position}|coming? out/from of? blower/fan/heater/speed? switch/selector/control on/in/at {position}",
     "{position} {position out}"},
    // Whatever has opened in it, end to end it no longer conducts.
    {Unit::none, SpokenAs::reading,
     "{limited} thermal/overheat? limiter/link/cutout/cut-out/protector "
     "blown/open/gone/out/failed/tripped|thermal/overheat? limiter/link/cutout/cut-out/protector in/on/of/at {limited} "
     "blown/open/gone/out/failed/tripped|{limited} blown/open thermal limiter/link/cutout/cut-out/protector|{limited} "
     "tests/reads/measures? open",
     "{part ends} OL"},
    {Unit::none, SpokenAs::reading,
     "thermal/overheat limiter/link/cutout/cut-out/protector blown/open/gone/out/failed/tripped|blown/open/failed "
     "thermal limiter/link/cutout/cut-out/protector",
     "{limited ends} OL"},
    {Unit::none, SpokenAs::reading,
     "cabin/pollen/air/dust/cabin-air? air? filter clogged/blocked/dirty/full/plugged/choked|clogged/blocked/dirty/"
     "plugged/choked cabin/pollen/air/dust? filter",
     "air weak"},
    {Unit::none, SpokenAs::reading, "clicks/click/clicking|relay clicks/clicking", "relay {relay} clicks"},
    {Unit::none, SpokenAs::reading,
     "{point} hot/warm hold/touch|{point} red/burning/scorching/boiling/smoking hot|{point} hot as stove/hell/oven",
     "{point} rise hot"},
    {Unit::none, SpokenAs::reading,
     "{place} gets/runs? too? hot/warm hold/touch|{place} gets/runs? red/burning/scorching/boiling/smoking/very/too "
     "hot|{place} hot as stove/hell/oven",
     "{place} rise hot"},
    {Unit::none, SpokenAs::reading,
     "{part} gets/runs? too? hot/warm hold/touch|{part} gets/runs? red/burning/scorching/boiling/smoking/very/too "
     "hot|{part} hot as stove/hell/oven",
     "{part} rise hot"},
    {Unit::none, SpokenAs::reading, "{guard} closed/made", "beep {two points} yes"},
    {Unit::ohm, SpokenAs::reading,
     "{part} end/across end/ends?|{part} total/overall/whole/altogether|across/over whole? {part}", "{part ends}"},
    {Unit::pascal, SpokenAs::reading,
     "pressure static/resting/standing?|static/resting/standing/gas/refrigerant pressure|gauge/gauges", "gas pressure"},
    {Unit::none, SpokenAs::reading, "system/refrigerant empty|no gas/refrigerant", "gas pressure 0bar"},
    {Unit::pascal, SpokenAs::reading, "low side pressure?|pressure? at/on low side", "gas pressure low side"},
    {Unit::pascal, SpokenAs::reading, "high side pressure?|pressure? at/on high side", "gas pressure high side"},
    {Unit::percent, SpokenAs::reading, "command? duty cycle? at/on? command/cmd?|command|{point} duty cycle?",
     "{command} duty"},
    {Unit::volt, SpokenAs::reading,
     "at/on/across/between? {battery} running/idling|at/on/across/between posts "
     "running/idling",
     "key run {battery+} to {battery-}"},
    {Unit::none, SpokenAs::reading, "{relay} good|{relay} bench? tests/tested/checks good/ok/fine", "{part} good"},
    {Unit::none, SpokenAs::reading,
     "{load}? works/runs/ok/fine/good till/until it? warms/heats/gets/is? up/hot/warm?|{load}? dies/quits/stops "
     "when/once/as "
     "it? warms/heats/gets up/hot/warm?",
     "hot {it} dead"},
    {Unit::none, SpokenAs::reading,
     "{load}? works/runs/ran/worked/ok/fine/good for? about? {time} then/before/and? it? "
     "quits/quit/stops/stopped/dies/died/dead/nothing/off/cuts/cut/shuts out/off/down/working?",
     "after {time} {it} dead"},
    {Unit::none, SpokenAs::reading,
     "{load}? works/runs/ran/worked/ok/fine/good for? about? {time} then/before/and? it? slows/slow/slowed down?",
     "after {time} {it} slow"},
    {Unit::none, SpokenAs::reading,
     "{load}? squeals/squeal/squeaks/chirps/screeches/whines/grinds/rattles/noisy/growls at/on/during? "
     "start-up/startup|"
     "squeal/noise/squeak/chirp from? {load}? at/on/during start-up/startup|{load} makes/making/with? "
     "screeching/squealing/squeaking/grinding/whining/rattling/chirping/loud/bad noise/noises/sound",
     "{it} squeals"},
    {Unit::none, SpokenAs::either, "{load}? dead/slow/weak/nothing at/on/during start-up/startup",
     "key start {it} dead; {it} erratic; {it} slow"},
    {Unit::none, SpokenAs::reading,
     "{load}? cycles/cycling/cycled/clicks/clicking on? and? off? every? few? sec/secs/seconds/minute/minutes?|"
     "{load}? cycles/cycling rapidly/fast/quickly|{load}? short cycles/cycling|{load}? short-cycles",
     "{it} erratic"},
    {Unit::none, SpokenAs::reading,
     "{load}? clicks/pulls/engages/kicks/cuts in? then/and/but drops/kicks/cuts/lets out/off/go", "{it} erratic"},
    {Unit::none, SpokenAs::reading, "work/works/run/runs/working/running but/though slow/slowly/weak/weakly",
     "{it} slow"},
    {Unit::none, SpokenAs::each,
     "works/work/runs/run/ok/fine/good cold but/and/then? dead/nothing/quits/stops/dies/fails hot",
     "cold {it} normal; hot {it} dead"},
    {Unit::none, SpokenAs::each,
     "power/live/voltage/12v at/on/in 30 but/and? not/no/none/nothing power? at/on/out {point}",
     "{relay 30} live; {point} dead"},
    {Unit::none, SpokenAs::reading, "scope? gaps|gaps in/on ripple/scope/current/trace|ripple gaps",
     "ripple {it} gaps"},
    {Unit::none, SpokenAs::reading,
     "air none from/at/out? of? vents/outlets/ducts|no air/airflow from/at/out? of? vents/outlets/ducts?", "air none"},
    {Unit::none, SpokenAs::reading,
     "air/airflow weak/poor/low at/from/out? of? vents/outlets/ducts?|weak/poor/low/little air/airflow from/at/out? "
     "of? vents/outlets/ducts?",
     "air weak"},
    {Unit::none, SpokenAs::reading,
     "air/airflow good/ok/fine/strong at/from/out? of? vents/outlets/ducts?|good/strong air/airflow from/at/out? of? "
     "vents/outlets/ducts?",
     "air good"},
    {Unit::none, SpokenAs::each, "{load} only on/in/at? {position}", "{others} {load} dead; {position} {load} normal"},
    {Unit::none, SpokenAs::each,
     "{load} only/just works/work/runs/run/blows/turns/comes/spins on? in/at? {position}|{load} "
     "works/runs/blows/turns/comes "
     "on? only/just on/in/at {position}",
     "{others} {load} dead; {position} {load} normal"},
    {Unit::none, SpokenAs::reading, "{load} no/without/lost/missing {position}", "{position} {load} dead"},
    {Unit::none, SpokenAs::either,
     "{load}? stuck on/in/at? {position}|{load}? only runs at? {position} whatever/always",
     "{others} {it} fast; {others} {it} slow; look {it} stuck"},
    {Unit::none, SpokenAs::each, "both/all loads dead/inoperative/off/out", "{loads dead}"},
    {Unit::none, SpokenAs::each,
     "both/all fans/motors/blowers/pumps dead/inoperative/off/out|both/all fans/motors/blowers/pumps "
     "won't/don't/doesn't/not/do/does not? run/work/turn/start/come on?|no fans/motors",
     "{motors dead}"},
    {Unit::none, SpokenAs::each,
     "both/all lamps/bulbs dead/inoperative/off/out|both/all lamps/bulbs won't/don't/doesn't/not/do/does not? "
     "work/light/come on?",
     "{lamps dead}"},
    {Unit::none, SpokenAs::each, "both/all fans/motors/blowers/pumps run/runs/work/works/ok/fine/good/normal/running",
     "{motors normal}"},
    {Unit::none, SpokenAs::each,
     "lamp on/lights/lit/bright at/on? both/each sides/side/ends of? {two}|lamp both/each sides/side/ends of? {two} "
     "on/lights/lit/bright",
     "lamp {two 1} lit; lamp {two 2} lit"},
    {Unit::none, SpokenAs::each,
     "lamp on/lights/lit/bright at/on? one side of? {fuse}|lamp one side of? {fuse} only? on/lights/lit",
     "lamp {fuse in} lit; lamp {fuse out} dark"},
    {Unit::none, SpokenAs::reading, "{fuse} blows/blew/blown/pops/popped/goes/went on/in/at/with {position}",
     "fuse {fuse} blown at {position}"},
    {Unit::none, SpokenAs::reading, "{fuse} blows/blew/blown/pops/popped/goes/went at once on/in/at? {position}",
     "fuse {fuse} blown at {position} at once"},
    {Unit::none, SpokenAs::reading,
     "no/missing/lost/bad ground/earth at/to/on/for {load}|{load} no/lost ground/earth|ground/earth missing/lost "
     "at/to/on {load}",
     "{battery+} to {load-} dead"},
    {Unit::none, SpokenAs::reading,
     "good/ok/fine ground/earth at/to/on/for {load}|{load} good? ground/earth good/ok/fine?|ground/earth good/ok/fine? "
     "at/to/on {load}|ground/earth at/to/on/for {load} good/ok/fine",
     "{battery+} to {load-} live"},
    {Unit::none, SpokenAs::reading,
     "no/missing/lost ground/earth from? ecu/unit/module/panel/head/switch/computer? at/to/on/for {point}|{point} no "
     "ground/earth",
     "{battery+} to {point} dead"},
    {Unit::none, SpokenAs::reading,
     "good/ok/fine? ground/earth good/ok/fine? at/to/on/for {point}|{point} good? ground/earth|ground/earth "
     "at/to/on/for {point} good/ok/fine",
     "{battery+} to {point} live"},
    {Unit::none, SpokenAs::reading, "nothing/zero at/on {point}|{point} nothing/zero", "{point} dead"},
    {Unit::none, SpokenAs::reading,
     "no power/feed/supply/juice at/to/on/reaching/getting/for {load} connector/plug?|{load} no "
     "power/feed/supply/juice|no "
     "power/feed/supply/juice reaches/reaching {load}",
     "{load+} to {battery-} dead"},
    {Unit::none, SpokenAs::reading,
     "full/battery/good? power/feed/supply/juice/voltage at/to/on/reaching {load}|{load} full/battery/good? "
     "power/feed/supply/juice/voltage",
     "{load+} to {battery-} live"},
    {Unit::ampere, SpokenAs::reading,
     "{load}|{load} draw/draws/drawing/pull/pulls/pulling/take/takes/taking/use/uses/clamp/amps|clamp/draw of? "
     "{load}|at/through/into/for/by/in {load}|going/flowing into/through? {load}|clamp? draw of/at/by {load}",
     "clamp {load wire}"},
    {Unit::ampere, SpokenAs::reading,
     "wrong fuse in/at/fitted {fuse}|{fuse} wrong fuse/rating/size? fitted?|put in/into? {fuse}", "fuse {fuse} rating"},
    {Unit::ampere, SpokenAs::reading, "it? draw/draws/drawing/pull/pulls/pulling/take/takes/taking clamp?|clamp? draw",
     "clamp {it wire}"},
    {Unit::ampere, SpokenAs::reading, "{thing} carries/carrying/carried/draws", "clamp {place}"},
    {Unit::ampere, SpokenAs::reading, "inrush clamp/draw?|start-up/starting/startup clamp/draw",
     "clamp {it wire} inrush"},
    {Unit::ampere, SpokenAs::reading, "amps/amperes/current|amp? clamp", "clamp {it wire}"},
    {Unit::ampere, SpokenAs::reading,
     "clamp at/on/around? {load}? feed/power/supply/motor? wire/cable/lead|at/on/in/through feed/power/supply/motor "
     "wire/cable/lead",
     "clamp {it wire}"},
    {Unit::ampere, SpokenAs::either, "fuse|fuse fitted/in/there|fitted fuse|someone/somebody fitted/put/used fuse in?",
     "{fuses rating}"},
    {Unit::volt, SpokenAs::reading, "{battery} drops/sags/falls/dips/goes down?", "{battery+} to {battery-}"},
    {Unit::volt, SpokenAs::either, "across? ground/grounds drop/side?|drop/across at/on? ground/earth/grounds",
     "{grounds across}"},
    {Unit::volt, SpokenAs::reading, "{place} drops/drop/loses|lost/drop/drops across/over/at/in/on {place}",
     "across {place}"},
    {Unit::volt, SpokenAs::reading,
     "drop/across? on/at? ground/earth/return/negative side drop?|drop/across on/at? ground/return", "{it-}"},
    {Unit::volt, SpokenAs::reading,
     "drop? from/between? {load} ground/earth/negative/minus/neg/return side/terminal/pin/wire/lead? and? to? {point}",
     "{load-} to {point}"},
    {Unit::volt, SpokenAs::reading, "drop/across? on/at? feed/power/supply/positive/hot side", "{it+}"},
    {Unit::volt, SpokenAs::reading, "going/goes/coming? in/into/to/reaching {load}", "{load+}"},
    {Unit::volt, SpokenAs::reading, "going/goes/coming? out of? {load}", "{load-}"},
    {Unit::volt, SpokenAs::reading,
     "at/on? ground/earth/negative/minus/neg/return side/terminal/pin/wire? of/at/on? {load} to? "
     "ground/earth/chassis/body/metal/frame",
     "{load-} to 31"},
    {Unit::volt, SpokenAs::reading,
     "drop/across? at/on? ground/earth/negative/minus/neg/return side/terminal/pin/wire/lead? of/at/on/for? {load}",
     "{load-}"},
    {Unit::volt, SpokenAs::reading,
     "at/on/drop/across? {load} ground/earth/negative/minus/neg/return side/terminal/pin/wire/lead? drop?", "{load-}"},
    {Unit::ohm, SpokenAs::reading, "at? {load} ground/earth/return side/wire? to? ground/chassis/body?",
     "{load-} to 31"},
    {Unit::volt, SpokenAs::reading, "at/on? {relay} output/out", "{relay 87}"},
    {Unit::volt, SpokenAs::reading, "at/on? {relay} input/feed", "{relay 30}"},
    {Unit::volt, SpokenAs::each, "at/on? both/each sides/side/ends/end of? {relay}? coil", "{relay 85}; {relay 86}"},
    {Unit::volt, SpokenAs::reading,
     "at/on? feed/power/hot/live/positive/plus/pos/supply side/terminal/pin/wire/lead? of/at/on/for/to? {load}",
     "{load+}"},
    {Unit::volt, SpokenAs::reading,
     "at/on? {load} feed/power/hot/live/positive/plus/pos/supply side/terminal/pin/wire/lead?", "{load+}"},
    {Unit::volt, SpokenAs::reading, "going/goes? in/into/before {fuse}|{fuse} in/input", "{fuse in}"},
    {Unit::volt, SpokenAs::reading, "coming/comes/going/goes? out/after of? {fuse}|{fuse} out/output", "{fuse out}"},
    {Unit::volt, SpokenAs::either,
     "at/on/across/between? {battery} voltage/volts? with? engine/motor off/stopped|at/on/across/between? {battery} "
     "voltage/volts? with? engine not running",
     "key off {battery+} to {battery-}; key on {battery+} to {battery-}"},
    {Unit::volt, SpokenAs::reading, "system voltage", "{battery+} to {battery-}"},
    {Unit::volt, SpokenAs::reading,
     "at/on/across/between? {battery} voltage/volts/terminals/posts?|at/on/across/between posts",
     "{battery+} to {battery-}"},
    {Unit::volt, SpokenAs::reading,
     "charging/alternator voltage/volts/output?|charges at?|alternator puts/putting out?|charging system voltage?",
     "key run {battery+} to {battery-}"},
    {Unit::volt, SpokenAs::reading, "voltage/volts at/on/in/of {point}|{point} voltage", "{point}"},
    // A load, a fuse or a wire has two ends: which one is asked.
    {Unit::volt, SpokenAs::either, "voltage/volts? at/on/in/to/for {load}|{load} voltage/volts?",
     "{load+}; {load-}; {two points}"},
    {Unit::volt, SpokenAs::either, "voltage/volts? at/on/in/to/for {two}|{two} voltage/volts?", "{two 1}; {two 2}"},
    {Unit::volt, SpokenAs::either, "voltage/volts? at/on/in/to {thing}|{thing} voltage/volts?", "{wire 1}; {wire 2}"},
    {Unit::volt, SpokenAs::each, "at/on? both/each sides/side/ends of? {two}|{two} both/each sides/side/ends",
     "{two 1}; {two 2}"},
    {Unit::ohm, SpokenAs::reading,
     "{two}|across/through/of/in {two}|{two} coil/winding/resistance|resistance of/across/through {two} "
     "coil/winding?|coil/winding resistance? of? {two}",
     "{two points}"},
    {Unit::ohm, SpokenAs::reading,
     "{relay} coil resistance?|{relay} ohms/resistance out? at?|resistance? of? coil of? {relay}|resistance of {relay} "
     "coil|across? {relay} coil",
     "{relay coil}"},
    {Unit::ohm, SpokenAs::reading, "coil/winding resistance?|resistance of? coil/winding", "{it points}"},
    {Unit::none, SpokenAs::reading, "{relay} coil open|coil of? {relay} open|open coil in/on/at? {relay}",
     "{relay coil} open"},
    {Unit::none, SpokenAs::reading,
     "{two} coil/coils/winding/windings open|{two} reads? open|open coil/winding in {two}|open {two}",
     "{two points} open"},
    {Unit::none, SpokenAs::reading, "no beep/continuity through/across/in/of/on {two}|{two} no beep/continuity",
     "beep {two points} no"},
    {Unit::none, SpokenAs::reading, "good? beep/continuity through/across/in/of/on {two}|{two} beep/continuity",
     "beep {two points} yes"},
    {Unit::none, SpokenAs::each,
     "power/voltage/volts/live at/on? both/each sides/side/ends of? {two}|{two} power/live at/on? both/each "
     "sides/side/ends|both sides of? {two} live/hot|{two} good/ok/live/hot? at/on? both/each sides/side/ends|{fuse} "
     "live/hot/good/ok in and/& out|both/each sides/side/ends of? {two} good/ok?",
     "{two 1} live; {two 2} live"},
    {Unit::none, SpokenAs::each,
     "{fuse} live/hot/dead at/on one side only?|power/voltage/volts/live at/on one side of? {fuse} only?|{fuse} "
     "power/live at/on one side only?|power in/into "
     "at? "
     "{fuse} but/and/not/none/nothing no? not? nothing? out",
     "{fuse in} live; {fuse out} dead"},
    {Unit::none, SpokenAs::either, "no power/feed/supply/juice at/to/on {two}|{two} no power/feed/supply/juice",
     "{two 1} dead; {two 2} dead"},
    {Unit::none, SpokenAs::either, "power/feed/supply/juice at/to/on {two}", "{two 1} live; {two 2} live"},
    {Unit::none, SpokenAs::reading,
     "no power/feed/supply/juice at/to/on/across {relay} coil|{relay} coil no power/feed/supply/juice",
     "{relay coil} dead"},
    {Unit::none, SpokenAs::reading,
     "full/battery/good? power/voltage/supply/juice at/to/on/across {relay} coil|{relay} coil power/voltage",
     "{relay coil} live"},
    {Unit::none, SpokenAs::either, "no power/feed/supply/juice at/to/on {relay}|{relay} no power/feed/supply/juice",
     "{relay 30} dead; {relay 86} dead"},
    {Unit::none, SpokenAs::each,
     "all/both fuses good/ok/okay/fine/intact/checked|fuses all? good/ok/okay/fine/intact|checked all fuses",
     "{fuses good}"},
    {Unit::none, SpokenAs::reading,
     "new/replaced/renewed/changed/fitted new? {fuse} and? it? blew/blows/blown/pops/popped/went at once|put in? new "
     "{fuse} in? "
     "and? it? blew/blows/blown/pops/popped/went at once",
     "new {fuse} fuse {fuse} blown at once"},
    {Unit::none, SpokenAs::reading,
     "{fuse} blown/blew/popped and? replaced/renewed/changed it? and? blew/blows/blown/pops/popped/went again? at once",
     "new {fuse} fuse {fuse} blown at once"},
    {Unit::none, SpokenAs::reading,
     "{fuse} blown/blew/popped and? replaced/renewed/changed it? and? blew/blows/blown/pops/popped/went again?",
     "new {fuse} fuse {fuse} blown"},
    {Unit::none, SpokenAs::reading, "new/replaced/renewed/changed/fitted new? {fuse} and? it? holds/held/ok/good/fine",
     "new {fuse} fuse {fuse} good"},
    {Unit::none, SpokenAs::reading,
     "new/replaced/renewed/changed/fitted new? {fuse} and? it? blew/blows/blown/pops/popped/went|put in? new {fuse} "
     "in? and? it? "
     "blew/blows/blown/pops/popped/went",
     "new {fuse} fuse {fuse} blown"},
    {Unit::none, SpokenAs::either, "new fuse blew/blows/blown/pops/popped/went at once", "{new fuses blown at once}"},
    {Unit::none, SpokenAs::either, "new fuse blew/blows/blown/pops/popped/went", "{new fuses blown}"},
    {Unit::none, SpokenAs::either,
     "no change/difference|no change with new? {part}|makes/made no difference|same|and? nothing "
     "changed/changes/different",
     "{it} dead; {it} slow; {it} normal"},
    {Unit::none, SpokenAs::either,
     "swapped/replaced/changed {part} no change/difference|swapped/replaced/changed {part} and? same|new {part} and? "
     "same "
     "result?|new {part} no "
     "change/difference|new {part} did/does? not/didn't/doesn't/no help/fix/cure/change/good it/anything/thing?",
     "new {part} {it} dead; new {part} {it} slow"},
};

}  // namespace

std::span<const SpokenRow> spoken_readings() {
    return reading_rows;
}

}  // namespace voltfall
