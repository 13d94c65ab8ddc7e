// What a thread keeps from call to call and gives back when it ends: memory of what runs a thousand times a second.
#pragma once

#include <memory>

namespace voltfall {

/// A place for one pointer in each thread. What stands in it is released when its thread ends; in the thread in which
/// the program ends it may stay.
class ThreadPlace {
public:
    /// Throws std::system_error where the system has no place left: some hundreds are certain.
    explicit ThreadPlace(void (*release)(void*));
    /// Null in a thread that has set nothing.
    void* get() const;
    /// Throws std::system_error where the system lacks the memory for it.
    void set(void* kept) const;

private:
    unsigned long place_{};
};

/// The object of that type in this thread, made by its default when it is first asked for. `Use` tells apart those of
/// one type. Not `thread_local`: by the cross compiler for Windows its memory is freed before its destructor runs.
template <class T, class Use = T>
T& kept_by_thread() {
    static const ThreadPlace place([](void* kept) { delete static_cast<T*>(kept); });
    if (void* kept = place.get()) return *static_cast<T*>(kept);
    auto made = std::make_unique<T>();
    place.set(made.get());
    return *made.release();
}

}  // namespace voltfall
