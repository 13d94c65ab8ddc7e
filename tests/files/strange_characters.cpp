// Look-alikes, marks that cannot be seen, controls and emoji.
#include "tests/files/bad_file.hpp"

namespace voltfall::testing {

namespace {

using enum SoundFile;

// clang-format off
constexpr BadFile rows[] = {
    {circuit, "F7   = \"fuse", "F7\u200b   = \"fuse", "U+200B"},
    {circuit, "F7   = \"fuse", "F7\u200f   = \"fuse", "U+200F"},
    {circuit, "F7   = \"fuse", "F7😀   = \"fuse", "F7😀"},
    {circuit, "F7   = \"fuse", "F7\007   = \"fuse", "U+0007"},
    {circuit, "F7   = \"fuse", "F7\302\233   = \"fuse", "U+009B"},
    {circuit, "F7   = \"fuse", "\"F7\u200b\"   = \"fuse", "U+200B"},
    {circuit, "F7   = \"fuse", "\"F7\u200f\"   = \"fuse", "U+200F"},
    {circuit, "F7   = \"fuse", "F7\u00a0= \"fuse", "U+00A0"},
    {circuit, "fuse 40A maxi", "fuse 40A\u200b maxi", "U+200B"},
    {circuit, "fuse 40A maxi", "fuse 40\u200bA maxi", "U+200B"},
    {circuit, "fuse 40A maxi", "fuse\u00a040A maxi", "U+00A0"},
    {circuit, "fuse 40A maxi", "fuse 40A maxi\u200f", "U+200F"},
    {circuit, "fuse 40A maxi", "fuse 40A \u202emaxi", "U+202E"},
    {circuit, "fuse 40A maxi", "fuse 40A maxi😀", "maxi😀"},
    {circuit, "fuse 40A maxi", "fuse 40A 😀", "😀"},
    {circuit, "fuse 40A maxi", "fuse 40A maxi\007", "U+0007"},
    {circuit, "fuse 40A maxi", "fuse 40A\033[31m maxi", "U+001B"},
    {circuit, "fuse 40A maxi", "fuse 40A\302\23331m maxi", "U+009B"},
    {circuit, "fuse 40A maxi", "fuse 40A\\u001b maxi", "U+001B"},
    {circuit, "fuse 40A maxi", "fuse 40A\\u200b maxi", "U+200B"},
    {circuit, "fuse 40A maxi", "fuse ４０A maxi", "U+FF14"},
    {circuit, "fuse 40A maxi", "fuse 40А maxi", "40А"},
    {circuit, "12.6V 8mohm", "12.6V \u2013 8mohm", "U+2013"},
    {circuit, "\"battery 12.6V 8mohm, charging 14.2V\"", "\u201cbattery 12.6V 8mohm, charging 14.2V\u201d", "U+201C"},
    {circuit, "\"battery 12.6V 8mohm, charging 14.2V\"", "\"battery 12.6V 8mohm, charging 14.2V\u201d", "U+201D"},
    {circuit, "F7.2 > C101.4 ", "F7.2 \u200b> C101.4 ", "U+200B"},
    {circuit, "F7.2 > C101.4 ", "F7.2 > C101.4\u200f ", "U+200F"},
    {circuit, "F7.2 > C101.4 ", "F7.2 > C101.😀 ", "😀"},
    {circuit, "F7.2 > C101.4 ", "F7😀.2 > C101.4 ", "F7😀"},
    {circuit, "RD     0.9m\"", "RD😀     0.9m\"", "RD😀"},
    {circuit, "RD     0.9m\"", "RD\u200b     0.9m\"", "U+200B"},
    {circuit, "RD     0.9m\"", "RD     0.9\u00a0m\"", "U+00A0"},
    {circuit, "RD     0.9m\"", "RD     0.9m\007\"", "U+0007"},
    {circuit, "541  =", "541\u200b  =", "U+200B"},
    {circuit, "541  =", "541😀  =", "541😀"},
    {circuit, "541  =", "\"541\u200f\"  =", "U+200F"},
    {circuit, "lo=1 ml=2", "lo😀=1 ml=2", "lo😀"},
    {circuit, "lo=1 ml=2", "lo\u200b=1 ml=2", "U+200B"},
    {circuit, "\"C303\"\nM1", "\"C3\u200b03\"\nM1", "U+200B"},
    {circuit, "\"C303\"\nM1", "\"C303😀\"\nM1", "C303😀"},
    {circuit, "\"blower\"", "\"blow\u200ber\"", "U+200B"},
    {circuit, "\"blower\"", "\"blower\007\"", "U+0007"},
    {circuit, "hi.amps = \"18-21A", "hi.amps = \"18\u201321A", "U+2013"},
    {circuit, "name   = \"bench\"", "name   = \"be\007nch\"", "U+0007"},
    {circuit, "name   = \"bench\"", "name   = \"be\u202ench\"", "U+202E"},
    {circuit, "name   = \"bench\"", "name   = \"be\\u001b[31mnch\"", "U+001B"},
    {circuit, "[parts]", "[parts\u200b]", "U+200B"},
    {circuit, "[plugs]", "[plugs]\007", "U+0007"},
    {circuit, "K3   = \"relay", "K3\u00a0\u00a0= \"relay", "U+00A0"},
    {job, "M1.1 to B1-            10.3V", "M1.1 to B1\u2013            10.3V", "U+2013"},
    {job, "M1.1 to B1-            10.3V", "M1.1 to B1-\u00a010.3V", "U+00A0"},
    {job, "M1.1 to B1-            10.3V", "M1.1\u200b to B1- 10.3V", "U+200B"},
    {job, "M1.1 to B1-            10.3V", "M1.1 to B1- 10.3V\u200f", "U+200F"},
    {job, "M1.1 to B1-            10.3V", "M1.1 to B1- 10.3V😀", "10.3V😀"},
    {job, "M1.1 to B1-            10.3V", "M1.1 to B1- 10.3V\007", "U+0007"},
    {job, "look  C101.4 green crust", "look  C101.4 green 😀", "😀"},
    {job, "\"load 55W\"", "\"load\u00a055W\"", "U+00A0"},
    {job, "\"load 55W\"", "\"load 55W\u200b\"", "U+200B"},
    {job, "circuit = \"bench.toml\"", "circuit = \"bench.toml\007\"", "U+0007"},
    {job, "concern = \"weak", "concern = \"we\033ak", "U+001B"},
    {lesson, "\"R1 limiter open\"", "\"R1 limiter\u00a0open\"", "U+00A0"},
    {lesson, "\"R1 limiter open\"", "\"R1\u200b limiter open\"", "U+200B"},
    {lesson, "\"R1 limiter open\"", "\"R1 limiter open\u200f\"", "U+200F"},
    {lesson, "\"R1 limiter open\"", "\"R1 limiter open😀\"", "open😀"},
    {lesson, "\"look\", \"volts\"", "\"look\", \"vo\u200blts\"", "U+200B"},
    {lesson, "\"60min\"", "\"60\u00a0min\"", "U+00A0"},
    {lesson, "\"60min\"", "\"60min\u200b\"", "U+200B"},
    {lesson, "title   = \"Only", "title   = \"On\007ly", "U+0007"},
    {circuit, "C101.4 > M1.1", "C101.4 > М1.1", "U+041C"},
    {circuit, "SP1 > K3.30", "SP1 > Κ3.30", "U+039A"},
    {circuit, "fuse 40A maxi", "fuse 40А maxi", "U+0410"},
    {circuit, "[parts]", "[раrts]", "'parts'"},
    {circuit, "\"fuse 40A maxi, feed 30\"", "«fuse 40A maxi, feed 30»", "U+00AB"},
    {circuit, "motor 20A @13.5V, 3500rpm", "motor 2OA @13.5V, 3500rpm", "did you mean 20A"},
    {job, "S1=hi M1.1 to B1-            10.3V", "S1=hi M1.1 to B1- 1О.3V", "did you mean 10.3V"},
    {circuit, "battery 12.6V", "battery 12.6kV", "did you mean 12.6V"},
    {job, "across C101.4         1.2V", "across C101.4         361MV", "did you mean 361mV"},
    {circuit, "RD     0.9m\"", "ΒΚ     0.9m\"", "only looks like BK"},
    {circuit, "F7   = \"fuse", "F7\u0301   = \"fuse", "F7"},
    {wire_list, "541,F7,2,C101,4,6,RD,0.9", "541,F\u200b7,2,C101,4,6,RD,0.9", "U+200B"},
    {wire_list, "541,F7,2,C101,4,6,RD,0.9", "541,F7,2,C101,4,6,ΒΚ,0.9", "only looks like BK"},
};
// clang-format on

}  // namespace

std::span<const BadFile> strange_characters() {
    return rows;
}

}  // namespace voltfall::testing
