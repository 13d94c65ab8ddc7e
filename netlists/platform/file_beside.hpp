// A file that is written beside its place and takes it as a whole. Results of calls are 0 or the errno that tells why
// not.
#pragma once

#include <memory>
#include <string>
#include <string_view>

namespace voltfall {

/// What stands under a name.
enum class PathKind {
    nothing,
    file,
    folder,
    stream  ///< a pipe, a terminal, a device
};
/// Of a link: what it leads to; `nothing` where it leads nowhere.
PathKind kind_of_path(const std::string& path);
/// Is the name taken, if only by a link that leads nowhere?
bool is_taken(const std::string& path);

/// A file under work in the folder of `target`. What has not been given its place is gone at the end of its life, and
/// where the system can do that also when the program is killed.
class FileBeside {
public:
    explicit FileBeside(const std::string& target);
    ~FileBeside();
    FileBeside(const FileBeside&) = delete;
    FileBeside& operator=(const FileBeside&) = delete;

    /// Why it could not be made.
    int error() const;
    /// Writes the text and syncs it; the file gets the mode of what stands at its place, and its owner where that may
    /// be given.
    int fill(std::string_view text);
    /// Takes its place, where nothing may stand yet: EEXIST.
    int take_free_place();
    /// Takes its place from what stands there; whoever reads it finds the old text or the new.
    int take_place();

private:
    struct System;
    std::unique_ptr<System> system_;
};

}  // namespace voltfall
