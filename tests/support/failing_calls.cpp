#include "tests/support/failing_calls.hpp"

#include <dlfcn.h>
#include <fcntl.h>
#include <netinet/in.h>
#include <pthread.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cerrno>
#include <cstdarg>
#include <cstring>

using voltfall::testing::Failure;
using voltfall::testing::failures;
using voltfall::testing::file_plan;
using voltfall::testing::made_interfaces;

namespace voltfall::testing {

std::vector<Failure> failures;
FilePlan file_plan;
ifaddrs* made_interfaces = nullptr;

}  // namespace voltfall::testing

namespace {

int error_of(const char* call) {
    int error = 0;
    for (Failure& failure : failures)
        if (std::strcmp(failure.call, call) == 0 && --failure.which == 0) error = failure.error;
    if (error != 0) errno = error;
    return error;
}
bool fails(const char* call) {
    return error_of(call) != 0;
}

/// As `fails`, for a call by which files are read and written.
bool fails_on_file(const char* call) {
    if (fails(call)) return true;
    if (file_plan.until_failure == 0 || --file_plan.until_failure != 0) return false;
    file_plan.failed = call;
    errno = file_plan.error;
    return true;
}

template <class Function>
Function* real(const char* name) {
    return reinterpret_cast<Function*>(dlsym(RTLD_NEXT, name));
}

}  // namespace

extern "C" {

int open(const char* path, int flags, ...) {
    va_list more;
    va_start(more, flags);
    const bool has_mode = (flags & O_CREAT) != 0 || (flags & O_TMPFILE) == O_TMPFILE;
    const mode_t mode = has_mode ? va_arg(more, mode_t) : 0;
    va_end(more);
    if (std::strcmp(path, ".") == 0 ? fails("open .") : fails_on_file("open")) return -1;
    return real<int(const char*, int, ...)>("open")(path, flags, mode);
}
int openat(int folder, const char* path, int flags, ...) {
    va_list more;
    va_start(more, flags);
    const mode_t mode = (flags & O_CREAT) != 0 ? va_arg(more, mode_t) : 0;
    va_end(more);
    if (fails("openat")) return -1;
    return real<int(int, const char*, int, ...)>("openat")(folder, path, flags, mode);
}
int close(int file) {
    const int error = error_of("close");
    const int closed = real<int(int)>("close")(file);
    if (error == 0) return closed;
    errno = error;
    return -1;
}
ssize_t read(int file, void* bytes, size_t count) {
    return fails_on_file("read") ? -1 : real<ssize_t(int, void*, size_t)>("read")(file, bytes, count);
}
ssize_t write(int file, const void* bytes, size_t count) {
    if (fails_on_file("write")) return -1;
    if (file_plan.in_pieces && ++file_plan.writes % 2 == 1) {
        errno = EINTR;
        return -1;
    }
    const std::size_t taken = file_plan.in_pieces && count > 1 ? 1 : count;
    return real<ssize_t(int, const void*, size_t)>("write")(file, bytes, taken);
}
int fsync(int file) {
    return fails_on_file("fsync") ? -1 : real<int(int)>("fsync")(file);
}
int fchmod(int file, mode_t mode) {
    return fails_on_file("fchmod") ? -1 : real<int(int, mode_t)>("fchmod")(file, mode);
}
int fchown(int file, uid_t user, gid_t group) {
    return fails_on_file("fchown") ? -1 : real<int(int, uid_t, gid_t)>("fchown")(file, user, group);
}
int rename(const char* from, const char* to) {
    return fails_on_file("rename") ? -1 : real<int(const char*, const char*)>("rename")(from, to);
}
int link(const char* from, const char* to) {
    return fails_on_file("link") ? -1 : real<int(const char*, const char*)>("link")(from, to);
}
int pipe2(int* ends, int flags) {
    return fails("pipe2") ? -1 : real<int(int*, int)>("pipe2")(ends, flags);
}
pid_t fork() {
    return fails("fork") ? -1 : real<pid_t()>("fork")();
}
pid_t waitpid(pid_t child, int* status, int options) {
    return fails("waitpid") ? -1 : real<pid_t(pid_t, int*, int)>("waitpid")(child, status, options);
}
int chdir(const char* path) {
    return fails("chdir") ? -1 : real<int(const char*)>("chdir")(path);
}
int fchdir(int folder) {
    return fails("fchdir") ? -1 : real<int(int)>("fchdir")(folder);
}
char* mkdtemp(char* pattern) {
    return fails("mkdtemp") ? nullptr : real<char*(char*)>("mkdtemp")(pattern);
}
int mkstemps(char* pattern, int ending) {
    return fails("mkstemps") ? -1 : real<int(char*, int)>("mkstemps")(pattern, ending);
}
int mkostemp(char* pattern, int flags) {
    return fails_on_file("mkostemp") ? -1 : real<int(char*, int)>("mkostemp")(pattern, flags);
}
int linkat(int from_folder, const char* from, int to_folder, const char* to, int flags) {
    if (fails_on_file("linkat")) return -1;
    return real<int(int, const char*, int, const char*, int)>("linkat")(from_folder, from, to_folder, to, flags);
}
int flock(int file, int operation) {
    return fails_on_file("flock") ? -1 : real<int(int, int)>("flock")(file, operation);
}
int fstat(int file, struct stat* there) {
    return fails_on_file("fstat") ? -1 : real<int(int, struct stat*)>("fstat")(file, there);
}
ssize_t getrandom(void* bytes, size_t count, unsigned flags) {
    return fails("getrandom") ? -1 : real<ssize_t(void*, size_t, unsigned)>("getrandom")(bytes, count, flags);
}
int getrlimit(__rlimit_resource_t which, struct rlimit* limit) noexcept {
    return fails("getrlimit") ? -1 : real<int(__rlimit_resource_t, struct rlimit*)>("getrlimit")(which, limit);
}
int setrlimit(__rlimit_resource_t which, const struct rlimit* limit) noexcept {
    return fails("setrlimit") ? -1 : real<int(__rlimit_resource_t, const struct rlimit*)>("setrlimit")(which, limit);
}
int getifaddrs(ifaddrs** list) noexcept {
    if (fails("getifaddrs")) return -1;
    if (made_interfaces == nullptr) return real<int(ifaddrs**)>("getifaddrs")(list);
    *list = made_interfaces;
    return 0;
}
void freeifaddrs(ifaddrs* list) noexcept {
    if (list != made_interfaces) real<void(ifaddrs*)>("freeifaddrs")(list);
}
const char* inet_ntop(int family, const void* address, char* text, socklen_t size) noexcept {
    if (fails("inet_ntop")) return nullptr;
    return real<const char*(int, const void*, char*, socklen_t)>("inet_ntop")(family, address, text, size);
}
int pthread_key_create(pthread_key_t* key, void (*release)(void*)) noexcept {
    if (const int error = error_of("pthread_key_create")) return error;
    return real<int(pthread_key_t*, void (*)(void*))>("pthread_key_create")(key, release);
}
int pthread_setspecific(pthread_key_t key, const void* kept) noexcept {
    if (const int error = error_of("pthread_setspecific")) return error;
    return real<int(pthread_key_t, const void*)>("pthread_setspecific")(key, kept);
}

}  // extern "C"
