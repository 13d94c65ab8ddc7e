// The words of a verdict, as a debrief and a file of results write them.
#include "engine/lessons/debrief.hpp"

namespace voltfall {

std::string_view verdict_word(Verdict verdict) {
    switch (verdict) {
        case Verdict::solved:
            return "SOLVED";
        case Verdict::cause_left:
            return "CAUSE LEFT";
        case Verdict::not_mended:
            return "NOT MENDED";
        case Verdict::false_alarm:
            return "FALSE ALARM";
        case Verdict::unsafe:
            return "UNSAFE";
    }
    return {};
}

}  // namespace voltfall
