// Tests as they are asked for: what is to be measured or looked at.
#include "netlists/phrases/spoken_rows.hpp"

namespace voltfall {

namespace {

constexpr SpokenRow tests[]{
    {Unit::none, SpokenAs::reading, "power/voltage/volts/supply/juice at/on/across/to {relay} coil", "{relay coil}"},
    {Unit::none, SpokenAs::reading, "gas? pressure at/on/of? low side|low side pressure", "gas pressure low side"},
    {Unit::none, SpokenAs::reading, "gas? pressure at/on/of? high side|high side pressure", "gas pressure high side"},
    {Unit::none, SpokenAs::reading, "gas/system/refrigerant? pressure", "gas pressure"},
    {Unit::none, SpokenAs::reading, "{load} by hand|turn/spin/rotate {load} by? hand?", "look {load}"},
    {Unit::none, SpokenAs::reading, "{load} run/running/work/working/turn/turning/come/coming on?", "{load}"},
    {Unit::none, SpokenAs::reading,
     "power/voltage/volts/supply/feed/juice at/on/in/to {point}|{point} power/voltage/volts", "{point}"},
    {Unit::none, SpokenAs::reading, "good? ground/earth at/on/to/for {point}", "{battery+} to {point}"},
    {Unit::none, SpokenAs::reading, "good? ground/earth at/on/to/for {load}", "{battery+} to {load-}"},
    {Unit::none, SpokenAs::reading,
     "power/voltage/volts/supply/juice across/at/on/in/to/over {load}|{load} power/voltage/volts", "{two points}"},
    {Unit::none, SpokenAs::reading, "clamp/amps/draw of/in/at/for/through? {load}|{load} clamp/amps/draw",
     "clamp {load wire}"},
    {Unit::none, SpokenAs::reading,
     "ohms/resistance of/across/in/at/on? {two} coil/winding?|{two} ohms/resistance|ohms/resistance? coil/winding of? "
     "{two}|{two} coil/winding ohms/resistance?",
     "ohms {two points}"},
    {Unit::none, SpokenAs::reading,
     "ohms/resistance? of? {relay} coil|{relay} coil ohms/resistance?|ohms/resistance? of? coil of? {relay}",
     "ohms {relay coil}"},
    {Unit::none, SpokenAs::reading, "at/on? ground/earth/negative/minus/return side/terminal/pin of/at/on? {load}",
     "{load-}"},
    {Unit::none, SpokenAs::reading,
     "at/on? feed/power/hot/live/positive/plus/supply side/terminal/pin of/at/on? {load}", "{load+}"},
    {Unit::none, SpokenAs::reading, "{relay} click/clicks/clicking?|for? {relay} click/clicks/clicking?",
     "relay {relay}"},
};

}  // namespace

std::span<const SpokenRow> spoken_tests() {
    return tests;
}

}  // namespace voltfall
