// Slips in the line of a part: its kind, its terminal, its figures, what stands behind a word.
#include "tests/files/bad_file.hpp"

namespace voltfall::testing {

namespace {

using enum SoundFile;

// clang-format off
constexpr BadFile rows[] = {
    {circuit, "H1   = \"head C: still=94% gentle=50% full=10%\"", "H1   = \"head\"", "'H1' needs at least two positions"},
    {circuit, "I1   = \"key: off acc=75 on=75+15 start=15+50\"", "I1   = \"key\"", "'I1' needs at least two positions"},
    {circuit, "S1   = \"switch C: off lo=1 ml=2 mh=3 hi=4\"", "S1   = \"switch off lo=1 ml=2 mh=3 hi=4\"", "'S1' must name its common terminal with a colon before the positions"},
    {circuit, "S1   = \"switch C: off lo=1 ml=2 mh=3 hi=4\"", "S1   = \"switch\"", "'S1' must name its common terminal with a colon before the positions"},
    {circuit, "S1   = \"switch C: off lo=1 ml=2 mh=3 hi=4\"", "S1   = \"switch lo=1 ml=2 mh=3 hi=4\"", "'S1' must name its common terminal with a colon before the positions"},
    {circuit, "S1   = \"switch C: off lo=1 ml=2 mh=3 hi=4\"", "S1   = \"switch opens 3bar\"", "'S1' must name its common terminal with a colon before the positions"},
    {circuit, "S1   = \"switch C: off lo=1 ml=2 mh=3 hi=4\"", "S1   = \"switch closes 3bar\"", "'S1' must name its common terminal with a colon before the positions"},
    {circuit, "S1   = \"switch C: off lo=1 ml=2 mh=3 hi=4\"", "S1   = \"switch normally open\"", "'S1' must name its common terminal with a colon before the positions"},
    {circuit, "S1   = \"switch C: off lo=1 ml=2 mh=3 hi=4\"", "S1   = \"switch 3bar\"", "'S1' is moved by 3bar, not by a hand"},
    {circuit, "S1   = \"switch C: off lo=1 ml=2 mh=3 hi=4\"", "S1   = \"switch 95C\"", "'S1' is moved by 95C, not by a hand"},
    {circuit, "S1   = \"switch C: off lo=1 ml=2 mh=3 hi=4\"", "S1   = \"switch 5A\"", "'S1' must name its common terminal with a colon before the positions"},
    {circuit, "S1   = \"switch C: off lo=1 ml=2 mh=3 hi=4\"", "S1   = \"switch C: off lo=1 lo=2\"", "position 'lo' of 'S1' stands twice"},
    {circuit, "FL1  = \"link 16AWG 0.2m\"", "FL1  = \"link 0.2m\"", "'FL1' is a link without area (mm2 or AWG)"},
    {circuit, "FL1  = \"link 16AWG 0.2m\"", "FL1  = \"link\"", "'FL1' is a link without area (mm2 or AWG)"},
    {circuit, "Z1   = \"module pwm 400Hz, command 7%-94% inverse, pulls up\"", "Z1   = \"module pwm 400Hz, side left, command 7%-94%\"", "'side left' is neither high nor low"},
    {circuit, "Z1   = \"module pwm 400Hz, command 7%-94% inverse, pulls up\"", "Z1   = \"module pwm 400Hz, command 7%-94%, pulls sideways\"", "'pulls sideways' is neither up nor down"},
    {circuit, "Z1   = \"module pwm 400Hz, command 7%-94% inverse, pulls up\"", "Z1   = \"module pwm 400Hz, command 7%-94%, pulls\"", "'pulls' of 'Z1' has nothing behind it"},
    {circuit, "Z1   = \"module pwm 400Hz, command 7%-94% inverse, pulls up\"", "Z1   = \"module pwm 400Hz, command 94%-7%\"", "'94%-7%': the command of 'Z1' ends below where it begins"},
    {circuit, "Z1   = \"module pwm 400Hz, command 7%-94% inverse, pulls up\"", "Z1   = \"module linear 100W, command 7%-94%\"", "'Z1': 100W without the temperature at which it folds back"},
    {circuit, "Z1   = \"module pwm 400Hz, command 7%-94% inverse, pulls up\"", "Z1   = \"module linear 100W, folds, command 1V-5V\"", "'folds' has no figure behind it; expected fold-back in C"},
    {circuit, "Z1   = \"module pwm 400Hz, command 7%-94% inverse, pulls up\"", "Z1   = \"module\"", "'Z1' must say how it controls: linear or pwm"},
    {circuit, "limiter 121C at 4\"", "limiter 121C at\"", "no tap stands behind 'at' in 'R1'"},
    {circuit, "pack 1 1.2ohm 2", "pack 1 -1.2ohm 2", "'-1.2ohm' must not be below zero"},
    {circuit, "pack 1 1.2ohm 2", "pack 1 1.2ohm 1", "tap '1' of 'R1' stands twice"},
    {circuit, "M1   = \"motor 20A @13.5V, 3500rpm", "M1   = \"motor 20A @, 3500rpm", "'@' has no volts behind it"},
    {circuit, "M1   = \"motor 20A @13.5V, 3500rpm", "M1   = \"motor 20A @ 3500rpm", "'@' has no volts behind it"},
    {circuit, "M1   = \"motor 20A @13.5V, 3500rpm", "M1   = \"motor 20A 25A @13.5V, 3500rpm", "'25A' is not understood in the line of 'M1', a motor"},
    {circuit, "stall 80A, idle 2A", "stall, idle 2A", "'stall' has no figure behind it; expected stall amps in A"},
    {circuit, "stall 80A, idle 2A", "stall idle 2A", "'stall' has no figure behind it; expected stall amps in A"},
    {circuit, "stall 80A, idle 2A", "stall 80A stall 70A", "'stall' is one word too many in the line of 'M1'"},
    {circuit, "K3   = \"relay 40A, coil 90ohm, diode\"", "K3   = \"relay 40A, coil, 90ohm, diode\"", "'coil' has no figure behind it; expected coil ohms in ohm"},
    {circuit, "K3   = \"relay 40A, coil 90ohm, diode\"", "K3   = \"relay 40A, coil 90ohm, resistor\"", "'resistor' has no figure behind it; expected suppression ohms in ohm"},
    {circuit, "K3   = \"relay 40A, coil 90ohm, diode\"", "K3   = \"relay 40A, coil 90ohm, resistor, 680ohm\"", "'resistor' has no figure behind it; expected suppression ohms in ohm"},
    {circuit, "K3   = \"relay 40A, coil 90ohm, diode\"", "K3   = \"relay 40A, coil 90ohm 0.1kohm\"", "'0.1kohm' is not understood in the line of 'K3', a relay"},
    {circuit, "L1   = \"lamp 21W\"", "L1   = \"lamp -21W\"", "'-21W' must not be below zero"},
    {circuit, "L1   = \"lamp 21W\"", "L1   = \"bulb 21W\"", "'bulb' is no kind of part"},
    {circuit, "L1   = \"lamp 21W\"", "L1   = \"21W lamp\"", "'21W' is no kind of part"},
    {circuit, "L1   = \"lamp 21W\"", "L1   = \"\"", "'L1' has no kind"},
    {circuit, "A1   = \"clutch 3.6ohm, pulls 7.5V\"", "A1   = \"clutch 3.6ohm, pulls 7.5V, 44W\"", "'44W' is not understood in the line of 'A1', a clutch"},
    {circuit, "A1   = \"clutch 3.6ohm, pulls 7.5V\"", "A1   = \"magnetic clutch 3.6ohm\"", "'magnetic' is no kind of part"},
    {circuit, "B1   = \"battery 12.6V 8mohm, charging 14.2V\"", "B1   = \"battery 12.6V 8mohm 70Ah\"", "'70Ah' is no figure that anything here depends on"},
    {circuit, "F7   = \"fuse 40A maxi, feed 30\"", "F7   = \"fuse 40A maxi green, feed 30\"", "'green' is not known in the line of a fuse"},
    {circuit, "F7   = \"fuse 40A maxi, feed 30\"", "F7   = \"fuse maxi, feed 30\"", "'F7' is a fuse without rated amps (A)"},
    {circuit, "F7   = \"fuse 40A maxi, feed 30\"", "F7   = \"fuse 40A maxi, feed\"", "'feed' of 'F7' must be 30 (always live) or 15 (live with the key on)"},
    {circuit, "F7   = \"fuse 40A maxi, feed 30\"", "F7   = \"fuse 40A maxi feed, 30\"", "'feed' of 'F7' must be 30 (always live) or 15 (live with the key on)"},
    {circuit, "CB1  = \"breaker 30A resets\"", "CB1  = \"breaker 30A resets trips\"", "'trips' is not known in the line of a breaker"},
    {circuit, "D1   = \"diode\"", "D1   = \"diode 0.6V\"", "'0.6V' is not understood in the line of 'D1', a diode"},
    {circuit, "R9   = \"resistor 0.6ohm 250W\"", "R9   = \"resistor 0.6ohm at 20C 250W\"", "'at' is not known in the line of a resistor"},
    {circuit, "R9   = \"resistor 0.6ohm 250W\"", "R9   = \"resistor 0.6ohm 5% 10% 250W\"", "'10%' is not understood in the line of 'R9', a resistor"},
    {circuit, "P1   = \"contact opens 1.96bar, closes 2.25bar, healthy 8bar\"", "P1   = \"contact normally, opens 1.96bar\"", "'P1': normally what?"},
    {circuit, "P1   = \"contact opens 1.96bar, closes 2.25bar, healthy 8bar\"", "P1   = \"contact opens 1.96bar, closes 40C, healthy 8bar\"", "'P1' has figures in bar and in C; one quantity moves a contact"},
    {circuit, "head C: still=94% gentle=50%", "head : still=94% gentle=50%", "H1 has terminals + - OUT, not C", 41},
    {circuit, "head C: still=94% gentle=50%", "head still=94% gentle=50%", "H1 has terminals + - OUT, not C", 41},
    {circuit, "head C: still=94% gentle=50%", "head still gentle=50%", "H1 has terminals + - OUT, not C", 41},
};
// clang-format on

}  // namespace

std::span<const BadFile> slips_in_parts() {
    return rows;
}

}  // namespace voltfall::testing
