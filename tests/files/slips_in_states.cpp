// Slips in the state, the measurement or the value of a reading.
#include "tests/files/bad_file.hpp"

namespace voltfall::testing {

namespace {

using enum SoundFile;

// clang-format off
constexpr BadFile rows[] = {
    {job, "S1=hi M1.1 to B1-            10.3V", "S1= hi = lo M1.1 to B1- 10.3V", "="},
    {job, "S1=hi M1.1 to B1-            10.3V", "S1=hi,,lo=2 M1.1 to B1- 10.3V", "'lo' is said by itself"},
    {job, "S1=hi M1.1 to B1-            10.3V", "key M1.1 to B1- 10.3V", "key"},
    {job, "S1=hi M1.1 to B1-            10.3V", "key run key acc M1.1 to B1- 10.3V", "key acc"},
    {job, "S1=hi M1.1 to B1-            10.3V", "S1=hi after M1.1 to B1- 10.3V", "after"},
    {job, "S1=hi M1.1 to B1-            10.3V", "S1=hi after 10V M1.1 to B1- 10.3V", "10V"},
    {job, "S1=hi M1.1 to B1-            10.3V", "S1=hi after -5min M1.1 to B1- 10.3V", "-5min"},
    {job, "S1=hi M1.1 to B1-            10.3V", "unplug C303 C305 M1.1 to B1- 10.3V", "C305"},
    {job, "S1=hi M1.1 to B1-            10.3V", "unplug M9 M1.1 to B1- 10.3V", "M9"},
    {job, "S1=hi M1.1 to B1-            10.3V", "pull 541 M1.1 to B1- 10.3V", "541"},
    {job, "S1=hi M1.1 to B1-            10.3V", "new M9 S1=hi M1.1 to B1- 10.3V", "M9"},
    {job, "S1=hi M1.1 to B1-            10.3V", "jumper F7.2 to X9.1 S1=hi M1.1 to B1- 10.3V", "X9.1"},
    {job, "S1=hi M1.1 to B1-            10.3V", "load 55W S1=hi M1.1 to B1- 10.3V", "load"},
    {job, "S1=hi M1.1 to B1-            10.3V", "load 55V S1.C to B1- M1.1 to B1- 10.3V", "55V"},
    {job, "S1=hi M1.1 to B1-            10.3V", "lamp in M1 S1=hi M1.1 to B1- 10.3V", "M1"},
    {job, "S1=hi M1.1 to B1-            10.3V", "wiggle S1=hi M1.1 to B1- 10.3V", "'S1=hi'"},
    {job, "S1=hi M1.1 to B1-            10.3V", "wiggle 999 S1=hi M1.1 to B1- 10.3V", "999"},
    {job, "S1=hi M1.1 to B1-            10.3V", "heat ZZ9 S1=hi M1.1 to B1- 10.3V", "ZZ9"},
    {job, "S1=hi M1.1 to B1-            10.3V", "tap 541 S1=hi M1.1 to B1- 10.3V", "541"},
    {job, "S1=hi M1.1 to B1-            10.3V", "S1=hi M1.1 to B1- 10.3V to 11V", "'to' is left over"},
    {job, "S1=hi M1.1 to B1-            10.3V", "S1=hi M1.1 to B1- 10.3-V", "10.3-V"},
    {job, "S1=hi M1.1 to B1-            10.3V", "S1=hi M1.1 to B1- <>10V", "<>10V"},
    {job, "S1=hi M1.1 to B1-            10.3V", "S1=hi M1.1 to B1- 10.3V??", "10.3V"},
    {job, "S1=hi M1.1 to B1-            10.3V", "S1=hi M1.1 to B1- to C101.4 10.3V", "to"},
    {job, "S1=hi M1.1 to B1-            10.3V", "S1=hi across M1.1 to B1- 10.3V", "M1.1"},
    {job, "S1=hi M1.1 to B1-            10.3V", "S1=hi across 541 542 10.3V", "542"},
    {job, "S1=hi M1.1 to B1-            10.3V", "S1=hi clamp M1 12A", "M1"},
    {job, "S1=hi M1.1 to B1-            10.3V", "S1=hi clamp 542 542 12A", "'12A' is left over"},
    {job, "S1=hi M1.1 to B1-            10.3V", "S1=hi clamp 542 swings 3A", "'3A' is one figure"},
    {job, "S1=hi M1.1 to B1-            10.3V", "S1=hi C303.4 hotter 25C", "after 'hotter'"},
    {job, "S1=hi M1.1 to B1-            10.3V", "S1=hi C303.4 hotter C303.9 25C", "C303.9"},
    {job, "S1=hi M1.1 to B1-            10.3V", "S1=hi M1 rise 25V", "25V"},
    {job, "S1=hi M1.1 to B1-            10.3V", "S1=hi ripple M1 odd", "odd"},
    {job, "S1=hi M1.1 to B1-            10.3V", "S1=hi ripple S1 even", "S1"},
    {job, "S1=hi M1.1 to B1-            10.3V", "gas pressure 0.3V", "0.3V"},
    {job, "S1=hi M1.1 to B1-            10.3V", "duty 35% 400V", "in front of 'duty'"},
    {job, "S1=hi M1.1 to B1-            10.3V", "M1 turns sideways", "sideways"},
    {job, "S1=hi M1.1 to B1-            10.3V", "pin C303.4 drag hard", "hard"},
    {job, "S1=hi M1.1 to B1-            10.3V", "smell", "smell"},
    {job, "S1=hi M1.1 to B1-            10.3V", "smell of nothing at ZZ9", "'nothing'"},
    {job, "pull F7  F7.2 to B1-  0V", "fuse F7 is a 5V", "5V"},
    {job, "pull F7  F7.2 to B1-  0V", "fuse F7 is a", "'a' is no word of a fuse"},
    {job, "pull F7  F7.2 to B1-  0V", "fuse F7 good blown", "blown"},
    {job, "pull F7  F7.2 to B1-  0V", "fuse M1 good", "M1"},
    {job, "pull F7  F7.2 to B1-  0V", "relay K3 clicks silent", "silent"},
    {job, "pull F7  F7.2 to B1-  0V", "S1=hi lamp M1.1 bright dim", "dim"},
    {job, "pull F7  F7.2 to B1-  0V", "beep R1.1 R1.4 yes", "R1.4"},
};
// clang-format on

}  // namespace

std::span<const BadFile> slips_in_states() {
    return rows;
}

}  // namespace voltfall::testing
