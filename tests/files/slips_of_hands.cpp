// Slips of the keyboard all over a file.
#include "tests/files/bad_file.hpp"

namespace voltfall::testing {

namespace {

using enum SoundFile;

// clang-format off
constexpr BadFile rows[] = {
    {circuit, "B1   = \"battery", "B1   = \"battery battery", "battery"},
    {circuit, "12.6V 8mohm, charging", "12.6V, 8mohm, charging 14V, charging", "charging"},
    {circuit, "F7   = \"fuse 40A maxi", "F7   = \"fuse 40A/maxi", "40A/maxi"},
    {circuit, "fuse 10A mini, feed 15", "fuse 10A mini feed15", "feed15"},
    {circuit, "breaker 30A resets", "breaker 30A resets 10s", "10s"},
    {circuit, "link 16AWG 0.2m", "link 16AWG 0.2m 0.3m", "0.3m"},
    {circuit, "link 16AWG 0.2m", "link 1mm2 16AWG 0.2m", "16AWG"},
    {circuit, "stall 80A", "stall 80W", "80W"},
    {circuit, "3500rpm", "3500rpm 3000rpm", "3000rpm"},
    {circuit, "0.7ohm 3 0.35ohm", "0.7ohm 3 0.35", "0.35"},
    {circuit, "1.2ohm 2 0.7ohm", "1.2ohm 2 0.7V", "0.7V"},
    {circuit, "limiter 121C", "limiter 121V", "121V"},
    {circuit, "lo=1 ml=2 mh=3", "lo=1, ml=9, =3", "=3"},
    {circuit, "off lo=1", "off off lo=1", "off"},
    {circuit, "rest ac=1", "rest", "S2"},
    {circuit, "opens 1.96bar, closes 2.25bar", "opens 1.96bar, closes 2.25V", "2.25V"},
    {circuit, "healthy 8bar", "healthy 8C", "one quantity"},
    {circuit, "relay 40A, coil 90ohm", "relay coil 90ohm 40V", "40V"},
    {circuit, "relay 40A, coil 90ohm", "relay 40A 30A, coil 90ohm", "30A"},
    {circuit, "clutch 3.6ohm, pulls 7.5V", "clutch 3.6ohm 4ohm", "4ohm"},
    {circuit, "clutch 3.6ohm", "clutch 3.6A", "3.6A"},
    {circuit, "lamp 21W", "lamp 21V", "no watts"},
    {circuit, "7%-94% inverse", "7%-94% inverse inverse", "inverse"},
    {circuit, "7%-94%", "7-94", "7-94"},
    {circuit, "gentle=50%", "gentle=50", "gentle=50"},
    {circuit, "pot 10kohm", "pot 10", "10"},
    {circuit, "sensor 2.2kohm at 25C", "sensor 2.2kohm at 25", "25"},
    {circuit, "connector bulkhead, 8 way", "connector bulkhead, 8 way, 6 way", "6"},
    {circuit, "connector bulkhead, 8 way", "conector bulkhead, 8 way", "connector"},
    {circuit, "R1 = \"C303\"", "R1 = \"C303\"\nR1 = \"C306\"", "twice", 1},
    {circuit, "M1 = \"C304\"", "M1 = \"C3 04\"", "C3 04"},
    {circuit, "M1 = \"C304\"", "M1 = [\"C304\"]", "M1"},
    {circuit, "541  = \"F7.2", "541  = \"F7:2", "F7:2"},
    {circuit, "541  = \"F7.2", "541  = \"F7.2.", "F7.2."},
    {circuit, "542  = \"C101.4 > M1.1", "542  = \"C101.4 > M1.1.2", "M1.1.2"},
    {circuit, "1.4m\"\n555", "1.4m 2\"\n555", "'2' has no unit"},
    {circuit, "0.2m\"\n556", "0.2mm\"\n556", "0.2mm"},
    {circuit, "2.5mm2  OG", "2.5 OG", "2.5"},
    {circuit, "0.75mm2 GY", "0,75 GY", "0,75"},
    {circuit, "0.75mm2 PK", "18 AWG2 PK", "'18' has no unit"},
    {circuit, "S1 = \"blower\"", "S1 = blower", "blower"},
    {circuit, "S1 = \"blower\"", "S1 = \"blower\"\nS1 = \"fan\"", "twice", 1},
    {circuit, "hi.amps = \"18-21A @13.5V\"", "hi.amps = \"18-21V\"", "18-21V"},
    {circuit, "hi.amps = \"18-21A @13.5V\"", "hi.amps = 18", "hi.amps"},
    {circuit, "feed    = \"0.5V\"", "feed    = \"0.5A\"", "0.5A"},
    {circuit, "feed    = \"0.5V\"", "feed    = \"0,5\"", "0,5"},
    {circuit, "F7   = 2", "F7   = 2 min", "2 min"},
    {circuit, "F7   = 2", "F7   = true", "F7"},
    {circuit, "glovebox = \"5min", "glovebox = \"five min", "five"},
    {circuit, "542  = \"past", "542. = \"past", "542"},
    {circuit, "ambient-air = \"25C\"", "ambient-air = \"25\"", "25"},
    {circuit, "ambient-air = \"25C\"", "ambient-air = 25C", "25C"},
    {circuit, "ambient-air = \"25C\"", "ambient air = \"25C\"", "ambient air"},
    {job, "\"meter 0.5%+2digits\"", "\"meter 0.5% + 2 digits\",\"clamp 1 A %\"", "%"},
    {job, "concern = \"weak air", "concern = \"weak \"air", "air"},
    {job, "S1=hi M1.1 to B1-            10.3V", "S1=hi M1.1 to B1- 10.3 volts dc reading", "'dc'"},
    {job, "S1=hi M1.1 to B1-            10.3V", "S1=hi M1.1 to B1- 10.3mmV", "10.3mmV"},
    {job, "S1=hi M1.1 to B1-            10.3V", "S1=hi M1.1 to B1- +-10.3V", "+-10.3V"},
    {job, "S1=hi M1.1 to B1-            10.3V", "S1=hi M1.1 to B1- V", "V"},
    {job, "S1=hi M1.1 to B1-            10.3V", "S1=hi M1.1 to B1- 10..3V", "10..3V"},
    {job, "S1=hi M1.1 to B1-            10.3V", "S1=hi M1.1 to B1- 1O.3V", "1O.3V"},
    {job, "S1=hi M1.1 to B1-            10.3V", "S1=hi M1,1 to B1- 10.3V", "'M1' is not one point"},
    {job, "S1=hi M1.1 to B1-            10.3V", "S1=hi M1.1 to B1= 10.3V", "B1="},
    {job, "S1=hi M1.1 to B1-            10.3V", "S1=hi to B1- 10.3V", "to"},
    {job, "S1=hi M1.1 to B1-            10.3V", "S1:hi M1.1 to B1- 10.3V", "S1:hi"},
    {job, "S1=hi M1.1 to B1-            10.3V", "S1=hi M1.1 and B1- 10.3V", "and"},
    {job, "look  C101.4 green crust", "look C101.4 crust on the wire 999 over there", "999"},
    {job, "relay K3 clicks", "relay K33 clicks", "K33"},
    {job, "air weak", "air weak strong", "strong"},
    {job, "R1 = \"7 days ago", "R1 = [\"7 days ago\"]  # \"", "R1"},
    {job, "C101.4 = \"new terminal and seal\"", "C101.4 = 5", "C101.4"},
    {job, "[after]\n", "[afterwards]\n", "after"},
    {job, "1 = \"S1=hi M1.1 to B1-  13.4V\"", "1 = \"S1=hi M1.1 to B1-  13.4\"V", "V"},
    {lesson, "\"M1 drag 1.4\"", "\"M1 drug 1.4\"", "drug"},
    {lesson, "\"M1 drag 1.4\"", "\"M1 drag 1,4,5\"", "'1,4' has no unit"},
    {lesson, "budget  = \"60min\"", "budget  = \"60min 30min\"", "60min 30min"},
    {lesson, "budget  = \"60min\"", "budget  = \"an hour\"", "an hour"},
    {lesson, "level   = 1", "level   = one", "one"},
    {lesson, "title   =", "Title   =", "title"},
    {lesson, "circuit = \"bench.toml\"", "circuit = \"bench.lesson.toml\"", "bench"},
    {lesson, "allow   = [\"look\"", "allow   = [\"look\" \"", "allow"},
};
// clang-format on

}  // namespace

std::span<const BadFile> slips_of_hands() {
    return rows;
}

}  // namespace voltfall::testing
