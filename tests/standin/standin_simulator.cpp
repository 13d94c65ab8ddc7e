// A library in the simulator's place that serves as the real one does until a chosen operating point, and then
// misbehaves.
//   VOLTFALL_STANDIN="WHAT N"   WHAT from the N-th `op` on: leave, zeros, garbage, shift (4 uV), silent,
//                               hang
//   VOLTFALL_STANDIN_BANNER      what it says of its version
#include <dlfcn.h>
#include <ngspice/sharedspice.h>
#include <unistd.h>

#include <cstdlib>
#include <cstring>
#include <string>
#include <string_view>

namespace {

struct Real {
    decltype(&ngSpice_Init) init;
    decltype(&ngSpice_Circ) circuit;
    decltype(&ngSpice_Command) command;
};

Real& real() {
    static Real loaded = [] {
        void* const library = dlopen(REAL_SIMULATOR, RTLD_NOW | RTLD_LOCAL);
        if (library == nullptr) abort();
        const auto find = [&](const char* name) { return dlsym(library, name); };
        return Real{reinterpret_cast<decltype(&ngSpice_Init)>(find("ngSpice_Init")),
                    reinterpret_cast<decltype(&ngSpice_Circ)>(find("ngSpice_Circ")),
                    reinterpret_cast<decltype(&ngSpice_Command)>(find("ngSpice_Command"))};
    }();
    return loaded;
}

struct Plan {
    std::string what;
    long from{0};
    long asked{0};

    bool due() const { return from > 0 && asked >= from; }
};

Plan& plan() {
    static Plan read = [] {
        Plan made;
        const char* text = std::getenv("VOLTFALL_STANDIN");
        const std::string all = text != nullptr ? text : "";
        const auto space = all.find(' ');
        if (space == std::string::npos) return made;
        made.what = all.substr(0, space);
        made.from = std::strtol(all.c_str() + space, nullptr, 10);
        return made;
    }();
    return read;
}

SendChar* on_text_of_caller = nullptr;
ControlledExit* on_exit_of_caller = nullptr;
SendData* on_row_of_caller = nullptr;
void* user_of_caller = nullptr;

/// Hands the rows on, falsified where that is the plan.
int on_row(pvecvaluesall values, int count, int id, void* user) {
    if (plan().due() && plan().what == "silent") return 0;
    for (int i = 0; plan().due() && i < count; ++i) {
        if (plan().what == "zeros") values->vecsa[i]->creal = 0;
        if (plan().what == "shift") values->vecsa[i]->creal += 4e-6;
        if (plan().what == "garbage") values->vecsa[i]->creal = 1.5 + i;
    }
    return on_row_of_caller(values, count, id, user);
}

/// Says another version.
int on_text(char* text, int id, void* user) {
    if (text == nullptr || std::strstr(text, "ngspice-") == nullptr) return on_text_of_caller(text, id, user);
    std::string line = std::string("stdout ** ") + std::getenv("VOLTFALL_STANDIN_BANNER") + " : circuit simulator";
    return on_text_of_caller(line.data(), id, user);
}

}  // namespace

extern "C" int ngSpice_Init(SendChar* text, SendStat* status, ControlledExit* exit, SendData* row, SendInitData* names,
                            BGThreadRunning* background, void* user) {
    on_exit_of_caller = exit;
    on_row_of_caller = row;
    user_of_caller = user;
    on_text_of_caller = text;
    return real().init(std::getenv("VOLTFALL_STANDIN_BANNER") ? on_text : text, status, exit, on_row, names, background,
                       user);
}

extern "C" int ngSpice_Circ(char** lines) {
    return real().circuit(lines);
}

extern "C" int ngSpice_Command(char* command) {
    if (command != nullptr && std::string_view(command) == "op") {
        ++plan().asked;
        if (plan().due() && plan().what == "leave") {
            on_exit_of_caller(1, false, false, 0, user_of_caller);
            return 1;
        }
        while (plan().due() && plan().what == "hang") sleep(1);
    }
    return real().command(command);
}
