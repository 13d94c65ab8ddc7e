// What the library sends back, kept by callbacks that only store. Private to the session.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

namespace voltfall {

/// What the library sent back since the last run.
struct Received {
    std::vector<double> row;         ///< the last one
    std::vector<std::string> names;  ///< of the row's places, as of the last load
    std::vector<double> all_rows;    ///< one after the other, while `keep_rows`
    std::size_t rows{0};
    bool keep_rows{false};
    bool overflowed{false};  ///< more rows than are kept
    bool want_names{false};
    bool row_arrived{false};
    bool error{false};
    bool struggled{false};
    bool left{false};  ///< controlled exit: the library must not be used again
    std::string complaint;
    std::string banner;

    void clear();
    /// Gives the memory of kept rows back.
    void forget_rows();
    /// Puts a kept row into `row`.
    void pick_row(std::size_t index);
};

/// Starts the library with callbacks that fill `received`, which must outlive the process. 0 when it started.
int start_library(Received& received);

}  // namespace voltfall
