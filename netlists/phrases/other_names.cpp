#include "netlists/phrases/other_names.hpp"

#include <array>

namespace voltfall {

namespace {

constexpr std::array<OtherName, 50> names{{
    {"no voltage to", "0V at"},
    {"no volts to", "0V at"},
    {"no volts", "0V"},
    {"no voltage", "0V"},
    {"zero volts", "0V"},
    {"zero ohms", "0ohm"},
    {"infinite resistance", "OL"},
    {"infinite ohms", "OL"},
    {"drop over", "across"},
    {"across drop", "across"},
    {"test light", "lamp"},
    {"test lamp", "lamp"},
    {"testlight", "lamp"},
    {"voltage drop", "across"},
    {"volt drop", "across"},
    {"drop across", "across"},
    {"across across", "across"},
    {"amp clamp", "clamp"},
    {"clamp meter", "clamp"},
    {"current in", "clamp"},
    {"current", "clamp"},
    {"continuity", "beep"},
    {"buzzer", "beep"},
    {"no air", "air none"},
    {"little air", "air weak"},
    {"weak air", "air weak"},
    {"doesnt", "doesn't"},
    {"wont", "won't"},
    {"isnt", "is not"},
    {"&", "and"},
    {"continuity across", "beep"},
    {"tests good", "good"},
    {"tested good", "good"},
    {"tests ok", "ok"},
    {"tests bad", "bad"},
    {"checks good", "good"},
    {"checks ok", "ok"},
    {"speed 1", "first"},
    {"speed 2", "second"},
    {"speed 3", "third"},
    {"speed 4", "fourth"},
    {"isn't getting", "no"},
    {"not getting", "no"},
    {"amp draw", "draw"},
    {"by itself", ""},
    {"on its own", ""},
    {"all time", ""},
    {"full battery voltage", "battery voltage"},
    {"full voltage", "battery voltage"},
    {"full power", "battery voltage"},
}};

}  // namespace

std::span<const OtherName> other_names() {
    return names;
}

}  // namespace voltfall
