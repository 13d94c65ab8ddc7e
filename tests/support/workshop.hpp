// A circuit on which people's own words are tried.
#pragma once

namespace voltfall::testing {

/// A blower with a relay for high, and a lamp of its own switch.
inline constexpr const char* workshop_text = R"(format = 1
name = "workshop"
[parts]
B1 = "battery 12.6V 8mohm, charging 14.2V"
F7 = "fuse 40A maxi, feed 30"
F3 = "fuse 15A mini, feed 15"
S1 = "switch C: off lo=1 ml=2 mh=3 hi=4"
S2 = "switch C: off on=1"
R1 = "pack 1 1.2ohm 2 0.7ohm 3 0.35ohm 4, limiter 121C"
K2 = "relay 40A, coil 90ohm"
M1 = "motor 20A @13.5V, 3500rpm, stall 80A"
L4 = "lamp 21W"
C101 = "connector bulkhead, 8 way"
SP1 = "splice"
G201 = "ground cowl"
G202 = "ground dash"
[plugs]
R1 = "C303"
M1 = "C304"
[wires]
541 = "F7.2 > C101.4 6mm2 RD 0.9m"
542 = "C101.4 > M1.1 6mm2 RD 1.4m"
555 = "M1.2 > SP1 6mm2 OG 0.2m"
556 = "SP1 > R1.4 2.5mm2 OG 0.3m"
557 = "SP1 > K2.30 6mm2 OG 0.8m"
601 = "R1.1 > S1.1 1.5mm2 YE 0.9m"
602 = "R1.2 > S1.2 1.5mm2 YE 0.9m"
603 = "R1.3 > S1.3 2.5mm2 BU 0.9m"
604 = "S1.4 > K2.85 0.75mm2 GN 0.6m"
605 = "F3.2 > K2.86 0.75mm2 BN 0.7m"
606 = "K2.87 > G201 6mm2 BK 0.5m"
607 = "S1.C > G202 2.5mm2 BK 0.3m"
608 = "F3.2 > S2.C 1mm2 RD 1m"
609 = "S2.1 > L4.1 1mm2 RD 1m"
610 = "L4.2 > G202 1mm2 BK 1m"
[controls]
S1 = "blower"
S2 = "lights"
)";

}  // namespace voltfall::testing
