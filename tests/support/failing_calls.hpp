// Calls of the system that a test has fail. They are taken over by functions of the same names in failing_calls.cpp,
// which fail when they are told to and else do what the system's do.
#pragma once

#include <ifaddrs.h>

#include <utility>
#include <vector>

namespace voltfall::testing {

/// A call by its name, which of them from now on fails, and with which errno. "open ." is that of the working folder.
struct Failure {
    const char* call;
    int which;
    int error;
};
extern std::vector<Failure> failures;

/// Which call from now on fails, whatever its name, of those by which files are read and written; 0: none.
struct FilePlan {
    long until_failure{0};
    int error{0};
    bool in_pieces{false};  ///< each write takes one byte, and every other one is interrupted first
    long writes{0};
    const char* failed{nullptr};  ///< the call that failed
};
extern FilePlan file_plan;

/// Interfaces that the machine has meanwhile; null: its own.
extern ifaddrs* made_interfaces;

/// Has these calls fail while it lives.
class Failing {
public:
    explicit Failing(std::vector<Failure> which) { failures = std::move(which); }
    ~Failing() { failures.clear(); }
    Failing(const Failing&) = delete;
    Failing& operator=(const Failing&) = delete;
};

}  // namespace voltfall::testing
