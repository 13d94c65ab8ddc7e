#include <system_error>

#include "netlists/platform/thread_kept.hpp"
#include "netlists/platform/wide_windows.hpp"

namespace voltfall {

namespace {

[[noreturn]] void fail() {
    throw std::system_error(errno_of_system(), std::generic_category(), "a place in each thread");
}

}  // namespace

ThreadPlace::ThreadPlace(void (*release)(void*)) : place_(::FlsAlloc(release)) {
    if (place_ == FLS_OUT_OF_INDEXES) fail();
}

void* ThreadPlace::get() const {
    return ::FlsGetValue(place_);
}

void ThreadPlace::set(void* kept) const {
    if (::FlsSetValue(place_, kept) == 0) fail();
}

}  // namespace voltfall
