// Right files that look a little like wrong ones.
#include "tests/files/bad_file.hpp"

namespace voltfall::testing {

namespace {

using enum SoundFile;

// clang-format off
constexpr GoodFile rows[] = {
    {circuit, "splice, heater box", "splice, below fuse 8", "digits in free text"},
    {circuit, "splice, heater box", "splice, 3rd from left, behind 2 bolts", "digits in free text"},
    {circuit, "connector bulkhead, 8 way", "connector fuse box feed, 8 way", "a word of a part in free text"},
    {circuit, "connector bulkhead, 8 way", "connector 8 way", "no text"},
    {circuit, "connector bulkhead, 8 way", "connector, below seat 2, 8way", "digits in free text"},
    {circuit, "ground left cowl stud", "ground left cowl 8mm stud", "a figure in free text"},
    {circuit, "ground left cowl stud", "ground G2 of the dash", "a name in free text"},
    {circuit, "fuse 40A maxi, feed 30", "fuse 40A maxi, feed 30, box 2 row 4", "digits in free text"},
    {circuit, "fuse 40A maxi, feed 30", "fuse maxi 40 A, feed 30", "a blank before the unit"},
    {circuit, "fuse 40A maxi, feed 30", "FUSE 40a MAXI, FEED 30", "capitals"},
    {circuit, "motor 20A @13.5V", "motor 20A @13,5V", "a decimal comma"},
    {circuit, "motor 20A @13.5V", "motor 20A @ 13.5 V", "blanks"},
    {circuit, "resistor 0.6ohm 250W", "resistor 0,6 ohm 5% 250W", "a decimal comma and a tolerance"},
    {circuit, "resistor 0.6ohm 250W", "resistor 600m\u03A9 250W", "a sign for ohms"},
    {circuit, "limiter 121C at 4", "limiter 121\u00B0C at 4", "a degree sign"},
    {circuit, "limiter 121C at 4", "limiter 250F at 4", "Fahrenheit"},
    {circuit, "relay 40A, coil 90ohm, diode", "relay 40A, coil 90ohm 10%, resistor 680ohm", "a suppression resistor"},
    {circuit, "hi=4\"", "hi=4+5\"", "a position that closes two contacts"},
    {circuit, "\"F7.2 > C101.4     6mm2    RD     0.9m\"", "\"F7.2 -> C101.4 6 mm2 RD 90cm\"", "another arrow"},
    {circuit, "\"F7.2 > C101.4     6mm2    RD     0.9m\"", "\"F7.2 > C101.4 AWG10 RD 0.9 metres\"", "a gauge behind its unit, metres in full"},
    {circuit, "\"F7.2 > C101.4     6mm2    RD     0.9m\"", "\"F7.2>C101.4 6mm2 RD 3ft\"", "no blanks, feet"},
    {circuit, "\"F7.2 > C101.4     6mm2    RD     0.9m\"", "\"F7-2 > C101/4 10AWG RD/BK ~0.9m x2\"", "other signs before a pin"},
    {circuit, "\"F7.2 > C101.4     6mm2    RD     0.9m\"", "\"F7.2 > C101.4  6mm2 RD\"", "no length: a warning"},
    {circuit, "\"F7.2 > C101.4     6mm2    RD     0.9m\"", "\"F7.2 > C101.4  6mm2 LT GN 0.9m FLRY-B bundle 6\"", "all that a wire may say"},
    {circuit, "\"F7.2 > C101.4     6mm2    RD     0.9m\"", "\"F7.2 > C101.4  6mm2 r\u00F6d 0.9m\"", "a colour that no table knows"},
    {circuit, "\"F7.2 > C101.4     6mm2    RD     0.9m\"", "'F7.2 > C101.4  6mm2 RD 0.9m'", "a literal text of TOML"},
    {circuit, "\"F7.2 > C101.4     6mm2    RD     0.9m\"", "\"\"\"F7.2 > C101.4 \\\n       6mm2 RD 0.9m\"\"\"", "a text over two lines"},
    {circuit, "541  =", "\"541\" =", "a name in quotes"},
    {circuit, "F7   = 2", "F7   = 2.5", "half a minute"},
    {circuit, "F7   = 2", "F7   = \"2min\"", "minutes in a text"},
    {circuit, "C101 = 25", "C101 = 25\nC304.1 = 7", "a cavity as a key"},
    {circuit, "hi.amps = \"18-21A @13.5V\"", "hi = { amps = \"18-21A @13.5V\" }", "a table for a key with a point"},
    {circuit, "[limits]\nhi.amps = \"18-21A @13.5V\"", "[limits.lo]\namps = \"3-8A\"\n[limits]", "a header for a key with a point"},
    {circuit, "colours = \"IEC 60757\"", "reach.M1 = 6", "a section by a key with a point"},
    {circuit, "colours = \"IEC 60757\"", "strip = { dash = \"20min: S1\" }", "a section as a table"},
    {circuit, "hi.amps = \"18-21A @13.5V\"", "hi.amps = \">18A\"", "one end of a range"},
    {circuit, "note   = \"every kind of part once\"", "note   = \"\"\"\nevery kind\nof part, 1 to 22\"\"\"", "a note over lines"},
    {circuit, "name   = \"bench\"", "name   = \"bench 2, \u00FCben \u2013 na\u00EFve\"", "letters and a dash in free text"},
    {circuit, "\"past the hot exhaust-gas tube: hot, rubs\"", "\"2 cm from the tube: hot\"", "a figure in free text"},
    {circuit, "R1 = [\"C303 plug and pins\", \"M1 amps\"]", "R1 = \"C303 plug and pins\"", "one text for a list"},
    {circuit, "R1 = [\"C303 plug and pins\", \"M1 amps\"]", "R1 = [\n  \"C303 plug and pins\",  # both\n  \"M1 amps\",\n]", "a list over lines"},
    {circuit, "SP2  = \"splice, below fuse 8\"", "SP2  = \"splice, below fuse 8\"\nSP0 = \"splice\"", "a name that ends in a zero: a warning"},
    {job, "S1=hi M1.1 to B1-            10.3V", "S1=hi, key run  M1.1 to B1-  10,3 V", "a decimal comma"},
    {job, "S1=hi M1.1 to B1-            10.3V", "S1=lo,S1=hi,off M1.1 to B1- 10.3V", "one reading in several positions"},
    {job, "S1=hi M1.1 to B1-            10.3V", "S1=hi M1.1 to B1- 11-10V", "a range from above"},
    {job, "S1=hi M1.1 to B1-            10.3V", "S1=hi clamp 542 12A inrush", "a word behind its figure"},
    {job, "S1=hi M1.1 to B1-            10.3V", "S1=hi M1.1 to B1-  10.3", "between two points volts go without saying"},
    {job, "S1=hi M1.1 to B1-            10.3V", "S1=hi M1.1 to B1-  10,3", "and behind a decimal comma"},
    {job, "B1-       dim", "B1-       on", "another word for lit"},
    {job, "relay K3 clicks", "relay K3 click", "another word for clicks"},
    {job, "air weak", "air strong", "another word for normal air"},
    {job, "S1=hi M1.1 to B1-            10.3V", "key on S1=hi hot M1.1 to B1- 10.3V?", "a condition and a doubt"},
    {job, "S1=hi M1.1 to B1-            10.3V", "earlier S1=hi M1.1 >10V # by ear", "a bound and a note"},
    {job, "S1=hi M1.1 to B1-            10.3V", "wiggle 542 S1=hi clamp 542 swings 3-19A", "a wire that is moved"},
    {job, "S1=hi M1.1 to B1-            10.3V", "new F7 S1=hi M1.1 to B1- 9.8-10.3V", "a new fuse and a range"},
    {job, "\"S1=hi M1.1 to B1-            10.3V\"", "'S1=hi \"windows open\" M1.1 to ? ~10V'", "own words and an unknown lead"},
    {job, "S1=hi M1.1 to B1-            10.3V", "load 55W S1.C to B1- M1.1 to B1- 12.1V", "a bulb as a load"},
    {job, "S1=hi M1.1 to B1-            10.3V", "S1=hi after 10min M1 temp 90C", "a time"},
    {job, "\"look  C101.4 green crust\"", "'look C101.4 \"like a nest, 3 cm\"'", "own words in quotes"},
    {job, "fuse F7 blown at S1=hi after 2min", "fuse F7 good", "a word of a fuse"},
    {job, "fuse F7 blown at S1=hi after 2min", "fuse F7 is a 60A", "a wrong fuse"},
    {job, "C304 = \"new plug last week\"", "C101 = \"3 weeks ago\"", "a connector that is new"},
    {job, "job     = \"48213\"", "job     = 48213", "a number for a text"},
    {job, "\"load 55W\"", "\"load 55 W\"", "a blank before the unit"},
    {job, "1 = \"dash taken out last month\"", "lines = [\"dash out\", \"fuse 40A fitted twice\"]", "a list of lines"},
    {lesson, "\"R1 limiter open\"", "\"F7 rating 60A\"", "a wrong fuse"},
    {lesson, "\"R1 limiter open\"", "\"542 chafe 20mohm at 0.5m\"", "a place in metres"},
    {lesson, "\"R1 limiter open\"", "\"C101.4 resistance 40mohm, hot 0.4ohm\"", "two sizes"},
    {lesson, "\"R1 limiter open\"", "\"R1 limiter open when hot\"", "a condition"},
    {lesson, "fault   = [\"R1 limiter open\"]\nroot    = [\"M1 drag 1.4\"]", "fault   = \"nothing\"", "nothing is wrong"},
    {lesson, "budget  = \"60min\"", "budget  = \"1h\"", "an hour"},
    {circuit, "motor 20A @13.5V", "motor 20A@13.5V", "no blank before @"},
    {circuit, "off lo=1 ml=2", "off lo = 1 ml= 2", "blanks around ="},
    {circuit, "C101 = 25", "C101 = 0x19", "a number of base 16"},
    {circuit, "6mm2    RD     0.9m", "6MM2    RD     0.9M", "units in capitals"},
    {job, "tools   = [\"meter 0.5%+2digits\", \"clamp 1%+0.3A\", \"lamp 21W\", \"load 55W\"]", "tools   = \"meter 0.5%+2digits, clamp 1%+0.3A\"", "tools in one text"},
    {circuit, "format = 1", "﻿﻿format = 1", "two byte order marks"},
    {circuit, "C303 = \"sealed\"", "C303 = \"Sealed\"", "a capital"},
    {circuit, "exhaust-gas tube: hot, rubs", "tube: hot, rubs, behind bracket 7", "text of its own"},
    {job, "across C101.4         1.2V", "across C101.4  -0.1-0.2V", "a range through zero"},
    {job, "\"clamp 1%+0.3A\"", "\"clamp 1%+0.3A\", \"clamp 2%\"", "two clamps"},
    {lesson, "budget  = \"60min\"", "budget  = \"60 min\"", "a blank before the unit"},
    {lesson, "\"R1 limiter open\"", "\"F7 rating 50A\"", "another fuse than the drawn one"},
    {circuit, "6mm2    RD     0.9m\"", "6mm2    RD     0.9m 10% 105C x2 bundle 4\"", "each figure once"},
    {circuit, "6mm2    RD     0.9m\"", "6mm2    красн     0.9m\"", "a colour in another script"},
    {circuit, "S2 = \"C305\"", "S2 = \"Cafe\u0301\"", "an accent of its own on a letter"},
};
// clang-format on

}  // namespace

std::span<const GoodFile> good_files() {
    return rows;
}

}  // namespace voltfall::testing
