// Slips in modules, heads, sensors and in what a part may say once.
#include "tests/files/bad_file.hpp"

namespace voltfall::testing {

namespace {

using enum SoundFile;

// clang-format off
constexpr BadFile rows[] = {
    {circuit, "SP1  = \"splice, heater box\"", "SP1  = \"zener\"", "zener"},
    {circuit, "SP1  = \"splice, heater box\"", "SP1  = \"zener 0V\"", "'0V'"},
    {circuit, "SP1  = \"splice, heater box\"", "SP1  = \"zener 24A\"", "'24A'"},
    {circuit, "SP1  = \"splice, heater box\"", "SP1  = \"source 50mA\"", "'50mA'"},
    {circuit, "SP1  = \"splice, heater box\"", "SP1  = \"source 5V -50mA\"", "'-50mA'"},
    {circuit, "SP1  = \"splice, heater box\"", "SP1  = \"source 500V 50mA\"", "'500V'"},
    {circuit, "Z1   = \"module pwm 400Hz, command 7%-94% inverse, pulls up\"", "Z1 = \"module linear, command 7V-7V\"", "7V-7V"},
    {circuit, "Z1   = \"module pwm 400Hz, command 7%-94% inverse, pulls up\"", "Z1 = \"module linear, command 0.5V-7V, open command sideways\"", "sideways"},
    {circuit, "Z1   = \"module pwm 400Hz, command 7%-94% inverse, pulls up\"", "Z1 = \"module pwm 400Hz, command 7%-94%, pulls up, pulls down\"", "pulls"},
    {circuit, "Z1   = \"module pwm 400Hz, command 7%-94% inverse, pulls up\"", "Z1 = \"module linear pwm, command 0.5V-7V\"", "pwm"},
    {circuit, "Z1   = \"module pwm 400Hz, command 7%-94% inverse, pulls up\"", "Z1 = \"module pwm 400Hz, command 0.5V-94%\"", "0.5V-94%"},
    {circuit, "Z1   = \"module pwm 400Hz, command 7%-94% inverse, pulls up\"", "Z1 = \"module pwm 400Hz 500Hz, command 7%-94%\"", "500Hz"},
    {circuit, "Z1   = \"module pwm 400Hz, command 7%-94% inverse, pulls up\"", "Z1 = \"module pwm 400V, command 7%-94%\"", "'400V'"},
    {circuit, "Z1   = \"module pwm 400Hz, command 7%-94% inverse, pulls up\"", "Z1 = \"module pwm 400Hz, command 7%-94%, drop -1V\"", "'drop'"},
    {circuit, "Z1   = \"module pwm 400Hz, command 7%-94% inverse, pulls up\"", "Z1 = \"module pwm 400Hz, command 7%-94%, limit 30V\"", "'limit'"},
    {circuit, "still=94% gentle=50%", "still=94% still=50%", "still"},
    {circuit, "still=94% gentle=50%", "still=94V gentle=50%", "94V"},
    {circuit, "still=94% gentle=50%", "still=94%=2 gentle=50%", "="},
    {circuit, "head C:", "head C C:", "C"},
    {circuit, "pot 10kohm at 50%", "pot 10kohm at 50V", "50V"},
    {circuit, "pot 10kohm at 50%", "pot 10kohm at 50% at 60%", "'at'"},
    {circuit, "sensor 2.2kohm at 25C", "sensor 2.2kohm 3kohm at 25C", "3kohm"},
    {circuit, "resistor 0.6ohm 250W", "resistor 0.6ohm 5% 6% 250W", "6%"},
    {circuit, "limiter 121C at 4", "limiter 121C 130C at 4", "130C"},
    {circuit, "clutch 3.6ohm, pulls 7.5V", "clutch 3.6ohm, pulls 7.5V, drops 9V", "'drops'"},
    {circuit, "relay 40A, coil 90ohm, diode", "relay 40A, resistor 0ohm, coil 90ohm", "'0ohm'"},
    {circuit, "fuse 40A maxi, feed 30", "fuse 40A maxi, feed 30, feed 15", "feed"},
    {circuit, "breaker 30A resets", "breaker 30A resets, 2ohm 5V", "'2ohm'"},
    {circuit, "acc=75 on=75+15", "acc=75+75 on=75+15", "75+75"},
};
// clang-format on

}  // namespace

std::span<const BadFile> slips_in_electronics() {
    return rows;
}

}  // namespace voltfall::testing
