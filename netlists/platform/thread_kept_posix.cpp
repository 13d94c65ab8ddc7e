#include <pthread.h>

#include <system_error>

#include "netlists/platform/thread_kept.hpp"

namespace voltfall {

namespace {

void throw_unless_done(int error) {
    if (error != 0) throw std::system_error(error, std::generic_category(), "a place in each thread");
}

}  // namespace

ThreadPlace::ThreadPlace(void (*release)(void*)) {
    pthread_key_t key{};
    throw_unless_done(::pthread_key_create(&key, release));
    place_ = key;
}

void* ThreadPlace::get() const {
    return ::pthread_getspecific(static_cast<pthread_key_t>(place_));
}

void ThreadPlace::set(void* kept) const {
    throw_unless_done(::pthread_setspecific(static_cast<pthread_key_t>(place_), kept));
}

}  // namespace voltfall
