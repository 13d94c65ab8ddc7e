// Slips in what a lesson hides, allows and warns of.
#include "tests/files/bad_file.hpp"

namespace voltfall::testing {

namespace {

using enum SoundFile;

// clang-format off
constexpr BadFile rows[] = {
    {lesson, "tools   = [\"meter\", \"clamp\"]", "coach = \"yes\"", "coach"},
    {lesson, "tools   = [\"meter\", \"clamp\"]", "coach = 1", "coach"},
    {lesson, "tools   = [\"meter\", \"clamp\"]", "coach = yes", "yes"},
    {lesson, "tools   = [\"meter\", \"clamp\"]", "coach = True", "True"},
    {lesson, "tools   = [\"meter\", \"clamp\"]", "serves = 5", "serves"},
    {lesson, "tools   = [\"meter\", \"clamp\"]", "goal = 5", "goal"},
    {lesson, "tools   = [\"meter\", \"clamp\"]", "meets = [\"x\"]", "meets"},
    {lesson, "tools   = [\"meter\", \"clamp\"]", "afterwards = 3", "afterwards"},
    {lesson, "tools   = [\"meter\", \"clamp\"]", "traps = \"off M1.1 to B1- blind\"\ntraps = \"x\"", "twice", 1},
    {lesson, "tools   = [\"meter\", \"clamp\"]", "traps = [\"off M1.1 to B1-\"]", "misleads"},
    {lesson, "tools   = [\"meter\", \"clamp\"]", "traps = [\"off M9.1 to B1- blind: x\"]", "M9.1"},
    {lesson, "tools   = [\"meter\", \"clamp\"]", "traps = [\"blind\"]", "the test is empty"},
    {lesson, "tools   = [\"meter\", \"clamp\"]", "traps = [\"\"]", "trap"},
    {lesson, "tools   = [\"meter\", \"clamp\"]", "traps = 7", "traps"},
    {lesson, "tools   = [\"meter\", \"clamp\"]", "tools = [\"meter\", \"meter\"]", "twice"},
    {lesson, "tools   = [\"meter\", \"clamp\"]", "tools = [\"hammer\"]", "hammer"},
    {lesson, "\"R1 limiter open\"", "\"M1 drag\"", "stands twice", 1},
    {lesson, "\"R1 limiter open\"", "\"M1 drag 1.4ohm\"", "1.4ohm"},
    {lesson, "\"R1 limiter open\"", "\"M1 drag 1.4 1.5\"", "1.5"},
    {lesson, "\"R1 limiter open\"", "\"542 chafe 20mohm at\"", "at"},
    {lesson, "\"R1 limiter open\"", "\"542 chafe 20mohm at 60\"", "60"},
    {lesson, "\"R1 limiter open\"", "\"542 bridge 542\"", "542"},
    {lesson, "\"R1 limiter open\"", "\"542 bridge 999\"", "999"},
    {lesson, "\"R1 limiter open\"", "\"swapped 541 541\"", "541"},
    {lesson, "\"R1 limiter open\"", "\"swapped 541 999\"", "999"},
    {lesson, "\"R1 limiter open\"", "\"C101 bridge 4-4\"", "4"},
    {lesson, "\"R1 limiter open\"", "\"C101 bridge 4-99\"", "99"},
    {lesson, "\"R1 limiter open\"", "\"S1 contact zz open\"", "zz"},
    {lesson, "\"R1 limiter open\"", "\"S1 stuck\"", "stuck"},
    {lesson, "\"R1 limiter open\"", "\"S1 stuck zz\"", "zz"},
    {lesson, "\"R1 limiter open\"", "\"K3 coil\"", "coil"},
    {lesson, "\"R1 limiter open\"", "\"G201 welded\"", "welded"},
    {lesson, "\"R1 limiter open\"", "\"B1 weak 13A\"", "13A"},
    {lesson, "\"R1 limiter open\"", "\"F7 rating 60V\"", "60V"},
    {lesson, "\"R1 limiter open\"", "\"R1 coil 2-9 open\"", "2-9"},
    {lesson, "\"R1 limiter open\"", "\"R1 coil 2-3 drift -1\"", "-1"},
    {lesson, "\"R1 limiter open\"", "\"nothing at all\"", "nothing"},
    {lesson, "level   = 1", "level   = -1", "level"},
    {lesson, "level   = 1", "level   = 1\nlevel = 2", "twice", 1},
};
// clang-format on

}  // namespace

std::span<const BadFile> slips_in_lessons() {
    return rows;
}

}  // namespace voltfall::testing
