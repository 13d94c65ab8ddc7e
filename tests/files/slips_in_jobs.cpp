// Slips of a hand that types a job or a lesson.
#include "tests/files/bad_file.hpp"

namespace voltfall::testing {

namespace {

using enum SoundFile;

// clang-format off
constexpr BadFile rows[] = {
    {job, "circuit = \"bench.toml\"", "circuit = \"bensh.toml\"", "bench.toml"},
    {job, "circuit = \"bench.toml\"", "circuit = bench.toml", "circuit"},
    {job, "circuit = \"bench.toml\"", "circuit = 1", "circuit"},
    {job, "[readings]\n", "readings\n", "readings"},
    {job, "[readings]\n", "[readings\n", "readings"},
    {job, "2 = \"S1=hi M1.1", "1 = \"S1=hi M1.1", "twice"},
    {job, "2 = \"S1=hi M1.1 to B1-            10.3V\"", "2 = S1=hi M1.1 to B1- 10.3V", "quotes"},
    {job, "2 = \"S1=hi M1.1 to B1-            10.3V\"", "2 = \"S1=hi M1.1 to B1- 10.3V", "quotes"},
    {job, "2 = \"S1=hi M1.1 to B1-            10.3V\"", "2 \"S1=hi M1.1 to B1- 10.3V\"", "'='"},
    {job, "2 = \"S1=hi M1.1 to B1-            10.3V\"", "2 = 10.3", "2"},
    {job, "2 = \"S1=hi M1.1 to B1-            10.3V\"", "2 = \"S1=hi M1.1 to B1- 10.3X\"", "'10.3X'"},
    {job, "2 = \"S1=hi M1.1 to B1-            10.3V\"", "2 = \"S1=hi M1.1 to B1- 10.3V 9V\"", "'9V'"},
    {job, "2 = \"S1=hi M1.1 to B1-            10.3V\"", "2 = \"S1=hi M1.1 to B1- 10.3A\"", "10.3A"},
    {job, "2 = \"S1=hi M1.1 to B1-            10.3V\"", "2 = \"S1=hi M1.1 B1- 10.3V\"", "B1-"},
    {job, "2 = \"S1=hi M1.1 to B1-            10.3V\"", "2 = \"S1=hi M1 to B1- 10.3V\"", "M1"},
    {job, "2 = \"S1=hi M1.1 to B1-            10.3V\"", "2 = \"S1=hi M1.9 to B1- 10.3V\"", "M1.9"},
    {job, "2 = \"S1=hi M1.1 to B1-            10.3V\"", "2 = \"S1=hi M1.1 to M1.1 10.3V\"", "M1.1"},
    {job, "2 = \"S1=hi M1.1 to B1-            10.3V\"", "2 = \"S1=hi 542 12.1A\"", "clamp"},
    {job, "2 = \"S1=hi M1.1 to B1-            10.3V\"", "2 = \"M1.1 to B1- 10.3V S1=hi\"", "S1=hi"},
    {job, "2 = \"S1=hi M1.1 to B1-            10.3V\"", "2 = \"off M1.1 to B1- twelve\"", "twelve"},
    {job, "job     = \"48213\"", "job     = 48213A", "job"},
    {job, "job     = \"48213\"", "job     = true", "job"},
    {job, "concern = \"weak air on every speed\"", "concern = weak air", "quotes"},
    {job, "R1 = \"7 days ago, second, worked at first\"", "R1 = 7", "R1"},
    {job, "1 = \"dash taken out last month\"", "1 = dash taken out", "quotes"},
    {job, "1 = \"dash taken out last month\"", "1 = 5", "history"},
    {job, "tools   = [", "tools   = 5 # [", "tools"},
    {job, "\"lamp 21W\"", "lamp 21W", "lamp"},
    {job, "format  = 1", "format  = 3", "format"},
    {lesson, "circuit = \"bench.toml\"", "circuit = \"nowhere.toml\"", "nowhere.toml"},
    {lesson, "fault   = [\"R1 limiter open\"]", "fault   = R1 limiter open", "quotes"},
    {lesson, "fault   = [\"R1 limiter open\"]", "fault   = [R1 limiter open]", "R1"},
    {lesson, "fault   = [\"R1 limiter open\"]", "fault   = [\"R1 limiter open\"", "fault"},
    {lesson, "fault   = [\"R1 limiter open\"]", "fault   = [\"R1 limiter open]", "fault"},
    {lesson, "fault   = [\"R1 limiter open\"]", "fault   = 5", "fault"},
    {lesson, "fault   = [\"R1 limiter open\"]", "fault   = [\"C101.4 resistance 0.3\"]", "0.3"},
    {lesson, "fault   = [\"R1 limiter open\"]", "fault   = [\"C101.4 resistance 0.3V\"]", "0.3V"},
    {lesson, "fault   = [\"R1 limiter open\"]", "fault   = [\"C101.4 resistance 0,3\"]", "0,3"},
    {lesson, "fault   = [\"R1 limiter open\"]", "fault   = [\"R1 limiter open 0.3ohm\"]", "0.3ohm"},
    {lesson, "fault   = [\"R1 limiter open\"]", "fault   = [\"542 open at 9\"]", "9"},
    {lesson, "fault   = [\"R1 limiter open\"]", "fault   = [\"861 open\"]", "861:1"},
    {lesson, "fault   = [\"R1 limiter open\"]", "fault   = [\"C101 open\"]", "C101"},
    {lesson, "budget  = \"60min\"", "budget  = 60", "budget"},
    {lesson, "budget  = \"60min\"", "budget  = \"60V\"", "60V"},
    {lesson, "budget  = \"60min\"", "budget  = 60min", "quotes"},
    {lesson, "level   = 1", "level   = \"1\"", "level"},
    {lesson, "level   = 1", "level   = 1.5", "level"},
    {lesson, "skill   = \"packs and motors\"", "skill   = 5", "skill"},
    {lesson, "allow   = [\"look\", \"volts\", \"drop\", \"amps\", \"ohms\", \"lamp\"]", "allow   = 7", "allow"},
    {lesson, "allow   = [\"look\", \"volts\", \"drop\", \"amps\", \"ohms\", \"lamp\"]", "allow   = [look]", "look"},
    {lesson, "skill   = \"packs and motors\"", "[parts]\nB1 = \"battery 12V\"", "parts"},
    {job, "[readings]\n", "", "[readings] is missing"},
    {job, "circuit = \"bench.toml\"", "circuit = \"bench.job.toml\"", "bench.toml"},
    {job, "tools   =", "history = [\"x\"]\ntools   =", "[history] is a section"},
    {job, "concern = \"weak air on every speed\"", "concern = 5", "concern"},
    {lesson, "skill   = \"packs and motors\"", "[readings]\n1 = \"hi M1.1 10V\"", "no section of a lesson"},
    {job, "\"load 55W\"", "\"load 55W 21W\"", "'21W'"},
    {job, "\"meter 0.5%+2digits\"", "\"meter 0.5% 0.6%\"", "'0.6%'"},
    {job, "pull F7  F7.2 to B1-  0V", "bypass F7", "'F7' protects"},
    {job, "pull F7  F7.2 to B1-  0V", "relay K3 clicks but M1 dead", "relay K3 clicks; M1 dead"},
    {job, "pull F7  F7.2 to B1-  0V", "S1=hi M1 dead, M2 runs", "S1=hi M1 dead; S1=hi  M2 runs"},
};
// clang-format on

}  // namespace

std::span<const BadFile> slips_in_jobs() {
    return rows;
}

}  // namespace voltfall::testing
